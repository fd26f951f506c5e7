"""Sizes as a drawing writes them after ISO 129-1: mm to 0.01, or inches to 0.001 and their limits to 0.0001."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from params.schema.units import KG_PER_LB, MM_PER_IN

RA_STEPS = (8, 16, 32, 63, 125, 250, 500)  # preferred values, microinches (ASME B46.1, from memory)
SIGNS = {"diameter": "Ø", "radius": "R"}


def is_class(basis: str) -> bool:
    """Whether a size has a tolerance class of its own."""
    return not basis.startswith(("ISO", "as ")) and basis != "reference"


def pointed(value: float) -> str:
    """A deviation's size in inches, from the point on."""
    return f"{abs(value) / MM_PER_IN:.4f}".removeprefix("0")


@dataclass(frozen=True)
class Words:
    """Text of features in the drawing's unit; `sizes` by feature id, as facts.json has them."""

    units: str  # si or us
    sizes: dict[str, dict[str, Any]]

    @property
    def unit(self) -> str:
        return "mm" if self.units == "si" else "in"

    def number(self, value: float, signed: bool = False) -> str:
        """A length in mm as bare number."""
        if self.units == "us":
            return f"{value / MM_PER_IN:+.4f}" if signed else f"{value / MM_PER_IN:.3f}"
        text = f"{value:+.3f}" if signed else f"{value:.2f}"
        return text.rstrip("0").rstrip(".")

    def place(self, value: float) -> str:
        """A length to 0.1 mm or 0.01 in, for what is not to be measured so closely."""
        return f"{value / MM_PER_IN + 0.0:.2f}" if self.units == "us" else f"{value + 0.0:.1f}"

    def reference(self, value: float) -> str:
        """A size that follows from others."""
        return f"({self.place(value)})"

    def nominal(self, name: str) -> str:
        size = self.sizes[name]
        if size["kind"] == "angle":
            return f"{size['nominal']:.2f}".rstrip("0").rstrip(".") + "°"
        if size["kind"] == "chamfer":
            return f"{self.number(size['nominal'])} × 45°"
        return SIGNS.get(size["kind"], "") + self.number(size["nominal"])

    def full(self, name: str) -> str:
        """Nominal with its own tolerance: the class of a bore (`limits` stand behind it), plus and minus of centres."""
        size, text = self.sizes[name], self.nominal(name)
        if size["basis"] == "reference":
            return self.reference(size["nominal"])
        if size["basis"] == "as drawn":
            return f"{text} ±{self.number(size['upper'])}"
        if not is_class(size["basis"]):
            return text
        if self.units == "us":  # as many decimals as its limits
            text = f"{SIGNS.get(size['kind'], '')}{size['nominal'] / MM_PER_IN:.4f}"
        return f"{text} {size['basis']}"

    def limits(self, name: str) -> tuple[str, str] | None:
        """Upper and lower deviation of a size with a tolerance class, to stand behind it (ISO 129-1); None for others.

        In inches as many decimals as the size, no zero before the point, zero with the other sign (ASME Y14.5, from memory).
        """
        size = self.sizes[name]
        if not is_class(size["basis"]):
            return None
        ends = size["upper"], size["lower"]
        if self.units == "si":
            return self.deviation(ends[0]), self.deviation(ends[1])
        upper, lower = ("+" if ends[0] >= 0.0 else "−", "−" if ends[1] <= 0.0 else "+")
        return upper + pointed(ends[0]), lower + pointed(ends[1])

    def deviation(self, value: float | None) -> str:
        if value is None:
            return "-"
        return "0" if value == 0.0 else self.number(value, signed=True).replace("-", "−")

    def texture(self, ra: float) -> str:
        """Ra in micrometres, or microinches."""
        if self.units == "si":
            return f"Ra {ra * 1000.0:.3g}"
        micro = ra / MM_PER_IN * 1e6
        return f"Ra {next((step for step in RA_STEPS if abs(step - micro) < 0.02 * step), micro):.3g}"

    def mass(self, value: float) -> str:
        return (
            f"{value:,.0f} kg"
            if self.units == "si" and value >= 100.0
            else (f"{value:.2f} kg" if self.units == "si" else f"{value / KG_PER_LB:,.0f} lb")
        )


def words(facts: dict[str, Any]) -> Words:
    return Words(facts["units"], {size["id"]: size for size in facts["features"]})
