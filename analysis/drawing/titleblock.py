"""Title block after ISO 7200:2004 (180 mm wide, lower right), above it the table of bores and the notes."""

from __future__ import annotations

from typing import Any

from analysis.drawing import revisions
from analysis.drawing.arrange import scale_text
from analysis.drawing.border import space
from analysis.drawing.ink import width, wrapped
from analysis.drawing.sheet import Sheet
from analysis.drawing.symbols import projection
from analysis.drawing.words import Words

Facts = dict[str, Any]
WIDE = 180.0
ROW = 6.0  # of tables
NOTE = 2.5  # lettering of notes
LINE = 4.4  # of notes
CELLS = (  # row height, then (field name, width, key of its text)
    (
        11.0,
        (
            ("Material", 72.0, "material"),
            ("Mass", 28.0, "mass"),
            ("Scale", 20.0, "scale"),
            ("Projection", 32.0, ""),
            ("Sheet size", 28.0, "size"),
        ),
    ),
    (
        11.0,
        (
            ("Created by", 40.0, "creator"),
            ("Approved by", 40.0, "approved"),
            ("Document type", 60.0, "kind"),
            ("Document status", 40.0, "status"),
        ),
    ),
    (
        14.0,
        (("Legal owner", 52.0, "owner"), ("Title", 62.0, "title"), ("Identification number", 66.0, "number")),
    ),
    (
        11.0,
        (
            ("Revision", 24.0, "revision"),
            ("Date of issue", 42.0, "issued"),
            ("Language", 20.0, "language"),
            ("Dimensions in", 46.0, "unit"),
            ("Sheet", 48.0, "sheet"),
        ),
    ),
)
COLUMNS = (
    ("bore", 26.0),
    ("diameter", 28.0),
    ("class", 22.0),
    ("upper", 24.0),
    ("lower", 24.0),
    ("Ra", 22.0),
    ("chamfers", 34.0),
)


def fields(facts: Facts, say: Words, scale: float) -> dict[str, str]:
    """Texts of the title block."""
    drawing, material = facts["drawing"], facts["material"]
    return {
        "material": material["title"],
        "mass": say.mass(facts["mass_kg"]),
        "scale": scale_text(scale),
        "size": drawing["sheet"],
        "creator": drawing["creator"] or "",
        "approved": drawing["approved"] or "",
        "kind": "General arrangement",
        "status": "For review",
        "owner": drawing["owner"],
        "title": facts["arm"],
        "number": facts["number"],
        "revision": facts["revision"],
        "issued": drawing["issued"] or "",
        "language": "en",
        "unit": "millimetres" if facts["units"] == "si" else "inches",
        "sheet": "1 / 1",
    }


def depths(facts: Facts, say: Words) -> str:
    """Depth along both arms, from corner to corner of their edges."""
    arms = facts["arms"]
    alike = all(len(arm["corners"]) == 2 for arm in arms.values())
    names = (
        {"both arms alike": arms["output"]}
        if alike
        else {f"the {name} arm": arm for name, arm in arms.items()}
    )
    texts = []
    for name, arm in names.items():
        (_, deep), *between, (_, last) = arm["corners"]
        text = f"Depth of {name}: {say.number(deep)} as far as the hub circle, from there straight to "
        text += "".join(
            f"{say.number(depth)} at {say.number(s)} from the pivot's centre, on to " for s, depth in between
        )
        texts.append(f"{text}{say.number(last)} at the pin {'centres' if alike else 'centre'}.")
    return " ".join(texts)


def notes(facts: Facts, say: Words) -> list[str]:
    """General notes, one text each."""
    drawing, centroid = facts["drawing"], facts["centroid_mm"]
    ra = "µm" if facts["units"] == "si" else "µin"
    route = facts["route"]
    edge = "1 mm" if facts["units"] == "si" else "0.04 in"
    stays = route["finish"] if route else "as made"
    lines = [
        part(facts),
        f"Tolerances of machined sizes without their own: ISO 2768-1 {drawing['general_tolerance']}; of sizes between faces"
        f" that stay {stays}: ISO 2768-1 {drawing['raw_tolerance']}. Geometrical tolerances: ISO 1101.",
        f"Surface texture: ISO 21920-1, Ra in {ra}. Faces without symbol stay {stays}.",
        f"Datum A: axis of the pivot bore. Sharp edges broken {edge}.",
        f"Centre of gravity CG from the pivot's centre: {say.place(centroid[0])} along the output arm,"
        f" {say.place(centroid[1])} square to it toward the input arm, {say.place(centroid[2])} from the mid-plane.",
        depths(facts, say),
        "Strength, examination, report form, marking and lifting: requirement sheet of the same revision.",
    ]
    if any(
        size["basis"].startswith("ISO 2768") for size in facts["features"] if size["id"].endswith("_bore")
    ):
        lines.append(
            "Bores without a class: the parameter file gives no fit; agree the limits before machining."
        )
    return lines + [facts["caution"], facts["owner_caution"]]


