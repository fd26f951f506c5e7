"""The pins in the bores, without CAD: as thick as the bore, as long as hub, gaps and supporting plates together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geometry.datums import bore, centre
from params.schema.arm import Arm

NEAR = 1e-3  # mm


@dataclass(frozen=True)
class PinShape:
    """Centre (x, y), radius and inside radius (0: solid), mm; the seat is the bore between its chamfers."""

    centre: tuple[float, float]
    radius: float
    inside: float
    seat: float  # half the length of the bore between its chamfers
    plate: tuple[float, float]  # z > 0 from where to where the supporting plate bears

    @property
    def cuts(self) -> tuple[float, float, float, float]:
        """Ends of the pin's three lengths along z."""
        near, far = self.plate
        return -far, -near, near, far

    def part(self, box: Sequence[float]) -> str:
        """Which part of the pin's outside a face is, told by its bounding box (xmin, ymin, zmin, xmax, ymax, zmax)."""
        x, _, low, _, _, high = box
        if high - low < NEAR or x > self.centre[0] - self.radius + 0.01 * self.radius:
            return "free"  # an end, or the inside of a hollow pin
        middle = 0.5 * (low + high)
        if abs(middle) > self.plate[0]:
            return "high_plate" if middle > 0.0 else "low_plate"
        return "seat" if abs(middle) < self.seat else "free"


def pin_shape(arm: Arm, name: str, inside: float) -> PinShape:
    """The pin of the `pivot`, `input` or `output` bore; inside: diameter of a hollow pin's own bore, mm."""
    size = bore(arm, name)
    x, y = (float(value) for value in centre(arm, name))
    near = size.width / 2.0 + size.pin.gap
    return PinShape(
        (x, y),
        size.bore / 2.0,
        inside / 2.0,
        size.width / 2.0 - size.chamfer,
        (near, near + size.pin.side_plate),
    )
