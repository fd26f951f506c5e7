"""All files for the vendor in one zip with a manifest: what each is, its SHA-256, versions, changes since the last revision."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from analysis.summary import versions
from analysis.tables import plain, read_json
from analysis.vendor import archive
from analysis.vendor.revision import PARAMETERS
from params.arm import Arm
from params.caution import CAUTION

MANIFEST = "manifest.json"
SOLID = "solid/arm.step"
SHEETS = {
    "drawing/general-arrangement.dxf": (
        "drawing.dxf",
        "general-arrangement drawing, DXF, millimetres of paper",
    ),
    "drawing/general-arrangement.pdf": ("drawing.pdf", "general-arrangement drawing, PDF"),
    "requirements/requirements.pdf": ("requirements.pdf", "requirement sheet with report form"),
    "display/model.3mf": (
        "display.3mf",
        "display model at the scale of the parameter file, not to be measured",
    ),
}
FOLDERS = {  # of the vendor's work: place in the package, what its files are
    "plates": "plate cutting list and outlines at full size, DXF in millimetres",
    "pattern": "pattern with draft and stock, STEP",
}
KINDS = {".step": "near-net piece with stock, AP242", ".csv": "table", ".json": "figures"}


class Missing(Exception):  # noqa: N818 - an answer, not a fault of the program
    """A file that the package needs is not there."""


def gathered(filed: Path, work: Path) -> dict[str, tuple[Path, str]]:
    """Every file of the package by its name there: where it is now, and what it is."""
    found = {
        PARAMETERS: (filed, "parameter file, from which all else is made"),
        SOLID: (work / "arm.step", "finished part, AP242, bores and bearing faces named"),
    }
    found |= {name: (work / file, what) for name, (file, what) in SHEETS.items()}
    for folder, what in FOLDERS.items():
        found |= {f"{folder}/{path.name}": (path, what) for path in files(work / folder)}
    near = files(filed.parent / "pieces")
    found |= {f"near-net/{path.name}": (path, KINDS.get(path.suffix, "file")) for path in near}
    return found


def files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob("*") if path.is_file()) if folder.is_dir() else []


def manifest(
    arm: Arm, facts: dict[str, Any], contents: dict[str, bytes], what: dict[str, str]
) -> dict[str, Any]:
    """The manifest; it lists every other entry."""
    return {
        "arm": arm.name,
        "revision": arm.revision,
        "caution": CAUTION,
        "owner_caution": arm.caution,
        "mass_kg": facts["mass_kg"],
        "changes": facts["changes"],
        "versions": versions(),
        "files": {
            name: {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data), "what": what[name]}
            for name, data in sorted(contents.items())
        },
    }


def pack(arm: Arm, filed: Path, work: Path, target: Path) -> dict[str, Any]:
    """Write the package and return its manifest.

    Raises
    ------
    Missing
        with the first file that is not there.
    """
    found = gathered(filed, work)
    for path, what in found.values():
        if not path.is_file():
            raise Missing(f"{path}: is not there ({what}); run the rule that makes it")
    contents = {name: path.read_bytes() for name, (path, _) in found.items()}
    what = {name: said for name, (_, said) in found.items()}
    made = manifest(arm, read_json(work / "facts.json"), contents, what)
    text = json.dumps(plain(made), indent=1, sort_keys=True) + "\n"
    archive.write(contents | {MANIFEST: text.encode()}, target)
    return made