def part(facts: Facts) -> str:
    """Which part it is: design, route, revision."""
    design = f"Design {facts['design']}" if facts["design"] else "Arm as its parameter file has it"
    route = f", by the route {facts['route']['name']}" if facts["route"] else ""
    return f"{design}{route}, revision {facts['revision']}."


def height(facts: Facts, say: Words) -> float:
    """Room that the column takes above the lower edge of the drawing space."""
    lines = sum(
        len(wrapped(f"{i}  {note}", NOTE, WIDE - 10.0)) for i, note in enumerate(notes(facts, say), 1)
    )
    tables = (1 + len(facts["bores"])) * ROW + revisions.height(facts)
    return sum(row[0] for row in CELLS) + tables + lines * LINE + 22.0


def column(sheet: Sheet, facts: Facts, say: Words, scale: float) -> None:
    """Title block, table of bores, notes."""
    x, y, wide, _ = space(sheet)
    left = x + wide - WIDE
    top = block(sheet, left, y, fields(facts, say, scale), facts["drawing"]["projection"])
    top = bores(sheet, left, top, facts, say)
    if facts["revisions"]:
        top = revisions.table(sheet, left, top + 4.0, facts)
    general(sheet, left, top + 4.0, notes(facts, say))


def block(sheet: Sheet, left: float, bottom: float, texts: dict[str, str], kind: str) -> float:
    y = bottom
    for high, cells in reversed(CELLS):
        x = left
        for name, wide, key in cells:
            sheet.box("grid", x, y, wide, high)
            sheet.text(x + 1.0, y + high - 2.8, name, 1.8)
            if key:
                fitted(sheet, x + 1.5, y + 2.2, texts[key], wide - 3.0, 5.0 if key == "title" else 3.5)
            else:
                sheet.add(projection(x + 5.0, y + 4.2, kind))
            x += wide
        y += high
    return y


def fitted(sheet: Sheet, x: float, y: float, text: str, room: float, size: float) -> None:
    """Text no longer than its field: smaller lettering of ISO 3098, then two lines."""
    for height_ in (size, 3.5, 2.5):
        if height_ <= size and width(text, height_) <= room:
            return sheet.text(x, y, text, height_)
    for number, line in enumerate(reversed(wrapped(text, 2.5, room)[:2])):
        sheet.text(x, y - 1.3 + 3.6 * number, line, 2.5)
    return None


def bores(sheet: Sheet, left: float, bottom: float, facts: Facts, say: Words) -> float:
    """Bores with their limits; returns the top of the table."""
    rows = [bore_row(name, facts, say) for name in ("output", "input", "pivot")]
    y = bottom
    for row in [
        *rows,
        {key: f"{key} {say.unit}" if key in ("upper", "lower") else key for key, _ in COLUMNS},
    ]:
        x = left
        for key, wide in COLUMNS:
            sheet.box("grid", x, y, wide, ROW)
            sheet.text(x + 1.5, y + 1.6, row[key], 2.5)
            x += wide
        y += ROW
    return y


def bore_row(name: str, facts: Facts, say: Words) -> dict[str, str]:
    size = say.sizes[f"{name}_bore"]
    chamfer = say.nominal(f"{name}_chamfer") if f"{name}_chamfer" in say.sizes else "none"
    return {
        "bore": name,
        "diameter": say.nominal(f"{name}_bore"),
        "class": size["basis"].replace("ISO 2768-1", "2768-1"),
        "upper": say.deviation(size["upper"]),
        "lower": say.deviation(size["lower"]),
        "Ra": say.texture(facts["drawing"]["bore_finish"])[3:],
        "chamfers": chamfer,
    }


def general(sheet: Sheet, left: float, bottom: float, texts: list[str]) -> None:
    """Numbered notes, the first on top."""
    lines = []
    for number, note in enumerate(texts, 1):
        first, *rest = wrapped(note, NOTE, WIDE - 10.0)
        lines += [(str(number), first), *(("", line) for line in rest)]
    for count, (number, line) in enumerate(reversed(lines)):
        y = bottom + count * LINE
        if number:
            sheet.text(left + 1.0, y, number, NOTE)
        sheet.text(left + 6.0, y, line, NOTE)
    sheet.text(left + 1.0, bottom + len(lines) * LINE + 1.5, "Notes", 3.5)
