"""Quantities as people write them: text rounded to sensible figures in the arm's units, with its value beside it."""

from __future__ import annotations

import math
import random


class Q(str):
    """Text of a quantity with its value in mm, N, N mm, MPa, rad or degC."""

    v: float

    def __new__(cls, text: str, value: float) -> Q:
        made = super().__new__(cls, text)
        made.v = value
        return made


class Maker:
    """One arm's numbers, rounded as people write them, in the arm's units (now and then in the other ones)."""

    def __init__(self, rng: random.Random, units: str, mixed: float) -> None:
        self.rng, self.units, self.mixed = rng, units, mixed

    def system(self) -> str:
        return self.units if self.rng.random() >= self.mixed else ("us" if self.units == "si" else "si")

    def length(self, mm: float, up: bool | None = None) -> Q:
        """Rounded to about three digits; `up` true or false rounds that way, so that a limit is kept."""
        if self.system() == "si":
            unit, slope = ("m", 1000.0) if abs(mm) >= 2000.0 and self.rng.random() < 0.5 else ("mm", 1.0)
        else:
            unit, slope = ("ft", 304.8) if abs(mm) >= 1500.0 and self.rng.random() < 0.4 else ("in", 25.4)
        size = mm / slope
        digits = 0 if size == 0.0 else max(0, 2 - math.floor(math.log10(abs(size))))
        if digits == 0 and abs(size) >= 1000.0:
            digits = 0
        step = 10.0**-digits
        number = size / step
        whole = (
            round(number) if up is None else (math.ceil(number - 1e-9) if up else math.floor(number + 1e-9))
        )
        text = f"{whole * step:.{digits}f}"
        return Q(f"{text} {unit}", float(text) * slope)

    def fine(self, mm: float) -> Q:
        """A small or measured length with all its digits."""
        if self.system() == "si":
            text, unit, slope = f"{mm:.3f}", "mm", 1.0
        else:
            text, unit, slope = f"{mm / 25.4:.5f}", "in", 25.4
        return Q(f"{text} {unit}", float(text) * slope)

    def force(self, newton: float) -> Q:
        unit, slope = ("kN", 1e3) if self.system() == "si" else ("kip", 4448.2216152605)
        text = figures(newton / slope, 3)
        return Q(f"{text} {unit}", float(text) * slope)

    def moment(self, nmm: float) -> Q:
        unit, slope = ("kN*m", 1e6) if self.system() == "si" else ("kip*ft", 4448.2216152605 * 304.8)
        text = figures(nmm / slope, 3)
        return Q(f"{text} {unit}", float(text) * slope)

    def stress(self, mpa: float) -> Q:
        unit, slope = ("MPa", 1.0) if self.system() == "si" else ("ksi", 6.894757293168361)
        text = figures(mpa / slope, 3)
        return Q(f"{text} {unit}", float(text) * slope)

    def pressure(self, mpa: float) -> Q:
        unit, slope = (
            self.rng.choice([("MPa", 1.0), ("bar", 0.1)])
            if self.system() == "si"
            else ("psi", 6.894757293168361e-3)
        )
        text = figures(mpa / slope, 3)
        return Q(f"{text} {unit}", float(text) * slope)

    def degrees(self, degrees: float, digits: int = 1) -> Q:
        text = f"{degrees:.{digits}f}"
        if self.rng.random() < 0.04:
            text = f"{math.radians(degrees):.4f}"
            return Q(f"{text} rad", float(text))
        return Q(f"{text} deg", math.radians(float(text)))

    def temperature(self, celsius: float) -> Q:
        if self.system() == "si":
            return Q(f"{celsius:.0f} degC", float(f"{celsius:.0f}"))
        text = f"{celsius * 1.8 + 32.0:.0f}"
        return Q(f"{text} degF", (float(text) - 32.0) / 1.8)

    def energy(self, joule: float) -> Q:
        unit, slope = ("J", 1.0) if self.system() == "si" else ("ft*lbf", 1.3558179483314004)
        text = figures(joule / slope, 3)
        return Q(f"{text} {unit}", float(text) * slope)

    def modulus(self, gpa: float) -> Q:
        if self.system() == "si":
            return Q(f"{gpa:.0f} GPa", gpa * 1e3)
        return Q(f"{gpa * 1e3 / 6.894757293168361:.0f} ksi", gpa * 1e3)

    def expansion(self, micro: float) -> str:
        return f"{micro:.1f} um/m/K" if self.system() == "si" else f"{micro / 1.8:.2f} uin/in/F"


def figures(value: float, count: int) -> str:
    """Plain decimal text with `count` significant figures."""
    if value == 0.0:
        return "0"
    digits = max(0, count - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{digits}f}"


def log_uniform(rng: random.Random, low: float, high: float) -> float:
    return math.exp(rng.uniform(math.log(low), math.log(high)))
