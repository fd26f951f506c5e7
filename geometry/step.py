"""STEP (AP242) with the names of the faces in it; the same solid gives the same bytes in every process."""

from __future__ import annotations

import re
from pathlib import Path

import cadquery as cq
from OCP.Interface import Interface_Static
from OCP.STEPControl import STEPControl_Controller

from params.schema.arm import Arm

AP242 = 5  # the kernel's number of this schema (ISO 10303-242, managed model based 3D engineering)
STAMP = "1970-01-01T00:00:00"  # stands for the clock time, which has no place in a file made from parameters


def write_step(body: cq.Shape, faces: dict[str, list[cq.Face]], arm: Arm, path: Path) -> None:
    """Write the body as an assembly of one part, named after the arm, with its named faces."""
    assembly = cq.Assembly(body, name=arm.name)
    for name, group in faces.items():
        for face in group:
            assembly.addSubshape(face, name=name)
    STEPControl_Controller.Init_s()
    Interface_Static.SetIVal_s("write.step.schema", AP242)
    Interface_Static.SetCVal_s("write.step.product.name", arm.name)
    assembly.export(str(path), exportType="STEP")
    path.write_text(normalised(path.read_text(), arm.name))


def normalised(text: str, name: str) -> str:
    """The STEP text without clock time, placeholders of the header, and the translator's running numbers."""
    header = r"FILE_NAME\('[^']*','[^']*',\('Author'\),\(\s*'Open CASCADE'\)"
    text = re.sub(header, f"FILE_NAME('{name}','{STAMP}',(''),('')", text)
    text = re.sub(rf"PRODUCT\('{name} [\d.]+','{name} [\d.]+'", f"PRODUCT('{name}','{name}'", text)
    return re.sub(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+'", "NEXT_ASSEMBLY_USAGE_OCCURRENCE('1'", text)


def read_step(path: Path) -> cq.Solid:
    """The one solid of a STEP file, lengths in mm."""
    (body,) = cq.importers.importStep(str(path)).solids().vals()
    if not isinstance(body, cq.Solid):
        raise ValueError(f"{path}: holds no solid")
    return body
