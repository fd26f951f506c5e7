"""Why and where no sound mesh could be made."""

from __future__ import annotations

Place = tuple[float, float, float]


class MeshRefused(Exception):  # noqa: N818 - a refusal is an answer, not a fault of the program
    """No sound mesh could be made; `place` (mm, arm frame) is where, `mend` what to change."""

    def __init__(self, why: str, place: Place, mend: str = "") -> None:
        self.why, self.place, self.mend = why, place, mend
        super().__init__(f"{why}, near {spot(place)}" + (f"; {mend}" if mend else ""))


def spot(place: Place) -> str:
    return f"({', '.join(f'{value:.0f}' for value in place)}) mm"
