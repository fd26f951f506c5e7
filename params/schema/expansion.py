"""Thermal expansion as text: `11.7 um/m/K`, in 1/K once read."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from params.schema.units import fault

UNITS = {"um/m/K": 1e-6, "uin/in/F": 1.8e-6}  # 1.8: a degree Fahrenheit is 1/1.8 K
SAMPLES = 'write it such as "11.7 um/m/K"', 'write it such as "6.5 uin/in/F"'  # steel
LEAST, MOST = 1e-6, 40e-6  # 1/K, wider than any metal's

_TEXT = re.compile(r"\s*(\d+(?:\.\d*)?|\.\d+)\s*(\S+)\s*")


def expansion(text: Any) -> float:
    """Text with its unit as 1/K.

    >>> round(expansion("11.7 um/m/K") * 1e6, 6)
    11.7
    """
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    if match is None or match[2] not in UNITS:
        raise fault("is not a thermal expansion", f"a number and one of {', '.join(UNITS)}", *SAMPLES)
    value = float(match[1]) * UNITS[match[2]]
    if not (math.isfinite(value) and LEAST <= value <= MOST):
        least, most = (f"{end / UNITS[match[2]]:.3g} {match[2]}" for end in (LEAST, MOST))
        raise fault("is out of range", f"between {least} and {most}", "check the number and its unit")
    return value


Expansion = Annotated[float, BeforeValidator(expansion)]
