"""Second-order tetrahedra of the arm, graded to the bores: `python -m geometry.mesher DIR ARM.yaml` writes arm.msh.

An element that is inverted, flat or nearly so at any quadrature point fails the gate; then the mesh is made again in
other ways, one step of the `ladder` after the other, and refused where none passes.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from geometry.ladder import LEAST_QUALITY, STEPS, Job, climb
from geometry.pins import PinShape
from geometry.refused import MeshRefused
from params.files.read import read_arm
from params.schema.arm import Arm, MeshSizes
from params.steps.arguments import arguments
from params.steps.exit_codes import REFUSED
from params.steps.guard import one_line_errors
from params.steps.problems import Unfit

ROOT_SHAPE = re.compile(rb"\n[+-]\d+ \d+ *\s*\Z")  # the last line of a whole BREP file


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
        where no step of the ladder passes the gate; names the worst element's place and what to change.
    """
    return meshed(brep, faces, sizes, per_quarter or sizes.per_quarter_bore, {}, [target])


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
    return meshed(brep, faces, sizes, per_quarter, pins, targets)


def meshed(
    brep: Path, faces: Path, sizes: MeshSizes, count: int, pins: Mapping[str, PinShape], targets: Sequence[Path]
) -> MeshReport:  # fmt: skip
    """The first mesh that passes the gate, written to the first target; its pins, if any, to the second."""
    whole_solid(brep)
    told = {name: asdict(pin) for name, pin in pins.items()}
    # Absolute, for an attempt runs in the program's own folder.
    files = tuple(str(target.absolute()) for target in targets)
    job = Job(
        str(brep.absolute()),
        str(faces.absolute()),
        sizes.growth,
        sizes.largest,
        count,
        told,
        files,
        LEAST_QUALITY,
        STEPS[0],
        (),
    )
    made, attempts = climb(job)
    return MeshReport(
        made["nodes"], made["elements"], count, made["worst"], tuple(made["place"]), made["volume"], attempts
    )


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
