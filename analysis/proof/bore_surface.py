"""Stress on the surface of a bore as it settles: a least-squares fit about each node, not the node's own value.

A node's recovered stress scatters with the shapes of the few elements about it, and the largest of many scattered values is always
too high: on coarse meshes by up to 4 %. So each component (radial, hoop, axial and the shears) is fitted by a quadratic in arc and
height over a patch whose sides are `PATCH` bore diameters, a length of the arm and not of the mesh: three elements of a mesh with 8
per quarter bore (3 pi/4/8 = 0.29). At the ends of the bore the patch lies inward of the node. The value of the fit at the node
counts. A mean over the patch would be too low where the stress peaks; the quadratic misses 2/35 of (patch/diameter)^4, 0.05 %, of a
hoop stress that goes with cos 2 theta.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.spatial import cKDTree

from analysis.elastic.mesh import Mesh
from geometry.datums import BORES, bore, centre
from params.schema.arm import Arm
from params.steps.arrays import Floats

PATCH = 0.3  # side, of the bore's diameter
FEWEST = 12  # nodes of a fit of 6 terms; where a coarse mesh has fewer within the patch the nearest count


def settled_surface(arm: Arm, mesh: Mesh, stress: Floats) -> Floats:
    """Nodal stress (C, n, 6) MPa with that of the bores' nodes replaced by the fit."""
    result = stress.copy()
    for name in BORES:
        hole, nodes = bore(arm, name), mesh.nodes(f"{name}_bore")
        offset = mesh.points[nodes, :2] - centre(arm, name)
        angle, height = np.arctan2(offset[:, 1], offset[:, 0]), mesh.points[nodes, 2]
        own = turned(stress[:, nodes], angle)
        fit = smoother(angle, height, hole.bore)
        smooth = np.stack([fit @ one for one in own])
        result[:, nodes] = turned(smooth, -angle)
    return result


def smoother(angle: Floats, height: Floats, diameter: float) -> csr_array:
    """Matrix (k, k) that gives the fit at each of k nodes of a bore from the values at all of them; angle rad, height and diameter
    mm."""
    half, ends = PATCH * diameter / 2.0, (float(height.min()), float(height.max()))
    round_ = np.column_stack([np.cos(angle), np.sin(angle)]) * diameter / 2.0
    tree = cKDTree(np.column_stack([round_, height]))
    middle = (
        np.clip(height, ends[0] + half, ends[1] - half)
        if ends[1] - ends[0] > 2.0 * half
        else np.zeros_like(height)
    )
    rows, columns, weights = [], [], []
    for k in range(len(angle)):
        near = np.array(tree.query_ball_point([*round_[k], middle[k]], np.sqrt(2.0) * half))
        arc, up = beside(angle, height, k, near, diameter)
        within = (np.abs(arc) <= half) & (np.abs(height[near] - middle[k]) <= half)
        if within.sum() < FEWEST:
            near = tree.query([*round_[k], height[k]], min(FEWEST, len(angle)))[1]
            arc, up = beside(angle, height, k, near, diameter)
            within = np.ones(len(near), bool)
        rows.append(np.full(int(within.sum()), k))
        columns.append(near[within])
        weights.append(at_origin(arc[within] / half, up[within] / half))
    shape = (len(angle), len(angle))
    return csr_array((np.concatenate(weights), (np.concatenate(rows), np.concatenate(columns))), shape=shape)


def beside(
    angle: Floats, height: Floats, k: int, near: NDArray[np.integer], diameter: float
) -> tuple[Floats, Floats]:
    """Arc and height of nodes from node k, mm."""
    turn = (angle[near] - angle[k] + np.pi) % (2.0 * np.pi) - np.pi
    return turn * diameter / 2.0, height[near] - height[k]


def at_origin(x: Floats, y: Floats) -> Floats:
    """Weights (m,) of values at (x, y) in the constant term of the quadratic that fits them best."""
    terms = np.column_stack([np.ones_like(x), x, y, x * x, x * y, y * y])
    return np.linalg.pinv(terms)[0]


def turned(stress: Floats, angle: Floats) -> Floats:
    """Stress (C, k, 6) in axes that are turned about z by an angle (k,): x becomes the radial direction."""
    c, s = np.cos(angle), np.sin(angle)
    xx, yy, zz, xy, yz, zx = np.moveaxis(stress, -1, 0)
    return np.stack(
        [
            xx * c * c + yy * s * s + 2.0 * xy * c * s,
            xx * s * s + yy * c * c - 2.0 * xy * c * s,
            zz,
            (yy - xx) * c * s + xy * (c * c - s * s),
            yz * c - zx * s,
            zx * c + yz * s,
        ],
        axis=-1,
    )
