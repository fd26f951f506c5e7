"""Days as text: `2027-05-03`, and for holidays also a stretch, `2027-12-24 to 2028-01-02`."""

from __future__ import annotations

import datetime
import re
from typing import Annotated, Any

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

FIRST, LAST = datetime.date(1970, 1, 1), datetime.date(2200, 1, 1)
LONGEST = 400  # days of one stretch of holidays

_TEXT = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def day(text: Any) -> datetime.date:
    """Year, month and day as a date.

    >>> day("2027-05-03")
    datetime.date(2027, 5, 3)
    """
    if type(text) is datetime.date:
        return text
    if not (isinstance(text, str) and _TEXT.fullmatch(text.strip())):
        raise _fault("is no day", "year-month-day")
    try:
        made = datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise _fault("is no day of the calendar", "a month of 1 to 12 and a day it has") from None
    if not FIRST <= made <= LAST:
        raise _fault("is out of range", f"{FIRST} to {LAST}")
    return made


def stretch(text: Any) -> tuple[datetime.date, datetime.date]:
    """One day, or the first and last day of `A to B`, both off."""
    if isinstance(text, tuple):
        return text
    parts = text.split(" to ") if isinstance(text, str) else [text]
    if len(parts) > 2:
        raise _fault("is no day or stretch of days", "one day, or `first to last`")
    first, last = day(parts[0]), day(parts[-1])
    if last < first:
        raise _fault("ends before it begins", "the earlier day first")
    if (last - first).days > LONGEST:
        raise _fault("is too long", f"at most {LONGEST} days")
    return first, last


def _fault(wrong: str, limit: str) -> PydanticCustomError:
    context = {"wrong": wrong, "limit": limit, "mend": "write it such as 2027-05-03"}
    return PydanticCustomError("quantity", "{wrong}", context)


Day = Annotated[datetime.date, BeforeValidator(day)]
Stretch = Annotated[tuple[datetime.date, datetime.date], BeforeValidator(stretch)]
