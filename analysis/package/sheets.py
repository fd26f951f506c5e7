"""The sections of the requirement sheet as titles, lines and tables of text, from facts.json."""

from __future__ import annotations

from typing import Any

from analysis.drawing.words import Words, words
from analysis.package.revision import WRITTEN, called
from params.schema.cracks import SINGLE
from params.schema.units import MM_PER_IN, show
from params.steps.out_of_range import NOT_SETTLED, STATUS

Facts = dict[str, Any]
BLANK = ""  # to be filled in by hand


def section(
    title: str,
    lines: tuple[str, ...] = (),
    columns: tuple[tuple[str, int, str], ...] = (),
    rows: list[list[str]] | None = None,
) -> dict[str, Any]:
    """One section; a column is its name, its width in mm (0: what is left) and its alignment."""
    return {
        "title": title,
        "lines": list(lines),
        "columns": [name for name, _, _ in columns],
        "widths": [width for _, width, _ in columns],
        "align": [way for _, _, way in columns],
        "rows": rows or [],
    }


def sections(facts: Facts) -> list[dict[str, Any]]:
    """All sections in order, numbered."""
    say = words(facts)
    parts = [
        material(facts),
        qualification(facts),
        treatment(facts),
        examination(facts),
        acceptance(facts),
        report(facts, say),
        geometrical(facts, say),
        marking(facts),
        lifting(facts, say),
        changed(facts),
    ]
    for number, one in enumerate(parts, 1):
        one["title"] = f"{number}  {one['title']}"
    return parts


def material(facts: Facts) -> dict[str, Any]:
    stuff, units = facts["material"], facts["units"]
    rows = [
        ["yield strength, at least", show(stuff["yield_strength"], "stress", units)],
        ["tensile strength, at least", show(stuff["tensile_strength"], "stress", units)],
        ["elongation after fracture, at least", f"{stuff['elongation_percent']:g} %"],
    ]
    rows += charpy(facts)
    route = facts["route"]
    factors = route["factors"] if route else {}
    if factors.get("across_build", 1.0) < 1.0:
        line = f"at least {factors['across_build']:g} of the strengths above"
        rows.append(["strength across the layers", line])
    if factors.get("casting", 1.0) > 1.0:
        rows.append(["casting factor of the design", f"{factors['casting']:g}"])
    return section(
        "Material: specified minimums",
        (f"{stuff['title']}. Source of the figures: {stuff['source']}.",),
        (("property", 70, "left"), ("required", 0, "left")),
        rows,
    )


def charpy(facts: Facts) -> list[list[str]]:
    """Absorbed energy: of the specification, asked for at purchase, and what the acceptance sizes rest on beyond these."""
    stuff, rows = facts["material"], []
    named = {
        "charpy": "Charpy V, mean of three, at least",
        "supplementary": "Charpy V asked for at purchase, mean of three, at least",
    }
    for name, what in named.items():
        if one := stuff[name]:
            addition = (
                f"; supplementary requirement of the buyer: {one['practice']}"
                if name == "supplementary"
                else ""
            )
            rows.append([what, absorbed(one, facts) + addition])
    known = [row[1].split(";")[0] for row in rows]
    for point in facts["toughness"] or []:
        if absorbed(point, facts) not in known:
            rows.append(
                [
                    "Charpy V on which the acceptance sizes rest, mean of three, at least",
                    absorbed(point, facts),
                ]
            )
        lowest = point.get("lowest") or SINGLE * point["energy"]
        rows.append(
            [
                "Charpy V on which the acceptance sizes rest, no single value below",
                absorbed(point | {"energy": lowest}, facts),
            ]
        )
    return rows or [["Charpy V", "the specification asks for none; agree it with the owner"]]


def absorbed(point: dict[str, Any], facts: Facts) -> str:
    """Energy at a temperature, in words."""
    energy = show(point["energy"], "energy", facts["units"])
    return f"{energy} at {show(point['temperature'], 'temperature', facts['units']).replace('deg', '°')}"


def qualification(facts: Facts) -> dict[str, Any]:
    route = facts["route"]
    lines = (*((route["title"],) if route else ()), *facts["qualification"])
    rows = [
        [weld["place"].replace("_", " "), str(weld["category"]), weld["detail"]]
        for weld in (route or {}).get("welds", [])
    ]
    columns = (("weld at", 32, "left"), ("detail category", 30, "right"), ("detail", 0, "left"))
    return section("Procedures and joints to be qualified", lines, columns, rows)


def treatment(facts: Facts) -> dict[str, Any]:
    treat = (facts["route"] or {}).get("heat_treatment")
    if not treat:
        return section("Heat treatment", ("Not stated by the route; agree it with the owner.",))
    degrees = show(treat["temperature"], "temperature", facts["units"]).replace("deg", "°")
    line = f"{treat['title']} Holding temperature {degrees}, holding time {treat['hold']:g} h; the chart goes with the report."
    return section("Stress relief and heat treatment", (line,))


def examination(facts: Facts) -> dict[str, Any]:
    units = facts["units"]
    rows = [
        [
            one["method"],
            one["where"],
            show(one["length"], "length", units),
            show(one["depth"], "length", units) if one["depth"] else "-",
        ]
        for one in (facts["route"] or {}).get("examination", [])
    ]
    columns = (
        ("method", 45, "left"),
        ("of", 45, "left"),
        ("finds length", 35, "right"),
        ("finds depth", 0, "right"),
    )
    line = "Sizes that the method has to find reliably, to be proved on a test block before use."
    return section("Examination", (line,), columns, rows)


