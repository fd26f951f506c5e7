"""The arm with its pins as one model: bodies, paired nodes, the few supports, the loads of a case on arm and plates.

A bore with a fit takes its pin's force by contact; the supporting plates press on the pin on both sides of the hub so that force
and moment in the plane are those of the case. What a frictionless pin cannot carry, the force along its axis and the moment
about it, acts on the bore as the uniform tractions of `elastic.loads`. A bore without a fit is loaded as there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from analysis.contact.pairs import Pairs, bore_pairs
from analysis.contact.solve import Begin
from analysis.contracts.loads import CaseLoads
from analysis.elastic.loads import BoreLoad, Resultants, Seats, case_vector
from analysis.elastic.material import Elastic, Mixed
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import nodal_volumes
from analysis.elastic.supports import determinate
from analysis.proof.cases import bore_load, elastic, in_balance
from geometry.pins import PinShape
from params.schema.arm import Arm
from params.schema.bores import Shaft
from params.schema.material import Material
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Fitted:
    """Arm (the first nodes and elements) and pins in one mesh; by bore its pin's shape and paired nodes."""

    mesh: Mesh
    arm: Mesh
    law: Mixed
    shapes: dict[str, PinShape]
    pairs: dict[str, Pairs]
    fixed: NDArray[np.int64]  # scalar unknowns 3 node + axis


@dataclass(frozen=True)
class FittedLoad:
    """A case: nodal loads of all bodies (3n,) N, the load of each bore, tractions on the arm other than contact."""

    vector: Floats
    bores: dict[str, BoreLoad]
    resultants: Resultants


def fitted(
    arm: Mesh, pins: Mesh, material: Material, shapes: Mapping[str, PinShape], shafts: Mapping[str, Shaft]
) -> Fitted:
    """Arm and pins meshed together by `geometry.mesher.mesh_with_pins`."""
    nodes = len(arm.points)
    surfaces = dict(arm.surfaces) | {name: faces + nodes for name, faces in pins.surfaces.items()}
    mesh = Mesh(np.vstack([arm.points, pins.points]), np.vstack([arm.tets, pins.tets + nodes]), surfaces)
    laws = [elastic(material), *(Elastic(shafts[n].elastic_modulus, shafts[n].poisson_ratio) for n in shapes)]
    body = np.concatenate([np.zeros(len(arm.tets), dtype=np.int64), 1 + nearest(pins, shapes)])
    softest = {name: min(laws[0].modulus, shafts[name].elastic_modulus) for name in shapes}
    pairs = {
        name: bore_pairs(mesh, f"{name}_bore", f"{name}_seat", shape.centre, softest[name])
        for name, shape in shapes.items()
    }
    free = [idle(mesh, name, shape) for name, shape in shapes.items()]
    return Fitted(
        mesh, arm, Mixed(tuple(laws), body), dict(shapes), pairs, np.concatenate([determinate(arm), *free])
    )


def nearest(pins: Mesh, shapes: Mapping[str, PinShape]) -> NDArray[np.int64]:
    """Which pin each element belongs to, by the nearest axis."""
    middle = pins.points[pins.tets[:, :4], :2].mean(axis=1)
    axes = np.array([shape.centre for shape in shapes.values()])
    return np.argmin(np.linalg.norm(middle[:, None] - axes, axis=2), axis=1)


def idle(mesh: Mesh, name: str, shape: PinShape) -> NDArray[np.int64]:
    """The pin's two free motions, along and about its axis: held at one corner node, which carries no load."""
    corners = np.unique(mesh.surfaces[f"{name}_high_plate"][:, :3])
    node = int(corners[np.argmax(mesh.points[corners, 0])])
    return np.array([3 * node + 1, 3 * node + 2])


def fitted_load(model: Fitted, arm: Arm, case: CaseLoads, seats: Seats) -> FittedLoad:
    """Loads of one case of loads.json; `seats` as for `case_vector`."""
    density = model.law.laws[0].density
    volumes = nodal_volumes(model.arm)
    bores, _ = in_balance(model.arm, arm, case, density, volumes)
    wanted: list[BoreLoad] = []
    for surface, load in bores.items():
        name = surface.removesuffix("_bore")
        wanted += through_pin(model.shapes[name], arm, load) if name in model.shapes else [load]
    everywhere = np.concatenate([volumes, np.zeros(len(model.mesh.points) - len(volumes))])
    vector, resultants = case_vector(model.mesh, wanted, case.gravity, density, everywhere, seats)
    return FittedLoad(vector, bores, resultants)


def through_pin(shape: PinShape, arm: Arm, load: BoreLoad) -> list[BoreLoad]:
    """Loads of the plates on the pin, and on the bore itself those that the pin cannot carry."""
    name = load.surface.removesuffix("_bore")
    force, moment = np.array(load.force), np.array(load.moment)
    at = 0.5 * (shape.plate[0] + shape.plate[1])
    # Plates at z = at and -at: the halves of the force, and a couple for Mx = -z Fy, My = z Fx.
    couple = np.array([moment[1], -moment[0]]) / (2.0 * at)
    loads = []
    for side, sign in (("low", -1.0), ("high", 1.0)):
        part = 0.5 * force[:2] + sign * couple
        loads.append(
            BoreLoad(f"{name}_{side}_plate", (*shape.centre, sign * at), (*part.tolist(), 0.0), outside=True)
        )
    if force[2] or moment[2]:
        loads.append(bore_load(arm, load.surface, (0.0, 0.0, force[2]), (0.0, 0.0, moment[2])))
    return loads


def begin(model: Fitted, gaps: Mapping[str, float], loads: Sequence[FittedLoad]) -> Begin:
    """Where the search for the contact begins, from the radial gap of each bore (negative: interference), mm.

    With interference all round; with clearance on the half that the pin presses on, the pin moved over to touch there.
    """
    count = sum(len(pairs.outer) for pairs in model.pairs.values())
    closed = np.zeros((len(loads), count), dtype=bool)
    moved = np.zeros((len(loads), len(model.mesh.points), 3))
    gap, first = np.zeros(count), 0
    for index, (name, pairs) in enumerate(model.pairs.items()):
        part = slice(first, first + len(pairs.outer))
        first, gap[part] = part.stop, gaps[name]
        body = np.unique(model.mesh.tets[model.law.body == 1 + index])
        for c, load in enumerate(loads):
            force = np.array(load.bores[f"{name}_bore"].force[:2]) if load.bores else np.zeros(2)
            if gaps[name] <= 0.0 or not force.any():
                closed[c, part] = gaps[name] <= 0.0
                continue
            toward = force / np.linalg.norm(force)
            closed[c, part] = pairs.normal[:, :2] @ toward > 0.0
            moved[c, body, :2] = gaps[name] * toward
    return Begin(closed, moved, gap)


def unloaded(model: Fitted) -> FittedLoad:
    """The fits alone: no force, no weight."""
    nothing = np.zeros(3 * len(model.mesh.points))
    return FittedLoad(nothing, {}, Resultants(np.zeros(3), np.zeros(3), {}, {}, {}))
