"""The decision for the terminal: `python -m analysis.making.decision.table results/ARM` prints it and writes decision.txt."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console, Group
from rich.table import Table
from rich.text import Text

from analysis.tables.confidence import HEADS, ORDER, ORDER_EVEN, READY, READY_EVEN, SURE
from analysis.tables.files import read_csv, read_json
from analysis.tables.number import percent
from params.files.read import read_arm
from params.schema.arm import Arm
from params.schema.units import show
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors

Row = dict[str, str]
MOST_YEARS = 1000
WIDE = 160  # characters of a line in decision.txt


def share(text: str) -> str:
    """A share as percent; small ones with a digit, none below a tenth."""
    if not text:
        return "-"
    value = 100.0 * float(text)
    if 0.0 <= value < 0.1:
        return "< 0.1 %"
    return f"{value:.1f} %" if value < 10.0 else f"{value:.0f} %"


def signed(text: str) -> str:
    """A margin as text of a terminal."""
    return percent(text, 1, none="-", minus="-")


def years(text: str) -> str:
    """Years in whole numbers as far as they mean anything, or the words that stand for them."""
    try:
        return f"{float(text):.0f}" if float(text) < MOST_YEARS else f"over {MOST_YEARS}"
    except ValueError:
        return text or "-"


def amount(text: str, currency: str = "") -> str:
    return f"{float(text):,.0f} {currency}".rstrip() if text else "-"


def mass(arm: Arm, text: str) -> str:
    return show(float(text), "mass", arm.units) if text else "-"


def table(title: str, heads: dict[str, str]) -> Table:
    """A table; `heads` are its columns with the side they lean to."""
    result = Table(title=title, title_justify="left", title_style="bold")
    for head, side in heads.items():
        result.add_column(head, justify="right" if side == "right" else "left")
    return result


def designs(arm: Arm, rows: list[Row]) -> Table:
    """What each route would make."""
    result = table(
        f"{arm.name}: the routes, each at its own best design",
        {
            "": "right",
            "route": "left",
            "design": "left",
            "material": "left",
            "mass": "right",
            "before machining": "right",
            "margin, hand": "right",
            "margin, mesh": "right",
            "governing check": "left",
            "years to a crack": "right",
            "acceptable flaw": "right",
        },
    )
    for row in rows:
        result.add_row(
            row["order"] or "-",
            row["route"],
            row["design"] or "-",
            row["material"] or "-",
            mass(arm, row["mass_kg"]),
            mass(arm, row["blank_mass_kg"]),
            signed(row["hand_margin"]),
            signed(row["mesh_margin"]),
            row["governing"] or "-",
            years(row["years_to_crack"]),
            row["acceptable_flaw"] or "-",
        )
    return result


def times(rows: list[Row], dates: Row) -> Table:
    """When it is ready and what it costs."""
    one, costs = in_currency(rows)
    means = (
        "the part waits for the next outage" if dates["missed_means"] != "days" else "the outage is drawn out"
    )
    result = table(
        f"Dates against the outage {dates['outage']}, {dates['outage_opens']} to {dates['outage_closes']}, if ordered on"
        f" {dates['order_date']}; missed, {means}; {costs}",
        {
            "": "right",
            "way": "left",
            **{HEADS[name]: "left" for name in (READY_EVEN, READY, ORDER_EVEN, ORDER)},
            "days left": "right",
            "outage missed": "right",
            "price": "right",
            "lateness, expected": "right",
            "price and lateness": "right",
            "one week later costs": "right",
        },
    )
    for row in rows:
        money = ("cost_likely", "expected_cost_of_lateness", "expected_total", "cost_of_a_week")
        result.add_row(
            row["order"] or "-",
            row["route"],
            *(row[name] or "-" for name in (READY_EVEN, READY, ORDER_EVEN, ORDER)),
            f"{row[f'float_p{SURE}_d'] or '-'}{', past' if row['past'] == 'yes' else ''}",
            share(row["chance_missed"]),
            *(amount(row[name], "" if one else row["currency"]) for name in money),
        )
    return result


def in_currency(rows: list[Row]) -> tuple[bool, str]:
    """Whether all money is in one currency, and words for it."""
    currencies = list(dict.fromkeys(row["currency"] for row in rows if row["currency"]))
    one = len(currencies) == 1
    return one, f"costs in {currencies[0]}" if one else "costs in the currency of each route"


def decision(arm: Arm, rows: list[Row], dates: Row, answer: dict[str, list[str]]) -> Group:
    """The answer, both tables, the cracked arm, what would change the order, notes, caution."""
    routes = [row for row in rows if row["kind"] == "route"]
    dated = [row for row in rows if row["kind"] != "keep"]
    kept = [row for row in rows if row["kind"] == "keep"]
    lines: list[Any] = [Text(line, style="bold") for line in answer["lines"]]
    lines += [Text(f"Still open: {line}.") for line in answer["open"]]
    lines += [designs(arm, routes), times(dated, dates)]
    lines += [Text(in_words(row)) for row in kept]
    lines.append(
        Text(
            "Ranked by likely price plus expected cost of lateness; if costs are not known or in different currencies without a"
            " rate, by the chance of missing the outage."
        )
    )
    lines += [Text(f"{row['route']}: {row['sensitivity']}{dominated(row)}.") for row in dated]
    lines += [Text(failed(row)) for row in routes if row["if_examination_fails"]]
    lines += [Text(beside(row)) for row in routes if row["chance_missed_normal"]]
    lines += [
        Text(f"{row['route']}, mass before machining: {row['blank']}.", style="dim")
        for row in routes
        if row["blank"]
    ]
    lines += [Text(f"{row['route']}, note: {row['note']}.", style="dim") for row in dated if row["note"]]
    return Group(*lines, Text(CAUTION, style="italic"))


def in_words(row: Row) -> str:
    """The arm in service, kept until this outage or the next."""
    wait = row["expected_cost_of_lateness"]
    cost = f" Cost of the wait {amount(wait, row['currency'])}." if wait else ""
    until = "to the outage" if row["load_limit_percent"] == "" and not wait else "until then"
    return f"{row['route']}: chance of lasting {until} {chance_text(row['chance_of_lasting'])}.{cost} {row['note']}"


def dominated(row: Row) -> str:
    return f"; dominated by {row['dominated_by']}" if row["dominated_by"] else ""


def failed(row: Row) -> str:
    return f"{row['route']}, if an examination fails: {row['if_examination_fails']}."


def beside(row: Row) -> str:
    """The normal approximation beside the drawn networks."""
    drawn, normal = share(row["chance_missed"]), share(row["chance_missed_normal"])
    return (
        f"{row['route']}: chance of missing the outage {drawn} drawn, {normal} by the normal approximation (path of the means,"
        " tasks independent)."
    )


def chance_text(text: str) -> str:
    try:
        return share(text)
    except ValueError:
        return text  # not computed


def main(folder: Path) -> None:
    making = folder / "making"
    output = decision(
        read_arm(folder / "as-written" / "arm.yaml"),
        read_csv(making / "decision.csv", 1),
        read_csv(making / "dates.csv", 1)[0],
        read_json(making / "answer.json"),
    )
    here = Console()
    (here if here.is_terminal else Console(width=WIDE)).print(output)
    with (making / "decision.txt").open("w") as file:
        Console(file=file, width=WIDE).print(output)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
