"""Money as text: `12000 EUR`, `9.5 EUR/kg` or `4.3 USD/lb`, `140 EUR/h`, `35000 EUR/d`.

Amounts of different currencies never add up.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, StringConstraints

from params.schema.units import fault, inside

MOST = 1e12  # more is a slip of the pen

_TEXT = re.compile(r"\s*(\d+(?:\.\d*)?|\.\d+)\s+([A-Z]{3})(?:/(kg|lb|h|d))?\s*", re.ASCII)


@dataclass(frozen=True)
class Money:
    """An amount; `per` is empty for a sum, else kg, h or d for a rate."""

    amount: float
    currency: str
    per: str = ""


def money(text: Any, per: str) -> Money:
    """Text as money per `per` (kg, h, d or empty); a price per pound becomes one per kilogram.

    >>> money("9.5 EUR/kg", "kg"), money("1 USD/lb", "kg").amount
    (Money(amount=9.5, currency='EUR', per='kg'), 2.2046226218487757)
    """
    if isinstance(text, Money):
        return text
    match = _TEXT.fullmatch(text) if isinstance(text, str) else None
    sample, sample_us = (f'write it such as "{part}"' for part in _samples(match[2] if match else "EUR", per))
    if match is None:
        limit = "a number and a currency of three capital letters" + (f", per {per}" if per else "")
        raise fault("is not a price" if per else "is not an amount of money", limit, sample, sample_us)
    amount, given = float(match[1]), match[3] or ""
    if given == "lb" and per == "kg":
        amount, given = amount / inside(1.0, "lb", "mass"), "kg"
    if given != per:
        limit = f"a price per {'kg or lb' if per == 'kg' else per}" if per else "an amount without a unit"
        wrong = f"is a price per {given}" if given else "is an amount without a unit"
        raise fault(wrong, limit, sample, sample_us)
    if not (math.isfinite(amount) and amount <= MOST):
        raise fault("is out of range", f"at most {MOST:,.0f}", "check the number")
    return Money(amount, match[2], per)


def _samples(currency: str, per: str) -> tuple[str, str]:
    """A price as a file in SI units has it, and as one in US units."""
    number = {"": "1200", "kg": "9.5"}.get(per, "120")
    return tuple(
        f"{number} {currency}{'/' + unit if unit else ''}" for unit in (per, per.replace("kg", "lb"))
    )  # type: ignore[return-value]


Sum = Annotated[Money, BeforeValidator(lambda text: money(text, ""))]
PerKilogram = Annotated[Money, BeforeValidator(lambda text: money(text, "kg"))]
PerHour = Annotated[Money, BeforeValidator(lambda text: money(text, "h"))]
PerDay = Annotated[Money, BeforeValidator(lambda text: money(text, "d"))]
Currency = Annotated[str, StringConstraints(pattern=r"^[A-Z]{3}$")]  # ISO 4217
