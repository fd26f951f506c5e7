"""Days as text: `2027-05-03`, and for holidays also a stretch, `2027-12-24 to 2028-01-02`."""

from __future__ import annotations

import datetime
import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from params.schema.units import fault

FIRST, LAST = datetime.date(1970, 1, 1), datetime.date(2200, 1, 1)
LONGEST = 400  # days of one stretch of holidays

MEND = "write it such as 2027-05-03"
STRETCH = "write it such as 2027-12-24 to 2028-01-02"

_TEXT = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def day(text: Any) -> datetime.date:
    """Year, month and day as a date.

    >>> day("2027-05-03")
    datetime.date(2027, 5, 3)
    """
    if type(text) is datetime.date:
        return text
    if not (isinstance(text, str) and _TEXT.fullmatch(text.strip())):
        raise fault("is not a date", "year-month-day", MEND)
    try:
        date = datetime.date.fromisoformat(text.strip())
    except ValueError:
        raise fault(
            "is not a date of the calendar", "a month from 1 to 12 and a day that it has", MEND
        ) from None
    if not FIRST <= date <= LAST:
        raise fault("is out of range", f"{FIRST} to {LAST}", MEND)
    return date


def stretch(text: Any) -> tuple[datetime.date, datetime.date]:
    """One day, or the first and last day of `A to B`, both off."""
    if isinstance(text, tuple):
        return text
    parts = text.split(" to ") if isinstance(text, str) else [text]
    if len(parts) > 2:
        raise fault("is not a day or a range of days", "one day, or `first to last`", STRETCH)
    first, last = day(parts[0]), day(parts[-1])
    if last < first:
        raise fault("ends before it begins", "the earlier day first", "swap the two days")
    if (last - first).days > LONGEST:
        raise fault("is too long", f"at most {LONGEST} days", "check both days")
    return first, last


Day = Annotated[datetime.date, BeforeValidator(day)]
Stretch = Annotated[tuple[datetime.date, datetime.date], BeforeValidator(stretch)]
