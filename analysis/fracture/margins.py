"""Flaws at the bores' rims under stresses on a mesh: the mesh's form of the hand check."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.clauses.fracture import rim_flaw
from analysis.elastic.invariants import principals
from analysis.elastic.mesh import Mesh
from analysis.fatigue.regions import surfaces
from analysis.fatigue.stresses import fitted
from analysis.fatigue.variants import this_arm
from analysis.fracture.toughness_bound import toughness_or_bound
from geometry.datums import bore
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.out_of_range import STATUS, or_reason

Floats = NDArray[np.float64]


def flaw_margins(
    arm: Arm, material: Material, mesh: Mesh, cases: Sequence[str], stress: Floats
) -> dict[str, dict[str, Any]]:
    """Margin, stress, allowable stress (MPa), load case and place (mm) of the worst node of each bore.

    The largest principal stress of a bore's surface in any of these cases, stress (C, n, 6) MPa, counts on a quarter-circular
    flaw that the coarsest examination just finds, residual stress added; fits as in `mesh_margins`. Empty where the file does
    not say what cracks need.
    """
    if arm.bores is None or arm.cracks is None or arm.cracks.inspection is None:
        return {}
    coarsest = max(said.depth for said in arm.cracks.inspection.examinations)
    stress = stress + fitted(arm, this_arm(arm, material), mesh.points)
    margins = {}
    for region, nodes in surfaces(arm, mesh).items():
        if not region.endswith("_bore"):
            continue
        pull = principals(stress[:, nodes])[..., 0]
        case, worst = np.unravel_index(np.argmax(pull), pull.shape)
        width = bore(arm, region.removesuffix("_bore")).width
        tough, reason = or_reason(
            arm.units, partial(toughness_or_bound, arm.cracks, material, width, arm.units)
        )
        if tough is None:
            print(
                f"{region.replace('_', ' ')}: flaw at the rim {STATUS}: {reason}"
            )  # the hand check has the row
            continue
        out = rim_flaw(p=pull[case, worst], r=arm.cracks.residual_stress or 0.0, a=coarsest, Kc=tough.value)
        demand, capacity = float(out.demand), float(out.capacity)
        margins[region] = {
            "margin": capacity / demand - 1.0,
            "stress": demand,
            "allowable": capacity,
            "load_case": cases[int(case)],
            "at": mesh.points[nodes[worst]],
            "note": tough.note,
        }
    return margins
