"""Rules across the fields of a parameter file: what cannot be built, cannot move, or contradicts itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from params.rules.bores import fitting
from params.rules.build import LEAST_LIGAMENT, building, length
from params.rules.cracks import cracking
from params.rules.move import moving
from params.rules.revised import revising
from params.rules.sweep import sweeping
from params.schema.arm import Arm, LoadCase
from params.steps.problems import Fault, Key

__all__ = ["LEAST_LIGAMENT", "broken_rules"]
UNLOADED = "unloaded"  # usual name of the case without the load


def broken_rules(arm: Arm, known: dict[str, list[str]] | None) -> list[Fault]:
    """Every rule that the arm breaks; `known` has the names of the library's files by kind, None where they were checked before."""
    faults = [*building(arm), *moving(arm), *_cases(arm), *_duty(arm), *sweeping(arm), *revising(arm)]
    faults += [*fitting(arm), *cracking(arm.found_cracks, arm.cracks, arm)]
    return faults + list(unknown(arm, known)) if known else faults


def unknown(arm: Arm, known: dict[str, list[str]]) -> Iterator[Fault]:
    """Names of library files that are nowhere, or twice in a list."""
    yield from _names(("material",), (arm.material,), known["materials"], "material")
    yield from _names(("routes",), arm.routes or (), known["routes"], "route")
    routes = list(arm.routes or known["routes"])
    yield from _names(("route",), (arm.route,) if arm.route else (), routes, "route")
    yield from _names(("outage",), (arm.outage,) if arm.outage else (), known["outages"], "outage")
    old = arm.cracks.old_arm if arm.cracks else None
    if old:
        yield from _names(("cracks", "old_arm", "material"), (old.material,), known["materials"], "material")


def _names(key: Key, wanted: Iterable[str], known: list[str], kind: str) -> Iterator[Fault]:
    """Names of files that are not there, or twice in a list."""
    for name, times in Counter(wanted).items():
        if name not in known:
            wrong, limit = (
                f"is not the name of {'an' if kind == 'outage' else 'a'} {kind} file",
                f"one of {', '.join(known)}",
            )
            yield Fault(key, name, wrong, limit, "write one of them or add a file")
        if times > 1:
            yield Fault(key, name, f"is listed {times} times", "each name once", "remove one")


def _cases(arm: Arm) -> Iterator[Fault]:
    most = 0.5 * min(arm.geometry.input.width, arm.geometry.output.width)
    for name, case in arm.load_cases.items():
        key: Key = ("load_cases", name)
        yield from _fields_of_kind(case, key)
        if abs(case.eccentricity) > most:
            limit = f"at most {length(most, arm.units)} (half the width)"
            value = length(case.eccentricity, arm.units)
            yield Fault((*key, "eccentricity"), value, "lies outside the boss", limit, "check it")


def _fields_of_kind(case: LoadCase, key: Key) -> Iterator[Fault]:
    wrong = f"is not used with kind {case.kind}"
    if case.kind == "blocked" and case.push is None:
        yield Fault(
            (*key, "push"), "", "is missing", "a blocked case needs extend or retract", "add push: extend"
        )
    if case.kind != "blocked" and case.push is not None:
        yield Fault((*key, "push"), case.push, wrong, "only blocked cases have it", "remove it")
    idle = {  # key: what a kind of case that cannot use it must leave it at, why, and which kinds these are
        "load_factor": (1.0, "the load follows from the relief pressure", ("blocked",)),
        "shock_factor": (1.0, "pressure above relief is overshoot_factor", ("blocked",)),
        "overshoot_factor": (1.0, "only blocked cases stand at relief pressure", ("raise", "lower", "hold")),
        "friction": (0.0, "only 0, the arm stands still", ("hold", "blocked")),
    }
    for field, (nothing, limit, kinds) in idle.items():
        value = getattr(case, field)
        if case.kind in kinds and value != nothing:
            yield Fault((*key, field), f"{value:g}", wrong, limit, "remove it")


def _duty(arm: Arm) -> Iterator[Fault]:
    for index, pair in enumerate(arm.duty.pairs):
        key: Key = ("duty", "pairs", index)
        for end in ("from_case", "to_case"):
            name = getattr(pair, end)
            if name not in arm.load_cases:
                limit = f"one of {', '.join(arm.load_cases)}"
                mend = "name one of them or add the case"
                if name == UNLOADED:
                    mend = (
                        f"add {UNLOADED}: {{kind: hold, load_factor: 0}} to load_cases: the arm's own weight"
                    )
                yield Fault((*key, end), name, "is not a load case of this file", limit, mend)
        if pair.from_case == pair.to_case:
            wrong, mend = "is the case the cycle starts from", "name the other end of the cycle"
            yield Fault((*key, "to_case"), pair.to_case, wrong, "two different cases", mend)
