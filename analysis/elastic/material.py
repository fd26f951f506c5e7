"""Isotropic linear elasticity: the constants the kernels need, and stress from strain; bodies of several materials."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Elastic:
    """E in MPa, nu, density in kg/mm3."""

    modulus: float
    poisson: float
    density: float = 0.0

    def __post_init__(self) -> None:
        if not self.modulus > 0.0 or not -1.0 < self.poisson < 0.5 or not self.density >= 0.0:
            raise ValueError(
                f"modulus {self.modulus}, poisson {self.poisson}, density {self.density}: "
                "need modulus > 0, -1 < poisson < 0.5, density >= 0"
            )

    @property
    def mu(self) -> float:
        """Shear modulus, MPa."""
        return self.modulus / (2.0 * (1.0 + self.poisson))

    @property
    def lame(self) -> float:
        """Lame's first constant, MPa."""
        return self.modulus * self.poisson / ((1.0 + self.poisson) * (1.0 - 2.0 * self.poisson))

    def constants(self, elements: NDArray[np.int64]) -> tuple[Array, Array]:
        """Lame's first constant and shear modulus (m,) of elements (m,), MPa."""
        return np.full(len(elements), self.lame), np.full(len(elements), self.mu)

    def stress(self, strain: Array) -> Array:
        """Stress (..., 6) in MPa from strain (..., 6) with engineering shears."""
        mean = self.lame * strain[..., :3].sum(axis=-1, keepdims=True)
        return np.concatenate([mean + 2.0 * self.mu * strain[..., :3], self.mu * strain[..., 3:]], axis=-1)


@dataclass(frozen=True)
class Mixed:
    """Bodies of several materials in one mesh: body (m,) is the index of each element's law."""

    laws: tuple[Elastic, ...]
    body: NDArray[np.int64]

    def constants(self, elements: NDArray[np.int64]) -> tuple[Array, Array]:
        """Lame's first constant and shear modulus (m,) of elements (m,), MPa."""
        own = self.body[elements]
        return np.array([law.lame for law in self.laws])[own], np.array([law.mu for law in self.laws])[own]


Law = Elastic | Mixed
