"""The near-net solid: the finished solid with stock on machined faces and an allowance elsewhere.

Built from the same description as the finished one with the sizes of `stock`, which a CAD offset of all its faces would
often fail to make.
"""

from __future__ import annotations

import cadquery as cq

from geometry.solid import solid
from geometry.stock import near_net
from params.schema.arm import Arm
from params.schema.route import Process


def nearnet(arm: Arm, route: Process) -> cq.Solid:
    """The part before machining, in the arm's frame, mm.

    Raises
    ------
    SolidRefused
        where the sizes do not give one valid solid.
    """
    return solid(near_net(arm, route))
