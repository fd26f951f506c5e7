"""One attempt at a mesh, in a process of its own that can be ended: `python -m geometry.mesher_step < JOB`, see `ladder`.

With `mesher_pins` and `mesher_sizes` the one place that knows gmsh. The mesh is made from the BREP (the STEP of the same
solid meshes differently), on one thread, so the same input gives the same mesh. The attempt stops where it takes more of
the processor's time than meshes of its size take.
"""

from __future__ import annotations

import ctypes
import json
import resource
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from pathlib import Path
from typing import Any

import gmsh
import numpy as np
from numpy.typing import NDArray

from geometry.curving import relaxed
from geometry.ladder import Job, Spot
from geometry.mesher_pins import fitted_pins, middle, pin_groups
from geometry.mesher_sizes import grade, surfaces
from geometry.pins import PinShape
from geometry.quality import Quality, quality, shape, sizes
from geometry.refused import MeshRefused, Place
from geometry.smoothing import smoothed
from params.steps.guard import one_line_errors
from params.steps.results import read_json

NEAR = 1e-3  # mm between a named face's point and the face that holds it
TET4, TET10 = 4, 11  # the mesher's numbers of the tetrahedra of first and second order
SURFACES = {"frontal": 6, "delaunay": 5, "adapted": 1}  # its numbers of surface and volume algorithms
VOLUMES = {"delaunay": 1, "frontal": 4}
SURFACE_SECONDS = (
    300  # of the processor, for reading the solid and meshing its faces: 20 times what large ones took
)
SECONDS = 30.0, 0.02  # for the rest, and for each triangle: 10 times the usual
DOUBTFUL = 1.5  # elements of less than this many times the quality wanted are told
MOST_SPOTS = 40


def attempt(job: Job, spots: list[Spot]) -> Quality:
    """Mesh, optimise, raise to second order, mend, and write to the targets where the mesh passes the gate."""
    named, pins = read_json(Path(job.faces)), {name: pin_of(told) for name, told in job.pins.items()}
    with session():
        solids = prepare(job, named, pins)
        told = generate(job, named, spots)
        gmsh.write(job.targets[0])
        if solids:
            pin_groups(pins, solids)
            gmsh.write(job.targets[1])
    return told


def pin_of(told: dict[str, Any]) -> PinShape:
    """A pin as it was before it went through JSON."""
    fields: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in told.items()
    }
    return PinShape(**fields)


def prepare(job: Job, named: dict[str, Any], pins: dict[str, PinShape]) -> dict[str, list[int]]:
    """Solid, groups and sizes; returns the volumes of each pin."""
    arm = gmsh.model.occ.importShapes(job.brep)
    solids = fitted_pins(arm, pins)
    gmsh.model.occ.synchronize()
    groups(named, [tag for _, tag in arm])
    grade(named, job, bool(pins))
    return solids


@contextmanager
def session() -> Iterator[None]:
    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setNumber("General.NumThreads", 1)
        yield
    finally:
        gmsh.finalize()


def groups(named: dict[str, Any], solid: list[int]) -> None:
    """Physical groups: a named face is the one whose trimmed surface holds the named point; areas must agree."""
    left = [tag for _, tag in gmsh.model.getBoundary([(3, tag) for tag in solid], oriented=False)]
    boxes = {tag: np.array(gmsh.model.getBoundingBox(2, tag)) for tag in left}
    for name, group in named["faces"].items():
        tags = [holder(face, left, boxes) for face in group]
        gmsh.model.addPhysicalGroup(2, tags, name=name)
        left = [tag for tag in left if tag not in tags]
    if left:
        raise MeshRefused("a face of the solid has no name", middle(2, left[0]))
    gmsh.model.addPhysicalGroup(3, solid, name="arm")


def holder(face: dict[str, Any], tags: list[int], boxes: dict[int, NDArray[np.float64]]) -> int:
    """The face that holds the point and has the area."""
    point = np.array(face["point"])
    for tag in tags:
        if np.any(point < boxes[tag][:3] - NEAR) or np.any(point > boxes[tag][3:] + NEAR):
            continue
        near, at = gmsh.model.getClosestPoint(2, tag, point.tolist())
        if np.linalg.norm(np.array(near) - point) > NEAR or not gmsh.model.isInside(
            2, tag, at, parametric=True
        ):
            continue
        if abs(gmsh.model.occ.getMass(2, tag) - face["area_mm2"]) < 1e-3 * face["area_mm2"] + 1e-2:
            return tag
    raise MeshRefused("no face of the solid holds a named point", tuple(face["point"]))


def generate(job: Job, named: dict[str, Any], spots: list[Spot]) -> Quality:
    """Mesh, optimise, raise to second order with curved edges, and put through the gate."""
    gmsh.option.setNumber("Mesh.Algorithm", SURFACES[job.step.surface])
    gmsh.option.setNumber("Mesh.Algorithm3D", VOLUMES[job.step.volume])
    gmsh.option.setNumber("Mesh.Optimize", 1)
    gmsh.option.setNumber("Mesh.MshFileVersion", 4.1)
    try:
        gmsh.model.mesh.generate(2)
        allow(SECONDS[0] + SECONDS[1] * len(gmsh.model.mesh.getElementsByType(2)[0]))
        gmsh.model.mesh.generate(3)
        gmsh.model.mesh.optimize("Netgen")
        smooth()
        gmsh.model.mesh.setOrder(2)
        told = settle(job, named, spots)
    except Exception as error:  # the mesher raises bare exceptions
        raise MeshRefused(f"the mesher stopped: {error}", trouble()) from error
    if told.worst < job.least:
        raise MeshRefused(f"worst quality {told.worst:.3f}, at least {job.least:g} wanted", told.place)
    return told


