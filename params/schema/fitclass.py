"""The name of a fit as people write it: `H7/s6`, hole class first (ISO 286-1:2010, 4.2 and 5)."""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator

from params.schema.units import fault

# The letters and grades that this project holds values for.
HOLES = ("D", "E", "F", "G", "H", "JS", "K", "M", "N", "P", "R", "S", "T", "U")
SHAFTS = tuple(letter.lower() for letter in HOLES)
GRADES = range(5, 13)

_CLASS = re.compile(r"([A-Z]{1,2}|[a-z]{1,2})(\d{1,2})")


@dataclass(frozen=True)
class ToleranceClass:
    """A tolerance class such as H7: `letter` is upper case for holes, lower case for shafts."""

    letter: str
    grade: int

    @property
    def is_hole(self) -> bool:
        return self.letter.isupper()

    def __str__(self) -> str:
        return f"{self.letter}{self.grade}"


@dataclass(frozen=True)
class FitClass:
    hole: ToleranceClass
    shaft: ToleranceClass

    def __str__(self) -> str:
        return f"{self.hole}/{self.shaft}"


def tolerance_class(text: str) -> ToleranceClass:
    """`H7` or `s6` as a class.

    Raises
    ------
    PydanticCustomError
        with `wrong`, `limit` and `mend` in its context where there is no such class.
    """
    match = _CLASS.fullmatch(text.strip())
    if match is None:
        raise fault(f"{text!r} is not a tolerance class", "a letter and a grade", "write it such as H7 or s6")
    letter, grade = match[1], int(match[2])
    known = HOLES if letter.isupper() else SHAFTS
    if letter not in known:
        near = difflib.get_close_matches(letter, known, n=1, cutoff=0.0)[0]
        raise fault(
            f"has the deviation {letter}, which is not held here",
            f"one of {' '.join(known)}",
            f"did you mean {near}{grade}?",
        )
    if grade not in GRADES:
        raise fault(
            f"has the grade {grade}", f"IT{GRADES[0]} to IT{GRADES[-1]}", "choose a grade in that range"
        )
    return ToleranceClass(letter, grade)


def fit_class(text: Any) -> FitClass:
    """`H7/s6` as a fit.

    >>> str(fit_class("H7/s6"))
    'H7/s6'
    """
    if isinstance(text, FitClass):
        return text
    parts = text.split("/") if isinstance(text, str) else []
    if len(parts) != 2:
        raise fault("is not a fit", "hole class / shaft class", 'write it such as "H7/s6"')
    hole, shaft = (tolerance_class(part) for part in parts)
    if not hole.is_hole or shaft.is_hole:
        raise fault("is not a hole and a shaft", "the hole, in capitals, first", 'write it such as "H7/s6"')
    return FitClass(hole, shaft)


def gap(wanted: ToleranceClass, nominal: float) -> str:
    """Why ISO 286-1:2010 gives no limits for a class at a nominal size in mm; empty where it does.

    >>> gap(tolerance_class("t6"), 20.0)
    'ISO 286-1 gives t only over 24 mm; choose u or s'
    """
    if not 0.0 < nominal <= 500.0:
        return "limits and fits are held for nominal sizes over 0 up to 500 mm"
    if wanted.letter.lower() == "t" and nominal <= 24.0:
        return f"ISO 286-1 gives {wanted.letter} only over 24 mm; choose u or s"
    if wanted.letter == "K" and wanted.grade > 8 and nominal > 3.0:
        return "ISO 286-1 gives K above IT8 only up to 3 mm; choose a grade up to 8"
    return ""


def hole_class(text: Any) -> ToleranceClass:
    """`H8` as the class of a hole.

    >>> str(hole_class("H8"))
    'H8'
    """
    if isinstance(text, ToleranceClass):
        return text
    wanted = tolerance_class(text if isinstance(text, str) else str(text))
    if not wanted.is_hole:
        raise fault("is the class of a shaft", "holes have capitals", f"write it such as {text.upper()}")
    return wanted


HoleText = Annotated[ToleranceClass, BeforeValidator(hole_class)]
FitText = Annotated[FitClass, BeforeValidator(fit_class)]
