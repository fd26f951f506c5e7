"""The routes beside each other in one picture: `python -m analysis.pictures.decision results/ARM` draws decision.csv."""

from __future__ import annotations

import math
import textwrap
from pathlib import Path

from matplotlib.axes import Axes

from analysis.pictures.days import day, months
from analysis.pictures.sheet import FOOT, HEAD, LINE, MARK, letter, paper, printed, save
from analysis.tables.confidence import EVEN, READY, READY_EVEN, WITH
from analysis.tables.files import read_csv
from params.files.read import read_arm
from params.schema.units import System, outside, show, shown_unit
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

Row = dict[str, str]
BLUE, PALE, BROWN, BAND = "#1f4e79", "#a9bfd6", "#c98a5a", "#f3dcd6"
LEFT, WIDE = 0.21, 0.77  # of the sheet: the names' share, and the bars'
TITLE, AXIS = 0.36, 0.36  # inches above and below the bars of a panel
HIGH, LEAST, MOST = (
    0.38,
    0.28,
    225.0 / 25.4,
)  # inches of a route in a panel, at least two lines; and of the sheet
PANELS = 3
NAME_LETTERS = 18  # of a line of a name
THICK = 0.36  # of a bar, in shares of a route's height


def percent(text: str) -> str:
    value = 100.0 * float(text)
    return "below 0.1 %" if value < 0.1 else f"{value:.1f} %" if value < 10.0 else f"{value:.0f} %"


def ready(axes: Axes, rows: list[Row], dates: Row) -> None:
    """From the day of even odds to the one of the confidence of all dates, with the outage."""
    opens, closes = day(dates["outage_opens"]), day(dates["outage_closes"]) + 1.0
    axes.axvspan(opens, closes, color=BAND, lw=0)
    axes.axvline(opens, color=MARK, lw=1.0)
    axes.axvline(day(dates["needed_by"]) + 1.0, color=MARK, lw=1.0, ls=(0, (3, 2)))
    first = min(day(row[READY_EVEN]) for row in rows)
    last = max(closes, *(day(row[READY]) for row in rows))
    left, right = first - 14.0, max(last, first + 75.0) + 10.0
    axes.set_xlim(left, right)
    for number, row in enumerate(rows):
        start, end = day(row[READY_EVEN]) + 1.0, day(row[READY]) + 1.0
        axes.barh(number, end - start, left=start, height=THICK, color=BLUE)
        late = start > (left + right) / 2.0  # the words go where there is room
        text = f"outage missed: {percent(row['chance_missed'])}" + (
            "; order date past" if row["past"] == "yes" else ""
        )
        place = {"x": end if late else start, "ha": "right" if late else "left"}
        axes.text(y=number + 0.42, s=text, color=LINE, va="center", **place)
    months(axes, left, right)
    axes.set_title(f"ready: {EVEN} % to {WITH}; red: outage, dashed: part needed", loc="left")


def money(axes: Axes, rows: list[Row]) -> None:
    """Likely price and expected cost of lateness, with the range of the price."""
    known = [(number, row) for number, row in enumerate(rows) if row["cost_likely"]]
    currencies = list(dict.fromkeys(row["currency"] for _, row in known))
    if len(currencies) > 1:
        axes.set_title(f"cost: in {' and '.join(currencies)}, no rate between them is given", loc="left")
        axes.set_xticks([])
        for number, row in known:
            late = float(row["expected_cost_of_lateness"] or 0.0)
            text = f"likely price {float(row['cost_likely']):,.0f}, lateness {late:,.0f} {row['currency']}"
            axes.text(0.01, number, text, va="center", color=LINE, transform=axes.get_yaxis_transform())
        return
    for number, row in known:
        low, likely, high = (float(row[f"cost_{name}"]) / 1000.0 for name in ("low", "likely", "high"))
        late = float(row["expected_cost_of_lateness"] or 0.0) / 1000.0
        label = number == known[0][0]
        axes.barh(number, likely, height=THICK, color=BLUE, label="likely price" if label else None)
        axes.barh(
            number,
            late,
            left=likely,
            height=THICK,
            color=BROWN,
            label="lateness, expected" if label else None,
        )
        axes.plot(
            (low, high),
            (number + 0.3, number + 0.3),
            "|-",
            color=LINE,
            lw=1.2,
            label="its range" if label else None,
        )
    axes.set_title(f"cost, 1000 {currencies[0]}" if known else "cost: not known", loc="left")
    if known:
        axes.legend(frameon=False, loc="lower right", bbox_to_anchor=(1.0, 1.0), ncols=3, borderaxespad=0.0)


