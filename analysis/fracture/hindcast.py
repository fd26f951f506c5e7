"""When a crack was due, and when it had the size that was found: fatigue to a first crack, then growth, spell by spell.

A first crack of the S-N curves is taken as `FIRST` deep: the specimens behind the curves of smooth steel, 7.6 mm across, break
when it is about that (common practice, no source). Growth counts by the area of the crack; a crack that breaks, or leaves the
range of its solution, before it has that of the found one never becomes it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from analysis.fracture.flaws import service_of
from analysis.fracture.growth import Block, End, Growth, Service, grow, use
from analysis.fracture.growth_law import law_in
from analysis.fracture.loads import steel_of
from analysis.fracture.past import Past
from analysis.fracture.site import Assumed, Site
from analysis.fracture.survival import STEP
from params.rules.cracks import section_of

Floats = NDArray[np.float64]
FIRST = 3.0  # mm
LONGEST = 2000.0  # years that growth is followed


@dataclass(frozen=True)
class Found:
    """Years since the arm went into service at which a crack has the size that was found; infinite where it never has, and why."""

    years: float
    why: str = ""


def due(site: Site, assumed: Assumed, past: Past) -> float:
    """Years since the arm went into service at which fatigue makes a first crack (Miner); infinite without damage."""
    used = 0.0
    for spell in past.spells:
        rate = damage(site, assumed, spell.load * assumed.load) * spell.cycles * assumed.cycles
        if rate > 0.0 and (at := spell.begin + (1.0 - used) / rate) <= spell.end:
            return at
        used += rate * (spell.end - spell.begin) if rate > 0.0 else 0.0
    return math.inf


def damage(site: Site, assumed: Assumed, load: float) -> float:
    """Of a year of the duty under loads so many times its own, on the worst plane of the worst node."""
    law, strength = site.law(assumed), site.variant.material.yield_strength
    total = np.zeros(site.planes.shape[:2])
    most = np.zeros_like(total)
    for often, states in zip(site.per_year, site.states(assumed, load), strict=True):
        across = on_planes(np.einsum("eb,kbc->kec", states, site.stress), site.planes)
        low, high = across.min(axis=1), across.max(axis=1)
        half, mean = 0.5 * (high - low), 0.5 * (high + low)
        mean = mean + np.minimum(assumed.residual, np.maximum(strength - high, 0.0))
        wide = 2.0 * law.rule.equivalent(half, mean)
        total += often / law.curve.cycles(wide)
        most = np.maximum(most, wide)
    return float(np.where(most < law.curve.limit, 0.0, total).max())


def on_planes(stress: Floats, planes: Floats) -> Floats:
    """Normal stress (k, E, P) of stress (k, E, 6) on planes (k, P, 3)."""
    x, y, z = np.moveaxis(planes, 2, 0)
    weights = np.stack([x * x, y * y, z * z, 2.0 * x * y, 2.0 * y * z, 2.0 * z * x], axis=2)
    return np.einsum("kec,kpc->kep", stress, weights)


def service(site: Site, assumed: Assumed, load: float, cycles: float) -> Service:
    """What the crack is asked to bear; the highest states are those that its cycles reach, which the arm has carried."""
    rows = [np.column_stack([states, np.zeros(len(states))]) for states in site.states(assumed, load)]
    blocks = [Block(float(often) * cycles, states) for often, states in zip(site.per_year, rows, strict=True)]
    section = section_of(site.crack, site.arm)
    steel = steel_of(site.cracks, site.variant, section.thickness if section else 25.0, site.arm.units)
    steel = replace(steel, law=law_in(assumed.environment, site.cracks.growth))
    place = replace(
        site.place,
        blocks=blocks,
        highest=np.vstack(rows),
        residual=site.driven.under(assumed.residual).residual,
    )
    return service_of(place, steel)


def becomes(site: Site, assumed: Assumed, past: Past, start: float, since: float = 0.0) -> Found:
    """When a crack of `start` mm in every direction, there from the year `since` on, has the area of the found one."""
    body, wanted = site.place.body, float(np.log(site.sizes).mean())
    sizes = np.full(len(site.sizes), start)
    if math.log(start) >= wanted:
        return Found(since)
    end = End.HORIZON
    for spell in past.after(since):
        asked = service(site, assumed, spell.load * assumed.load, spell.cycles * assumed.cycles)
        grown = grow(body, sizes, asked, horizon=min(spell.end - spell.begin, LONGEST), step=STEP)
        at = when(grown, wanted)
        if at is not None and spell.begin + at <= spell.end:
            return Found(spell.begin + at)
        end = End(str(grown.cause[0]))
        if end in (End.TOUGHNESS, End.COLLAPSE, End.RANGE):
            return Found(math.inf, f"{end.value}, before it is as large as found")
        if math.isfinite(spell.end):
            sizes = grown_to(grown, spell.end - spell.begin)
    why = "is below the threshold and does not grow" if end is End.ARREST else "takes more than 2,000 years"
    return Found(math.inf, why)


def when(grown: Growth, wanted: float) -> float | None:
    """Years at which the mean logarithm of the sizes reaches `wanted`; None where it does not."""
    size = np.log(grown.path_sizes).mean(axis=0)
    return float(np.interp(wanted, size, grown.path_years)) if size[-1] >= wanted else None


def grown_to(grown: Growth, years: float) -> Floats:
    """Sizes (P,) after some years."""
    return np.exp([np.interp(years, grown.path_years, np.log(row)) for row in grown.path_sizes])


def in_all(site: Site, assumed: Assumed, past: Past) -> Found:
    """Years to a first crack by fatigue and from it to the found one."""
    first = due(site, assumed, past)
    if math.isinf(first):
        return Found(first, "no fatigue damage: every range stays below the limit")
    return becomes(site, assumed, past, FIRST, first)


def share_of_diagram(site: Site, assumed: Assumed) -> float:
    """Used share of the failure assessment diagram by the found crack under what its cycles reach."""
    asked = service(site, assumed, assumed.load, 1.0)
    return float(use(site.place.body, site.sizes[:, None], asked)[2][0])


def needed_toughness(site: Site, assumed: Assumed) -> float:
    """Least toughness with which the arm carries the found crack under its duty, N/mm^1.5; infinite where none does."""
    asked = service(site, assumed, assumed.load, 1.0)

    def used(value: float) -> float:
        return float(use(site.place.body, site.sizes[:, None], replace(asked, toughness=value))[2][0])

    low, high = 1.0, 1e6
    if used(high) >= 1.0:
        return math.inf
    while high / low > 1.0001:
        middle = math.sqrt(low * high)
        low, high = (middle, high) if used(middle) >= 1.0 else (low, middle)
    return high


def widest(site: Site, assumed: Assumed) -> tuple[float, float]:
    """Amplitude, MPa, and stress ratio of the cycle with the largest range on any plane where the crack may have begun."""
    ends = [
        on_planes(np.einsum("eb,kbc->kec", states, site.stress), site.planes)
        for states in site.states(assumed, assumed.load)
    ]
    ranges = [np.ptp(one, axis=1) for one in ends]
    cycle = int(np.argmax([one.max() for one in ranges]))
    node, plane = np.unravel_index(int(np.argmax(ranges[cycle])), ranges[cycle].shape)
    values = ends[cycle][node, :, plane] + assumed.residual
    low, high = float(values.min()), float(values.max())
    return 0.5 * (high - low), low / high if high > 0.0 else -1.0
