"""Rules across the fields of the section `bores:`: one fit of two, one weld class of two, names that
exist.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from params.schema.arm import Arm
from params.schema.bores import BoreFit, Bores, MeasuredFit, Sizes, Weld
from params.schema.fitclass import gap
from params.schema.units import System, show
from params.schema.weldclasses import CATEGORIES
from params.steps.problems import Fault, Key

MOST_OFF = 0.01  # measured size against the arm's bore: more is another bore (common practice, no source)


def fitting(arm: Arm) -> Iterator[Fault]:
    """Every rule that the section `bores:` breaks, where the arm has one."""
    bores = arm.bores
    if bores is None:
        return
    for name, fit in bores.fits.items():
        yield from _fit(fit, ("bores", "fits", name), getattr(arm.geometry, name).bore, arm.units)
    for index, weld in enumerate(bores.welds):
        yield from _weld(weld, ("bores", "welds", index), arm)
    yield from _surfaces(bores)
    yield from _fretting(bores)
    yield from _histories(bores, arm)


def _fit(fit: BoreFit, key: Key, bore: float, units: System) -> Iterator[Fault]:
    seat = fit.bush.inside if fit.bush else bore
    yield from _sizes(fit.fit, (*key, "fit"), seat, units)
    if fit.compare:
        yield from _sizes(fit.compare, (*key, "compare"), seat, units)
    if fit.bush:
        yield from _sizes(fit.bush.fit, (*key, "bush", "fit"), bore, units)
        if fit.bush.inside >= bore:
            value, limit = show(fit.bush.inside, "length", units), f"below {show(bore, 'length', units)}"
            yield Fault((*key, "bush", "inside"), value, "leaves no wall for the bush", limit, "check it")
    if fit.shaft.inside >= seat:
        value, limit = show(fit.shaft.inside, "length", units), f"below {show(seat, 'length', units)}"
        yield Fault((*key, "shaft", "inside"), value, "leaves no wall for the shaft", limit, "check it")
    if fit.friction.least > fit.friction.most:
        value, limit = f"{fit.friction.least:g}", f"at most {fit.friction.most:g}"
        yield Fault(
            (*key, "friction", "least"), value, "is more than the most friction", limit, "swap the two"
        )
    if fit.service[0] > fit.service[1]:
        value = show(fit.service[0], "temperature", units)
        yield Fault((*key, "service"), value, "is warmer than the second", "coldest first", "swap the two")
    yield from _assembly(fit, (*key, "assembly"), units)


def _assembly(fit: BoreFit, key: Key, units: System) -> Iterator[Fault]:
    room, cold = fit.assembly.room, fit.assembly.cooled_shaft
    limit = f"at most {show(room, 'temperature', units)}, the room"
    if cold is not None and cold > room:
        value = show(cold, "temperature", units)
        yield Fault(
            (*key, "cooled_shaft"), value, "is not colder than the room", limit, "check it or remove it"
        )
    if fit.assembly.hub_limit <= room:
        value, least = show(fit.assembly.hub_limit, "temperature", units), show(room, "temperature", units)
        yield Fault(
            (*key, "hub_limit"),
            value,
            "does not allow any heating",
            f"more than {least}, the room",
            "check it",
        )


def _sizes(sizes: Sizes, key: Key, nominal: float, units: System) -> Iterator[Fault]:
    """One of fit and measured, and what the standard or the arm's bore says to it."""
    if (sizes.fit is None) == (sizes.measured is None):
        wrong = "has both fit and measured" if sizes.fit else "has neither fit nor measured"
        yield Fault(key, "", wrong, "one of the two", "write one")
        return
    if sizes.fit:
        for wanted in (sizes.fit.hole, sizes.fit.shaft):
            if missing := gap(wanted, nominal):
                value = f"{sizes.fit} at {show(nominal, 'length', units)}"
                yield Fault(
                    (*key, "fit"), value, f"has no limits for {wanted}", missing, "choose another fit"
                )
        return
    yield from _measured(sizes.measured, (*key, "measured"), nominal, units)


def _measured(sizes: MeasuredFit | None, key: Key, nominal: float, units: System) -> Iterator[Fault]:
    for name in ("bore", "shaft"):
        value = getattr(sizes, name)
        if abs(value - nominal) > MOST_OFF * nominal:
            limit = f"within 1 % of {show(nominal, 'length', units)}"
            wrong = "differs too much from the arm's bore"
            yield Fault((*key, name), show(value, "length", units), wrong, limit, "check both sizes")


def _weld(weld: Weld, key: Key, arm: Arm) -> Iterator[Fault]:
    if (weld.category is None) == (weld.fat is None):
        wrong = "has both category and fat" if weld.category else "has neither category nor fat"
        limit = f"one of the two; categories {', '.join(map(str, CATEGORIES))}"
        yield Fault(key, "", wrong, limit, "write one")
    if (weld.arm is None) != (weld.station is None):
        yield Fault(key, "", "has only one of arm and station", "both or none", "add the other")
    if weld.arm and weld.station:
        most = arm.geometry.input_arm if weld.arm == "input" else arm.geometry.output_arm
        if weld.station > most:
            value, limit = (
                show(weld.station, "length", arm.units),
                f"at most {show(most, 'length', arm.units)}",
            )
            yield Fault((*key, "station"), value, "lies beyond the pin", limit, "check it")


def _surfaces(bores: Bores) -> Iterator[Fault]:
    for region, times in Counter(surface.region for surface in bores.surfaces).items():
        if times > 1:
            index = [surface.region for surface in bores.surfaces].index(region)
            key: Key = ("bores", "surfaces", index, "region")
            yield Fault(key, region, f"is listed {times} times", "once", "keep one")


def _fretting(bores: Bores) -> Iterator[Fault]:
    factor = bores.fretting
    if factor and not factor.least <= factor.used <= factor.most:
        limit = f"between {factor.least:g} and {factor.most:g}"
        yield Fault(
            ("bores", "fretting", "used"), f"{factor.used:g}", "is out of its range", limit, "check it"
        )


def _histories(bores: Bores, arm: Arm) -> Iterator[Fault]:
    for index, history in enumerate(bores.histories):
        key: Key = ("bores", "histories", index)
        for end in ("from_case", "to_case"):
            name = getattr(history, end)
            if name not in arm.load_cases:
                limit = f"one of {', '.join(arm.load_cases)}"
                yield Fault(
                    (*key, end),
                    name,
                    "is not a load case of this file",
                    limit,
                    "name one of them or add the case",
                )
        if history.from_case == history.to_case:
            wrong, mend = "is the case at which the signal is 0", "name the other end"
            yield Fault((*key, "to_case"), history.to_case, wrong, "two different cases", mend)