def allow(seconds: float) -> None:
    """End this process once it has used so many more seconds of the processor: a crowded machine does not count."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    limit = int(used.ru_utime + used.ru_stime + seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.getrlimit(resource.RLIMIT_CPU)[1]))


def trouble() -> Place:
    """Where the mesher stopped: the last bad node, or the middle of the last bad entity."""
    nodes, entities = gmsh.model.mesh.getLastNodeError(), gmsh.model.mesh.getLastEntityError()
    if len(nodes):
        x, y, z = gmsh.model.mesh.getNode(int(nodes[0]))[0]
        return float(x), float(y), float(z)
    return middle(*entities[0]) if entities else middle(*gmsh.model.getEntities(3)[0])


def smooth() -> None:
    """Move nodes inside the solids to where the worst straight elements are better, see `geometry.smoothing`."""
    _, made, tets = nodes_and(TET4, 4)
    inner = np.zeros(len(made), dtype=bool)
    inner[np.asarray(gmsh.model.mesh.getNodes(3)[0], dtype=np.int64)] = True
    points = smoothed(made, tets, inner)
    moved = np.flatnonzero((points != made).any(axis=1))
    put(moved, np.round(points[moved], 6))


def nodes_and(kind: int, count: int) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.int64]]:
    """Numbers of the nodes, their places to a millionth of a mm, by number, and elements (m, count) of a kind."""
    tags, flat, _ = gmsh.model.mesh.getNodes()
    numbers = np.asarray(tags, dtype=np.int64)
    made = np.zeros((int(numbers.max()) + 1, 3))
    made[numbers] = np.round(np.asarray(flat).reshape(-1, 3), 6)
    elements = np.asarray(gmsh.model.mesh.getElementsByType(kind)[1], dtype=np.int64).reshape(-1, count)
    return numbers, made, elements


def settle(job: Job, named: dict[str, Any], spots: list[Spot]) -> Quality:
    """Mend folded elements, round the nodes, and measure; doubtful elements go to `spots`.

    The nodes' last bits differ from process to process: a millionth of a millimetre is kept. The nodes of a bore, which
    carry pressure and contact, stay on its cylinder; a mid-edge node on its rim to a chamfer yields to an element that
    would else stay folded.
    """
    numbers, made, tets = nodes_and(TET10, 10)
    bores: dict[str, dict[str, Any]] = named["bores"]
    whole = np.concatenate([nodes_of(name, rims=True) for name in bores])
    inside = np.concatenate([nodes_of(name, rims=not chamfered(bore)) for name, bore in bores.items()])
    points = np.round(relaxed(made, tets, whole, inside), 6) + 0.0
    put(numbers, points[numbers])
    doubtful = worst_first(shape(points, tets), DOUBTFUL * job.least)
    middles, edges = points[tets[doubtful, :4]].mean(axis=1), sizes(points, tets[doubtful])
    spots += [(*place, size) for place, size in zip(middles.tolist(), edges.tolist(), strict=True)]
    return quality(points, tets)


def chamfered(bore: dict[str, Any]) -> bool:
    """Whether the cylinder ends short of the faces of its hub or boss."""
    return bool(bore["height_mm"] / 2.0 < bore["arm_mm"] + bore["proud_mm"] - NEAR)


def worst_first(each: NDArray[np.float64], limit: float) -> NDArray[np.int64]:
    """Elements below the limit, as many as are told."""
    found = np.flatnonzero(each < limit)
    return found[np.argsort(each[found], kind="stable")][:MOST_SPOTS]


def put(numbers: NDArray[np.int64], places: NDArray[np.float64]) -> None:
    """Nodes to their places (n, 3) mm, by the library's C function: its Python wrapper takes 5 times as long."""
    told, places = ctypes.c_int(0), np.ascontiguousarray(places)
    first, none = places.ctypes.data, (None, ctypes.c_size_t(0))
    for row, number in enumerate(numbers.tolist()):
        at = ctypes.c_void_p(first + row * places.strides[0])
        gmsh.lib.gmshModelMeshSetNode(
            ctypes.c_size_t(number), at, ctypes.c_size_t(3), *none, ctypes.byref(told)
        )
        if told.value:
            raise MeshRefused("a node cannot be placed", tuple(places[row]))


def nodes_of(name: str, rims: bool) -> NDArray[np.int64]:
    """Nodes of the faces of a physical group, with those on their edges where `rims`."""
    found = [gmsh.model.mesh.getNodes(2, tag, includeBoundary=rims)[0] for tag in surfaces(name)]
    return np.concatenate(found).astype(np.int64)


def main() -> int:
    """The answer is the last line of what is written out: figures of the mesh, or why and where there is none."""
    job, spots = Job.read(sys.stdin.read()), []
    allow(SURFACE_SECONDS)
    try:
        answer: dict[str, Any] = {"made": asdict(attempt(job, spots))}
    except MeshRefused as refusal:
        answer = {"why": refusal.why, "place": refusal.place, "spots": spots}
    print(json.dumps(answer))
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main())
