"""Thermal expansion as text: `11.7 um/m/K`, in 1/K once read."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

UNITS = {"um/m/K": 1e-6, "uin/in/F": 1.8e-6}  # 1.8: a degree Fahrenheit is 1/1.8 K
LEAST, MOST = 1e-6, 40e-6  # 1/K, wider than any metal's

_TEXT = re.compile(r"\s*(\d+\.?\d*|\.\d+)\s*(\S+)\s*")


def expansion(text: Any) -> float:
    """Text with its unit as 1/K.

    >>> round(expansion("11.7 um/m/K") * 1e6, 6)
    11.7
    """
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    if match is None or match[2] not in UNITS:
        raise _fault("is no thermal expansion with a unit", f"one of {', '.join(UNITS)}")
    value = float(match[1]) * UNITS[match[2]]
    if not (math.isfinite(value) and LEAST <= value <= MOST):
        raise _fault("is out of range", f"between {LEAST * 1e6:g} and {MOST * 1e6:g} um/m/K")
    return value


def _fault(wrong: str, limit: str) -> PydanticCustomError:
    context = {"wrong": wrong, "limit": limit, "mend": 'write it such as "11.7 um/m/K"'}
    return PydanticCustomError("quantity", "{wrong}", context)


Expansion = Annotated[float, BeforeValidator(expansion)]
