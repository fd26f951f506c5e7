"""A hub and the pin in it as one structured mesh for contact tests: rings that share the cells around and along."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.contact.pairs import Pairs, bore_pairs
from analysis.contact.solve import Begin
from analysis.elastic.element import shapes
from analysis.elastic.loads import face_areas
from analysis.elastic.material import Elastic, Mixed
from analysis.elastic.mesh import Mesh
from analysis.elastic.quadrature import triangle
from tests.elastic.fields import hold
from tests.elastic.meshes import block, ring

STEEL = Elastic(205e3, 0.3)


@dataclass(frozen=True)
class Pinned:
    """hub first, pin after it; surfaces hub_low1, pin_high1 and so on; `nodes` of the hub."""

    mesh: Mesh
    law: Mixed
    pairs: Pairs
    nodes: int

    @property
    def hub(self) -> Mesh:
        count = int((self.law.body == 0).sum())
        names = {k[4:]: v for k, v in self.mesh.surfaces.items() if k.startswith("hub_")}
        return Mesh(self.mesh.points[: self.nodes], self.mesh.tets[:count], names)


def joined(hub: Mesh, pin: Mesh, laws: tuple[Elastic, Elastic] = (STEEL, STEEL)) -> Pinned:
    """Seat of the pin: the faces of its outside within the hub's length."""
    nodes, half = len(hub.points), np.abs(hub.points[:, 2]).max()
    surfaces = {f"hub_{name}": faces for name, faces in hub.surfaces.items()}
    surfaces |= {f"pin_{name}": faces + nodes for name, faces in pin.surfaces.items()}
    within = np.abs(pin.points[pin.surfaces["high1"], 2]).max(axis=1) < half + 1e-6
    surfaces["pin_seat"] = surfaces["pin_high1"][within]
    mesh = Mesh(np.vstack([hub.points, pin.points]), np.vstack([hub.tets, pin.tets + nodes]), surfaces)
    body = np.repeat([0, 1], [len(hub.tets), len(pin.tets)])
    pairs = bore_pairs(mesh, "hub_low1", "pin_seat", (0.0, 0.0), min(law.modulus for law in laws))
    return Pinned(mesh, Mixed(laws, body), pairs, nodes)


def rings(hub: tuple, pin: tuple, laws: tuple[Elastic, Elastic] = (STEEL, STEEL)) -> Pinned:
    """Each as for `meshes.ring`: inner and outer radius, length, cells around, across and along."""
    return joined(ring(*hub), ring(*pin), laws)


def graded(
    inner: float, outer: float, height: float, cells: tuple[int, int, int], power: float, crowd: float
) -> Mesh:
    """A ring whose cells crowd toward angle 0 (crowd 0 even, below 1) and grow in radius by geometric progression (`power`:
    outermost over innermost)."""

    def shape(u: np.ndarray) -> np.ndarray:
        angle = 2.0 * np.pi * u[:, 0] - crowd * np.sin(2.0 * np.pi * u[:, 0])
        grown = (power ** u[:, 1] - 1.0) / (power - 1.0) if power != 1.0 else u[:, 1]
        radius = inner + (outer - inner) * grown
        return np.column_stack([radius * np.cos(angle), radius * np.sin(angle), height * (u[:, 2] - 0.5)])

    return block(cells, shape, wrap=True)


def idle(model: Pinned) -> list[int]:
    """The pin's two free motions, held where nothing has to be carried."""
    corners = np.unique(model.mesh.surfaces["pin_high2"][:, :3])
    node = int(corners[np.argmax(model.mesh.points[corners, 0])])
    return [3 * node + 1, 3 * node + 2]


def plane(model: Pinned) -> np.ndarray:
    """Plane strain: no movement along z; in the plane the hub's three motions and the pin's turning."""
    ends = hold(
        model.mesh, *((f"{body}_{side}2", "z") for body in ("hub", "pin") for side in ("low", "high"))
    )
    outside = np.unique(model.mesh.surfaces["hub_high1"][:, :3])
    x, y = model.mesh.points[outside, 0], model.mesh.points[outside, 1]
    far, near = int(outside[np.argmin(x)]), int(outside[np.argmax(y)])
    return np.unique([*ends, 3 * far, 3 * far + 1, 3 * near, idle(model)[0]])


def round_begin(model: Pinned, gap: float, cases: int = 1) -> Begin:
    """Interference: closed all round."""
    count = len(model.pairs.outer)
    return Begin(
        np.ones((cases, count), dtype=bool), np.zeros((cases, len(model.mesh.points), 3)), np.full(count, gap)
    )


def pressed_begin(model: Pinned, gap: float) -> Begin:
    """Clearance, the pin moved along x until it touches; closed on that half."""
    begin = round_begin(model, gap)
    begin.closed[0] = model.pairs.normal[:, 0] > 0.0
    begin.moved[0, model.nodes :, 0] = gap
    return begin


def pull(mesh: Mesh, surface: str, force: float) -> np.ndarray:
    """Nodal loads (n, 3) of an even traction along x on a surface, N in all."""
    faces = mesh.surfaces[surface]
    local, weights = triangle(5)
    areas, _ = face_areas(mesh.points[faces], local, weights)
    loads = np.zeros((len(mesh.points), 3))
    np.add.at(loads[:, 0], faces, np.einsum("kq,qn->kn", areas, shapes(local)) * force / areas.sum())
    return loads
