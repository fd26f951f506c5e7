"""Rows on found cracks: how long each lasts, how it grows, its chance of lasting, the share of its loads that it carries."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.fracture import found as words
from analysis.fracture.bodies import Body
from analysis.fracture.charpy import counts
from analysis.fracture.driven import Driven
from analysis.fracture.flaws import Place, Steel, service_of
from analysis.fracture.growth import MOST_RATIO, Service, combined, swing, use
from analysis.fracture.load_limit import load_limits
from analysis.fracture.loads import Loads, shown_toughness, steel_of, tough
from analysis.fracture.partial_factors import factored, partial_factors
from analysis.fracture.remaining import Remaining, remaining_life
from analysis.fracture.residual import UNSAID, Case, cases
from analysis.fracture.settled import CRACK, columns
from analysis.fracture.survival import DAYS, Survival, survival
from analysis.tables.files import known
from analysis.tables.names import names
from params.files.readroute import outage_of
from params.rules.cracks import bore_of
from params.schema.arm import Arm
from params.schema.cracks import Cracks, FoundCrack
from params.schema.schedule import next_window
from params.schema.units import outside, shown_unit
from params.steps.out_of_range import NOT_SETTLED, STATUS, joined, or_reason, out_of_range
from params.steps.problems import OutOfRange

Floats = NDArray[np.float64]
Rows = list[dict[str, Any]]
# Of cracks.csv (one), growth.csv, survival.csv and load-limit.csv.
Followed = tuple[dict[str, Any], Rows, Rows, Rows]
DISPROVED = "the duty's own cycles break this crack, yet the arm has carried them: size, residual stress, toughness or loads differ"
FACTOR = 2.0  # on life, where the file has no inspection
HORIZON = 500.0  # years that a crack is followed
CRACK_COLUMNS = [
    *names(
        "crack arm material region shape length depth length_unit angle_deg found residual "
        "residual_stress governs range highest stress_unit K_range ratio K_highest K_residual charpy "
        "charpy_counted energy_unit toughness toughness_unit Kr Lr Kr_factored Lr_factored holds_factored "
        "load_factor cycles years lasts_to end outage chance_at_outage beyond_range_at_outage "
        "next_outage chance_at_next_outage status note"
    ),
    *columns(CRACK),
]
GROWTH_COLUMNS = ("crack", "residual", "governs", "years", "date", "size", "value", "unit", "settled")
SURVIVAL_COLUMNS = (
    "crack",
    "residual",
    "governs",
    "month",
    "date",
    "chance",
    "least",
    "most",
    "beyond_range",
    "settled",
    "chance_by_mesh",
)
LIMIT_COLUMNS = names(
    "crack residual governs load_percent years factor_on_life until end settled years_by_mesh"
)


def found_place(held: Loads, crack: FoundCrack) -> tuple[Place, Driven, float | None]:
    """Body of a found crack, what drives it, and its angle about the bore in degrees."""
    wall = bore_of(crack.region, held.arm)
    if wall is not None and crack.region.endswith("_bore"):
        drive, angle = held.at_bore(crack.region, crack.angle, crack.shape in ("corner", "hole-through"))
    else:
        drive, angle = held.in_face(crack.region)[0], None
    body = words.found_body(crack, held.arm, drive.profile)
    return Place(body, (1.0,), drive.blocks, drive.highest, drive.residual), drive, angle


def follow(held: Loads, cracks: Cracks, crack: FoundCrack) -> list[Followed]:
    """Rows of cracks.csv (one), growth.csv, survival.csv and load-limit.csv of a found crack, for each residual stress.

    One that its solution does not hold for has a row without figures, that says why.
    """
    units = held.arm.units
    located, reason = or_reason(units, lambda: found_place(held, crack))
    section = words.section_of(crack, held.arm)
    steel, weak = or_reason(
        units, lambda: steel_of(cracks, held.variant, section.thickness if section else 25.0, units)
    )
    if located is None or steel is None:
        return [(out_of_range(head(held, crack), joined(reason, weak)), [], [], [])]
    rows = []
    for case in cases(held.variant.residual, held.variant.material.yield_strength):
        known = head(held, crack) | of_case(held, case)
        one, reason = or_reason(units, partial(followed, held, cracks, crack, located, steel, case))
        rows.append((out_of_range(known, reason), [], [], []) if one is None else one)
    return rows


def followed(
    held: Loads,
    cracks: Cracks,
    crack: FoundCrack,
    located: tuple[Place, Driven, float | None],
    steel: Steel,
    case: Case,
) -> Followed:
    """The rows for one residual stress; refused where a value is out of its solution's range, but for the chance alone."""
    place, drive, angle = located
    drive = drive.under(case.stress)
    body, service = place.body, service_of(replace(place, residual=drive.residual), steel)
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    lasts = remaining_life(body, sizes, service, crack.found, HORIZON)
    odds, no_chance = None, ""
    if (scatter := cracks.scatter) and (opens := outage_after(held.arm, crack)):
        odds, no_chance = or_reason(
            held.arm.units,
            lambda: survival(
                body,
                sizes,
                service,
                words.scatter_of(scatter),
                crack.found,
                opens,
                following(held.arm),
            ),
        )
    remarks: list[str] = [f"no chance of lasting: {no_chance}"] if no_chance else []
    row = (
        head(held, crack)
        | crack_row(held, cracks, drive, angle, lasts, odds)
        | tough(held, cracks, service.toughness)
        | intensities(held, body, sizes, service)
        | with_factors(cracks, body, sizes, service, remarks)
        | of_case(held, case)
    )
    if service.blocks and use(body, sizes[:, None], service.carried)[2][0] >= 1.0:
        remarks.append(DISPROVED)
    row["note"] = joined(steel.bound, row["note"], *notes(held, cracks, odds), *remarks)
    if steel.bound or no_chance:
        row["status"] = STATUS
    known = {"residual": case.name, "governs": row["governs"]}
    grown = [known | one for one in path_rows(held.arm, crack, body.names, lasts)]
    limits = [known | one for one in limit_rows(cracks, crack, body, service)]
    return row, grown, [known | one for one in chance_rows(crack, odds)], limits


