"""The arm, its drive and its load cases, as the parameter file gives them."""

from __future__ import annotations

from typing import Any

from analysis.record.tables import Tables
from analysis.record.typeset import heading, note, pairs, table
from analysis.tables.number import number
from params.schema.units import show, shown_unit

SECTION = {"i": "I: two flanges and a web", "box": "box: two flanges and two webs", "solid": "solid bar"}


def the_arm(tables: Tables) -> str:
    return "\n".join(
        [
            heading("The arm and its work"),
            heading("Sizes", 2),
            pairs(sizes(tables)),
            bores(tables),
            heading("Drive and load", 2),
            pairs(drive(tables)),
            load(tables),
            heading("Load cases", 2),
            cases(tables),
        ]
    )


def sizes(tables: Tables) -> list[tuple[str, str]]:
    g, show = tables.arm.geometry, tables.show
    rows = [
        ("Pivot centre to input pin", show(g.input_arm, "length")),
        ("Pivot centre to output pin", show(g.output_arm, "length")),
        ("Angle between the arms", show(g.included_angle, "angle")),
        ("Blend radius", show(g.blend_radius, "length")),
        ("Section", SECTION[g.section.kind]),
    ]
    names = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "fillet")
    for name in names:
        size = getattr(g.section, name)
        if size is not None and not (g.section.kind == "solid" and name in names[3:]):
            rows.append((name.replace("_", " ").capitalize(), show(size, "length")))
    return rows


def bores(tables: Tables) -> str:
    """Bores, bosses and pins."""
    arm, unit = tables.arm, shown_unit("length", tables.arm.units)
    stress = shown_unit("stress", arm.units)
    head = [
        "place",
        *(f"{name}, {unit}" for name in ("bore", "outside", "width", "chamfer", "pin", "side plate", "gap")),
        f"pin Fy, {stress}",
        f"pin Fu, {stress}",
    ]
    rows = []
    for name in ("pivot", "input", "output"):
        bore: Any = getattr(arm.geometry, name)
        lengths = (
            bore.bore,
            bore.outside,
            bore.width,
            bore.chamfer,
            bore.pin.diameter,
            bore.pin.side_plate,
            bore.pin.gap,
        )
        strengths = (bore.pin.yield_strength, bore.pin.tensile_strength)
        rows.append(
            [
                name,
                *(bare(value, "length", tables) for value in lengths),
                *(bare(value, "stress", tables) for value in strengths),
            ]
        )
    return table(head, rows, "l" + "r" * 9)


def bare(value: float, kind: str, tables: Tables) -> str:
    return show(value, kind, tables.arm.units, unit=False)


def drive(tables: Tables) -> list[tuple[str, str]]:
    drive, show = tables.arm.drive, tables.show
    return [
        ("Cylinder bore, rod", f"{show(drive.cylinder_bore, 'length')}, {show(drive.rod, 'length')}"),
        ("Relief pressure", show(drive.relief_pressure, "stress")),
        (
            "Anchor in the world frame, x and y",
            f"{show(drive.anchor.x, 'length')}, {show(drive.anchor.y, 'length')}",
        ),
        ("Closed length, stroke", f"{show(drive.closed_length, 'length')}, {show(drive.stroke, 'length')}"),
        (
            "Output arm above the horizontal, lowered and raised",
            f"{show(drive.lowered, 'angle')}, {show(drive.raised, 'angle')}",
        ),
        ("Line of the load", line_of_load(tables)),
    ]


def line_of_load(tables: Tables) -> str:
    driven, show = tables.arm.driven, tables.show
    if driven.anchor:
        return f"toward a point at x {show(driven.anchor.x, 'length')}, y {show(driven.anchor.y, 'length')}"
    return f"in the world direction {show(driven.direction or 0.0, 'angle')}"


def load(tables: Tables) -> str:
    """The load table of the parameter file."""
    points = tables.arm.driven.load
    kind = "force" if points[0].force is not None else "moment"
    unit = shown_unit(kind, tables.arm.units).replace("*", " ")
    what = "pull on the output pin" if kind == "force" else "resisting moment about the pivot"
    rows = [[number(point.at), bare(getattr(point, kind) or 0.0, kind, tables)] for point in points]
    return table(["fraction of the swing", f"{what}, {unit}"], rows, "rr", word=40)


def cases(tables: Tables) -> str:
    unit = shown_unit("length", tables.arm.units)
    head = [
        "load case",
        "kind",
        "load factor",
        "shock factor",
        "overshoot",
        "side over pin force",
        f"eccentricity, {unit}",
        "friction",
    ]
    rows = []
    for name, case in tables.arm.load_cases.items():
        kind = f"{case.kind}, {case.push or 'extend'}" if case.kind == "blocked" else case.kind
        numbers = [
            number(case.load_factor) if case.kind != "blocked" else "",
            number(case.shock_factor) if case.kind != "blocked" else "",
            number(case.overshoot_factor) if case.kind == "blocked" else "",
            number(case.side_ratio),
        ]
        rows.append([name, kind, *numbers, bare(case.eccentricity, "length", tables), number(case.friction)])
    legend = (
        "Blocked: the output is held while the cylinder pushes to extend or retract at relief pressure times its overshoot; the"
        " load follows from the balance."
    )
    return table(head, rows, "lwrrrrrr") + "\n" + note(legend)
