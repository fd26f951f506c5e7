"""STEP with the names of the faces in it; the same solid gives the same bytes in every process."""

from __future__ import annotations

import re
from pathlib import Path

import cadquery as cq

from params.arm import Arm

STAMP = "1970-01-01T00:00:00"  # stands for the clock time, which has no place in a file made from parameters


def write_step(body: cq.Shape, faces: dict[str, list[cq.Face]], arm: Arm, path: Path) -> None:
    """Write the body as an assembly of one part, named after the arm, with its named faces."""
    assembly = cq.Assembly(body, name=arm.name)
    for name, group in faces.items():
        for face in group:
            assembly.addSubshape(face, name=name)
    assembly.export(str(path), exportType="STEP")
    path.write_text(normalised(path.read_text(), arm.name))


def normalised(text: str, name: str) -> str:
    """The STEP text without clock time and without the translator's and the assembly's running numbers."""
    text = re.sub(r"FILE_NAME\('[^']*','[^']*'", f"FILE_NAME('{name}','{STAMP}'", text)
    text = re.sub(r"(Open CASCADE STEP translator [\d.]+) [\d.]+", r"\1", text)
    return re.sub(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+'", "NEXT_ASSEMBLY_USAGE_OCCURRENCE('1'", text)


def read_step(path: Path) -> cq.Shape:
    """The one solid of a STEP file."""
    return cq.importers.importStep(str(path)).val().Solids()[0]
