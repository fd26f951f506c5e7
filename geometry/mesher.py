"""Second-order tetrahedra of the arm, graded to the bores: `python -m geometry.mesher DIR ARM.yaml` writes arm.msh.

The one module that knows gmsh. The mesh is made from the BREP (the STEP of the same solid meshes differently), on one
thread, so the same input gives the same mesh. An element that is inverted or flat at any quadrature point fails the gate;
then the mesh is made once more with other settings, and refused where that fails too.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import gmsh
import numpy as np
from numpy.typing import NDArray

from geometry.quality import Quality, quality
from params.arm import Arm, MeshSizes
from params.read import read_arm

LEAST_QUALITY = 0.02  # least Jacobian over the element's mean Jacobian at a quadrature point
BORES = ("pivot_bore", "input_bore", "output_bore")
NEAR = 1e-3  # mm between a named face's point and the face that holds it
ATTEMPTS = (
    {"algorithm": 1, "optimise": "Netgen", "shrink": 1.0},
    {"algorithm": 1, "optimise": "Netgen", "shrink": 0.75},
)


class MeshRefused(Exception):
    """No sound mesh could be made; the text says where it fails."""


@dataclass(frozen=True)
class MeshReport:
    """Figures of one mesh; worst quality is the least Jacobian over the element's mean at any quadrature point."""

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
    brep: Path, faces: Path, sizes: MeshSizes, target: Path, per_quarter: int | None = None, **grading: Any
) -> MeshReport:
    """Mesh the solid and write MSH 4.1 with the volume `arm` and the named surfaces as physical groups.

    Raises
    ------
    MeshRefused
        where no attempt passes the gate; names the worst element's place.
    """
    named = json.loads(faces.read_text())
    count = per_quarter or sizes.per_quarter_bore
    told: Quality | None = None
    for attempt, settings in enumerate(ATTEMPTS, 1):
        with session():
            gmsh.model.occ.importShapes(str(brep))
            gmsh.model.occ.synchronize()
            groups(named["faces"])
            grade(sizes, count, settings["shrink"])
            try:
                told = generate(settings)
            except Exception as error:  # gmsh raises bare exceptions
                place = named["centroid_mm"]
                told = Quality(-1.0, tuple(place), 0.0, 0, 0, str(error))
                continue
            if told.worst >= LEAST_QUALITY:
                settle()
                gmsh.write(str(target))
                return MeshReport(
                    told.nodes, told.elements, count, told.worst, told.place, told.volume, attempt
                )
    assert told is not None
    place = ", ".join(f"{value:.0f}" for value in told.place)
    why = told.note or f"worst quality {told.worst:.3f}, at least {LEAST_QUALITY} wanted"
    raise MeshRefused(
        f"no sound mesh after {len(ATTEMPTS)} attempts: {why}, near ({place}) mm; change a fillet or a thickness there"
    )


@contextmanager
def session() -> Iterator[None]:
    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setNumber("General.NumThreads", 1)
        yield
    finally:
        gmsh.finalize()


def groups(named: dict[str, list[dict[str, Any]]]) -> None:
    """Physical groups: each named face is the one whose trimmed surface holds the named point; areas must agree."""
    left = [tag for _, tag in gmsh.model.getEntities(2)]
    boxes = {tag: np.array(gmsh.model.getBoundingBox(2, tag)) for tag in left}
    for name, group in named.items():
        tags = [holder(face, left, boxes) for face in group]
        gmsh.model.addPhysicalGroup(2, tags, name=name)
        left = [tag for tag in left if tag not in tags]
    if left:
        raise MeshRefused(f"{len(left)} faces of the solid have no name")
    gmsh.model.addPhysicalGroup(3, [tag for _, tag in gmsh.model.getEntities(3)], name="arm")


def holder(face: dict[str, Any], tags: list[int], boxes: dict[int, NDArray[np.float64]]) -> int:
    """The face that holds the point and has the area."""
    point = np.array(face["point"])
    for tag in tags:
        if np.any(point < boxes[tag][:3] - NEAR) or np.any(point > boxes[tag][3:] + NEAR):
            continue
        near, parameters = gmsh.model.getClosestPoint(2, tag, point.tolist())
        if np.linalg.norm(np.array(near) - point) > NEAR or not gmsh.model.isInside(
            2, tag, parameters, parametric=True
        ):
            continue
        if abs(gmsh.model.occ.getMass(2, tag) - face["area_mm2"]) < 1e-3 * face["area_mm2"] + 1e-2:
            return tag
    raise MeshRefused(f"no face of the solid holds the named point {face['point']}")


