"""Money as text: `12000 EUR`, `9.5 EUR/kg`, `140 EUR/h`, `35000 EUR/d`; amounts of different currencies never add up."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

MOST = 1e12  # more is a slip of the pen

_TEXT = re.compile(r"\s*(\d+\.?\d*|\.\d+)\s+([A-Z]{3})(?:/(kg|h|d))?\s*", re.ASCII)


@dataclass(frozen=True)
class Money:
    """An amount; `per` is empty for a sum, else kg, h or d for a rate."""

    amount: float
    currency: str
    per: str = ""


def money(text: Any, per: str) -> Money:
    """Text as money per `per` (kg, h, d or empty).

    >>> money("9.5 EUR/kg", "kg")
    Money(amount=9.5, currency='EUR', per='kg')
    """
    if isinstance(text, Money):
        return text
    sample = f'write it such as "1200 EUR{"/" + per if per else ""}"'
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    if match is None:
        raise _fault("is no money", "a number and a currency of three capitals", sample)
    if (match[3] or "") != per:
        raise _fault(f"is money {'per ' + match[3] if match[3] else 'without per'}", "another kind", sample)
    amount = float(match[1])
    if not (math.isfinite(amount) and amount <= MOST):
        raise _fault("is out of range", f"at most {MOST:.0e}", "check the number")
    return Money(amount, match[2], per)


def _fault(wrong: str, limit: str, mend: str) -> PydanticCustomError:
    return PydanticCustomError("quantity", "{wrong}", {"wrong": wrong, "limit": limit, "mend": mend})


Sum = Annotated[Money, BeforeValidator(lambda text: money(text, ""))]
PerKilogram = Annotated[Money, BeforeValidator(lambda text: money(text, "kg"))]
PerHour = Annotated[Money, BeforeValidator(lambda text: money(text, "h"))]
PerDay = Annotated[Money, BeforeValidator(lambda text: money(text, "d"))]