def acceptance(facts: Facts) -> dict[str, Any]:
    rows = [row for row in facts["acceptance"] or [] if row["arm"] == "this arm"]
    title = "Acceptance sizes from the fracture check"
    if not rows:
        return section(title, ("not computed: the fracture check was not run for this parameter file.",))
    unit = rows[0]["unit"]
    table = [
        [
            row["region"].replace("_", " ") + (", inside the wall" if row.get("flaw") == "embedded" else ""),
            row["method"],
            *(
                counted(row, name)
                for name in ("found_depth", "found_length", "acceptable_depth", "acceptable_length")
            ),
            counted(row, "interval_years"),
        ]
        for row in rows
    ]
    columns = (
        ("surface", 0, "left"),
        ("method", 32, "left"),
        (f"finds depth, {unit}", 21, "right"),
        (f"finds length, {unit}", 21, "right"),
        (f"limit of depth, {unit}", 22, "right"),
        (f"limit of length, {unit}", 22, "right"),
        ("interval, years", 19, "right"),
    )
    lines = (
        f"Largest planar flaw that lasts {rows[0]['years_asked']} years by crack growth and fracture assessment, and the time"
        " between two examinations by each method. These limits do not replace those of workmanship: the smaller governs, cracks"
        " are never accepted at delivery, every planar indication is reported with its size and place.",
    )
    return section(title, (*lines, *unsure(rows), *beyond(rows)), columns, table)


def counted(row: dict[str, str], name: str) -> str:
    """A size or interval; where it has not settled, the less favourable, marked."""
    least = row.get(f"{name}_least", "")
    return size(row[name]) if row[name] or not least else f"{size(least)}*"


def unsure(rows: list[dict[str, str]]) -> list[str]:
    """What the mark says, where it stands."""
    names = ("acceptable_depth", "acceptable_length", "interval_years")
    if not any(counted(row, name).endswith("*") for row in rows for name in names):
        return []
    return [f"* {NOT_SETTLED} between two meshes of the stress analysis: the less favourable value."]


def beyond(rows: list[dict[str, str]]) -> list[str]:
    """Surfaces whose sizes are a conservative bound or not known, and why."""
    notes = {(row["region"], row["note"]) for row in rows if row["status"] == STATUS}
    return [f"{region.replace('_', ' ').capitalize()} {STATUS}: {note}." for region, note in sorted(notes)]


def size(text: str) -> str:
    """Three digits of a table's number."""
    return f"{float(text):.3g}" if text else "-"


def report(facts: Facts, say: Words) -> dict[str, Any]:
    rows = []
    for number, size in enumerate((one for one in facts["features"] if one["kind"] != "geometric"), 1):
        limits = (
            [BLANK, BLANK] if size["lower"] is None else [limit(size, end, say) for end in ("lower", "upper")]
        )
        rows.append([str(number), size["what"], nominal(size, say), *limits, size["basis"], BLANK, BLANK])
    columns = (
        ("no.", 9, "right"),
        ("size", 0, "left"),
        (f"nominal, {say.unit}", 20, "right"),
        ("least", 18, "right"),
        ("most", 18, "right"),
        ("from", 25, "left"),
        ("measured", 21, "left"),
        ("by", 13, "left"),
    )
    line = "Measured at 20 °C on the finished part; every line is filled in. Sizes in brackets follow from others."
    return section("Dimensional report", (line,), columns, rows)


def nominal(size: dict[str, Any], say: Words) -> str:
    text = say.nominal(size["id"]).replace(" × 45°", "")
    return f"({text})" if size["basis"] == "reference" else text


def limit(size: dict[str, Any], end: str, say: Words) -> str:
    value = size["nominal"] + size[end]
    if size["kind"] == "angle":
        return f"{value:.3f}°"
    digits = 4 if say.units == "us" else 3
    text = f"{value / (MM_PER_IN if say.units == 'us' else 1.0):.{digits}f}"
    return text if say.units == "us" else text.rstrip("0").rstrip(".")


def geometrical(facts: Facts, say: Words) -> dict[str, Any]:
    rows = [
        [str(number), size["what"], say.number(size["upper"]), BLANK, BLANK]
        for number, size in enumerate((one for one in facts["features"] if one["kind"] == "geometric"), 1)
    ]
    columns = (
        ("no.", 9, "right"),
        ("geometrical tolerance", 0, "left"),
        (f"at most, {say.unit}", 24, "right"),
        ("measured", 24, "left"),
        ("by, date", 24, "left"),
    )
    return section("Geometrical report", ("Datum A is the axis of the pivot bore.",), columns, rows)


def marking(facts: Facts) -> dict[str, Any]:
    return section("Marking", tuple(facts["marking"]))


def lifting(facts: Facts, say: Words) -> dict[str, Any]:
    x, y, z = (say.place(value) for value in facts["centroid_mm"])
    lines = [
        f"Finished part {say.mass(facts['mass_kg'])}, computed from the solid; stock, supports and slings not counted.",
        f"Centre of gravity from the pivot's centre, {say.unit}: {x} along the output arm, {y} square to it toward the input arm,"
        f" {z} from the mid-plane.",
        "Lift by the bores with padded pins or by straps, not by the flanges; bores greased and covered for shipping.",
    ]
    return section("Mass and lifting", tuple(lines))


def changed(facts: Facts) -> dict[str, Any]:
    changes = facts["changes"]
    if not changes:
        return section("Changes", ("No earlier revision was issued.",))
    old = called(changes["since"])
    now = "this design" if old == WRITTEN else f"revision {facts['revision']}"
    which = "the arm as written" if old == WRITTEN else f"{old}, issued before"
    line = f"Against {which}; every value of the parameter file that differs."
    rows = [[row["field"], row["before"], row["now"]] for row in changes["rows"]]
    columns = (
        ("field of the parameter file", 0, "left"),
        (old, 45, "left"),
        (now, 45, "left"),
    )
    return section("Changes", (line,), columns, rows)
