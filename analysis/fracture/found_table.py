"""Rows on found cracks: how long each lasts, its growth, its chance of lasting."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import numpy as np

from analysis.fracture import found as words
from analysis.fracture.driven import Driven
from analysis.fracture.flaws import Place, service_of
from analysis.fracture.growth import Service
from analysis.fracture.loads import Loads, steel_of, tough
from analysis.fracture.remaining import Remaining, remaining_life
from analysis.fracture.survival import DAYS, Survival, survival
from params.files.readroute import outage_of
from params.rules.cracks import bore_of
from params.schema.arm import Arm
from params.schema.cracks import Cracks, FoundCrack
from params.schema.units import outside, shown_unit
from params.steps.out_of_range import STATUS, joined, or_reason, out_of_range

HORIZON = 500.0  # years that a crack is followed
CRACK_COLUMNS = (
    "crack", "arm", "material", "region", "shape", "length", "depth", "length_unit", "angle_deg", "found", "range", "highest",
    "stress_unit", "ratio", "charpy", "energy_unit", "toughness", "toughness_unit", "Kr", "Lr", "load_factor", "cycles", "years",
    "lasts_to", "end", "outage", "chance_at_outage", "status", "note",
)  # fmt: skip
GROWTH_COLUMNS = ("crack", "years", "date", "size", "value", "unit")
SURVIVAL_COLUMNS = ("crack", "month", "date", "chance", "least", "most")


def found_service(
    held: Loads, cracks: Cracks, crack: FoundCrack
) -> tuple[Any, Service, Driven, float | None, str]:
    """Body and service of a found crack, what drives it, its angle about the bore in degrees, and the bound of its toughness."""
    wall = bore_of(crack.region, held.arm)
    if wall is not None and crack.region.endswith("_bore"):
        drive, angle = held.at_bore(crack.region, crack.angle, crack.shape in ("corner", "hole-through"))
    else:
        drive, angle = held.in_face(crack.region)[0], None
    section = words.section_of(crack, held.arm)
    steel = steel_of(cracks, held.variant, section.thickness if section else 25.0, held.arm.units)
    place = Place(
        words.found_body(crack, held.arm, drive.profile), (1.0,), drive.blocks, drive.peak, drive.residual
    )
    return place.body, service_of(place, steel), drive, angle, steel.bound


Followed = tuple[dict[str, Any], list[dict[str, Any]], list[dict[str, Any]]]


def judged(held: Loads, cracks: Cracks, crack: FoundCrack) -> Followed:
    """The same, refused where a value is out of its solution's range; the chance alone may be missing, with the reason."""
    body, service, drive, angle, bound = found_service(held, cracks, crack)
    sizes = words.sizes_of(crack.shape, crack.length, crack.depth)
    lasts = remaining_life(body, sizes, service, crack.found, HORIZON)
    chances, no_chance = None, ""
    if (scatter := cracks.scatter) and (opens := outage_after(held.arm, crack)):
        chances, no_chance = or_reason(
            held.arm.units,
            lambda: survival(body, sizes, service, words.scatter_of(scatter), crack.found, opens),
        )
    row = (
        head(held, cracks, crack)
        | crack_row(held, cracks, drive, angle, lasts, chances)
        | tough(held, cracks, service.toughness)
    )
    if bound or no_chance:
        row |= {"status": STATUS, "note": joined(bound, no_chance, row["note"])}
    return row, list(path_rows(held.arm, crack, body.names, lasts)), list(chance_rows(crack, chances))


def follow(held: Loads, cracks: Cracks, crack: FoundCrack) -> Followed:
    """Rows of cracks.csv (one), growth.csv and survival.csv of a found crack.

    One that its solution does not hold for has a row without figures, that says why.
    """
    made, reason = or_reason(held.arm.units, lambda: judged(held, cracks, crack))
    return (out_of_range(head(held, cracks, crack), reason), [], []) if made is None else made


def outage_after(arm: Arm, crack: FoundCrack) -> date | None:
    """First day of the arm's outage; None without an outage, or where it opened before the crack was found."""
    outage = outage_of(arm)
    return outage.opens if outage and outage.opens >= crack.found else None


def head(held: Loads, cracks: Cracks, crack: FoundCrack) -> dict[str, Any]:
    """What the file says of a found crack."""
    opens = outage_after(held.arm, crack)
    length = shown_unit("length", held.arm.units)
    return {
        "crack": crack.name, "arm": held.variant.name, "material": held.variant.material.name, "region": crack.region,
        "shape": crack.shape, "length": float(outside(crack.length, length, "length")),
        "depth": None if crack.depth is None else float(outside(crack.depth, length, "length")), "length_unit": length,
        "found": crack.found.isoformat(), "outage": opens.isoformat() if opens else "",
    }  # fmt: skip


def crack_row(
    held: Loads, cracks: Cracks, drive: Driven, angle: float | None, lasts: Remaining, chances: Survival | None
) -> dict[str, Any]:  # fmt: skip
    """The answer for one found crack."""
    stress = shown_unit("stress", held.arm.units)
    return {
        "angle_deg": angle, "range": float(outside(drive.range, stress, "stress")), "status": "ok",
        "highest": float(outside(drive.most, stress, "stress")), "stress_unit": stress, "ratio": drive.ratio,
        "Kr": lasts.kr, "Lr": lasts.lr, "load_factor": lasts.load_factor, "cycles": lasts.cycles, "years": lasts.years,
        "lasts_to": lasts.day.isoformat() if lasts.day else "", "end": lasts.end.value,
        "chance_at_outage": float(chances.chance[-1]) if chances else None,
        "note": f"at the law's {cracks.growth} line, no factor on life; look again before half of it is gone",
    }  # fmt: skip


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
                "crack": crack.name, "years": float(years), "date": day.isoformat() if day else "", "size": name,
                "value": shown, "unit": unit,
            }  # fmt: skip


def chance_rows(crack: FoundCrack, made: Survival | None) -> Iterator[dict[str, Any]]:
    """The chance of lasting, month by month to the outage."""
    if made is None:
        return
    for month, day, chance, least, most in zip(
        made.months, made.dates, made.chance, made.least, made.most, strict=True
    ):
        yield {
            "crack": crack.name, "month": int(month), "date": day.isoformat(), "chance": float(chance),
            "least": float(least), "most": float(most),
        }  # fmt: skip


def told(row: dict[str, Any]) -> str:
    """A found crack in one line."""
    if "years" not in row:
        return f"crack {row['crack']} ({row['material']}): {row['status']}, {row['note']}"
    lasts = f"lasts {row['years']:.2g} years" if np.isfinite(row["years"]) else "does not come to an end"
    chance = row["chance_at_outage"]
    odds = "" if chance is None else f"; chance of lasting to {row['outage']} {100.0 * chance:.1f} %"
    return f"crack {row['crack']} ({row['material']}): {lasts}, {row['end']}{odds}"
