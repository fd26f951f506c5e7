"""Whether figures of cracks have settled: each computed from the stresses of the contact on two meshes, side by side.

The path of a crack is the same on both; stress along it, and all that follows, is that of each mesh. A figure that moves by more
than its allowance from the coarser mesh to the finer is left out, both values are told, and what is built on it goes on with the
less favourable (`NAME_least`). The others have a band (`elastic.richardson`, two meshes).

Allowances are our own limits: lives and intervals 10 %; sizes, stress intensities, stresses and load factor 5 %; a chance two
hundredths, not a share of it: a chance near 1 hardly moves and its complement always does, decisions show whole percents, and two
are three times the 95 % interval of 20 000 samples at worst.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from analysis.elastic.richardson import band
from analysis.fatigue.outside import ONE_MESH
from analysis.fatigue.settled import MESHES
from params.steps.out_of_range import NOT_SETTLED, STATUS, joined

LIVES, SIZES, CHANCE = 0.10, 0.05, 0.02
UNITS = ("unit", "stress_unit", "toughness_unit")  # columns that name a unit
Row = dict[str, Any]
Values = list[float | None]


@dataclass(frozen=True)
class Rule:
    """How a figure is followed: what it may move by, its unit or one of `UNITS`, whether less of it is worse, what goes with
    it, whether it is told in full."""

    allowed: float
    unit: str = ""
    share: bool = True  # of the finer mesh's value; else absolute
    worse: Callable[..., Any] = min
    rests: tuple[str, ...] = ()
    full: bool = False


CRACK = {
    "years": Rule(LIVES, "years", rests=("cycles", "lasts_to"), full=True),
    "load_factor": Rule(SIZES, full=True),
    "chance_at_outage": Rule(CHANCE, share=False, full=True),
    "chance_at_next_outage": Rule(CHANCE, share=False, full=True),
    "Kr": Rule(SIZES, worse=max, rests=("Kr_factored", "holds_factored")),
    "Lr": Rule(SIZES, worse=max, rests=("Lr_factored", "holds_factored")),
    "K_range": Rule(SIZES, "toughness_unit", worse=max),
    "K_highest": Rule(SIZES, "toughness_unit", worse=max),
    "range": Rule(SIZES, "stress_unit", worse=max),
    "highest": Rule(SIZES, "stress_unit", worse=max),
}
ALIKE = (
    "load_factor",
    "Kr",
    "Lr",
    "K_range",
    "K_highest",
)  # of one stress field: they share the widest band of theirs
LOOK = {
    "acceptable_depth": Rule(SIZES, "unit", rests=("acceptable_length",), full=True),
    "critical_depth": Rule(SIZES, "unit", rests=("critical_length",), full=True),
    "interval_years": Rule(LIVES, "years", rests=("life_years",), full=True),
}


def columns(rules: Mapping[str, Rule]) -> tuple[str, ...]:
    """The columns that these rules add to a table."""
    ends = {True: ("by_mesh", "band_percent", "least"), False: ("band_percent",)}
    return ("settled", *(f"{name}_{end}" for name, rule in rules.items() for end in ends[rule.full]))


def beside(
    row: Row,
    other: Row | None,
    rules: Mapping[str, Rule],
    sizes: list[float],
    floors: Mapping[str, float] | None = None,
) -> Row:
    """A row of the finer mesh with what the coarser one's row says; element sizes there on both, mm, the coarser first. `floors`
    are the least bands of figures, percent."""
    if other is None:
        known = {f"{name}_least": row.get(name) for name, rule in rules.items() if rule.full}
        return row | known | {"settled": ONE_MESH}
    result, moved, answers = dict(row), [], False
    for name, rule in rules.items():
        values = [value(one.get(name)) for one in (other, row)]
        if values == [None, None]:
            continue
        words = both(values, rule, row[rule.unit] if rule.unit in UNITS else rule.unit)
        if rule.full:
            present = [one for one in values if one is not None]
            result |= {f"{name}_by_mesh": words, f"{name}_least": rule.worse(present)}
        if steady(values, rule):
            own, least = banded(sizes, values, rule), (floors or {}).get(name, 0.0)
            result[f"{name}_band_percent"] = None if own is None else max(own, least)
            continue
        answers |= rule.full
        moved.append(f"{name.replace('_', ' ')} {NOT_SETTLED}: {words}")
        result |= dict.fromkeys((name, *(one for one in rule.rests if one in row)), "")
    wide = [result[name] for name in (f"{one}_band_percent" for one in ALIKE) if result.get(name)]
    result |= {
        f"{one}_band_percent": max(wide) for one in ALIKE if wide and result.get(f"{one}_band_percent")
    }
    result["settled"] = "no" if moved else "yes"
    if answers and result["status"] != STATUS:
        result["status"] = NOT_SETTLED
    return result | {"note": joined(*moved, result.get("note", ""))}


def least_bands(stress: float) -> dict[str, float]:
    """Least bands of flaws in a surface whose stress has this band, percent: the size that a toughness or threshold bears goes with
    the stress to the power -2, the years of a crack of given size with about -3 (the law's exponent for steel in air)."""
    sizes = dict.fromkeys(("acceptable_depth", "critical_depth"), 2.0 * stress)
    return sizes | {"interval_years": 3.0 * stress}


def value(cell: Any) -> float | None:
    return None if cell is None or cell == "" else float(cell)


def steady(values: Values, rule: Rule) -> bool:
    """Whether the last of two values differs from the first by no more than is allowed; both endless is steady."""
    first, last = values
    if first is None or last is None:
        return False
    if first == last:
        return True
    whole = abs(last) if rule.share else 1.0
    return math.isfinite(first) and math.isfinite(last) and abs(last - first) <= rule.allowed * whole


def banded(sizes: list[float], values: Values, rule: Rule) -> float | None:
    """Band of the last of two steady values in percent of it, of a chance in points; None where they have no end."""
    known = [one for one in values if one is not None]
    if not math.isfinite(known[-1]):
        return None
    share = band(sizes, known).band or 0.0
    return 100.0 * share * (1.0 if rule.share else known[-1])


def both(values: Values, rule: Rule, unit: str = "") -> str:
    """Both values in words, the coarser mesh first."""
    first, last = (shown(one, rule, unit) for one in values)
    return f"{first} {MESHES[0]}, {last} {MESHES[1]}"


def shown(one: float | None, rule: Rule, unit: str) -> str:
    if one is None:
        return "none"
    if not math.isfinite(one):
        return "no end"
    return f"{one:.4g} {unit}".rstrip() if rule.share else f"{100.0 * one:.1f} %"


def joined_rows(
    own: Iterable[Row],
    others: Iterable[Row],
    key: str,
    name: str,
    rule: Rule,
) -> Iterator[Row]:
    """Rows of a curve built on a figure, by `key`: where `name` has moved those of the less favourable mesh, and the word."""
    before = {one[key]: one for one in others}
    for row in own:
        other = before.get(row[key])
        if other is None:
            yield row | {"settled": "no"}
            continue
        values = [value(one[name]) for one in (other, row)]
        worst = row
        if not steady(values, rule) and None not in values and rule.worse(values) == values[0]:
            worst = other
        yield worst | {
            "settled": "yes" if steady(values, rule) or values == [None, None] else "no",
            f"{name}_by_mesh": both(values, rule, rule.unit),
        }


def less_favourable(row: Row, other: Row) -> bool:
    """Whether the coarser mesh's row gives the found crack fewer years, or at as many a smaller chance."""
    first, last = ([value(one.get(name)) for name in ("years", "chance_at_outage")] for one in (other, row))
    pairs = [(a, b) for a, b in zip(first, last, strict=True) if a is not None and b is not None and a != b]
    return bool(pairs) and pairs[0][0] < pairs[0][1]


def followed(
    own: Sequence[tuple[Row, list[Row], list[Row], list[Row]]],
    others: Sequence[tuple[Row, list[Row], list[Row], list[Row]]] | None,
    sizes: list[float],
) -> Iterator[tuple[Row, list[Row], list[Row], list[Row]]]:
    """What `found_table.follow` gives on the finer mesh, with that on the coarser beside it."""
    if others is None or len(others) != len(own):
        refused = "" if others is None else f"{NOT_SETTLED}: {STATUS} on one of two meshes alone"
        word = {"settled": "no" if refused else ONE_MESH}
        for row, *tables in own:
            alone = beside(row, None, CRACK, sizes) | word | {"note": joined(refused, row.get("note", ""))}
            yield alone, *([one | word for one in rows] for rows in tables)  # type: ignore[misc]
        return
    for (row, grown, chances, limits), (other, grown_there, chances_there, limits_there) in zip(
        own, others, strict=True
    ):
        told = beside(row, other, CRACK, sizes)
        moved = told.get("years") == "" and row.get("years") is not None
        worse = moved and less_favourable(row, other)
        if worse:
            told["end"] = other["end"]
        path = grown_there if worse and grown_there else grown
        yield (
            told,
            [one | {"settled": "no" if moved else "yes"} for one in path],
            list(joined_rows(chances, chances_there, "month", "chance", CRACK["chance_at_outage"])),
            list(joined_rows(limits, limits_there, "load_percent", "years", CRACK["years"])),
        )
