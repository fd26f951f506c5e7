"""What the part is made from, made again from the files of a package: near-net solid and pieces, pattern, plates.

As with the finished part nothing is trusted: files are written out under names of our own, the CAD room compares them in a
process of its own, outlines are read as drawings and compared with those of the plates.
"""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import ezdxf
import numpy as np
from ezdxf.lldxf.const import DXFError
from numpy.typing import NDArray

from analysis.package.finding import Finding, agreement
from analysis.package.plates import FOLDER, LIST, outline
from analysis.package.revision import PARAMETERS
from params.steps.library import ARM_FILE, INPUTS
from params.steps.problems import one_line

ROUTE, MATERIAL = "parameters/route", "parameters/material"  # folders of the route file and the material file
PLAN = "near-net/pieces/plan.json"
SOLIDS = {
    "near-net/near-net.step": "near-net.step",
    "pattern/pattern.step": "pattern.step",
    PLAN: "plan.json",
}
PIECE = re.compile(r"near-net/pieces/([a-z][a-z0-9-]*)\.step", re.ASCII)
ROUTE_FILE = re.compile(rf"{ROUTE}/([a-z][a-z0-9_-]{{0,39}})\.yaml", re.ASCII)
TIMEOUT = 600.0  # seconds for the CAD kernel
NEAR = 1e-3  # mm in outlines: far below what a cutting machine holds
DIGITS = 1e-5  # relative: tables keep six digits
NOUN = "what the part is made from"


def blank_findings(entries: dict[str, bytes]) -> list[Finding]:
    """A finding for each near-net solid, piece, pattern and plate of the package; none where it holds none of them."""
    pieces = {match[1]: name for name in entries if (match := PIECE.fullmatch(name))}
    given = [name for name in entries if name in SOLIDS or name in pieces.values() or name.startswith(FOLDER)]
    routes = [name for name in entries if ROUTE_FILE.fullmatch(name)]
    if not given:
        return []
    if len(routes) != 1 or PARAMETERS not in entries:
        return [Finding(False, f"{NOUN}: cannot be regenerated: the package has no route file")]
    if pieces and PLAN not in entries:
        return [Finding(False, f"{NOUN}: pieces cannot be regenerated: {PLAN} is missing")]
    figures, refusal = asked(entries, routes[0], pieces)
    if figures is None:
        return [Finding(False, f"{NOUN}: {refusal}")]
    findings = [one for name, pair in figures["solids"].items() for one in solid(name, pair)]
    unplanned = sorted(set(pieces) - {name.removeprefix("piece ") for name in figures["solids"]})
    findings += [Finding(False, f"piece {name}: is not listed in {PLAN}") for name in unplanned]
    return findings + plates(entries, figures["plates"])


