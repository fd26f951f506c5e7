"""The record as one document: sections in their order, pictures beside them, set as PDF with the same bytes every time."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import matplotlib
import typst
from PIL import Image

from analysis.pictures.diagrams import free_body
from analysis.pictures.view import bare
from analysis.record.arm import the_arm
from analysis.record.basis import basis
from analysis.record.beside import beside
from analysis.record.bores_and_making import bores, making
from analysis.record.checks import checks
from analysis.record.closing import closing
from analysis.record.cover import cover
from analysis.record.mesh import mesh
from analysis.record.sections import sections
from analysis.record.statics import statics
from analysis.record.tables import Tables
from analysis.record.typeset import quoted
from analysis.tables.files import write_json
from params.steps.caution import CAUTION

PICTURES = ("solid.png", "mesh.png", "stress.png", "deformed.png", "convergence.png", "diagrams.svg")
ORDER = (cover, basis, the_arm, statics, sections, checks, mesh, beside, bores, making, closing)
TEMPLATE = Path(__file__).parent / "template.typ"
FONTS = Path(matplotlib.get_data_path()) / "fonts" / "ttf"  # for letters that the typesetter's own fonts lack


def source(tables: Tables) -> str:
    """The whole document as the typesetter reads it."""
    arm = tables.arm
    fields = {
        "title": f"{arm.name}: calculation record",
        "revision": arm.revision,
        "caution": CAUTION,
        "mark": tables.summary.parameter_sha256[:12],
    }
    named = ", ".join(f"{name}: {quoted(value)}" for name, value in fields.items())
    head = f'#import "template.typ": *\n#show: record.with({named})\n'
    return "\n\n".join([head, *(section(tables) for section in ORDER)])


def gather(tables: Tables, folder: Path) -> None:
    """Template and pictures into the folder that the typesetter may read."""
    shutil.copy(TEMPLATE, folder)
    for name in PICTURES:
        shutil.copy(tables.folder / "pictures" / name, folder)
    bare(Image.open(folder / "solid.png")).save(folder / "cover.png")
    for place in (tables.folder / "bores" / "pictures", tables.root / "making"):
        for path in place.glob("*.png"):
            shutil.copy(path, folder)
    for case in tables.workings.cases:
        free_body(tables.folder, folder / f"free-body-{case.case}.svg", case.case)


def typeset(text: str, folder: Path, target: Path) -> None:
    """Set `text` as PDF; only the typesetter's own fonts and those of the lock file, no clock time."""
    (folder / "record.typ").write_text(text)
    target.parent.mkdir(parents=True, exist_ok=True)
    typst.compile(
        str(folder / "record.typ"),
        output=str(target),
        root=str(folder),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
    )


def main(root: Path, target: Path) -> None:
    tables = Tables(root)
    with tempfile.TemporaryDirectory() as name:
        gather(tables, Path(name))
        typeset(source(tables), Path(name), target)
    write_json(target.with_suffix(".json"), tables.origin)
