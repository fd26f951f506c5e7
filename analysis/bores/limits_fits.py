"""Limits of size and fits after ISO 286-1:2010: from `H7` or `H7/s6` and a nominal size to millimetres.

Holes follow the standard's rules (4.1.3 and 4.3.2.5, notes to Tables 2 and 3): the general rule mirrors the
shaft's deviation at the nominal size; the special rule, for K, M and N up to IT8 and P to U up to IT7 over 3
mm, adds Delta = ITn - IT(n-1) so that hole-based and shaft-based fits of the same name are alike.
"""

from __future__ import annotations

from dataclasses import dataclass

from analysis.bores import tolerances
from analysis.bores.tolerances import standard_tolerance
from params.schema.fitclass import FitClass, ToleranceClass, fit_class, gap, tolerance_class


@dataclass(frozen=True)
class Limits:
    """Limit deviations of a class at a nominal size, micrometres, and the limits of size, mm."""

    nominal: float
    lower: float
    upper: float

    @property
    def least(self) -> float:
        return self.nominal + self.lower / 1000.0

    @property
    def most(self) -> float:
        return self.nominal + self.upper / 1000.0


@dataclass(frozen=True)
class Fit:
    """Diametral interference of a hole and a shaft, mm; negative is clearance."""

    hole: Limits
    shaft: Limits

    @property
    def least(self) -> float:
        """Smallest interference (as a negative number: the largest clearance)."""
        return _between(self.shaft.least, self.hole.most)

    @property
    def most(self) -> float:
        """Largest interference (as a negative number: the smallest clearance)."""
        return _between(self.shaft.most, self.hole.least)

    @property
    def mean(self) -> float:
        return 0.5 * (self.least + self.most)

    @property
    def kind(self) -> str:
        """ISO 286-1:2010, 3.3: interference fit, clearance fit, or transition fit where both can come
        about.
        """
        if self.least > 0.0:
            return "interference"
        return "clearance" if self.most <= 0.0 else "transition"


def limits(name: str | ToleranceClass, nominal: float) -> Limits:
    """Limits of a tolerance class at a nominal size in mm (over 0 up to 500).

    Raises ValueError where the standard gives no deviation at that size.

    >>> limits("H7", 320.0)
    Limits(nominal=320.0, lower=0.0, upper=57.0)
    >>> limits("s6", 320.0)
    Limits(nominal=320.0, lower=190.0, upper=226.0)
    """
    wanted = tolerance_class(name) if isinstance(name, str) else name
    if missing := gap(wanted, nominal):
        raise ValueError(f"{wanted} at {nominal:g} mm: {missing}")
    width = float(standard_tolerance(wanted.grade, nominal))
    if wanted.letter.lower() == "js":
        return Limits(nominal, -width / 2.0, width / 2.0)
    if wanted.is_hole:
        return _hole(wanted, nominal, width)
    deviation = float(shaft_deviation(wanted.letter, wanted.grade, nominal))
    if wanted.letter in tolerances.UPPER:
        return Limits(nominal, deviation - width, deviation)
    return Limits(nominal, deviation, deviation + width)


def fit(name: str | FitClass, nominal: float) -> Fit:
    """The fit `H7/s6` at a nominal size in mm.

    >>> round(fit("H7/s6", 160.0).least, 3), round(fit("H7/s6", 160.0).most, 3)
    (0.06, 0.125)
    """
    named = fit_class(name)
    return Fit(limits(named.hole, nominal), limits(named.shaft, nominal))


def measured(bore: float, shaft: float, uncertainty: float = 0.0) -> Fit:
    """A fit from measured diameters in mm; each may be off by `uncertainty` either way."""
    if min(bore, shaft) <= 0.0 or uncertainty < 0.0:
        raise ValueError(
            f"bore {bore:g} mm, shaft {shaft:g} mm, uncertainty {uncertainty:g} mm: sizes must be positive"
        )
    off = 1000.0 * uncertainty
    return Fit(Limits(bore, -off, off), Limits(shaft, -off, off))


def shaft_deviation(letter: str, grade: int, nominal: float) -> int:
    """Fundamental deviation of a shaft, micrometres: es for d to h, ei for k to u."""
    if letter in tolerances.UPPER:
        return tolerances.UPPER[letter][tolerances.place(nominal)]
    if letter == "k" and not 4 <= grade <= 7:
        return 0
    if letter in tolerances.LOWER:
        return tolerances.LOWER[letter][tolerances.place(nominal)]
    value = tolerances.LOWER_FINE[letter][tolerances.place(nominal, tolerances.FINE)]
    if value is None:
        raise ValueError(
            f"{letter}{grade} at {nominal:g} mm: ISO 286-1 gives {letter} only over 24 mm; choose u"
        )
    return value


def _hole(wanted: ToleranceClass, nominal: float, width: float) -> Limits:
    letter, grade = wanted.letter.lower(), wanted.grade
    if letter in tolerances.UPPER:
        below = 0.0 - shaft_deviation(letter, grade, nominal)  # not -0.0
        return Limits(nominal, below, below + width)
    upper = _upper(letter, grade, nominal)
    return Limits(nominal, upper - width, upper)


def _upper(letter: str, grade: int, nominal: float) -> float:
    """Upper deviation ES of the holes K to U, micrometres."""
    small = nominal <= 3.0
    if letter == "n" and grade > 8 and not small:
        return 0.0
    if letter == "m" and grade == 6 and 250.0 < nominal <= 315.0:
        return -9.0  # the standard's one exception to the special rule (-11 by rule)
    mirrored = -float(shaft_deviation(letter, min(grade, 7), nominal))
    special = grade <= (8 if letter in "kmn" else 7) and not small
    return mirrored + (
        standard_tolerance(grade, nominal) - standard_tolerance(grade - 1, nominal) if special else 0.0
    )


def _between(shaft: float, hole: float) -> float:
    """Shaft less hole, to a tenth of a nanometre: subtracting two sizes leaves rounding errors."""
    return round(shaft - hole, 7)
