"""Which planes count at a bore: those whose normals lie in its surface.

A pin's pressure on a bore is never tension across a plane parallel to the surface, and cracks leave a loaded bore square to it
(hoop and axial planes): the radial normal stress, contact pressure, does no damage of its own. What it does with slip is the
fretting factor's. Multiaxial criteria say the same of a free surface, where that stress is zero (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.mesh import Mesh
from geometry.datums import centre
from params.schema.arm import Arm
from params.steps.arrays import Floats

COMPONENTS = ((0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (2, 0))


def seated(stress: Floats, arm: Arm, mesh: Mesh) -> Floats:
    """Stress (S, n, 6) MPa as it counts: at the nodes of the bores' cylinders without what acts on the surface itself.

    There S becomes P S P with P = 1 - r r', r the radial direction. On a plane of normal n that is the stress on the plane
    through the surface next to it, lessened by the square of the cosine between: the worst plane has its normal in the surface.
    """
    counted = stress.copy()
    for region, nodes in cylinders(mesh).items():
        away = mesh.points[nodes, :2] - centre(arm, region.removesuffix("_bore"))
        outward = np.column_stack([away / np.linalg.norm(away, axis=1)[:, None], np.zeros(len(nodes))])
        counted[:, nodes] = tangent(stress[:, nodes], outward)
    return counted


def cylinders(mesh: Mesh) -> Mapping[str, NDArray[np.int64]]:
    """Nodes of each bore's cylinder, its rims included, without the chamfers."""
    return {region: mesh.nodes(region) for region in ("pivot_bore", "input_bore", "output_bore")}


def tangent(stress: Floats, outward: Floats) -> Floats:
    """Part (S, n, 6) of a stress in the surface of unit normals `outward` (n, 3)."""
    full = stress[..., [[0, 3, 5], [3, 1, 4], [5, 4, 2]]]
    within = np.eye(3) - outward[:, :, None] * outward[:, None, :]
    part = within @ full @ within
    return np.stack([part[..., i, j] for i, j in COMPONENTS], axis=-1)
