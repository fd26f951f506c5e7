"""Where stress is read in a bore with a tight fit: away from the edges of the contact.

At the end of an interference fit the pressure of an elastic solution is singular: a finer mesh shows more of it without end, and
the hoop stress beside it follows (on the demo rocker's tight pivot the range at the chamfer grows by 6 % from 8 to 11 elements per
quarter bore, at the distance below it changes by under 1 %). What the edge does is in the fretting factor: tests that gave it
measured members with their press-fitted ends as nominal stress (Shigley, 9th ed., Sec. 6-9, from memory), so it would count twice.
Stress is read on the cylinder, at least `CLEAR` bore diameters from the edges: three elements of a mesh with 8 per quarter bore
(3 pi/4/8 = 0.29), the usual one. A bore too short for that is read over the middle quarter of its length.

A pin with play touches over an arc; at its edges only its pressure grows, which no plane of the surface sees (`in_surface`): such a
bore is read all over, and changed by under 1 % between the same two meshes.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from geometry.datums import bore
from params.schema.arm import Arm
from params.schema.bores import BoreName, Region

Ints = NDArray[np.int64]
CLEAR = 0.3  # of the bore's diameter
MIDDLE = 0.25  # of the half length, at least


def reach(arm: Arm, name: BoreName) -> float:
    """Largest distance from the bore's middle at which a tight fit is read, mm along its axis."""
    hole = bore(arm, name)
    return clear_of_edges(hole.width / 2.0 - hole.chamfer, hole.bore)


def clear_of_edges(half: float, diameter: float) -> float:
    """Largest distance from the middle of a bore of this half length at which no edge is near, mm."""
    return max(half - CLEAR * diameter, MIDDLE * half)


def read_nodes(
    arm: Arm, mesh: Mesh, regions: Mapping[Region, Ints], tight: Collection[BoreName]
) -> dict[Region, Ints]:
    """Of the nodes of every region those at which stress is read; a tight bore keeps those of its cylinder within `reach`."""
    kept = dict(regions)
    for name in tight:
        region: Region = f"{name}_bore"  # type: ignore[assignment]
        nodes = np.intersect1d(regions[region], mesh.nodes(region))
        kept[region] = nodes[np.abs(mesh.points[nodes, 2]) <= reach(arm, name)]
    return kept
