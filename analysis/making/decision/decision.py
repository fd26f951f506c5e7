"""The routes beside each other: `python -m analysis.making.decision.decision results/ARM` writes decision.csv.

No score: dominated routes are marked, the order says what it goes by, and a line for each route says what would have to
change for it to change places. Rows of other kinds follow: two routes ordered at once, a spare with the first part, the
arm in service kept until the next outage, and until this one.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from analysis.making.dates.window import Window, window
from analysis.making.decision.flip import Standing, ordered, sensitivity
from analysis.making.decision.kept import UNKNOWN, cracked, until_next
from analysis.making.decision.together import dated, if_failed, past, together
from analysis.tables.files import read_csv, read_row, write_csv, write_json
from analysis.tables.names import names
from params.files.origin import origin
from params.files.read import read_arm
from params.files.readroute import outage_of
from params.schema.arm import Arm
from params.schema.schedule import Outage
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.library import OUTAGE
from params.steps.out_of_range import joined
from params.steps.problems import Unfit
from params.steps.results import ResultFile

ENDLESS = "no damage"
ROUTE = "route"  # kind of a row; two routes, spare and keep are the others
COLUMNS = names(
    "order route title design material mass_kg blank_mass_kg blank hand_margin mesh_margin governing"
    " years_to_crack service_years acceptable_flaw p50_ready p90_ready latest_order_p90 chance_missed cost_low cost_likely"
    " cost_high expected_cost_of_lateness expected_total currency holds dominated_by sensitivity"
    " chance_of_lasting note kind latest_order_p50 float_p50_d float_p90_d past chance_missed_week_later cost_of_a_week"
    " chance_missed_normal needed_by if_examination_fails load_limit_percent caution"
)
# Less is better of all but the years. The margin only has to be there: every best design is sized until it just holds.
COMPARED = (
    "mass_kg",
    "p90_ready",
    "chance_missed",
    "cost_likely",
    "expected_cost_of_lateness",
    "years_to_crack",
)
MORE = ("years_to_crack",)
MONEY = ("cost_likely", "expected_cost_of_lateness")
Row = dict[str, Any]


def by_route(path: Path) -> dict[str, dict[str, str]]:
    return ResultFile({row["route"]: row for row in read_csv(path, 1)}, path)


def number(text: str | None) -> float | None:
    return float(text) if text else None


def of_route(route: dict[str, str], dates: dict[str, str], cost: dict[str, str], folder: Path) -> Row:
    """What the tables say of one route."""
    row: Row = {
        "route": route["route"],
        "title": route["title"],
        "design": route["id"],
        "material": route["material"],
        "mass_kg": number(route["mass_kg"]),
        "blank_mass_kg": number(route["blank_mass_kg"]),
        "blank": route["blank"],
        "hand_margin": number(route["hand_margin"]),
        "mesh_margin": number(route["mesh_margin"]),
        "governing": governing(route),
        "kind": ROUTE,
        **dated(dates),
        "chance_missed_normal": number(dates["chance_missed_normal"]),
        "needed_by": dates["needed_by"],
        **{name: number(cost[name]) for name in ("cost_low", "cost_likely", "cost_high")},
        "currency": cost["currency"],
        "holds": holds(route),
        "caution": CAUTION,
        "note": joined(route["reason"], past(dates, dates["order_date"]), dates["note"], route["notes"]),
    }
    row |= at_joints(life_of(folder), folder.parent / "joints.csv")
    if row["cost_likely"] is not None and row["expected_cost_of_lateness"] is not None:
        row["expected_total"] = row["cost_likely"] + row["expected_cost_of_lateness"]
    return row


def governing(route: dict[str, str]) -> str:
    """The check with the least margin, by hand or by mesh."""
    hand, mesh = number(route["hand_margin"]), number(route["mesh_margin"])
    return (
        route["mesh_governing"]
        if hand is not None and mesh is not None and mesh < hand
        else route["hand_governing"]
    )


def holds(route: dict[str, str]) -> bool:
    """Whether there is a design and neither margin is less than the one wanted."""
    wanted = float(route["least_margin"] or 0.0)
    margins = [number(route["hand_margin"]), number(route["mesh_margin"])]
    return bool(route["id"]) and all(margin is not None and margin >= wanted for margin in margins)


def life_of(folder: Path) -> Row:
    """Years to a crack and acceptable flaw of a design; not computed where its table is not there or has none."""
    result: Row = {"years_to_crack": UNKNOWN, "acceptable_flaw": UNKNOWN}
    if not (folder / "life-and-flaw.csv").exists():
        return result
    row = read_row(folder / "life-and-flaw.csv")
    result["service_years"] = number(row["service_years"])
    if row["life_region"]:
        result["years_to_crack"] = number(row["years_to_crack"]) or ENDLESS
    if row["acceptable_depth"]:
        size = " x ".join(f"{float(row[name]):.3g}" for name in ("acceptable_depth", "acceptable_length"))
        text = f"{size} {row['length_unit']}, {row['flaw_region']}"
        result["acceptable_flaw"] = joined(text, row["note"])
    elif row["life_region"] and row["note"]:
        result["acceptable_flaw"] = row["note"]
    return result


def at_joints(row: Row, table: Path) -> Row:
    """The same with the years of the chosen joints of pieces, where they are fewer."""
    chosen = [one for one in read_csv(table) if one["chosen"] == "yes"] if table.exists() else []
    fewest = min((float(one["years_to_crack"]) for one in chosen if one["years_to_crack"]), default=math.inf)
    known = row["years_to_crack"]
    shorter = known == ENDLESS or (known != UNKNOWN and fewest < known)
    return row | {"years_to_crack": fewest} if shorter and math.isfinite(fewest) else row


def compared(row: Row, name: str) -> Any:
    """A value as it is compared: years beyond the service life are no better than the service life; None where unknown."""
    value = row.get(name)
    if name != "years_to_crack" or value in (None, UNKNOWN):
        return None if value == UNKNOWN else value
    most = row.get("service_years") or math.inf
    return most if value == ENDLESS else min(value, most)


def better(one: Row, other: Row) -> bool:
    """Whether `one` is at least as good in all that is known of both, and better in something."""
    strictly = False
    for name in COMPARED:
        a, b = compared(one, name), compared(other, name)
        apart = name in MONEY and one.get("currency") != other.get("currency")
        if apart or a is None or b is None:
            continue
        worse = a < b if name in MORE else a > b
        if worse:
            return False
        strictly |= a != b
    return strictly


def standing(
    row: Row, window: Window, cost: dict[str, str], ready: Mapping[datetime.date, float]
) -> Standing:
    return Standing(
        row["route"],
        window,
        ready,
        number(cost["cost_likely"]),
        number(cost["late_once"]),
        number(cost["late_per_day"]),
        cost["currency"],
    )


def judged(rows: list[Row], standings: dict[str, Standing]) -> list[Row]:
    """Rows in their order, those that hold first, with domination and sensitivity."""
    held = [row for row in rows if row["holds"]]
    order = ordered([standings[row["route"]] for row in held])
    for place, one in enumerate(order, 1):
        row = next(row for row in held if row["route"] == one.route)
        row["order"], row["sensitivity"] = place, sensitivity(one, order)
    for row in held:
        row["dominated_by"] = " ".join(other["route"] for other in held if better(other, row))
    for row in rows:
        if not row["holds"]:
            row["sensitivity"] = "not ranked: it has no design that passes all checks"
    return sorted(rows, key=lambda row: (row.get("order", len(rows) + 1), row["route"]))


def decide(folder: Path) -> list[Row]:
    """Every row of decision.csv for results/ARM."""
    making = folder / "making"
    routes, dates, costs = (by_route(making / f"{name}.csv") for name in ("routes", "dates", "costs"))
    ready: dict[str, dict[datetime.date, float]] = {name: {} for name in routes}
    for row in read_csv(making / "ready.csv", 1):
        ready.setdefault(row["route"], {})[datetime.date.fromisoformat(row["date"])] = float(
            row["chance_ready"]
        )
    rows = [
        of_route(route, dates[name], costs[name], making / name / "best") for name, route in routes.items()
    ]
    arm = read_arm(folder / "as-written" / "arm.yaml")
    drawn = window(outage_in(folder, arm))
    standings = {row["route"]: standing(row, drawn, costs[row["route"]], ready[row["route"]]) for row in rows}
    apart, failures = joined(mixed(rows), issued_late(arm, dates)), read_csv(making / "failures.csv")
    for row in rows:
        row["note"] = joined(row["note"], apart)
        row["if_examination_fails"] = if_failed(failures, row["route"])
    ranked, any_date = judged(rows, standings), next(iter(dates.values()))
    beside = together(read_csv(making / "ways.csv"), ranked, costs, any_date["order_date"])
    return [
        *ranked,
        *beside,
        until_next(folder, any_date, costs.get(ranked[0]["route"])),
        cracked(folder),
    ]


def outage_in(folder: Path, arm: Arm) -> Outage:
    """The outage for which the dates were made.

    Raises
    ------
    Unfit
        where neither the run's copy nor the arm's file has one.
    """
    if outage := outage_of(arm):
        return outage
    raise Unfit(f"{folder / 'inputs' / OUTAGE}: is missing, and the arm's file names no outage")


def mixed(rows: list[Row]) -> str:
    """That prices are in several currencies and no rate joins them; empty where they are in one."""
    currencies = sorted({row["currency"] for row in rows if row["currency"]})
    if len(currencies) < 2:
        return ""
    return (
        f"prices in {' and '.join(currencies)} are not compared: the outage's file has no rate between them"
    )


def issued_late(arm: Arm, dates: Mapping[str, dict[str, str]]) -> str:
    """That the drawing is issued after the day of the order; empty where it is not."""
    days = [row["order_date"] for row in dates.values()]
    issued = str(arm.drawing.issued or "")
    if not issued or all(issued <= day for day in days):
        return ""
    return f"the drawing is issued on {issued}, after the order on {min(days)}"


def main(folder: Path) -> None:
    write_csv(folder / "making" / "decision.csv", COLUMNS, decide(folder))
    source = folder / "as-written" / "arm.yaml"
    write_json(folder / "making" / "origin.json", origin(read_arm(source), source))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
