"""Second-order tetrahedra of the arm, graded to the bores: `python -m geometry.mesher DIR ARM.yaml` writes arm.msh.

With `mesher_pins` the one place that knows gmsh. The mesh is made from the BREP (the STEP of the same solid meshes
differently), on one thread, so the same input gives the same mesh. An element that is inverted or flat at any quadrature point
fails the gate; then the mesh is made once more with other settings, and refused where that fails too.
"""

from __future__ import annotations

import ctypes
import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import gmsh
import numpy as np
from numpy.typing import NDArray

from geometry.curving import relaxed
from geometry.datums import BORES
from geometry.mesher_pins import fitted_pins, middle, pin_groups
from geometry.pins import PinShape
from geometry.quality import Quality, quality
from geometry.refused import MeshRefused, Place
from params.files.read import read_arm
from params.schema.arm import Arm, MeshSizes
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors
from params.steps.problems import Unfit
from params.steps.results import read_json

ROOT_SHAPE = re.compile(rb"\n[+-]\d+ \d+ *\s*\Z")  # the last line of a whole BREP file
LEAST_QUALITY = 0.01  # see geometry.quality: 1 a regular tetrahedron, 0 one that is flat or folds at a point
STRETCH = 2.5  # largest element edge on a plate over the plate's thickness
ROUND = (6, 12)  # least and most elements on the full circle of a fillet or blend
NEAR = 1e-3  # mm between a named face's point and the face that holds it
DELAUNAY, FRONTAL, TRIANGLES, TET10 = (
    1,
    6,
    5,
    11,
)  # the mesher's numbers: volume and surface algorithms, element
# The second attempt may straighten the rims of the bores where an element at a chamfer would fold.
ATTEMPTS = (
    {"surface": FRONTAL, "shrink": 1.0, "rims": True},
    {"surface": TRIANGLES, "shrink": 0.75, "rims": False},
)


@dataclass(frozen=True)
class MeshReport:
    """Figures of one mesh; for the worst quality see geometry.quality."""

    nodes: int
    elements: int
    per_quarter: int
    worst_quality: float
    worst_place: tuple[float, float, float]
    volume: float  # mm3, integrated over the curved elements
    attempts: int

    @property
    def unknowns(self) -> int:
        return 3 * self.nodes

    def __str__(self) -> str:
        place = ", ".join(f"{value:.0f}" for value in self.worst_place)
        return (
            f"{self.elements:,} elements, {self.unknowns:,} unknowns, {self.per_quarter} per quarter bore, "
            f"worst quality {self.worst_quality:.2f} at ({place}) mm, attempt {self.attempts}"
        )


def mesh_arm(
    brep: Path, faces: Path, sizes: MeshSizes, target: Path, per_quarter: int | None = None
) -> MeshReport:
    """Mesh the solid and write MSH 4.1 with the volume `arm` and the named surfaces as physical groups.

    `per_quarter` elements go to a quarter of each bore, where given instead of the file's number.

    Raises
    ------
    MeshRefused
        where no attempt passes the gate; names the worst element's place.
    """
    named = read_json(faces)
    return attempts(brep, named, sizes, per_quarter or sizes.per_quarter_bore, {}, [target])


def mesh_with_pins(
    brep: Path,
    faces: Path,
    sizes: MeshSizes,
    pins: Mapping[str, PinShape],
    targets: tuple[Path, Path],
    per_quarter: int,
) -> MeshReport:
    """Mesh the solid with pins in its bores, the same faces on both sides of a bore, into two files: arm and pins.

    The arm's file has the groups of `mesh_arm`; the pins' has, for each bore, the volume `BORE_pin` and the surfaces
    `BORE_seat` (in the bore), `BORE_plates` (in the supporting plates) and `BORE_free`. Raises as `mesh_arm`.
    """
    named = read_json(faces)
    return attempts(brep, named, sizes, per_quarter, dict(pins), targets)


