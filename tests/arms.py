"""Demo arms and variants of them for tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from params.files.read import read_arm
from params.schema.arm import Arm, DutyPair

ARMS = Path(__file__).parent.parent / "params" / "arms"


@cache
def demo(name: str) -> Arm:
    return read_arm(ARMS / f"{name}.yaml")


def changed(arm: Arm, **fields: Any) -> Arm:
    """The arm with fields changed, named by path: geometry__section__width=30.0; lengths in mm, angles in rad."""
    for path, value in fields.items():
        arm = _set(arm, path.split("__"), value)
    return arm


def raised_and_lowered(arm: Arm) -> Arm:
    """The tiny arm with three cases, its duty one pair between lowering and raising: for stresses that a pen can follow."""
    cases = {name: arm.load_cases[name] for name in ("raise", "lower", "jam-extend")}
    pair = DutyPair(from_case="lower", to_case="raise", cycles_per_year=5000.0)
    return changed(arm, load_cases=cases, duty__pairs=(pair,))


def _set(model: Any, path: list[str], value: Any) -> Any:
    head, rest = path[0], path[1:]
    return model.model_copy(update={head: _set(getattr(model, head), rest, value) if rest else value})
