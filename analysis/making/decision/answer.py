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
from analysis.tables.confidence import ORDER, ORDER_EVEN, READY, WITH
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
from params.steps.out_of_range import joined

COLUMNS = names(
    "choice route design material sizes mass_kg least_margin governing years_to_crack p90_ready latest_order_p90"
    " cost_likely expected_total currency holds why latest_order_p50 float_p90_d past chance_missed cost_of_a_week"
    " chance_of_lasting caution"
)
OPEN = (
    "ask for",
    "flaws not checked",
    "prices in",
    "the drawing",
    "even if",
)  # how notes begin that ask for something
OF_ROUTE = (
    READY,
    ORDER,
    ORDER_EVEN,
    "past",
    "chance_missed",
    "cost_of_a_week",
    "currency",
)  # of the chosen one
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
    for row in decided(folder, "route"):
        kept = {name: row[name] for name in COLUMNS if name in row and name not in ("holds", "mass_kg")}
        place = folder / "making" / row["route"] / "best" / "summary.json"
        built = read_answer(place) if row["design"] else None
        found = judged(arm, built) if isinstance(built, Summary) else {"holds": False}
        dominated = f"dominated by {row['dominated_by']}" if row["dominated_by"] else ""
        why = joined(row["sensitivity"], dominated, is_past(row))
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
    return [*rows, *beside(folder), *(in_service(row) for row in decided(folder, "keep"))]


def decided(folder: Path, *kinds: str) -> list[dict[str, str]]:
    """The rows of decision.csv of these kinds."""
    return [row for row in read_csv(folder / "making" / "decision.csv", 1) if row["kind"] in kinds]


def beside(folder: Path) -> list[Row]:
    """Two routes at once, and a spare; each part is as in the route's own row."""
    rows = []
    for row in decided(folder, "two routes", "spare"):
        kept = {name: row[name] for name in COLUMNS if name in row and name not in ("mass_kg", "governing")}
        rows.append(kept | {"choice": row["kind"], "why": joined(row["sensitivity"], is_past(row))})
    return rows


def in_service(row: dict[str, str]) -> Row:
    """The arm in service, kept until this outage or the next."""
    chance = row["chance_of_lasting"]
    lasting = share(chance) if chance.replace(".", "").replace("e-", "").isdigit() else chance
    said = joined(f"chance of lasting until then {lasting}", row["note"])
    kept = {name: row[name] for name in ("chance_of_lasting", "caution")}
    return kept | {"choice": row["route"], "why": said, "holds": None}


def is_past(row: dict[str, str]) -> str:
    """That the latest order is past; empty where it is not."""
    return f"past: order by {row[ORDER] or 'no day'} for {WITH}" if row["past"] == "yes" else ""


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
    if one.get(READY):
        lines.append(
            f"Ready by {one[READY]} with {WITH} if ordered on {ordered}; order by {one[ORDER] or 'no day'} to have it in place"
            f" with {WITH} when the outage closes (even chance: {one[ORDER_EVEN] or 'no day'})."
        )
    if one.get("chance_missed"):
        week = one.get("cost_of_a_week")
        later = (
            f"; ordered a week later, its expected cost is {amount(week)} {one['currency']} more"
            if week
            else ""
        )
        lines.append(f"Chance of missing the outage {share(one['chance_missed'])}{later}.")
    if one.get("cost_likely"):
        total = one.get("expected_total")
        late = f", {amount(total)} {one['currency']} with the expected cost of lateness" if total else ""
        lines.append(f"Likely price {amount(one['cost_likely'])} {one['currency']}{late}.")
    return lines


def cheaper(rows: list[Row], first: Row) -> str:
    """That another way to order costs less with its lateness; empty where none does."""
    known = [row for row in rows if row["choice"] in ("two routes", "spare") and row.get("expected_total")]
    known = [row for row in known if row["currency"] == first.get("currency") and first.get("expected_total")]
    best = min(known, key=lambda row: float(row["expected_total"]), default=None)
    if best is None or float(best["expected_total"]) >= float(first["expected_total"]):
        return ""
    both = (
        f"{amount(best['expected_total'])} instead of {amount(first['expected_total'])} {first['currency']}"
    )
    return f"{best['route']} costs less with the expected cost of lateness: {both}."


def still_open(arm: Arm, one: Row, folder: Path, dates: dict[str, str]) -> list[str]:
    """What has to be settled before an order can be placed."""
    drawing, found = arm.drawing, []
    if not arm.route:
        found.append(
            f'the choice: `python -m analysis.adopt {arm.name} {one["route"]} --reason "..."` makes it the arm\'s next revision'
        )
    place = folder / ("as-written" if one["choice"] == "as written" else f"making/{one['route']}/best")
    built = read_answer(place / "summary.json")
    if isinstance(built, Summary) and built.explain:
        found.append(f"differences of hand and mesh to explain: {len(built.explain)} lines of summary.json")
    if isinstance(built, Summary) and built.peak_error_band_percent is None:
        found.append(
            "margins by mesh, years and flaw rest on one mesh, without a band: run the chosen sizes as the arm as written"
        )
    if one.get("past") == "yes":
        latest = one[ORDER] or "no day is early enough"
        found.append(f"the order date {dates['order_date']} is later than the latest for {WITH}, {latest}")
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
        first |= {name: own.get(name) for name in OF_ROUTE}
    date = dates.get(first["route"]) or next(iter(dates.values()))
    rows.sort(key=lambda row: row is not first)
    lines = sentences(arm, first, date["order_date"])
    if why := first.get("why"):
        lines.append(f"Why it comes first: {why}.")
    if better := cheaper(rows, first):
        lines.append(better)
    return {"lines": lines, "open": still_open(arm, first, folder, date)}, rows


def main(folder: Path) -> None:
    answer, rows = answered(folder)
    write_json(folder / "making" / "answer.json", answer | {"caution": CAUTION})
    write_csv(folder / "making" / "choices.csv", COLUMNS, rows)
    print(*answer["lines"], *(f"Still open: {line}" for line in answer["open"]), CAUTION, sep="\n")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