def attempts(
    brep: Path,
    named: dict[str, Any],
    sizes: MeshSizes,
    count: int,
    pins: dict[str, PinShape],
    targets: Sequence[Path],
) -> MeshReport:
    """The first mesh that passes the gate, written to the first target; its pins, if any, to the second."""
    whole_solid(brep)
    refusal: MeshRefused | None = None
    for attempt, settings in enumerate(ATTEMPTS, 1):
        with session():
            solids = prepare(brep, named, sizes, count, settings, pins)
            try:
                told = generate(settings)
            except MeshRefused as again:
                refusal = again
                continue
            gmsh.write(str(targets[0]))
            if solids:
                pin_groups(pins, solids)
                gmsh.write(str(targets[1]))
            return MeshReport(told.nodes, told.elements, count, told.worst, told.place, told.volume, attempt)
    assert refusal is not None
    raise MeshRefused(f"no sound mesh in {len(ATTEMPTS)} attempts: {refusal.why}", refusal.place)


def whole_solid(brep: Path) -> None:
    """A BREP file begins with the name of its format and ends with its root shape; the kernel never ends reading half of one.

    Raises
    ------
    Unfit
        that names the file, where it is cut off or another kind of file.
    """
    text = brep.read_bytes()
    if b"CASCADE Topology" not in text[:200] or not ROOT_SHAPE.search(text[-100:]):
        raise Unfit(f"{brep}: is no whole solid (cut off or another kind of file)")


def prepare(
    brep: Path,
    named: dict[str, Any],
    sizes: MeshSizes,
    count: int,
    settings: dict[str, Any],
    pins: dict[str, PinShape],
) -> dict[str, list[int]]:
    """Solid, groups and sizes; returns the volumes of each pin."""
    arm = gmsh.model.occ.importShapes(str(brep))
    solids = fitted_pins(arm, pins)
    gmsh.model.occ.synchronize()
    groups(named, [tag for _, tag in arm])
    grade(named, sizes, count, settings["shrink"], pins)
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


def grade(
    named: dict[str, Any], sizes: MeshSizes, count: int, shrink: float, pins: dict[str, PinShape]
) -> None:
    """Element size: `count` to a quarter of each bore at its surface, growing away from it up to the largest.

    Plates are held to `STRETCH` times their thickness, for an element through a plate stretched further than about 3:1
    bends badly and slows the solver; fillets and blends get a number of elements on their full circle.
    """
    fields = [bore_field(named["bores"], sizes, count, shrink, bool(pins)), *plate_fields(named, shrink)]
    least = gmsh.model.mesh.field.add("Min")
    gmsh.model.mesh.field.setNumbers(least, "FieldsList", fields)
    gmsh.model.mesh.field.setAsBackgroundMesh(least)
    for option in ("MeshSizeExtendFromBoundary", "MeshSizeFromPoints"):
        gmsh.option.setNumber(f"Mesh.{option}", 0)
    gmsh.option.setNumber("Mesh.MeshSizeFromCurvature", min(max(count, ROUND[0]), ROUND[1]))
    gmsh.option.setNumber("Mesh.MeshSizeMax", shrink * sizes.largest)


def bore_field(bores: dict[str, Any], sizes: MeshSizes, count: int, shrink: float, pins: bool) -> int:
    """Size by the distance from each bore's cylinder; with pins, which go on outside, by that along the axis too."""
    near = []
    for bore in bores.values():
        (x, y), radius = bore["centre_mm"], bore["radius_mm"]
        fine = shrink * np.pi / 2.0 * radius / count
        away = f"Fabs(Sqrt((x-({x:.9g}))^2+(y-({y:.9g}))^2)-{radius:.9g})"
        if pins:
            beyond = f"Fabs(z)-{bore['height_mm'] / 2.0:.9g}"
            away = f"Sqrt({away}^2+(0.5*(({beyond})+Fabs({beyond})))^2)"
        near.append(f"{fine:.9g}+{sizes.growth - 1.0:.9g}*{away}")
    field = gmsh.model.mesh.field.add("MathEval")
    gmsh.model.mesh.field.setString(field, "F", f"Min(Min({near[0]},{near[1]}),{near[2]})")
    return field


