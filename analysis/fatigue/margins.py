"""Least fatigue margin of each region from stresses on a mesh: the mesh's form of the hand check."""

from __future__ import annotations

import numpy as np

from analysis.contracts.elastic import FatigueMargin
from analysis.elastic.mesh import Mesh
from analysis.fatigue.curve_at import curves_at_nodes
from analysis.fatigue.cycles import year
from analysis.fatigue.damage import life
from analysis.fatigue.duty import Cycles, size
from analysis.fatigue.in_surface import seated
from analysis.fatigue.plane import search
from analysis.fatigue.regions import surfaces
from analysis.fatigue.stresses import fitted, interference
from analysis.fatigue.variants import this_arm
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arrays import Floats

KEPT = 600  # nodes of each region that are searched: those whose stress changes most


def mesh_margins(arm: Arm, material: Material, mesh: Mesh, stress: Floats) -> dict[str, FatigueMargin]:
    """Margin, range and allowable range (MPa), years and place (mm) of the worst node of each region; stress (S, n, 6) MPa
    by state as `year` numbers them.

    Bearing loads as they were solved; an interference fit adds the steady stress of thick rings. Empty where the file has no
    section `bores`.
    """
    if arm.bores is None:
        return {}
    cycles, variant, regions = year(arm, arm.bores), this_arm(arm, material), surfaces(arm, mesh)
    tight = [name for name, most in interference(arm, variant).items() if most > 0.0]
    stress = seated(stress + fitted(arm, variant, mesh.points), arm, mesh)
    curves = curves_at_nodes(arm.bores, variant, regions, tight, len(mesh.points), len(cycles) > 1)
    margins = {}
    for region, nodes in regions.items():
        few = nodes[np.argsort(-change(stress[:, nodes], cycles), kind="stable")[:KEPT]]
        result = search(
            stress[:, few], cycles, curves.curves, curves.rules, curves.which[few], arm.duty.service_years
        )
        lives = life(result)
        worst = int(np.argmin(lives.margin))
        x, y, z = mesh.points[few[worst]].tolist()
        margins[region] = FatigueMargin(
            margin=lives.margin[worst],
            range=result.range[worst],
            allowable=lives.allowable_range[worst],
            years=lives.years[worst],
            at=(x, y, z),
        )
    return margins


def change(stress: Floats, cycles: Cycles) -> Floats:
    """Largest change of stress of any cycle at each node (n,), as the size of the tensor with the mean on top."""
    low, high = cycles.ends(stress, tensor=True)
    return (size(high - low, True) + 0.3 * size(high + low, True) / 2.0).max(axis=0)
