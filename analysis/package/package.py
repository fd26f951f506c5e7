"""All files for the vendor in one zip with a manifest: what each is, its SHA-256, versions, changes since the last revision."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from analysis.package import archive
from analysis.package.extracts import plan_text, route_text
from analysis.package.plates import entries
from analysis.package.regenerate import MATERIAL, PLAN, ROUTE
from analysis.package.revision import PARAMETERS
from analysis.proof.summary import versions
from analysis.tables.files import plain, read_json
from params.files.origin import origin
from params.files.read import read_arm
from params.files.readroute import route_file
from params.schema.arm import Arm
from params.steps.caution import CAUTION

MANIFEST = "manifest.json"
PACKAGES = (
    "leverwright",
    "cadquery",
    "cadquery-ocp",
    "ezdxf",
    "matplotlib",
    "numpy",
    "typst",
)  # what makes its files
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
BLANKS = {
    "near-net.step": ("near-net/near-net.step", "part before machining, with stock, AP242"),
    "pattern.step": ("pattern/pattern.step", "pattern with draft, stock and shrinkage, AP242"),
}
KINDS = {
    ".step": "near-net piece with stock, AP242",
    ".json": "volumes, centres of gravity and boxes of the pieces",
}


class Missing(Exception):  # noqa: N818 - an answer, not a fault of the program
    """A file that the package needs is not there."""


def gathered(source: Path, work: Path) -> dict[str, tuple[Path, str]]:
    """Every file of the package by its name there: where it is now, and what it is."""
    files = {
        PARAMETERS: (source, "parameter file, from which all else is made"),
        SOLID: (work / "arm.step", "finished part, AP242, bores and bearing faces named"),
    }
    files |= {name: (work / file, what) for name, (file, what) in SHEETS.items()}
    blanks = read_json(work / "blanks.json")
    for file in blanks["files"]:
        name, what = BLANKS[file]
        files[name] = (work / file, what)
    arm = read_arm(source)
    material = f"{arm.material}.yaml"
    files[f"{MATERIAL}/{material}"] = (
        arm.library / "materials" / material,
        "material file: specified minimums",
    )
    if route := blanks["route"]:
        files[f"{ROUTE}/{route}.yaml"] = (
            route_file(arm, route),
            "how the part is made: limits, stock, draft, examination",
        )
    return files | pieces(source)


def pieces(source: Path) -> dict[str, tuple[Path, str]]:
    """Pieces of a deposited part, where this parameter file is the best design of a route that was cut into pieces."""
    folder = source.parent.parent / "pieces"
    if source.parent.name != "best" or not folder.is_dir():
        return {}
    kept = [
        path for path in sorted(folder.iterdir()) if path.suffix in KINDS and path.name != "near-net.step"
    ]
    files = {f"near-net/pieces/{path.name}": (path, KINDS[path.suffix]) for path in kept}
    return files | ({PLAN: (folder.parent / "plan.json", "where the near-net solid is cut")} if files else {})


def needed(path: Path, what: str) -> Path:
    if not path.is_file():
        raise Missing(f"{path}: is missing ({what}); run the workflow again, which makes it")
    return path


def content(name: str, path: Path) -> bytes:
    """A file as it goes into the package: of those that hold what stays with the owner, the vendor's part."""
    if name == PLAN:
        return plan_text(path)
    return route_text(path) if name.startswith(f"{ROUTE}/") else path.read_bytes()


def manifest(
    arm: Arm, facts: dict[str, Any], contents: dict[str, bytes], what: dict[str, str]
) -> dict[str, Any]:
    """The manifest; it lists every other entry."""
    return {
        "arm": arm.name,
        "number": facts["number"],
        "route": (facts["route"] or {}).get("name"),
        "design": facts["design"] or "as written",
        "material": arm.material,
        "revision": arm.revision,
        "revisions": facts["revisions"],
        "issued": facts["drawing"]["issued"],
        "caution": CAUTION,
        "owner_caution": arm.caution,
        "mass_kg": facts["mass_kg"],
        "changes": facts["changes"],
        "versions": versions(PACKAGES),
        "files": {
            name: {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data), "what": what[name]}
            for name, data in sorted(contents.items())
        },
    }


def pack(arm: Arm, source: Path, work: Path, target: Path) -> dict[str, Any]:
    """Write the package and return its manifest.

    Raises
    ------
    Missing
        with the first file that is not there.
    """
    for name in ("facts.json", "blanks.json"):
        needed(work / name, "table of an earlier step")
    facts, blanks = read_json(work / "facts.json"), read_json(work / "blanks.json")
    files = {
        name: (content(name, needed(path, what)), what)
        for name, (path, what) in gathered(source, work).items()
    }
    files |= entries(blanks["plates"], facts["material"]["density"])
    contents = {name: data for name, (data, _) in files.items()}
    listing = manifest(arm, facts, contents, {name: what for name, (_, what) in files.items()})
    listing["not_made"] = blanks["refused"]
    listing["origin"] = origin(arm, source)
    text = json.dumps(plain(listing), indent=1, sort_keys=True) + "\n"
    archive.write(contents | {MANIFEST: text.encode()}, target)
    return listing