def asked(entries: dict[str, bytes], route: str, pieces: dict[str, str]) -> tuple[dict[str, Any] | None, str]:
    """What the CAD room says, or why it says nothing."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        route_copy = Path(
            INPUTS, "routes", Path(route).name
        )  # as beside a run's results: what it names was checked there
        for place in ("pieces", route_copy.parent):
            (folder / place).mkdir(parents=True)
        files = {ARM_FILE: PARAMETERS, str(route_copy): route} | {
            file: entry for entry, file in SOLIDS.items() if entry in entries
        }
        files |= {f"pieces/{piece}.step": entry for piece, entry in pieces.items()}
        for file, entry in files.items():
            (folder / file).write_bytes(entries[entry])
        command = [
            sys.executable,
            "-m",
            "geometry.made_again",
            str(folder / ARM_FILE),
            str(folder / route_copy),
            name,
        ]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=TIMEOUT, check=False)
        except subprocess.TimeoutExpired:
            return None, f"not regenerated within {TIMEOUT:.0f} s"
    if done.returncode:
        return None, one_line((done.stderr.strip().splitlines() or ["no reason given"])[-1])
    return json.loads(done.stdout.strip().splitlines()[-1]), ""


def solid(name: str, pair: dict[str, Any]) -> list[Finding]:
    """Volume, area and faces of one solid, in one finding."""
    expected, read = pair["parameters"], pair["step"]
    if read is None:
        return [
            Finding(False, f"{name}: its STEP file is missing or cannot be read ({one_line(pair['unread'])})")
        ]
    parts = [
        agreement(f"{name}, volume", expected["volume_mm3"], read["volume_mm3"], "mm3"),
        agreement(f"{name}, area", expected["area_mm2"], read["area_mm2"], "mm2"),
        agreement(f"{name}, number of faces", expected["faces"], read["faces"], ""),
    ]
    wrong = [part for part in parts if not part.good]
    text = f"{name}: {read['volume_mm3']:.6g} mm3 and {read['faces']} faces, as the parameter and route files give"
    return wrong or [Finding(True, text)]


def plates(entries: dict[str, bytes], expected: list[dict[str, Any]]) -> list[Finding]:
    """Every plate: its row in the cutting list and its outline."""
    listed = rows(entries.get(LIST, b""))
    named = {f"{FOLDER}{plate['name']}.dxf" for plate in expected} | ({LIST} if expected else set())
    extra = sorted(name for name in entries if name.startswith(FOLDER) and name not in named)
    return [plate_of(plate, listed, entries) for plate in expected] + [
        Finding(False, f"{name}: is not a plate of the parameter and route files") for name in extra
    ]


def plate_of(plate: dict[str, Any], listed: dict[str, dict[str, str]], entries: dict[str, bytes]) -> Finding:
    name = plate["name"]
    row, drawn = listed.get(name), entries.get(f"{FOLDER}{name}.dxf")
    if row is None or drawn is None:
        return Finding(
            False,
            f"plate {name}: is not in the cutting list" if row is None else f"plate {name}: has no outline",
        )
    for key in ("count", "thickness_mm", "area_mm2"):
        if not np.isclose(number(row.get(key)), plate[key], rtol=DIGITS, atol=0.0):
            return Finding(
                False,
                f"plate {name}: {key} {one_line(str(row.get(key)))} in the cutting list, {plate[key]:.6g} from the route file",
            )
    try:
        read, wanted = points(drawn), points(outline(plate))
    except (ValueError, DXFError, UnicodeDecodeError) as error:
        return Finding(False, f"plate {name}: its outline cannot be read ({one_line(str(error))})")
    if read.shape != wanted.shape or not np.allclose(read, wanted, rtol=0.0, atol=NEAR):
        return Finding(False, f"plate {name}: its outline differs from that of the parameter and route files")
    return Finding(
        True,
        f"plate {name}: {plate['thickness_mm']:g} mm, cutting list and outline as the parameter and route files give",
    )


def rows(data: bytes) -> dict[str, dict[str, str]]:
    """The cutting list by plate."""
    return {str(row.get("plate")): row for row in csv.DictReader(io.StringIO(data.decode(errors="replace")))}


def number(text: str | None) -> float:
    try:
        return float(text or "nan")
    except ValueError:
        return float("nan")


def points(data: bytes) -> NDArray[np.float64]:
    """Coordinates of an outline's lines and arcs, one after the other, mm and degrees."""
    values: list[float] = []
    for one in ezdxf.read(io.StringIO(data.decode())).modelspace():  # type: ignore[attr-defined]
        if one.dxftype() == "LWPOLYLINE":
            values += [value for x, y in one.get_points("xy") for value in (x, y)]  # type: ignore[attr-defined]
        elif one.dxftype() in ("CIRCLE", "ARC"):
            values += [*one.dxf.center.xyz[:2], one.dxf.radius]
            values += [one.dxf.start_angle, one.dxf.end_angle] if one.dxftype() == "ARC" else []
        else:
            raise ValueError(f"it holds a {one.dxftype()}")
    return np.array(values)
