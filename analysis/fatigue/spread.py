"""What a life in a bore becomes at the least and most fretting factor, and at the least and most interference of its fit.

The contact was solved at the mean interference. A joint that stays closed is linear in it: the change of the thick rings' stress
from the mean to the least or the most is added. Where that would open part of the bore the joint is no longer linear, its range
grows towards that of a pin with play, and no life is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.fatigue.curve_at import NodeCurves, curves_at_nodes
from analysis.fatigue.damage import Life, life
from analysis.fatigue.duty import Cycles
from analysis.fatigue.fretting import factors
from analysis.fatigue.in_surface import cylinders, seated
from analysis.fatigue.plane import search
from analysis.fatigue.regions import surfaces
from analysis.fatigue.stresses import fitted, interference
from analysis.fatigue.variants import Variant
from geometry.datums import centre
from params.schema.arm import Arm
from params.schema.bores import Bores
from params.steps.arrays import Floats

Ints = NDArray[np.int64]
OPEN = 0.02  # share of a bore's nodes pulled off the shaft at which the joint counts as open
SPREAD = (
    "fretting_least",
    "fretting_used",
    "fretting_most",
    "years_fretting_least",
    "years_fretting_most",
    "margin_fretting_least",
    "margin_fretting_most",
    "years_interference_least",
    "years_interference_most",
    "margin_interference_least",
    "margin_interference_most",
)
OPENS = (
    "opens in part at its least interference: no life there; its range grows towards that of a pin with play"
)


def spread(
    arm: Arm, bores: Bores, mesh: Mesh, variant: Variant, stress: Floats, nodes: Ints, cycles: Cycles
) -> list[dict[str, Any]]:
    """Columns of SPREAD, and `opens` where that is so, for each of these nodes; `stress` (S, n, 6) MPa at the mean interference,
    of all nodes. Empty where nothing rubs and no fit is tight."""
    tight = {name: most for name, most in interference(arm, variant).items() if most > 0.0}
    regions, varying = surfaces(arm, mesh), len(cycles) > 1
    curves = [
        curves_at_nodes(bores, variant, regions, list(tight), len(mesh.points), varying, at)
        for at in (0, 1, 2)
    ]
    counted = seated(stress, arm, mesh)
    milder, worse = (lives(arm, counted, nodes, cycles, curves[at]) for at in (2, 0))
    known: list[dict[str, Any]] = []
    for k, node in enumerate(nodes):
        name = next((one for one in regions if node in regions[one]), "")
        bore = name.removesuffix("_bore")
        if bore == name:
            known.append({})
            continue
        least, used, most = factors(bores.fretting, bore in tight)
        row: dict[str, Any] = {"fretting_least": least, "fretting_used": used, "fretting_most": most}
        for which, one in (("least", worse), ("most", milder)):
            row |= {
                f"years_fretting_{which}": float(one.years[k]),
                f"margin_fretting_{which}": float(one.margin[k]),
            }
        known.append(row)
    if not tight:
        return known
    steady, by_name = fitted(arm, variant, mesh.points), {str(name): at for name, at in regions.items()}
    for at, which in ((0, "least"), (2, "most")):
        moved = stress + (fitted(arm, variant, mesh.points, at) - steady)
        one = lives(arm, seated(moved, arm, mesh), nodes, cycles, curves[1])
        loose = opened(arm, mesh, moved)
        for k, node in enumerate(nodes):
            bore = next((name for name in tight if node in by_name[f"{name}_bore"]), None)
            if bore is None:
                continue
            if loose[bore] > OPEN:
                known[k]["opens"] = OPENS
                continue
            known[k] |= {
                f"years_interference_{which}": float(one.years[k]),
                f"margin_interference_{which}": float(one.margin[k]),
            }
    return known


def lives(arm: Arm, stress: Floats, nodes: Sequence[int] | Ints, cycles: Cycles, curves: NodeCurves) -> Life:
    """Life at a few nodes."""
    which = curves.which[nodes]
    return life(search(stress[:, nodes], cycles, curves.curves, curves.rules, which, arm.duty.service_years))


def opened(arm: Arm, mesh: Mesh, stress: Floats) -> dict[str, float]:
    """Largest share of each bore's nodes at which the radial stress is a pull in some state: there the shaft would lift off."""
    shares = {}
    for region, nodes in cylinders(mesh).items():
        name = region.removesuffix("_bore")
        x, y = (mesh.points[nodes, :2] - centre(arm, name)).T
        s, r2 = stress[:, nodes], x * x + y * y
        radial = (s[..., 0] * x * x + s[..., 1] * y * y + 2.0 * s[..., 3] * x * y) / r2
        shares[name] = float((radial > 1e-6).mean(axis=1).max())
    return shares
