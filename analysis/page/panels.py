"""What the page shows of a chosen design: title, sizes, margins, checks, picture; text only, ready to be set."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.contracts.summary import Summary, read_summary
from analysis.page.tables import Row, label, plain, shown, table, worst
from analysis.tables.files import read_csv
from analysis.tables.number import figure, percent
from params.schema.arm import Arm
from params.schema.units import System

WRITTEN = "as-written"
VERDICTS = {
    "holds": "Every check passes by hand and by mesh, and the two agree within the allowed differences.",
    "explain": "Every check passes by hand and by mesh; differences larger than allowed have to be explained.",
    "fails": "At least one check fails.",
}
FACTS = {"id", "mass_kg", "min_margin", "governing", "feasible", "reason", "state"}
SHOWN = ("check", "place", "load_case", "demand", "capacity", "unit", "margin", "status", "clause")
Panel = dict[str, Any]


def panels(folder: Path, arm: Arm, cloud: list[Row]) -> dict[str, Panel]:
    """A panel for the arm as written, each design of the front and each drawn design of the sweep, by id."""
    by_id = {row["id"]: swept(row, arm.units) for row in cloud}
    front = read_csv(folder / "sweep" / "front.csv")
    by_id |= {row["id"]: of_front(folder, row, arm.units) for row in front}
    return by_id | {WRITTEN: written(folder, arm.units)}


def written(folder: Path, units: System) -> Panel:
    """The arm as its file says."""
    summary = read_summary(folder / WRITTEN / "summary.json")
    head = panel("As written", summary.mass_kg, [], units)
    return (
        head
        | proved(summary, percent(summary.hand_margin), summary.governing, units)
        | checked(folder / WRITTEN)
    )


def of_front(folder: Path, row: Row, units: System) -> Panel:
    """A design of the front, with mesh margin and checks where it was meshed."""
    head = panel(f"Design {row['id']}", float(row["mass_kg"]), sizes_in(row), units)
    margin = percent(float(row["hand_margin"]))
    if row["state"] in ("holds", "fails"):
        place = folder / "designs" / row["id"]
        return (
            head
            | proved(read_summary(place / "summary.json"), margin, row["hand_governing"], units)
            | checked(place)
        )
    note = row["reason"] or "on the front, but not meshed: only the hand margin is known"
    return head | {"margins": [("by hand", margin, row["hand_governing"])], "note": note}


def swept(row: Row, units: System) -> Panel:
    """A design of the sweep, by hand only."""
    head = panel(f"Design {row['id']}", float(row["mass_kg"]), sizes_in(row), units)
    margins = [("by hand", percent(float(row["min_margin"])), row["governing"])]
    return head | {
        "margins": margins,
        "note": "checked by hand only; another design is lighter or has a larger margin",
    }


def panel(title: str, mass: float, sizes: list[tuple[str, str]], units: System) -> Panel:
    return {
        "title": title,
        "mass": shown(mass, "mass", units),
        "sizes": sizes,
        "note": "",
        "checks": None,
        "still": False,
    }


def sizes_in(row: Row) -> list[tuple[str, str]]:
    """Sizes of a row of designs.csv or front.csv: the columns that are no facts."""
    names = [name for name in row if name not in FACTS and not name.startswith(("hand_", "mesh_"))]
    parts = [(label(name), row[name]) for name in names]
    return [
        (head.rsplit(", ", 1)[0], f"{figure(float(size))} {head.rsplit(', ', 1)[-1]}") for head, size in parts
    ]


def proved(summary: Summary, hand: str, governing: str, units: System) -> Panel:
    """Sizes, both margins and the verdict of a design with a mesh."""
    margins = [
        ("by hand", hand, governing),
        ("by mesh", percent(summary.mesh_margin), summary.mesh_governing),
    ]
    sizes = [(label(name), shown(size, "length", units)) for name, size in summary.sizes_mm.items()]
    return {"margins": margins, "note": VERDICTS[summary.verdict], "still": True, "sizes": sizes}


def checked(place: Path) -> Panel:
    """Each check at each place in its worst load case."""
    rows = worst(read_csv(place / "checks.csv"), "check", "place")
    return {"checks": plain(table(rows, SHOWN, "status"))}
