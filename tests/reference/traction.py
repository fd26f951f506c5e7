"""Pressure on a named surface as nodal loads, for problems with closed solutions."""

from __future__ import annotations

import numpy as np

from analysis.elastic.element import FACE_NODES, shapes
from analysis.elastic.loads import POINTS, Array, face_areas
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle


def surface_traction(mesh: Mesh, name: str, pressure: Array | float) -> tuple[Array, Array]:
    """Nodal loads (3n,) and face tractions (k, 6, 3) of a pressure on a named surface, (k, 6) at its nodes or one value."""
    faces = mesh.surfaces[name]
    local, weights = triangle(POINTS)
    shape = shapes(local)
    areas, normals = face_areas(mesh.points[faces], local, weights)
    field = np.broadcast_to(np.asarray(pressure, dtype=float), faces.shape)
    pull = -np.einsum("kq,kn,qn,kqx->kqx", areas, field, shape, normals)
    nodal = np.zeros((len(mesh.points), 3))
    np.add.at(nodal, faces, np.einsum("kqx,qn->knx", pull, shape))
    _, outward = face_areas(mesh.points[faces], FACE_NODES, np.ones(6))
    return nodal.ravel(), -field[..., None] * outward
