"""Failure assessment diagram, BS 7910:2013 option 1 (7.3.3): does this crack at this stress break the section?

Kr = K/Kmat on the upright, Lr = reference stress over yield strength along the flat. MPa, N/mm^1.5, for arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Diagram:
    """The line of one material: yield and tensile strength, elastic modulus, MPa; with a yield plateau or not."""

    yield_strength: float
    tensile_strength: float
    elastic_modulus: float
    plateau: bool = False

    def __post_init__(self) -> None:
        if not 0.0 < self.yield_strength <= self.tensile_strength < self.elastic_modulus:
            raise ValueError(
                f"yield {self.yield_strength:g}, tensile {self.tensile_strength:g} MPa: yield at most tensile expected"
            )

    @property
    def most(self) -> float:
        """Lr,max = (yield + tensile)/(2 yield): plastic collapse."""
        return (self.yield_strength + self.tensile_strength) / (2.0 * self.yield_strength)

    @property
    def exponent(self) -> float:
        """N = 0.3 (1 - yield/tensile), lower bound of strain hardening."""
        return 0.3 * (1.0 - self.yield_strength / self.tensile_strength)

    def allowed(self, lr: ArrayLike) -> Floats:
        """f(Lr), the Kr that is allowed; 0 beyond Lr,max.

        Without plateau f = (1 + Lr^2/2)^-0.5 (0.3 + 0.7 exp(-mu Lr^6)), mu = min(0.001 E/yield, 0.6), up to
        Lr = 1; with a plateau the first factor alone below Lr = 1 and (lam + 1/(2 lam))^-0.5 at 1, lam =
        1 + E de/yield, de = 0.0375 (1 - yield/1000). Both go on as f(1) Lr^((N-1)/(2N)).
        """
        x = np.asarray(lr, float)
        low = np.clip(x, 0.0, 1.0)
        below = self._below(low)
        with np.errstate(divide="ignore"):
            n = max(self.exponent, 1e-6)
            beyond = self._at_yield() * np.maximum(x, 1.0) ** ((n - 1.0) / (2.0 * n))
        first = x < 1.0 if self.plateau else x <= 1.0
        return np.where(first, below, np.where(x < self.most, beyond, 0.0))

    def use(self, kr: ArrayLike, lr: ArrayLike) -> Floats:
        """How much of the diagram is used: max(Kr/f(Lr), Lr/Lr,max); 1 and more is a failure."""
        x = np.asarray(lr, float)
        allowed = self.allowed(np.minimum(x, self.most * (1.0 - 1e-12)))
        return np.maximum(np.asarray(kr, float) / allowed, x / self.most)

    def _below(self, x: Floats) -> Floats:
        shape = 1.0 / np.sqrt(1.0 + x**2 / 2.0)
        if self.plateau:
            return shape
        mu = min(0.001 * self.elastic_modulus / self.yield_strength, 0.6)
        return shape * (0.3 + 0.7 * np.exp(-mu * x**6))

    def _at_yield(self) -> float:
        if not self.plateau:
            return float(self._below(np.asarray(1.0)))
        strain = max(0.0375 * (1.0 - self.yield_strength / 1000.0), 0.0)
        lam = 1.0 + self.elastic_modulus * strain / self.yield_strength
        return (lam + 1.0 / (2.0 * lam)) ** -0.5


def plasticity(secondary: ArrayLike, primary: ArrayLike, lr: ArrayLike) -> Floats:
    """rho, to be added to Kr = (Kp + Ks)/Kmat where residual or thermal stress (Ks) acts with load (Kp).

    rho1 = 0.1 chi^0.714 - 0.007 chi^2 + 0.00003 chi^5, chi = Ks Lr/Kp; rho = rho1 up to Lr 0.8, then
    4 rho1 (1.05 - Lr), 0 from 1.05 on. BS 7910 Annex R, simplified; chi up to 5.2, beyond it rho1 = 0.25. From
    memory.
    """
    ks, kp, x = (np.asarray(part, float) for part in (secondary, primary, lr))
    chi = np.where(ks > 0.0, ks * x / np.maximum(kp, 1e-300), 0.0)
    held = np.minimum(chi, 5.2)
    rho1 = np.where(chi > 5.2, 0.25, 0.1 * held**0.714 - 0.007 * held**2 + 3e-5 * held**5)
    return np.where(x <= 0.8, rho1, np.where(x < 1.05, 4.0 * rho1 * (1.05 - x), 0.0))