def of_case(held: Loads, case: Case) -> dict[str, Any]:
    """Which residual stress a row stands for, in the arm's units."""
    unit = shown_unit("stress", held.arm.units)
    return {
        "residual": case.name,
        "residual_stress": float(outside(case.stress, unit, "stress")),
        "stress_unit": unit,
        "governs": "yes" if case.governs else "no",
    }


def limit_rows(cracks: Cracks, crack: FoundCrack, body: Body, service: Service) -> Iterator[dict[str, Any]]:
    """Up to which share of its loads, and until when, the arm may run with the crack."""
    factor = cracks.inspection.factor_on_life if cracks.inspection else FACTOR
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    for one in load_limits(body, sizes, service, crack.found, factor, HORIZON):
        yield {
            "crack": crack.name,
            "load_percent": 100.0 * one.share,
            "years": one.years,
            "factor_on_life": factor,
            "until": one.until.isoformat() if one.until else "",
            "end": one.end,
        }


def notes(held: Loads, cracks: Cracks, odds: Survival | None) -> Iterator[str]:
    """What a reader of the row must know."""
    if held.variant.residual is None:
        yield UNSAID
    if counted := counts(
        held.variant.toughness or cracks.toughness, held.variant.material, cracks.coldest, held.arm.units
    ):
        yield counted
    if odds is None:
        return
    if odds.excluded > 0.0:
        share = f"{100.0 * odds.excluded:.3g} %"
        yield f"chance given that it lasted until found: {share} of the samples would not have carried the duty's loads"
    if odds.beyond[-1] > 0.0:
        yield f"{100.0 * odds.beyond[-1]:.3g} % of the samples beyond the range of the solution by the outage, in neither count"


def intensities(held: Loads, body: Body, sizes: Floats, service: Service) -> dict[str, Any]:
    """K at the crack as found, in the arm's units: of the cycle with the largest range, with R there, the highest, the residual."""
    units = held.arm.units
    k = body.influence(sizes[:, None])
    steady = np.broadcast_to(service.steady(k), (len(sizes), 1))[:, 0]
    swings = [[part[:, 0] for part in swing(service, block, k)] for block in service.blocks]
    ends = [(ranges.max(), ratios[np.argmax(ranges)]) for ranges, ratios in swings] or [(0.0, MOST_RATIO)]
    largest, at = max(ends, key=lambda one: one[0])
    highest = combined(service.highest, k).max()
    return {
        "K_range": shown_toughness(largest, units),
        "ratio": float(at),
        "K_highest": shown_toughness(highest, units),
        "K_residual": shown_toughness(steady.max(), units),
    }


def with_factors(
    cracks: Cracks, body: Body, sizes: Floats, service: Service, remarks: list[str]
) -> dict[str, Any]:
    """Kr and Lr with partial factors, and whether they hold; a reason in `remarks` where they cannot be had."""
    said = cracks.partial_factors
    if said is None:
        return {}
    try:
        factors = partial_factors(float(said.chance), said.stress, said.size, said.toughness)
        kr, lr, used = factored(body, sizes, service, factors)
    except OutOfRange as error:
        remarks.append(f"partial factors: {error}")
        return {}
    remarks.append(
        f"partial factors for {said.chance}: stress {factors.stress:g}, size {factors.size:g}, toughness {factors.toughness:g}, "
        f"yield {factors.yield_:g} (BS 7910 Annex K, from memory)"
    )
    return {"Kr_factored": kr, "Lr_factored": lr, "holds_factored": "yes" if used < 1.0 else "no"}


