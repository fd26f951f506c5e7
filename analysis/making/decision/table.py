"""The decision for the terminal: `python -m analysis.making.decision.table results/ARM` prints it and writes decision.txt."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rich.console import Console, Group
from rich.table import Table
from rich.text import Text

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
WIDE = 150  # characters of a line in decision.txt


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
    currencies = list(dict.fromkeys(row["currency"] for row in rows if row["currency"]))
    one = len(currencies) == 1
    costs = f"costs in {currencies[0]}" if one else "costs in the currency of each route"
    result = table(
        f"Dates against the outage {dates['outage']}, which opens on {dates['outage_opens']}, if ordered on {dates['order_date']};"
        f" {costs}",
        {
            "": "right",
            "route": "left",
            "ready, 50 % confidence": "left",
            "ready, 90 % confidence": "left",
            "order by, 90 % confidence": "left",
            "chance of missing the outage": "right",
            "price": "right",
            "lowest": "right",
            "highest": "right",
            "expected cost of lateness": "right",
            "price and lateness": "right",
            "dominated by": "left",
        },
    )
    for row in rows:
        money = ("cost_likely", "cost_low", "cost_high", "expected_cost_of_lateness", "expected_total")
        result.add_row(
            row["order"] or "-",
            row["route"],
            row["p50_ready"],
            row["p90_ready"],
            row["latest_order_p90"],
            share(row["chance_missed"]),
            *(amount(row[name], "" if one else row["currency"]) for name in money),
            row["dominated_by"] or "-",
        )
    return result


def decision(arm: Arm, rows: list[Row], dates: Row, answer: dict[str, list[str]]) -> Group:
    """The answer, both tables, the cracked arm, what would change the order, notes, caution."""
    routes = [row for row in rows if row["title"] and not row["chance_of_lasting"]]
    kept = [row for row in rows if row["chance_of_lasting"]]
    lines: list[Any] = [Text(line, style="bold") for line in answer["lines"]]
    lines += [Text(f"Still open: {line}.") for line in answer["open"]]
    lines += [designs(arm, routes), times(routes, dates)]
    lines += [
        Text(
            f"{row['route']}: chance of lasting to the outage {chance_text(row['chance_of_lasting'])}. {row['note']}"
        )
        for row in kept
    ]
    lines.append(
        Text(
            "Ranked by likely price plus expected cost of lateness; if costs are not known or in different currencies without a"
            " rate, by the chance of missing the outage."
        )
    )
    lines += [Text(f"{row['route']}: {row['sensitivity']}.") for row in routes]
    lines += [
        Text(f"{row['route']}, mass before machining: {row['blank']}.", style="dim")
        for row in routes
        if row["blank"]
    ]
    lines += [Text(f"{row['route']}, note: {row['note']}.", style="dim") for row in routes if row["note"]]
    return Group(*lines, Text(CAUTION, style="italic"))


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
