"""Pictures of life and cracks from the tables under DIR/bores: `python -m analysis.pictures.bores DIR`."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import matplotlib.dates as mdates
from matplotlib.axes import Axes

from analysis.pictures.sheet import LINE, MARK, letter, paper, printed, room, save
from analysis.tables.files import read_csv
from analysis.tables.governing import governing
from params.files.read import read_arm
from params.schema.arm import Arm
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors
from params.steps.out_of_range import NOT_SETTLED, STATUS

Rows = list[dict[str, str]]
INKS = ("#1f4e79", "#b3561e", "#4a7a3a", "#5a626a", "#7a4a8c", "#8a6d1f")
DASHES = ("-", "--", ":")


def quiet(axes: Axes) -> None:
    """Grid behind, no box."""
    axes.grid(color="#e3e6e8")
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


@printed
def around(arm: Arm, folder: Path, path: Path) -> None:
    """Range and mean about the pivot bore, and the years that they leave, for each arm of the comparison."""
    table = read_csv(folder / "around.csv")
    figure = paper(5.6)
    panels = [figure.add_axes((0.10, low, 0.88, 0.205)) for low in (0.62, 0.38, 0.14)]
    unit = table[0]["stress_unit"]
    columns = (("range", f"range, {unit}"), ("mean", f"mean, {unit}"), ("years", "years to a crack"))
    for number, name in enumerate(dict.fromkeys(row["arm"] for row in table)):
        rows = [row for row in table if row["arm"] == name]
        angle = [float(row["angle_deg"]) for row in rows]
        for axes, (column, label) in zip(panels, columns, strict=True):
            axes.plot(
                angle,
                [float(row[column]) for row in rows],
                color=INKS[number],
                ls=DASHES[number % 3],
                lw=1.2,
                label=name,
            )
            axes.set_ylabel(label)
    for axes in panels:
        quiet(axes)
        axes.set_xlim(0.0, 360.0)
        axes.set_xticks(range(0, 361, 45))
    panels[2].set_yscale("log")
    panels[2].axhline(arm.duty.service_years, color=MARK, lw=1.2)
    panels[2].text(3.0, arm.duty.service_years * 1.15, "service life", color=MARK)
    panels[2].set_xlabel("angle about the pivot from the output arm, counter-clockwise, degrees")
    figure.legend(*panels[0].get_legend_handles_labels(), loc=(0.09, 0.84), ncols=3, frameon=False)
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: fatigue around the pivot bore",
        "Worst place in each sector, on its worst plane, for the most damaging cycle. 1e6 years: no damage",
    )
    save(figure, path)


@printed
def cracks(arm: Arm, folder: Path, path: Path) -> None:
    """How each found crack grows, and the chance that it lasts, month by month."""
    grown, chances, crack_rows = (
        governing(read_csv(folder / f"{name}.csv")) for name in ("growth", "survival", "cracks")
    )
    figure = paper(3.8)
    left, right = (figure.add_axes(room(figure, place, 0.52, 0.40, 0.1)) for place in (0.08, 0.58))
    judged = [row for row in crack_rows if row["end"]]
    for number, row in enumerate(judged):
        for dash, size in zip(DASHES, dict.fromkeys(one["size"] for one in grown), strict=False):
            rows = [one for one in grown if one["crack"] == row["crack"] and one["size"] == size]
            left.plot(
                [float(one["years"]) for one in rows],
                [float(one["value"]) for one in rows],
                dash,
                color=INKS[number],
                label=f"{row['crack']}, {size}",
            )
        rows = [one for one in chances if one["crack"] == row["crack"]]
        days: Any = [date.fromisoformat(one["date"]) for one in rows]
        right.fill_between(
            days,
            [100.0 * float(one["least"]) for one in rows],
            [100.0 * float(one["most"]) for one in rows],
            color=INKS[number],
            alpha=0.2,
            lw=0,
        )
        right.plot(
            days,
            [100.0 * float(one["chance"]) for one in rows],
            "o-",
            ms=2.5,
            color=INKS[number],
            label=row["crack"],
        )
    if not any(float(one["years"]) for one in grown):
        left.set_xlim(0.0, 1.0)
        empty = "no crack grows" if judged else "no crack could be judged"
        left.text(0.5, 0.5, empty, ha="center", transform=left.transAxes, color=LINE)
    if not chances:
        right.text(0.5, 0.5, "chance not computed", ha="center", transform=right.transAxes, color=LINE)
    left.set_xlabel("years since the crack was found")
    left.set_ylabel(f"size, {crack_rows[0]['length_unit']}")
    right.set_ylabel("chance of lasting, %")
    right.set_ylim(min(100.0 * float(one["least"]) for one in chances) - 1.0 if chances else 0.0, 100.3)
    low, high = right.get_ylim()
    right.set_yticks([tick for tick in right.get_yticks() if low <= tick < 100.01])  # no chance is over 100 %
    right.set_ylim(low, high)
    right.xaxis.set_major_locator(mdates.AutoDateLocator(maxticks=5))
    right.xaxis.set_major_formatter(mdates.DateFormatter("%Y-%m"))
    if not chances:
        right.set_xticks([])
    elif crack_rows[0]["outage"]:
        day: Any = date.fromisoformat(crack_rows[0]["outage"])
        right.axvline(day, color=MARK, lw=1.2)
        right.annotate("outage ", (day, right.get_ylim()[0]), color=MARK, ha="right", va="bottom")
    for axes in (left, right):
        quiet(axes)
        if judged:
            axes.legend(frameon=False, loc="best")
    letter(figure, f"{arm.name}, revision {arm.revision}: found cracks", crack_ends(crack_rows))
    save(figure, path)


def crack_ends(crack_rows: Rows) -> str:
    """Each crack's end in words."""
    parts = []
    for row in crack_rows:
        if not row["end"]:
            parts.append(f"{row['crack']} in {row['material']}: {STATUS}, {row['note']}")
            continue
        lasts = f"{float(row['years']):.3g} years" if row["years"] else "no failure within 500 years"
        if f"years {NOT_SETTLED}" in row["note"]:
            lasts = f"years {NOT_SETTLED}, {row['years_by_mesh']}, the less favourable drawn"
        residual = f", residual stress {row['residual']}" if row.get("residual") else ""
        parts.append(f"{row['crack']} in {row['material']}{residual}: {lasts} ({row['end']})")
    return "; ".join(parts) + ". Chance given that it lasted until found; band: 95 % of the sampling."