def outage_after(arm: Arm, crack: FoundCrack) -> date | None:
    """First day of the arm's outage; None without an outage, or where it opened before the crack was found."""
    outage = outage_of(arm)
    return outage.opens if outage and outage.opens >= crack.found else None


def following(arm: Arm) -> date | None:
    """First day of the outage after the arm's; None without an outage."""
    outage = outage_of(arm)
    return next_window(outage)[0] if outage else None


def head(held: Loads, crack: FoundCrack) -> dict[str, Any]:
    """What the file says of a found crack."""
    opens = outage_after(held.arm, crack)
    length = shown_unit("length", held.arm.units)
    return {
        "crack": crack.name,
        "arm": held.variant.name,
        "material": held.variant.material.name,
        "region": crack.region,
        "shape": crack.shape,
        "length": float(outside(crack.length, length, "length")),
        "depth": None if crack.depth is None else float(outside(crack.depth, length, "length")),
        "length_unit": length,
        "found": crack.found.isoformat(),
        "outage": opens.isoformat() if opens else "",
        "next_outage": str(following(held.arm) or "") if opens else "",
    }


def crack_row(
    held: Loads,
    cracks: Cracks,
    drive: Driven,
    angle: float | None,
    lasts: Remaining,
    odds: Survival | None,
) -> dict[str, Any]:
    """The answer for one found crack."""
    stress = shown_unit("stress", held.arm.units)
    return {
        "angle_deg": angle,
        "range": float(outside(drive.range, stress, "stress")),
        "status": "ok",
        "highest": float(outside(drive.most, stress, "stress")),
        "stress_unit": stress,
        "Kr": lasts.kr,
        "Lr": lasts.lr,
        "load_factor": lasts.load_factor,
        "cycles": lasts.cycles,
        "years": lasts.years,
        "lasts_to": lasts.day.isoformat() if lasts.day else "",
        "end": lasts.end.value,
        "chance_at_outage": known(float(odds.chance[-1])) if odds else None,
        "beyond_range_at_outage": float(odds.beyond[-1]) if odds else None,
        "chance_at_next_outage": known(odds.later) if odds and odds.later is not None else None,
        "note": f"at the law's {cracks.growth} line, no factor on life; look again before half of it is gone",
    }


def path_rows(
    arm: Arm, crack: FoundCrack, names: tuple[str, ...], lasts: Remaining
) -> Iterator[dict[str, Any]]:
    """How a crack grows: sizes over the years."""
    unit = shown_unit("length", arm.units)
    for years, sizes in zip(lasts.growth.path_years, lasts.growth.path_sizes.T, strict=True):
        day = crack.found + timedelta(days=float(years) * DAYS) if years < 500.0 else None
        for name, size in zip(names, sizes, strict=True):
            shown = float(outside(float(size), unit, "length"))
            yield {
                "crack": crack.name,
                "years": float(years),
                "date": day.isoformat() if day else "",
                "size": name,
                "value": shown,
                "unit": unit,
            }


def chance_rows(crack: FoundCrack, odds: Survival | None) -> Iterator[dict[str, Any]]:
    """The chance of lasting, month by month to the outage."""
    if odds is None:
        return
    for month, day, chance, least, most, beyond in zip(
        odds.months, odds.dates, odds.chance, odds.least, odds.most, odds.beyond, strict=True
    ):
        yield {
            "crack": crack.name,
            "month": int(month),
            "date": day.isoformat(),
            "chance": known(float(chance)),
            "least": known(float(least)),
            "most": known(float(most)),
            "beyond_range": float(beyond),
        }


def in_one_line(row: dict[str, Any]) -> str:
    """A found crack in one line."""
    head = f"crack {row['crack']} ({row['material']})"
    if "years" not in row:
        return f"{head}: {row['status']}, {row['note']}"
    lasts = f"years {NOT_SETTLED} ({row['years_by_mesh']})"
    if row["years"] != "":
        lasts = f"lasts {row['years']:.2g} years" if np.isfinite(row["years"]) else "does not come to an end"
    chance, odds = row["chance_at_outage"], ""
    if chance == "":
        odds = f"{NOT_SETTLED} ({row['chance_at_outage_by_mesh']})"
    elif chance is not None:
        odds = f"{100.0 * chance:.1f} %"
    return f"{head}: {lasts}, {row['end']}" + (
        f"; chance of lasting to {row['outage']} {odds}" if odds else ""
    )
