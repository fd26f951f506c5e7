"""Demo arms and variants of them for tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from params.files.read import read_arm
from params.schema.arm import Arm

ARMS = Path(__file__).parent.parent / "params" / "arms"


@cache
def demo(name: str) -> Arm:
    return read_arm(ARMS / f"{name}.yaml")


def changed(arm: Arm, **fields: Any) -> Arm:
    """The arm with fields changed, named by path: geometry__section__width=30.0; lengths in mm, angles in rad."""
    for path, value in fields.items():
        arm = _set(arm, path.split("__"), value)
    return arm


def _set(model: Any, path: list[str], value: Any) -> Any:
    head, rest = path[0], path[1:]
    return model.model_copy(update={head: _set(getattr(model, head), rest, value) if rest else value})
