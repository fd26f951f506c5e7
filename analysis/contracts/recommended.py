"""sweep/recommended.json: the lightest design that holds by hand and by mesh, or why there is none; mm, kg."""

from __future__ import annotations

from pathlib import Path

from params.steps.contract import Contract, read_model


class Recommended(Contract):
    id: str
    mass_kg: float
    saved_kg: float  # against the arm as written; negative: heavier
    saved_percent: float
    hand_margin: float
    hand_governing: str
    mesh_margin: float
    mesh_governing: str
    sizes_mm: dict[str, float]
    explain: tuple[str, ...]

    @property
    def least_governing(self) -> str:
        """The check with the least margin, and whether it is by hand or by mesh."""
        by_mesh = self.mesh_margin < self.hand_margin
        return f"{self.mesh_governing} (mesh)" if by_mesh else f"{self.hand_governing} (hand)"


class NoneRecommended(Contract):
    id: None = None
    reason: str


def read_recommended(path: Path) -> Recommended | NoneRecommended:
    """Unfit as `read_model`."""
    return read_model(path, Recommended, NoneRecommended)
