"""What of an arm's file is the part: the values in which a chosen design differs from it, put into its text."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from analysis.adopt.choice import Refused
from params.files.messages import fields_at
from params.files.spliced import with_item, with_value, without
from params.schema.arm import Arm
from params.steps.problems import Key

PART = ("geometry", "material", "route", "criteria", "load_cases", "bores", "cracks")
OLD_ARM: Key = ("cracks", "old_arm")  # the part that is replaced; stays as it is
CLOSE = 1e-6  # of a size, relative: a table keeps six digits
GONE = object()  # in place of the value of a key that a design has not


@dataclass(frozen=True)
class Change:
    """One value that differs."""

    key: Key
    before: Any  # GONE: was not there
    now: Any  # GONE: is not there any more


def differences(old: Any, new: Any, was: Any, now: Any, *, key: Key = ()) -> Iterator[Change]:
    """Values of two parameter files that differ; `was` and `now` are what both mean, in internal units."""
    if key == OLD_ARM or (len(key) == 1 and key[0] not in PART):
        return
    if isinstance(old, dict) and isinstance(new, dict):
        for name in [*old, *(name for name in new if name not in old)]:
            inner = (*key, name)
            yield from differences(*(within(one, name) for one in (old, new, was, now)), key=inner)
    elif isinstance(old, list) and isinstance(new, list) and old and new:
        for index in range(max(len(old), len(new))):
            yield from differences(*(within(one, index) for one in (old, new, was, now)), key=(*key, index))
    elif not same(was, now):
        yield Change(key, old, new)


def within(meaning: Any, name: Any) -> Any:
    """What is below a key or at a place of a list; GONE where nothing is."""
    try:
        return meaning[name]
    except (KeyError, IndexError, TypeError):
        return GONE


def same(was: Any, now: Any) -> bool:
    """Whether two values mean the same."""
    if isinstance(was, float) and isinstance(now, float):
        return math.isclose(was, now, rel_tol=CLOSE)
    if isinstance(was, dict) and isinstance(now, dict):
        return was.keys() == now.keys() and all(same(was[name], now[name]) for name in was)
    if isinstance(was, list | tuple) and isinstance(now, list | tuple):
        return len(was) == len(now) and all(map(same, was, now))
    return bool(was is not GONE and was == now)


def changes(old: Any, new: Any, arm: Arm, design: Arm) -> list[Change]:
    """What differs between the arm's file and the design's.

    Raises
    ------
    Refused
        where flaws of the design were never checked, though the arm's file asks for it.
    """
    if "cracks" in old and "cracks" not in new:
        steel = f"params/materials/{design.material}.yaml"
        wrong = "its flaws were not checked, no toughness is known at the coldest temperature"
        raise Refused(
            f"{design.material}: {wrong}; write the Charpy energy of an order into {steel} and run again"
        )
    found = list(differences(old, new, arm.model_dump(), design.model_dump()))
    if design.geometry.section.kind == "solid":  # a bar has no plates to sweep
        walls = [name for name in ("flange_thickness", "web_thickness") if name in old["sweep"]]
        found += [Change(("sweep", name), old["sweep"][name], GONE) for name in walls]
    return found


def put_in(text: str, found: list[Change]) -> str:
    """The text with every change; of a list the last items go first, and new ones come in their order."""
    for change in reversed([one for one in found if one.now is GONE]):
        text = without(text, change.key)
    for change in (one for one in found if one.now is not GONE):
        if change.before is GONE and isinstance(change.key[-1], int):
            text = with_item(text, change.key[:-1], change.now)
        else:
            text = with_value(text, change.key, change.now, fields_at(Arm, change.key[:-1]))
    return text


def agrees(arm: Arm, design: Arm) -> bool:
    """Whether the arm is the design in all that is the part."""
    was, now = arm.model_dump(), design.model_dump()
    for values in (was, now):
        if values["cracks"]:
            values["cracks"].pop("old_arm", None)
    return all(same(was[name], now[name]) for name in PART)
