"""The survey sheet to sign, PDF: `python -m analysis.survey.sheet DIR` from the tables and pictures there."""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

from analysis.drawing.ink import font_file
from analysis.pictures.survey import digits
from analysis.tables.files import read_csv, read_json
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

TEMPLATE = Path(__file__).with_name("sheet.typ")
LISTED = 15  # areas on the sheet; all are in deviation.csv
Rows = list[dict[str, str]]


def section(
    title: str, lines: list[str], columns: tuple = (), rows: list[list[str]] | None = None, picture: str = ""
) -> dict[str, Any]:
    """One section; a column is its name, width in mm (0: what is left) and side."""
    names, widths, align = zip(*columns, strict=True) if columns else ((), (), ())
    return {
        "title": title,
        "lines": lines,
        "columns": names,
        "widths": widths,
        "align": align,
        "rows": rows or [],
        "picture": picture,
    }


def sizes(rows: Rows) -> dict[str, Any]:
    columns = (
        ("size", 0, "left"),
        ("found", 26, "right"),
        ("± (95 %)", 19, "right"),
        ("unit", 11, "left"),
        ("from", 24, "left"),
        ("standard size near", 38, "left"),
        ("chosen", 24, "left"),
    )
    made = [
        [
            row["size"].replace("_", " ").replace(".", ", "),
            digits(float(row["value"]), float(row["uncertainty"])) if row["value"] else "to be given",
            f"{float(row['band_95']):.2g}" if row["value"] else "",
            row["unit"],
            row["from"],
            row["standard_name"],
            "",
        ]
        for row in rows
    ]
    told = "Nothing is rounded in the arm's file; the engineer chooses, and writes the choice in the last column."
    return section("Sizes", [told], columns, made)


def bores(rows: Rows) -> dict[str, Any]:
    columns = (
        ("bore", 14, "left"),
        ("diameter", 23, "right"),
        ("± (95 %)", 17, "right"),
        ("roundness", 20, "right"),
        ("taper", 18, "right"),
        ("out of parallel", 25, "right"),
        ("to pivot", 25, "right"),
        ("seen, %", 0, "right"),
        ("unit", 10, "left"),
    )
    made = [
        [
            row["bore"],
            digits(float(row["diameter"]), float(row["u_diameter"])),
            f"{2.0 * float(row['u_diameter']):.2g}",
            shown(row["roundness"]),
            shown(row["taper"]),
            f"{shown(row['out_of_parallel'])}" if row["out_of_parallel"] else "datum",
            digits(float(row["distance_to_pivot"]), float(row["u_distance"]))
            if row["distance_to_pivot"]
            else "",
            f"{float(row['seen_percent']):.0f}",
            row["unit"],
        ]
        for row in rows
    ]
    told = "Roundness: of the smooth profile of two and three lobes. Taper and parallelism over the width of hub or boss."
    return section("Bores", [told], columns, made, "bores.png")


def shown(text: str) -> str:
    return f"{float(text):.2g}" if text else ""


def areas(rows: Rows) -> dict[str, Any]:
    columns = (
        ("no.", 8, "right"),
        ("likely", 42, "left"),
        ("face", 27, "left"),
        ("place", 0, "left"),
        ("from pivot", 19, "right"),
        ("extent", 24, "right"),
        ("depth, mean", 20, "right"),
        ("most", 15, "right"),
    )
    made = [
        [
            str(number),
            row["what"],
            row["face"],
            row["place"],
            f"{float(row['along_arm']):.4g}",
            f"{float(row['length']):.3g} × {float(row['width']):.3g}",
            shown(row["mean_depth"]),
            shown(row["largest_depth"]),
        ]
        for number, row in enumerate(rows[:LISTED], 1)
    ]
    unit = rows[0]["unit"] if rows else "mm"
    told = (
        f"Areas beyond three times their uncertainty, {len(rows)} in all, the first {min(len(rows), LISTED)} here; {unit}."
        " Depth is positive where metal is missing. What an area is, a look at the part tells."
    )
    return section("Deviations", [told], columns, made, "deviation.png")


def made_part(rows: Rows) -> list[dict[str, Any]]:
    if not rows:
        return []
    columns = (
        ("size", 0, "left"),
        ("nominal", 20, "right"),
        ("least", 20, "right"),
        ("most", 20, "right"),
        ("measured", 22, "right"),
        ("± (k = 2)", 18, "right"),
        ("unit", 10, "left"),
        ("verdict", 22, "left"),
    )
    made = [
        [
            row["what"],
            row["nominal"],
            row["least"],
            row["most"],
            row["measured"],
            shown(row["expanded_uncertainty"]),
            row["unit"],
            row["verdict"],
        ]
        for row in rows
    ]
    told = "Within or outside only where that holds with its uncertainty (guard bands of ISO 14253-1); else not decided."
    return [section("As made, against the drawing's limits", [told], columns, made)]


def sheet(folder: Path) -> dict[str, Any]:
    """What the template prints."""
    told = read_json(folder / "survey.json")
    tables = {
        name: read_csv(folder / f"{name}.csv") for name in ("parameters", "bores", "deviation", "as_made")
    }
    open_ = told["to_be_given"]
    purpose = [
        f"{told['title']} {told['owner_caution']}",
        f"Instrument: {told['instrument']['what']} {told['points_read']:,} points in {told['setups']} setups,"
        f" {told['points_fitted']:,} in the fit; one point scatters by {float(told['noise_mm']):.2g} mm. Section: {told['kind']}."
        f" Neighbouring points share their errors: variance times {float(told['neighbours_factor']):.2g}.",
        "The arm's shape is the same on both sides of its mid-plane, so a scan with a mirrored axis looks like a sound one:"
        " only targets with known places show it. Angles round the bores would then run the other way.",
    ]
    if not told["settled"]:
        purpose.append("THE FIT HAS NOT SETTLED. Its figures are not to be used.")
    if open_:
        purpose.append(f"Not determined by the points, to be measured and given: {', '.join(open_)}.")
    return {
        "title": f"{told['name']}: survey sheet",
        "heading": f"Survey sheet, {told['name']}",
        "date": f"scanned {told['date']}",
        "purpose": purpose,
        "caution": told["caution"],
        "paper": "a4" if told["units"] == "si" else "us-letter",
        "by": told["by"] or "",
        "sections": [
            *made_part(tables["as_made"]),
            sizes(tables["parameters"]),
            section("How sure, and why", [], picture="uncertainty.png"),
            bores(tables["bores"]),
            areas(tables["deviation"]),
        ],
    }


def printed(folder: Path) -> bytes:
    """The sheet as PDF; the same tables give the same bytes."""
    import typst

    with tempfile.TemporaryDirectory() as place:  # the typesetter reads pictures from below its own file only
        for path in (
            TEMPLATE,
            *(folder / "pictures" / name for name in ("bores.png", "deviation.png", "uncertainty.png")),
        ):
            shutil.copy(path, place)
        return typst.compile(
            str(Path(place) / TEMPLATE.name),
            root=place,
            font_paths=[str(font_file().parent)],
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs={"sheet": json.dumps(sheet(folder), sort_keys=True)},
        )


if __name__ == "__main__":
    with one_line_errors():
        (place,) = arguments(__doc__, folder=Path)
        (place / "sheet.pdf").write_bytes(printed(place))
