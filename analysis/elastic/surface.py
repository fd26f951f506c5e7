"""Stress on the surface from the in-plane strain of its six-node faces and the traction that acts there.

The faces' own strain and the known traction give all six components without extrapolating from inside: the most exact value
at a bore, where the peak is. In the frame (1, 2, n) of the face with tractions t:
sigma_n = t_n, sigma_1n = t_1, sigma_2n = t_2, sigma_12 = mu gamma_12,
sigma_11 = E/(1 - nu^2) (eps_11 + nu eps_22) + nu/(1 - nu) t_n.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numba import njit, prange
from numpy.typing import NDArray

from analysis.elastic.element import FACE_NODES, gradients
from analysis.elastic.material import Elastic
from analysis.elastic.mesh import Mesh

Array = NDArray[np.float64]
SHARP = np.cos(np.deg2rad(30.0))  # faces whose normals are further apart meet at an edge
BATCH = 8192  # faces at once: bounds the memory


@dataclass
class Sums:
    """Of the faces at each surface node (s): counts and summed stresses of the first smooth surface and of another that
    meets it at an edge; `corner` where a third one does."""

    first: Array  # (s, 3) normal of the first face met
    second: Array  # (s, 3)
    count: Array  # (s, 2)
    total: Array  # (s, 2, 6, C)
    corner: NDArray[np.bool_]


def surface_stress(
    mesh: Mesh,
    material: Elastic,
    displacement: Array,
    tractions: Sequence[Mapping[str, Array]] | None,
    names: Sequence[str],
) -> tuple[NDArray[np.int64], Array]:
    """Nodes (s,) of the named surfaces and their stress (s, 6, C), the mean over the faces that meet there.

    Along an edge between two surfaces both tractions are known, which leaves only the stress along the edge to the strains:
    no slope across the edge is needed, where a face's own is least exact.
    """
    cases = len(displacement)
    nodes = np.unique(
        np.concatenate([np.zeros(0, np.int64), *(mesh.surfaces[name].ravel() for name in names)])
    )
    place = np.full(len(mesh.points), -1)
    place[nodes] = np.arange(len(nodes))
    moved = np.ascontiguousarray(displacement.transpose(1, 2, 0))
    size = len(nodes)
    sums = Sums(
        np.zeros((size, 3)),
        np.zeros((size, 3)),
        np.zeros((size, 2)),
        np.zeros((size, 2, 6, cases)),
        np.zeros(size, dtype=bool),
    )
    slopes = gradients(FACE_NODES)
    for name in names:
        faces = mesh.surfaces[name]
        pull = _tractions(len(faces), cases, name, tractions)
        for begin in range(0, len(faces), BATCH):
            part = faces[begin : begin + BATCH]
            recovered = np.empty((len(part), 6, 6, cases))
            normals = np.empty((len(part), 6, 3))
            force = pull[begin : begin + BATCH] if pull is not None else np.zeros((0, 6, 3, cases))
            _faces(
                mesh.points,
                part,
                slopes,
                moved,
                force,
                material.modulus,
                material.poisson,
                recovered,
                normals,
            )
            _add(
                place[part], recovered, normals, sums.first, sums.second, sums.count, sums.total, sums.corner
            )
    stress = sums.total.sum(axis=1) / sums.count.sum(axis=1)[:, None, None]
    edge = np.flatnonzero((sums.count[:, 1] > 0) & ~sums.corner)
    stress[edge] = _edge_stress(material, sums, edge)
    return nodes, stress


def _edge_stress(material: Elastic, sums: Sums, edge: NDArray[np.int64]) -> Array:
    """Stress (e, 6, C) from both tractions and the mean strain along the edge, by least squares where they disagree."""
    mean = sums.total[edge] / sums.count[edge][..., None, None]  # (e, 2, 6, C)
    normal = np.stack([sums.first[edge], sums.second[edge]], axis=1)  # (e, 2, 3)
    tangent = np.cross(normal[:, 0], normal[:, 1])
    tangent /= np.linalg.norm(tangent, axis=1, keepdims=True)
    along = _stretch(tangent, material.poisson)  # E times the strain along the edge = along . stress
    right = np.concatenate(
        [
            np.einsum("eik,ekc->eic", _cauchy(normal[:, 0]), mean[:, 0]),
            np.einsum("eik,ekc->eic", _cauchy(normal[:, 1]), mean[:, 1]),
            np.einsum("ek,eskc->ec", along, mean)[:, None] / 2.0,
        ],
        axis=1,
    )
    left = np.concatenate([_cauchy(normal[:, 0]), _cauchy(normal[:, 1]), along[:, None]], axis=1)  # (e, 7, 6)
    return np.einsum("ekr,erc->ekc", np.linalg.pinv(left), right)


def _cauchy(normal: Array) -> Array:
    """Matrices (e, 3, 6) that turn stress into traction on a plane."""
    x, y, z = normal.T
    nil = np.zeros_like(x)
    rows = [[x, nil, nil, y, nil, z], [nil, y, nil, x, z, nil], [nil, nil, z, nil, y, x]]
    return np.array(rows).transpose(2, 0, 1)


def _stretch(tangent: Array, poisson: float) -> Array:
    """Rows (e, 6): stress along a direction less nu times the sum of the other two."""
    x, y, z = tangent.T
    stretch = np.column_stack([x * x, y * y, z * z, 2 * x * y, 2 * y * z, 2 * z * x])
    return (1.0 + poisson) * stretch - poisson * np.array([1.0, 1.0, 1.0, 0.0, 0.0, 0.0])


def _tractions(
    faces: int, cases: int, name: str, tractions: Sequence[Mapping[str, Array]] | None
) -> Array | None:
    """(k, 6, 3, C), or None where no case loads this surface."""
    if tractions is None or not any(name in case for case in tractions):
        return None
    pull = np.zeros((faces, 6, 3, cases))
    for c, case in enumerate(tractions):
        if name in case:
            pull[..., c] = case[name]
    return pull


@njit(parallel=True, cache=True, fastmath=True)
def _faces(points, faces, slopes, moved, pull, modulus, poisson, recovered, normals):
    cases = moved.shape[2]
    plane = modulus / (1.0 - poisson * poisson)
    shear = modulus / (2.0 * (1.0 + poisson))
    side = poisson / (1.0 - poisson)
    for f in prange(len(faces)):
        for k in range(6):
            frame, metric = _frame(points, faces[f], slopes[k])
            normals[f, k] = frame[2]
            # slope of each shape function along the two in-plane axes
            along = np.empty((6, 2))
            for m in range(6):
                s, t = slopes[k, m, 0], slopes[k, m, 1]
                along[m, 0] = s * metric[0, 0] + t * metric[1, 0]
                along[m, 1] = s * metric[0, 1] + t * metric[1, 1]
            for c in range(cases):
                e11 = e22 = g12 = 0.0
                for m in range(6):
                    i = faces[f, m]
                    u, v, w = moved[i, 0, c], moved[i, 1, c], moved[i, 2, c]
                    u1 = frame[0, 0] * u + frame[0, 1] * v + frame[0, 2] * w
                    u2 = frame[1, 0] * u + frame[1, 1] * v + frame[1, 2] * w
                    e11 += along[m, 0] * u1
                    e22 += along[m, 1] * u2
                    g12 += along[m, 1] * u1 + along[m, 0] * u2
                t1 = t2 = tn = 0.0
                if len(pull) > 0:
                    for x in range(3):
                        t1 += pull[f, k, x, c] * frame[0, x]
                        t2 += pull[f, k, x, c] * frame[1, x]
                        tn += pull[f, k, x, c] * frame[2, x]
                s11 = plane * (e11 + poisson * e22) + side * tn
                s22 = plane * (e22 + poisson * e11) + side * tn
                _turn(frame, s11, s22, tn, shear * g12, t2, t1, recovered[f, k], c)


@njit(cache=True)
def _frame(points, nodes, slope):
    """Axes 1, 2, n (rows) and the matrix that turns local slopes into slopes along 1 and 2."""
    a, b = np.zeros(3), np.zeros(3)
    for m in range(6):
        for x in range(3):
            a[x] += slope[m, 0] * points[nodes[m], x]
            b[x] += slope[m, 1] * points[nodes[m], x]
    frame = np.empty((3, 3))
    size = np.sqrt(a[0] ** 2 + a[1] ** 2 + a[2] ** 2)
    frame[0] = a / size
    across = frame[0, 0] * b[0] + frame[0, 1] * b[1] + frame[0, 2] * b[2]
    rest = b - across * frame[0]
    height = np.sqrt(rest[0] ** 2 + rest[1] ** 2 + rest[2] ** 2)
    frame[1] = rest / height
    frame[2, 0] = frame[0, 1] * frame[1, 2] - frame[0, 2] * frame[1, 1]
    frame[2, 1] = frame[0, 2] * frame[1, 0] - frame[0, 0] * frame[1, 2]
    frame[2, 2] = frame[0, 0] * frame[1, 1] - frame[0, 1] * frame[1, 0]
    metric = np.array([[1.0 / size, -across / (size * height)], [0.0, 1.0 / height]])
    return frame, metric


@njit(cache=True, inline="always")
def _turn(frame, s11, s22, snn, s12, s2n, s1n, out, c):
    """Tensor of the face's frame into x, y, z: xx, yy, zz, xy, yz, zx."""
    for k in range(6):
        i = k if k < 3 else k - 3
        j = k if k < 3 else (k - 2) % 3
        p, q, n = frame[0], frame[1], frame[2]
        out[k, c] = (
            s11 * p[i] * p[j]
            + s22 * q[i] * q[j]
            + snn * n[i] * n[j]
            + s12 * (p[i] * q[j] + q[i] * p[j])
            + s2n * (q[i] * n[j] + n[i] * q[j])
            + s1n * (p[i] * n[j] + n[i] * p[j])
        )


@njit(cache=True)
def _add(places, recovered, normals, first, second, count, total, corner):
    for f in range(len(places)):
        for k in range(6):
            i = places[f, k]
            n = normals[f, k]
            side = 0
            if count[i, 0] == 0.0:
                first[i] = n
            elif (first[i] * n).sum() < SHARP:
                side = 1
                if count[i, 1] == 0.0:
                    second[i] = n
                elif (second[i] * n).sum() < SHARP:
                    corner[i] = True
            count[i, side] += 1.0
            total[i, side] += recovered[f, k]
