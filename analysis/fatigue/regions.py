"""Nodes of the named regions of an arm's surface, each node in one of them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from analysis.fatigue.variants import REGIONS
from geometry.datums import bore, centre
from params.schema.arm import Arm
from params.schema.bores import Region

NEAR = 1e-3  # mm


def surfaces(arm: Arm, mesh: Mesh) -> dict[Region, NDArray[np.int64]]:
    """Nodes of every region, each in one: a bore takes its rims and chamfers, the faces of hub and bosses their edges."""
    by_region: dict[Region, NDArray[np.int64]] = {}
    taken = np.zeros(len(mesh.points), bool)
    for region in REGIONS:
        nodes = mesh.nodes(region)
        if region.endswith("_bore"):
            nodes = np.union1d(nodes, chamfers(arm, mesh, region.removesuffix("_bore")))
        by_region[region] = nodes[~taken[nodes]]
        taken[nodes] = True
    return by_region


def chamfers(arm: Arm, mesh: Mesh, name: str) -> NDArray[np.int64]:
    """Surface nodes within a bore's chamfers: they are cut with the bore."""
    nodes, hole = mesh.nodes("outside"), bore(arm, name)
    away = np.hypot(*(mesh.points[nodes, :2] - centre(arm, name)).T)
    return nodes[away < hole.bore / 2.0 + hole.chamfer - NEAR]
