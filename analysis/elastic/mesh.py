"""The mesh as arrays for the solver, checked once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from analysis.elastic.element import TET_EDGES
from analysis.elastic.pattern import Pattern, along, build

# A mid-edge node further than this share of its edge from the middle makes the element curved.
STRAIGHT = 1e-7


@dataclass(frozen=True)
class Ordered:
    """The mesh with its nodes sorted along the body: order[new] = old number, points (n, 3), curved (m,) as the pattern."""

    order: NDArray[np.int64]
    points: NDArray[np.float64]
    pattern: Pattern
    curved: NDArray[np.bool_]


@dataclass(frozen=True)
class Mesh:
    """points (n, 3) mm; tets (m, 10) in VTK order; surfaces: name to faces (k, 6) of which the normal points outward."""

    points: NDArray[np.float64]
    tets: NDArray[np.int64]
    surfaces: Mapping[str, NDArray[np.int64]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", np.ascontiguousarray(self.points, dtype=np.float64))
        object.__setattr__(self, "tets", np.ascontiguousarray(self.tets, dtype=np.int64))
        object.__setattr__(
            self, "surfaces", {k: np.asarray(v, dtype=np.int64) for k, v in self.surfaces.items()}
        )
        _shape("points", self.points, 3)
        _shape("tets", self.tets, 10)
        for name, faces in self.surfaces.items():
            _shape(f"surface {name}", faces, 6)
        for name, nodes in (("tets", self.tets), *((f"surface {k}", v) for k, v in self.surfaces.items())):
            if nodes.size and not (nodes.min() >= 0 and nodes.max() < len(self.points)):
                raise ValueError(
                    f"{name}: node numbers {nodes.min()} to {nodes.max()}; the mesh has nodes 0 to {len(self.points) - 1}"
                )
        if not np.isfinite(self.points).all():
            raise ValueError("points: every coordinate must be finite")

    @classmethod
    def of(cls, arrays: object) -> Mesh:
        """From anything that has points, tets and surfaces (such as a mesh file read)."""
        return cls(arrays.points, arrays.tets, arrays.surfaces)  # type: ignore[attr-defined]

    @cached_property
    def ordered(self) -> Ordered:
        """Sorted numbering and pattern, computed once."""
        order = along(self.points)
        number = np.empty(len(order), dtype=np.int32)
        number[order] = np.arange(len(order), dtype=np.int32)
        pattern = build(number[self.tets], len(order))
        return Ordered(order, self.points[order], pattern, self.curved()[pattern.elements])

    def nodes(self, surface: str) -> NDArray[np.int64]:
        """Node numbers of a named surface, each once, ascending."""
        return np.unique(self.surfaces[surface])

    def curved(self) -> NDArray[np.bool_]:
        """Which elements have an edge that is not straight, or a mid-edge node off the middle."""
        bent = np.zeros(len(self.tets), dtype=bool)
        for k, (a, b) in enumerate(TET_EDGES):
            start, end, mid = (self.points[self.tets[:, column]] for column in (a, b, 4 + k))
            off = np.abs(mid - 0.5 * (start + end)).max(axis=1)
            bent |= off > STRAIGHT * np.abs(end - start).max(axis=1)
        return bent


def _shape(name: str, array: np.ndarray, columns: int) -> None:
    if array.ndim != 2 or array.shape[1] != columns:
        raise ValueError(f"{name}: shape {array.shape}; it must be (count, {columns})")
