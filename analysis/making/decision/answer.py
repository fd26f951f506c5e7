"""One answer in sentences, and all choices in one table: `python -m analysis.making.decision.answer results/ARM`.

Writes making/answer.json and making/choices.csv. The arm as written is the part where its file names a route; otherwise the first
route of the decision is recommended, and what would have to be written into the file is among what is still open.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.contracts.recommended import Recommended, read_recommended
from analysis.contracts.summary import Summary, read_answer, read_summary
from analysis.making.decision.table import amount, share, years
from analysis.tables.files import read_csv, write_csv, write_json
from analysis.tables.names import names
from analysis.tables.number import percent
from params.files.read import read_arm, read_material
from params.files.readroute import route_for
from params.schema.arm import Arm
from params.schema.units import show
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors

COLUMNS = names(
    "choice route design material sizes mass_kg least_margin governing years_to_crack p90_ready latest_order_p90"
    " cost_likely expected_total currency holds why caution"
)
OPEN = (
    "ask for",
    "flaws not checked",
    "prices in",
    "the drawing",
    "even if",
)  # how notes begin that ask for something
Row = dict[str, Any]


def sized(arm: Arm, sizes: dict[str, float]) -> str:
    """Sizes in mm as a line of text."""
    return ", ".join(
        f"{name.replace('_', ' ')} {show(size, 'length', arm.units)}" for name, size in sizes.items()
    )


def judged(arm: Arm, one: Summary | Recommended) -> Row:
    """What mesh and hand say of a part."""
    least = min(one.hand_margin, one.mesh_margin)
    return {
        "sizes": sized(arm, one.sizes_mm),
        "mass_kg": one.mass_kg,
        "least_margin": least,
        "governing": one.least_governing,
        "holds": least >= arm.criteria.least_margin,
        "caution": CAUTION,
    }


def routes(arm: Arm, folder: Path) -> list[Row]:
    """The routes in the order of the decision, each at its own best design."""
    rows = []
    for row in read_csv(folder / "making" / "decision.csv", 1):
        if not row["p90_ready"]:  # the arm in service, which has a row of its own
            continue
        kept = {name: row[name] for name in COLUMNS if name in row and name not in ("holds", "mass_kg")}
        place = folder / "making" / row["route"] / "best" / "summary.json"
        built = read_answer(place) if row["design"] else None
        found = judged(arm, built) if isinstance(built, Summary) else {"holds": False}
        why = row["sensitivity"] + (f"; dominated by {row['dominated_by']}" if row["dominated_by"] else "")
        label = "recommended" if row["order"] == "1" else "other route"
        rows.append(kept | found | {"choice": label, "why": why, "caution": CAUTION})
    return rows


def others(arm: Arm, folder: Path) -> list[Row]:
    """The lightest design of the sweep, the arm as written and the arm in service."""
    material = read_material(arm.material, arm.library)
    route, written = route_for(arm, material), read_summary(folder / "as-written" / "summary.json")
    common = {"route": route.name if route else "", "material": arm.material}
    best = read_recommended(folder / "sweep" / "recommended.json")
    rows = []
    if isinstance(best, Recommended):
        why = "lightest of the sweep in the material of the file; dates and price are not worked out for it"
        rows.append(common | judged(arm, best) | {"choice": "lightest swept", "design": best.id, "why": why})
    if arm.route:
        why = "chosen: the file names its route"
    else:
        common["route"], why = "", "sizes of the file, without the factors of a route"
    rows.append(common | judged(arm, written) | {"choice": "as written", "design": "as written", "why": why})
    kept = next(row for row in read_csv(folder / "making" / "decision.csv", 1) if not row["p90_ready"])
    chance = kept["chance_of_lasting"]
    lasting = share(chance) if chance.replace(".", "").replace("e-", "").isdigit() else chance
    why = f"chance of lasting to the outage {lasting}; {kept['note']}".rstrip("; ")
    return [*rows, {"choice": kept["route"], "why": why, "holds": None, "caution": CAUTION}]


def sentences(arm: Arm, one: Row, ordered: str) -> list[str]:
    """What is ordered, and what is known of it."""
    chosen = one["choice"] == "as written"
    head = "Order" if chosen else "Nothing is chosen yet. Recommended: order"
    design = f"revision {arm.revision}" if chosen else f"design {one['design']}"
    lines = [
        f"{head} {arm.name}, {design}, by the route {one['route']} in {one['material']}: {one['sizes']};"
        f" {show(one['mass_kg'], 'mass', arm.units)}.",
        f"Least margin {percent(one['least_margin'], 1)}: {one['governing']};"
        f" {percent(arm.criteria.least_margin)} is wanted.",
    ]
    if life := one.get("years_to_crack"):
        worded = f"years to a fatigue crack: {years(str(life))}"
        lines.append(f"{worded[0].upper()}{worded[1:]}; service life {arm.duty.service_years:g} years.")
    if one.get("p90_ready"):
        text = f"Ready by {one['p90_ready']} with 90 % confidence if ordered on {ordered}; order by {one['latest_order_p90']}"
        lines.append(f"{text} to be ready with 90 % confidence when the outage opens.")
    if one.get("cost_likely"):
        total = one.get("expected_total")
        late = f", {amount(total)} {one['currency']} with the expected cost of lateness" if total else ""
        lines.append(f"Likely price {amount(one['cost_likely'])} {one['currency']}{late}.")
    return lines


def still_open(arm: Arm, one: Row, folder: Path, dates: dict[str, str]) -> list[str]:
    """What has to be settled before an order can be placed."""
    drawing, found = arm.drawing, []
    if not arm.route:
        found.append(
            "the choice: write route, material and sizes of it into the arm's file as its next revision"
        )
    place = folder / ("as-written" if one["choice"] == "as written" else f"making/{one['route']}/best")
    built = read_answer(place / "summary.json")
    if isinstance(built, Summary) and built.explain:
        found.append(f"differences of hand and mesh to explain: {len(built.explain)} lines of summary.json")
    if isinstance(built, Summary) and built.peak_error_band_percent is None:
        found.append(
            "margins by mesh, years and flaw rest on one mesh, without a band: run the chosen sizes as the arm as written"
        )
    if one.get("latest_order_p90") and one["latest_order_p90"] < dates["order_date"]:
        found.append(
            f"the order date {dates['order_date']} is later than the latest for 90 % confidence,"
            f" {one['latest_order_p90']}"
        )
    rows = read_csv(folder / "making" / "decision.csv", 1)
    notes = next((row["note"] for row in rows if row["route"] == one["route"]), "")
    found += [part for part in notes.split("; ") if part.startswith(OPEN)]
    blank = {"date of issue": drawing.issued, "drawing number": drawing.number, "approval": drawing.approved}
    missing = [name for name, value in blank.items() if value is None]
    return found + ([f"on the drawing: {', '.join(missing)}"] if missing else [])


def answered(folder: Path) -> tuple[dict[str, Any], list[Row]]:
    """The answer and the rows of the choices, the chosen or recommended one first."""
    arm = read_arm(folder / "as-written" / "arm.yaml")
    dates = {row["route"]: row for row in read_csv(folder / "making" / "dates.csv", 1)}
    rows = [*routes(arm, folder), *others(arm, folder)]
    first = next(
        (row for row in rows if row["choice"] == ("as written" if arm.route else "recommended")), None
    )
    if first is None:
        none = "No route has a design that has the margin wanted by hand and by mesh: nothing can be ordered yet."
        return {"lines": [none], "open": [row["why"] for row in rows if row["choice"] == "other route"]}, rows
    if arm.route:
        own = next((row for row in rows if row["route"] == arm.route and row["choice"] != "as written"), {})
        first |= {name: own.get(name) for name in ("p90_ready", "latest_order_p90")}
    date = dates.get(first["route"]) or next(iter(dates.values()))
    rows.sort(key=lambda row: row is not first)
    lines = sentences(arm, first, date["order_date"])
    if why := first.get("why"):
        lines.append(f"Why it comes first: {why}.")
    return {"lines": lines, "open": still_open(arm, first, folder, date)}, rows


def main(folder: Path) -> None:
    answer, rows = answered(folder)
    write_json(folder / "making" / "answer.json", answer | {"caution": CAUTION})
    write_csv(folder / "making" / "choices.csv", COLUMNS, rows)
    print(*answer["lines"], *(f"Still open: {line}" for line in answer["open"]), CAUTION, sep="\n")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
