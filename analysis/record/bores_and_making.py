"""Bores and making: the tables of those steps as they stand, where the steps were run.

What is the same in every row stands once above a table; a few wide rows stand as columns; of a long table with
margins the rows with the least.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from analysis.record.heads import HEADS
from analysis.record.statics import header
from analysis.record.tables import Row, Tables, words
from analysis.record.typeset import heading, note, paragraph, picture, table
from analysis.record.why import why
from analysis.tables.columns import chance, in_units, is_chance, with_units
from analysis.tables.files import read_csv
from analysis.tables.number import number, percent
from analysis.tables.unsettled import in_words
from analysis.tables.wide import rows_as_columns, same_and_varying
from params.schema.units import System

MOST = 50  # rows of a table that is printed whole
MOST_USED = 24  # rows of one with margins: the least
COLUMNS = 12
WIDE = 6  # columns; a few rows of more stand as columns
NOTE = "note"
PLACES = ("region", "bore", "weakest_region")
STANDING = "caution"  # stands on every page
BORES = (
    "Bores: fit, fatigue, cracks, inspection",
    "bores",
    "This step was not run for this arm: the record does not cover fits, fatigue, cracks or inspection.",
)
MAKING = (
    "Making: routes, dates, decision",
    "making",
    "This step was not run for this arm: the record does not cover routes, costs or dates.",
)
# Title and columns of each table in its order; no columns: all of them. What is not here stays a file.
PLAN: dict[str, tuple[str, str]] = {
    "fit": ("Fits", "bore fit quantity least mean most unit capacity status note"),
    "contact": (
        "Pins in their bores by contact",
        "bore fit load_case contact_arc_deg coarser_contact_arc_deg peak_pressure_MPa coarser_peak_pressure_MPa"
        " read_from_edge_mm edge_mean_MPa coarser_edge_mean_MPa status largest_gap_mm peak_middle_MPa coarser_peak_middle_MPa"
        " lift_off_share",
    ),
    "life": (
        "Years to a fatigue crack",
        "arm region surface from_case to_case range mean allowable_range stress_unit years years_band_percent"
        " margin status note",
    ),
    "duty": (
        "What a working cycle does at the governing place",
        "arm region from_case to_case cycles_per_year lowest highest range static stress_unit range_over_static note",
    ),
    "explained": (
        "Why it cracked: the found cracks against the duty as given",
        "crack part what residual least value most coarser unit range_tried years status note",
    ),
    "cracks": (
        "Found cracks",
        "crack arm material region shape length depth length_unit angle_deg found residual residual_stress governs range highest"
        " stress_unit K_range ratio K_highest K_residual charpy charpy_counted energy_unit toughness toughness_unit Kr Lr"
        " Kr_factored Lr_factored holds_factored load_factor load_factor_band_percent load_factor_least cycles years"
        " years_band_percent years_least lasts_to end outage chance_at_outage chance_at_outage_band_percent chance_at_outage_least"
        " beyond_range_at_outage next_outage chance_at_next_outage chance_at_next_outage_least settled status note",
    ),
    "inspection": (
        "Acceptable flaws and inspection intervals",
        "arm region method found_depth acceptable_depth acceptable_depth_least acceptable_length critical_depth unit interval_years"
        " interval_years_least settled status note",
    ),
    "materials": (
        "The arm in other materials",
        "material yield_strength tensile_strength stress_unit charpy energy_unit margin lightest mass_unit years"
        " critical_at_pivot_bore critical_outside length_unit status note",
    ),
    "choices": (
        "Choices, the chosen or recommended one first",
        "choice route design material sizes mass_kg least_margin governing years_to_crack p90_ready latest_order_p90 cost_likely"
        " currency why",
    ),
    "routes": (
        "Routes, each at its own best design",
        "route material section mass_kg blank_mass_kg blank hand_margin hand_governing mesh_margin mesh_governing verdict"
        " reason notes",
    ),
    "pieces": (
        "Pieces of a deposited part",
        "route piece cell deposit_mass_kg wire_mass_kg arc_hours days length_mm depth_mm width_mm note",
    ),
    "dates": (
        "Dates against the outage",
        "route planned_ready p50_ready p90_ready needed_by chance_missed chance_missed_normal mean_late_d latest_order_p50"
        " latest_order_p90 float_p90_d past expected_cost_of_lateness cost_of_a_week currency",
    ),
    "ways": (
        "Two routes at once, and a spare",
        "way p50_ready p90_ready latest_order_p50 latest_order_p90 float_p90_d past chance_missed expected_cost_of_lateness"
        " cost_of_a_week currency note",
    ),
    "failures": (
        "If an examination fails",
        "route examination title remedy chance mean_d added_d p90_ready_if_passed p90_ready_if_failed chance_missed_if_passed"
        " chance_missed_if_failed cost_of_lateness_if_failed currency",
    ),
    "work": ("Work in the outage, as planned", "route title low_d likely_d high_d planned_d start finish"),
    "costs": ("Costs", "route cost_low cost_likely cost_high late_once late_per_day currency quoted_in"),
    "decision": (
        "Decision",
        "route material mass_kg blank_mass_kg hand_margin mesh_margin governing years_to_crack acceptable_flaw p50_ready p90_ready"
        " latest_order_p90 chance_missed cost_likely expected_cost_of_lateness currency dominated_by sensitivity"
        " if_examination_fails note",
    ),
}
# Rows that the tables of these files show, by a column.
ONLY = {
    "decision": ("kind", ("route",)),
    "choices": ("choice", ("recommended", "other route", "lightest swept", "as written")),
}
KEPT = "route title chance_of_lasting load_limit_percent expected_cost_of_lateness currency note"
# A second table from the same file: title, what it shows, columns; of the rows that have a figure of RUBBED.
RUBBED = ("years_fretting_least", "years_interference_least", "years_interference_most")
BESIDE = {
    "life": (
        "Years in the bores by fretting and interference",
        "No calculation knows the fretting factor, and a fit lies anywhere within its tolerance: the years at the factor used and"
        " the mean interference, at the worst and mildest factor, and at the least and most interference. Empty: the fit is not"
        " tight, or no cycle does damage. Not settled, in the table before: moved from the coarser of two meshes by over"
        " 10 % (years) or 5 % (stress); both values stand in the note, and no figure.",
        "arm region fretting_least fretting_used fretting_most years_fretting_least years years_fretting_most"
        " years_interference_least years_interference_most",
    ),
}
# The picture that follows a table, with its caption.
SHOWN = {
    "contact": (
        "contact.png",
        "Pressure and gap over the unrolled pivot bore: the arm's fit on the left, the fit it is compared with on the right.",
    ),
    "life": (
        "life.png",
        "Range and mean of stress around the pivot bore on the worst plane, and the years to a crack that follow, arm by arm.",
    ),
    "cracks": (
        "cracks.png",
        "Left: growth of each found crack; right: its chance of lasting, month by month, and the outage.",
    ),
    "inspection": (
        "flaws.png",
        "Deepest acceptable flaw in each region (dark) and depth that breaks at the highest load (pale);"
        " dotted: what each method finds.",
    ),
    "materials": (
        "materials.png",
        "Margin, lightest design, years to a crack and critical flaw of this arm by material; dark: the material of the file.",
    ),
    "decision": (
        "decision.png",
        "Mass of each route's best design, finished and before machining (outlined), its dates"
        " against the outage, and its cost with the expected cost of lateness.",
    ),
}
LIFE = (
    "Lives, intervals and dates follow from the duty, flaws and days that the parameter files assume; "
    "they are for review, not a release."
)


def named(column: str) -> str:
    """The head of a column, in words where its name alone says too little."""
    return HEADS.get(column) or header(column)


def step_section(tables: Tables, title: str, place: str, missing: str) -> str:
    """A section with the tables of `place`, or the sentence `missing` where there are none."""
    paths = {path.stem: path for path in tables.extra(place)}
    body = []
    for stem, (named, columns) in PLAN.items():
        if stem in paths:
            body += [
                heading(named, 2),
                *why(paths[stem]),
                whole(paths[stem], columns.split(), tables.arm.units),
                *kept(paths[stem], tables.arm.units),
                *beside(paths[stem], tables.arm.units),
                *shown(paths[stem]),
            ]
    return "\n".join([heading(title), *([paragraph(LIFE), *body] if body else [paragraph(missing)])])


def of_plan(path: Path) -> list[Row]:
    """The rows of a table that stand in the record; other ways to order have a table of their own."""
    rows, kinds = read_csv(path), ONLY.get(path.stem)
    return [row for row in rows if row[kinds[0]] in kinds[1]] if kinds else rows


def kept(path: Path, units: System) -> list[str]:
    """The arm in service, kept until this outage or the next, below the decision."""
    rows = [row for row in read_csv(path) if row.get("kind") == "keep"] if path.stem == "decision" else []
    return [heading("The arm in service kept", 3), laid(rows, KEPT.split(), path.name, units)] if rows else []


def beside(path: Path, units: System) -> list[str]:
    """The second table from a file, where it has one."""
    title, text, columns = BESIDE.get(path.stem, ("", "", ""))
    rows = [row for row in read_csv(path) if any(row.get(name) for name in RUBBED)]
    return (
        [heading(title, 3), paragraph(text), laid(rows, columns.split(), path.name, units)]
        if title and rows
        else []
    )


def shown(path: Path) -> list[str]:
    """The picture of a table, where it was drawn: in `pictures` beside it, or beside it."""
    name, caption = SHOWN.get(path.stem, ("", ""))
    drawn = name and any((folder / name).exists() for folder in (path.parent / "pictures", path.parent))
    return [picture(name, caption)] if drawn else []


def bores(tables: Tables) -> str:
    return step_section(tables, *BORES)


def making(tables: Tables) -> str:
    return step_section(tables, *MAKING)


def whole(path: Path, wanted: Sequence[str] = (), units: System = "si") -> str:
    """A table, or the wanted columns of it, in the shape that fits the page."""
    return laid(of_plan(path), wanted, path.name, units)


def laid(every: Sequence[Row], wanted: Sequence[str], file: str, units: System) -> str:
    """The wanted columns of these rows of `file`, all where none are named."""
    picked = [in_words(row) for row in chosen(every)]
    if not picked:
        return note(f"{len(every)} rows: {file}." if every else "None.")
    kept = [{name: row[name] for name in wanted or row if name in row} for row in picked]
    shown = with_units(in_units(kept, units))
    same, varying = same_and_varying(shown, [name for name in shown[0] if name != STANDING])
    once = [f"{named(name)} {cell_text(name, shown[0][name]).rstrip('.')}" for name in same if shown[0][name]]
    turn = rows_as_columns(shown, varying, WIDE)
    rest = f"{len(every) - len(shown)} more rows: {file}." if len(every) > len(shown) else ""
    return "\n".join(
        [
            *([note(f"In every row: {'; '.join(once)}.")] if once else []),
            turned(varying, shown) if turn else upright(varying, shown, file),
            *([note(rest)] if rest else []),
        ]
    )


def chosen(rows: Sequence[Row]) -> Sequence[Row]:
    """Those of the least margins, where a column says so; else all of a table that is not too long, or none."""
    if rows and "margin" in rows[0] and len(rows) > MOST_USED:
        return sorted(rows, key=used)[:MOST_USED]
    return rows if len(rows) <= MOST else []


def used(row: Row) -> float:
    """By what a row of a table with margins stands in its order: the margin, the less favourable where it has not settled."""
    return float(row["margin"] or row.get("margin_least") or "inf")


def upright(columns: list[str], rows: list[Row], file: str) -> str:
    """Numbers to the right, long text in what width is left, notes by number below; smaller type for many columns."""
    left_out, notes = columns[COLUMNS:], list(dict.fromkeys(row[NOTE] for row in rows if row.get(NOTE)))
    columns = [name for name in columns[:COLUMNS] if name != NOTE] + ([NOTE] if notes else [])
    sides = "".join(side(rows, name) for name in columns)
    cells = [[cell(row, name, notes) for name in columns] for row in rows]
    size = 8.0 if len(columns) <= 8 else 7.0
    kept = [name for name in left_out if name != NOTE]
    return "\n".join(
        [
            table([named(name) for name in columns], cells, sides, size=size),
            *(note(f"Note {index}: {cell_text}") for index, cell_text in enumerate(notes, 1)),
            *([note(f"Further columns in {file}: {', '.join(map(named, kept))}.")] if kept else []),
        ]
    )


def cell(row: Row, column: str, notes: list[str]) -> str:
    """A number at sensible digits, text as it is, a note as its number."""
    if column == NOTE:
        return str(notes.index(row[NOTE]) + 1) if row[NOTE] else ""
    return cell_text(column, row[column])


def cell_text(column: str, value: str) -> str:
    """A cell as it is printed: margins and chances in percent, numbers at sensible digits, names of places as words."""
    if value and is_number(value) and is_chance(column):
        return chance(float(value))
    if value and is_number(value) and column.endswith("margin"):
        return percent(value, 1, none="")
    return words(value) if column in PLACES else number(value)


def turned(columns: list[str], rows: list[Row]) -> str:
    """Each row as a column, under its first cell."""
    cells = [[named(name), *(cell_text(name, row[name]) for row in rows)] for name in columns[1:]]
    return table(
        [named(columns[0]), *(row[columns[0]] for row in rows)], cells, "l" + "w" * len(rows), size=7.5
    )


def side(rows: list[Row], column: str) -> str:
    if column == NOTE or all(is_number(row[column]) for row in rows):
        return "r"
    return "w" if any(len(row[column]) > 24 for row in rows) else "l"


def is_number(cell: str) -> bool:
    try:
        float(cell or 0.0)
    except ValueError:
        return False
    return True