def plate_fields(named: dict[str, Any], shrink: float) -> list[int]:
    """Size on the outside faces: those square to z belong to webs, the others to flanges (hub and bosses with them)."""
    webs, flanges = [], []
    for tag in surfaces("outside"):
        box = gmsh.model.occ.getBoundingBox(2, tag)
        (webs if box[5] - box[2] < 1e-3 else flanges).append(tag)
    fields = []
    for thickness, tags in ((named["web_mm"], webs), (named["flange_mm"], flanges)):
        if thickness and tags:
            field = gmsh.model.mesh.field.add("Constant")
            gmsh.model.mesh.field.setNumber(field, "VIn", shrink * STRETCH * thickness)
            gmsh.model.mesh.field.setNumber(field, "VOut", 1e22)
            gmsh.model.mesh.field.setNumbers(field, "SurfacesList", tags)
            fields.append(field)
    return fields


def surfaces(name: str) -> list[int]:
    """Faces of a physical group."""
    group = next(
        pair for pair in gmsh.model.getPhysicalGroups(2) if gmsh.model.getPhysicalName(*pair) == name
    )
    return [int(tag) for tag in gmsh.model.getEntitiesForPhysicalGroup(*group)]


def generate(settings: dict[str, Any]) -> Quality:
    """Mesh, optimise, raise to second order with curved edges, and put through the gate."""
    gmsh.option.setNumber("Mesh.Algorithm", settings["surface"])
    gmsh.option.setNumber("Mesh.Algorithm3D", DELAUNAY)
    gmsh.option.setNumber("Mesh.Optimize", 1)
    gmsh.option.setNumber("Mesh.MshFileVersion", 4.1)
    try:
        gmsh.model.mesh.generate(3)
        gmsh.model.mesh.optimize("Netgen")
        gmsh.model.mesh.setOrder(2)
        told = settle(settings["rims"])
    except Exception as error:  # the mesher raises bare exceptions
        raise MeshRefused(f"the mesher stopped: {error}", trouble()) from error
    if told.worst < LEAST_QUALITY:
        raise MeshRefused(f"worst quality {told.worst:.3f}, at least {LEAST_QUALITY} wanted", told.place)
    return told


def trouble() -> Place:
    """Where the mesher stopped: the last bad node, or the middle of the last bad entity."""
    nodes, entities = gmsh.model.mesh.getLastNodeError(), gmsh.model.mesh.getLastEntityError()
    if len(nodes):
        x, y, z = gmsh.model.mesh.getNode(int(nodes[0]))[0]
        return float(x), float(y), float(z)
    return middle(*entities[0]) if entities else middle(*gmsh.model.getEntities(3)[0])


def settle(rims: bool) -> Quality:
    """Mend folded elements, round the nodes, and measure.

    The nodes' last bits differ from process to process: a millionth of a millimetre is kept. Bores keep their curvature,
    and so do their rims where `rims`.
    """
    tags, flat, _ = gmsh.model.mesh.getNodes()
    numbers = np.asarray(tags, dtype=np.int64)
    made = np.zeros((int(numbers.max()) + 1, 3))
    made[numbers] = np.asarray(flat).reshape(-1, 3)
    tets = np.asarray(gmsh.model.mesh.getElementsByType(TET10)[1], dtype=np.int64).reshape(-1, 10)
    kept = np.concatenate([nodes_of(f"{name}_bore", rims) for name in BORES])
    points = np.round(relaxed(np.round(made, 6), tets, kept), 6) + 0.0
    put(numbers, points[numbers])
    return quality(points, tets)


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


def main(folder: Path, source: Path) -> int:
    arm: Arm = read_arm(source)
    try:
        print("mesh:", mesh_arm(folder / "arm.brep", folder / "faces.json", arm.mesh, folder / "arm.msh"))
    except MeshRefused as refusal:
        print(refusal, file=sys.stderr)
        return REFUSED
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path, arm=Path)))