def grade(sizes: MeshSizes, count: int, shrink: float) -> None:
    """Element size: `count` to a quarter of each bore at its surface, growing away from it up to the largest."""
    near = []
    for name in BORES:
        x, y, radius = axis(name)
        fine = shrink * np.pi / 2.0 * radius / count
        near.append(
            f"{fine:.9g}+{sizes.growth - 1.0:.9g}*Fabs(Sqrt((x-({x:.9g}))^2+(y-({y:.9g}))^2)-{radius:.9g})"
        )
    size = gmsh.model.mesh.field.add("MathEval")
    gmsh.model.mesh.field.setString(size, "F", f"Min(Min({near[0]},{near[1]}),{near[2]})")
    gmsh.model.mesh.field.setAsBackgroundMesh(size)
    for option in ("MeshSizeExtendFromBoundary", "MeshSizeFromPoints"):
        gmsh.option.setNumber(f"Mesh.{option}", 0)
    # Fillets and blends: this many elements on a full circle of each, so that their peaks are seen.
    gmsh.option.setNumber("Mesh.MeshSizeFromCurvature", max(8, count))
    gmsh.option.setNumber("Mesh.MeshSizeMax", shrink * sizes.largest)


def axis(name: str) -> tuple[float, float, float]:
    """Axis (x, y) and radius of a bore, from the box about its faces."""
    group = next(
        pair for pair in gmsh.model.getPhysicalGroups(2) if gmsh.model.getPhysicalName(*pair) == name
    )
    box = np.array(
        [gmsh.model.occ.getBoundingBox(2, tag) for tag in gmsh.model.getEntitiesForPhysicalGroup(*group)]
    )
    low, high = box[:, :3].min(axis=0), box[:, 3:].max(axis=0)
    middle = (low + high) / 2.0
    return float(middle[0]), float(middle[1]), float(high[0] - low[0]) / 2.0


def generate(settings: dict[str, Any]) -> Quality:
    """Mesh, optimise, raise to second order with curved edges, and measure."""
    gmsh.option.setNumber("Mesh.Algorithm", 6)
    gmsh.option.setNumber("Mesh.Algorithm3D", settings["algorithm"])
    gmsh.option.setNumber("Mesh.Optimize", 1)
    gmsh.option.setNumber("Mesh.MshFileVersion", 4.1)
    gmsh.model.mesh.generate(3)
    gmsh.model.mesh.optimize(settings["optimise"])
    gmsh.model.mesh.setOrder(2)
    told = measure()
    if told.worst < LEAST_QUALITY:
        gmsh.model.mesh.optimize("HighOrderFastCurving")
        told = measure()
    if told.worst < LEAST_QUALITY:
        gmsh.model.mesh.optimize("HighOrder")
        told = measure()
    return told


def settle() -> None:
    """Round the nodes to a millionth of a millimetre: the last bits differ from process to process."""
    tags, xyz, _ = gmsh.model.mesh.getNodes()
    for tag, place in zip(tags, np.round(xyz.reshape(-1, 3), 6) + 0.0, strict=True):
        gmsh.model.mesh.setNode(int(tag), place, [])


def measure() -> Quality:
    tags, xyz, _ = gmsh.model.mesh.getNodes()
    place = np.zeros((int(tags.max()) + 1, 3))
    place[tags] = xyz.reshape(-1, 3)
    _, elements = gmsh.model.mesh.getElementsByType(11)
    tets = elements.reshape(-1, 10)
    return quality(place, tets)


def main(folder: Path, source: Path) -> int:
    arm: Arm = read_arm(source)
    try:
        print("mesh:", mesh_arm(folder / "arm.brep", folder / "faces.json", arm.mesh, folder / "arm.msh"))
    except MeshRefused as refusal:
        print(refusal, file=sys.stderr)
        return 3
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2])))
