"""How much the hub gives to the movement of the pins.

From the hub's edge to the edge of the bore the arm's own section is taken to carry on, for its flange forces pass into the
wider hub only by and by; from there to the pivot centre the section of the hub less its bore bends and shears. This
project's own reading of the meshes of its demo arms, where hand and mesh then differ by 2 % in the plane and 15 % sideways;
no source.
"""

from __future__ import annotations

import numpy as np

from analysis.deflection import Flexibility
from analysis.spans import Spans
from params.arm import Bore


def hub_flexibility(span: Spans, pivot: Bore, modulus: float, poisson: float) -> Flexibility:
    """Share of the hub in the flexibility of both arms, (D, 2)."""
    shear = modulus / (2.0 * (1.0 + poisson))
    bore, edge, reach = 0.5 * pivot.bore, span.start[..., 0], span.length[..., 0]
    arm = span.section(span.start)
    outside = 2.0 * edge
    second = pivot.width * (outside**3 - pivot.bore**3) / 12.0
    across = (outside - pivot.bore) * pivot.width**3 / 12.0
    area = 5.0 / 6.0 * pivot.width * (outside - pivot.bore)
    i3, i2 = arm.i3[..., 0], arm.i2[..., 0]
    shear2, shear3 = (np.broadcast_to(value, arm.depth.shape)[..., 0] for value in (arm.shear2, arm.shear3))
    outer, inner = (
        (reach - bore) ** 3 / 3.0 - (reach - edge) ** 3 / 3.0,
        reach**3 / 3.0 - (reach - bore) ** 3 / 3.0,
    )
    turn_outer, turn_inner = (
        (reach - bore) ** 2 / 2.0 - (reach - edge) ** 2 / 2.0,
        reach**2 / 2.0 - (reach - bore) ** 2 / 2.0,
    )
    return Flexibility(
        outer / (modulus * i3)
        + inner / (modulus * second)
        + (edge - bore) / (shear * shear2)
        + bore / (shear * area),
        outer / (modulus * i2)
        + inner / (modulus * across)
        + (edge - bore) / (shear * shear3)
        + bore / (shear * area),
        turn_outer / (modulus * i2) + turn_inner / (modulus * across),
        np.zeros_like(outer),
    )