def masses(axes: Axes, rows: list[Row], units: System) -> None:
    """Of the finished part, and before machining where it is known."""
    unit = shown_unit("mass", units)
    for number, row in enumerate(rows):
        text = "no design passes all checks"
        if row["mass_kg"]:
            finished, rough = float(row["mass_kg"]), float(row["blank_mass_kg"] or "nan")
            axes.barh(number, outside(rough, unit, "mass"), height=THICK, fc="none", ec=BLUE, lw=0.7)
            axes.barh(number, outside(finished, unit, "mass"), height=THICK, color=PALE)
            text = f"{show(finished, 'mass', units)} finished" + before(rough, units)
        colour = LINE if row["mass_kg"] else MARK
        axes.text(0.01, number, text, va="center", color=colour, transform=axes.get_yaxis_transform())
    axes.set_title(f"mass of the best design, {unit}; outlined: before machining", loc="left")


def before(rough: float, units: System) -> str:
    return "" if math.isnan(rough) else f", {show(rough, 'mass', units)} before machining"


def quiet(axes: Axes, rows: list[Row]) -> None:
    axes.set_ylim(len(rows) - 0.3, -0.5)
    axes.set_yticks(range(len(rows)), [named(row) for row in rows])
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(axis="y", length=0)
    axes.grid(axis="x", color="#e9ecee")
    axes.set_axisbelow(True)


@printed
def draw(folder: Path) -> None:
    arm = read_arm(folder / "as-written" / "arm.yaml")
    table = read_csv(folder / "making" / "decision.csv", 1)
    routes = [row for row in table if row["kind"] == "route"]
    around = HEAD + FOOT + PANELS * (TITLE + AXIS)
    beside = [row for row in table if row["kind"] not in ("route", "keep")]
    shown = cheapest(beside, int((MOST - around) / LEAST - len(routes)) // 2 - len(routes))
    ways = [*routes, *shown]
    dates = read_csv(folder / "making" / "dates.csv", 1)[0]
    panels = (routes, ways, ways)
    lines = sum(map(len, panels))
    each = min(HIGH, max(LEAST, (MOST - around) / lines))
    high = around + lines * each
    figure, axes, foot = paper(high), [], high - HEAD
    for rows in panels:
        foot -= TITLE + len(rows) * each
        axes.append(figure.add_axes((LEFT, foot / high, WIDE, len(rows) * each / high)))
        foot -= AXIS
    masses(axes[0], routes, arm.units)
    ready(axes[1], ways, dates)
    money(axes[2], ways)
    for place, rows in zip(axes, panels, strict=True):
        quiet(place, rows)
    left = len(beside) - len(shown)
    more = f" {left} further way{'s' * (left > 1)} in decision.csv." if left else ""
    days = f"outage {dates['outage_opens']} to {dates['outage_closes']}"
    caption = f"Ordered {dates['order_date']}, {days}. Each route at its own best design.{more}"
    letter(figure, f"{arm.name}: the routes side by side", caption)
    save(figure, folder / "making" / "decision.png")


def cheapest(rows: list[Row], most: int) -> list[Row]:
    """As many of the other ways to order as the sheet has room for, those with the least price and lateness, in their order."""
    best = sorted(rows, key=lambda row: (float(row["expected_total"] or "inf"), float(row["chance_missed"])))
    kept = best[: max(most, 0)]
    return [row for row in rows if row in kept]


def named(row: Row) -> str:
    """Name of a route with its place, or what keeps it out."""
    if row["kind"] != "route":
        return "\n".join(textwrap.wrap(row["route"], NAME_LETTERS))
    if row["holds"] != "yes":
        return f"{row['route']}\nnot ranked"
    return f"{row['order']}  {row['route']}" + (
        f"\ndominated by {row['dominated_by']}" if row["dominated_by"] else ""
    )


if __name__ == "__main__":
    with one_line_errors():
        draw(*arguments(__doc__, results=Path))