@printed
def flaws(arm: Arm, folder: Path, path: Path) -> None:
    """Largest flaw that may be left in each region, by material, against what the methods find."""
    table = [row for row in read_csv(folder / "inspection.csv") if row.get("flaw") != "embedded"]
    regions = list(dict.fromkeys(row["region"] for row in table))
    arms = list(dict.fromkeys((row["arm"], row["material"]) for row in table))
    figure = paper(4.2)
    axes = figure.add_axes(room(figure, 0.13, 0.36, 0.85))
    height = 0.8 / len(arms)
    for number, (name, material) in enumerate(arms):
        rows = {row["region"]: row for row in table if row["arm"] == name}
        kept = [deep(rows[region], "acceptable_depth") for region in regions]
        most = [deep(rows[region], "critical_depth") for region in regions]
        place = [k + (number - (len(arms) - 1) / 2.0) * height for k in range(len(regions))]
        axes.barh(place, most, height * 0.9, color=INKS[number], alpha=0.25)
        axes.barh(place, kept, height * 0.9, color=INKS[number], label=material)
        for spot, region in zip(place, regions, strict=True):
            if not rows[region]["acceptable_depth"]:
                known = deep(rows[region], "acceptable_depth")
                word = f" {NOT_SETTLED}, less favourable" if known else f" {STATUS}"
                axes.text(known, spot, word, va="center", color=LINE)
    finds = {row["method"]: float(row["found_depth"]) for row in table}
    for k, (method, depth) in enumerate(finds.items()):
        axes.axvline(depth, color=LINE, lw=1.0, ls=":")
        axes.text(depth, -0.75 - 0.45 * k, f" {method} finds {depth:g} {table[0]['unit']}", color=LINE)
    axes.set_yticks(range(len(regions)), [region.replace("_", " ") for region in regions])
    axes.set_ylim(len(regions) - 0.4, -0.75 - 0.45 * len(finds))
    axes.set_xlabel(
        f"depth of the flaw, {table[0]['unit']}: full colour acceptable, pale breaks at the highest load"
    )
    quiet(axes)
    axes.legend(frameon=False, loc="lower right")
    asked = float(table[0]["years_asked"])
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: acceptable flaws",
        f"Largest flaw that lasts {asked:.4g} years; rims: quarter circle; faces: five times as long as deep. In other"
        " materials under the same stress",
    )
    save(figure, path)


def deep(row: dict[str, str], name: str) -> float:
    """A depth, the less favourable of its values where it has not settled; 0 where there is none."""
    return float(row[name] or row.get(f"{name}_least") or 0.0)


PANELS = (
    ("margin", "margin of the sizes as written", 100.0, "%"),
    ("lightest", "lightest design that passes", 1.0, "mass_unit"),
    ("years", "years to a crack", 1.0, ""),
    ("critical_at_pivot_bore", "critical flaw at the pivot bore", 1.0, "length_unit"),
)


@printed
def materials(arm: Arm, folder: Path, path: Path) -> None:
    """The arm in every material: margin, mass, life, critical flaw."""
    table = read_csv(folder / "materials.csv")
    names = [row["material"] for row in table]
    figure = paper(5.2)
    for number, (column, title, factor, given) in enumerate(PANELS):
        axes = figure.add_axes((0.16 + 0.43 * (number % 2), 0.53 - 0.39 * (number // 2), 0.39, 0.29))
        bars(axes, table, column, factor, arm.material)
        unit = next((row[given] for row in table if row.get(given)), given)
        axes.set_title(", ".join(filter(None, (title, unit))), loc="left")
        axes.set_yticks(range(len(names)), names if number % 2 == 0 else [""] * len(names))
        quiet(axes)
    letter(
        figure,
        f"{arm.name}, revision {arm.revision}: the same arm in other materials",
        f"Filled: the material of the file ({arm.material}). Pale: other materials",
    )
    save(figure, path)


def bars(axes: Axes, table: Rows, column: str, factor: float, own: str) -> None:
    """One bar for each material with its number behind it; `own` is the arm's."""
    values = [factor * float(row[column]) if row[column] else None for row in table]
    here = [value for value in values if value is not None]
    top = max([*here, 0.0])
    for k, value in enumerate(values):
        if value is None:
            axes.text(0.0, k, f" {nothing(table[k], column)}", va="center", color="#5a626a")
            continue
        axes.barh(k, value, color=INKS[0] if table[k]["material"] == own else "#a9b8c6")
        axes.text(
            max(value, 0.0),
            k,
            f" {value:.3g}" if abs(value) < 1000 else f" {value:,.0f}",
            va="center",
        )
    axes.set_xlim(right=1.35 * top or 1.0)
    axes.set_ylim(len(table) - 0.4, -0.6)


def nothing(row: dict[str, str], column: str) -> str:
    """Why a bar is missing."""
    if column == "years" and row.get("life_settled") == "no":
        return NOT_SETTLED
    if column.startswith("critical") and row.get("critical_settled") == "no":
        return NOT_SETTLED
    if column == "years" and row["life_margin"]:
        return "no damage"
    if column == "lightest" and row["margin"]:
        return "none passes"
    return STATUS if row["status"] == STATUS else "not known"


def draw(folder: Path) -> Sequence[Path]:
    """Every picture that the tables allow; a table may be empty only where the arm's file says nothing for it."""
    arm, source = read_arm(folder / "arm.yaml"), folder / "bores"
    wanted = {"around": around, "cracks": cracks, "inspection": flaws, "materials": materials}
    inspected = arm.cracks is not None and arm.cracks.inspection is not None
    least = {"cracks": len(arm.found_cracks), "inspection": int(inspected)}
    paths = []
    for name, picture in wanted.items():
        table = source / f"{name}.csv"
        if not table.exists():
            continue
        path = source / "pictures" / f"{PICTURES[name]}.png"
        if read_csv(table, least.get(name, 1)):
            picture(arm, source, path)
        else:
            none(arm, EMPTY[name], path)
        paths.append(path)
    return paths


@printed
def none(arm: Arm, text: str, path: Path) -> None:
    """A sheet that says why there is nothing to draw."""
    figure = paper(1.6)
    letter(
        figure, f"{arm.name}, revision {arm.revision}: {text}", "The arm's file has no data for this picture"
    )
    save(figure, path)


EMPTY = {"cracks": "no found cracks", "inspection": "no examinations to compare"}
PICTURES = {"around": "life", "cracks": "cracks", "inspection": "flaws", "materials": "materials"}

if __name__ == "__main__":
    with one_line_errors():
        draw(*arguments(__doc__, folder=Path))
