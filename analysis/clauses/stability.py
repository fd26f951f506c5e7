"""Buckling of an arm as a cantilever: column, lateral-torsional buckling, and both together."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats


def elastic_moment(E: float, G: float, I2: ArrayLike, J: ArrayLike, Cw: ArrayLike, L: ArrayLike) -> Floats:
    """Critical moment of a beam on forks under uniform moment, N mm.

    Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. (1961), chapter 6. A cantilever of the same length, loaded
    at the centroid of its tip, has more: 4.013 in place of pi in the narrow rectangle.
    """
    I2, J, Cw, L = (np.asarray(value, dtype=float) for value in (I2, J, Cw, L))
    return np.pi / L * np.sqrt(E * I2 * G * J) * np.sqrt(1.0 + np.pi**2 * E * Cw / (G * J * L**2))


def bending_allowable(Mcr: ArrayLike, S: ArrayLike, Fy: float, Nd: float) -> Floats:
    """Allowable bending stress: elastic Mcr / S up to 0.7 Fy, beyond it a parabola toward Fy (residual stress 0.3 Fy), over Nd.

    The parabola Fy (1 - 0.21 Fy / Fe) meets the elastic curve at 0.7 Fy (common practice after the Structural Stability
    Research Council's column curve; AISC 360-22 F2 runs straight in length between the same ends).
    """
    elastic = np.asarray(Mcr, dtype=float) / S
    return np.where(elastic <= 0.7 * Fy, elastic, Fy * (1.0 - 0.21 * Fy / elastic)) / Nd


def column_allowable(slenderness: ArrayLike, E: float, Fy: float, Nd: float) -> Floats:
    """Allowable axial compressive stress, ASME BTH-1-2020 3-2.2, equations (3-3) to (3-5) (from memory).

    >>> round(float(column_allowable(0.0, 205e3, 345.0, 3.0)), 3)
    115.0
    """
    ratio = np.asarray(slenderness, dtype=float) / np.sqrt(2.0 * np.pi**2 * E / Fy)
    short = (1.0 - ratio**2 / 2.0) * Fy / (Nd * (1.0 + 9.0 * ratio / 40.0 - 3.0 * ratio**3 / 40.0))
    return np.where(ratio <= 1.0, short, Fy / (2.0 * 1.15 * Nd * np.maximum(ratio, 1.0) ** 2))


@clause(
    check="lateral-torsional buckling",
    what="bending in plane against buckling sideways, taking a uniform moment",
    equation="M3/S3 <= Fb = min(Fe, Fy (1 - 0.21 Fy/Fe)) / Nd, Fe = Mcr/S3, "
    "Mcr = pi/L sqrt(E I2 G J) sqrt(1 + pi^2 E Cw/(G J L^2))",
    kind="stress",
    symbols={
        "M3": ("bending moment in plane at the hub edge", "moment"),
        "S3": ("elastic modulus at the hub edge", "mm3"),
        "Mcr": ("elastic critical moment with the least section's constants", "moment"),
        "I2": ("least second moment sideways", "mm4"),
        "J": ("least torsion constant", "mm4"),
        "Cw": ("least warping constant", "mm6"),
        "L": ("pivot centre to pin centre", "length"),
        "E": ("modulus of elasticity", "stress"),
        "G": ("shear modulus", "stress"),
        "Fy": ("specified yield strength", "stress"),
        "Nd": ("design factor", "-"),
        "Fb": ("allowable bending stress", "stress"),
        "warp": ("share of warping", "-"),
        "Fe": ("elastic critical stress Mcr/S3", "stress"),
    },
    limits="doubly symmetric; pin load through the centroid; tip held sideways by nothing, root by the hub",
    reference="Timoshenko and Gere, Theory of Elastic Stability, chapter 6; "
    "ANSI/AISC 360-22 F1(c): Cb = 1 for cantilevers; ASME BTH-1-2020 3-2.3",
    working=(
        "warp = pi^2*E*Cw/(G*J*L^2)",
        "Mcr = pi/L*sqrt(E*I2*G*J)*sqrt(1 + warp)",
        "Fe = Mcr/S3",
        "Fb = Fe/Nd if Fe <= 0.7*Fy",
        "Fb = Fy*(1 - 0.21*Fy/Fe)/Nd if Fe > 0.7*Fy",
        "demand = abs(M3)/S3",
        "capacity = Fb",
    ),
)
def lateral_torsional(
    *,
    M3: Floats,
    S3: Floats,
    I2: Floats,
    J: Floats,
    Cw: Floats,
    L: float,
    E: float,
    G: float,
    Fy: float,
    Nd: float,
) -> Outcome:
    """In-plane bending stress at the hub edge against its buckling allowable; uniform moment is the safe side.

    IPE 300 on forks of 5 m: 115.58 kN m (case B51).

    >>> material = {"E": 210e3, "G": 210e3 / 2.6, "Fy": 345.0, "Nd": 3.0}
    >>> out = lateral_torsional(M3=1e6, S3=557.1e3, I2=6.038e6, J=201200.0, Cw=1.259e11, L=5000.0, **material)
    >>> round(float(out.symbols["Mcr"]) / 1e6, 2)
    115.58
    """
    critical = elastic_moment(E, G, I2, J, Cw, L)
    allowable = bending_allowable(critical, S3, Fy, Nd)
    return Outcome(np.abs(M3) / S3, allowable, {"Mcr": critical, "Fb": allowable})


@clause(
    check="axial and bending interaction",
    what="axial force and bending about both axes together at the hub edge",
    equation="fa/Fa + (f3/Fb + f2*Nd/Fy) / (1 - fa/Fe) <= 1 in compression, fa/(Fy/Nd) + f3/Fb + f2/(Fy/Nd) <= 1 in tension",
    kind="-",
    symbols={
        "N": ("axial force, tension positive", "force"),
        "fa": ("axial stress", "stress"),
        "Fa": ("allowable compression at K L / r, K = 2; Fy/Nd in tension", "stress"),
        "f3": ("bending stress in plane", "stress"),
        "Fb": ("allowable bending stress", "stress"),
        "f2": ("bending stress sideways", "stress"),
        "Fe": ("elastic critical stress over the factors", "stress"),
        "k": ("slenderness over that at half the yield strength", "-"),
        "slenderness": ("K L / r, r the least radius of gyration", "-"),
        "Fy": ("specified yield strength", "stress"),
        "Nd": ("design factor", "-"),
        "E": ("modulus of elasticity", "stress"),
    },
    limits="K L / r <= 200 in compression and fa < Fe; the least radius serves for both planes: the safe side",
    reference="ASME BTH-1-2020 3-2.4, combined axial compression and bending, Cm = 1 (from memory)",
    working=(
        "k = slenderness/sqrt(2*pi^2*E/Fy) if N < 0",
        "Fa = (1 - k^2/2)*Fy/(Nd*(1 + 9*k/40 - 3*k^3/40)) if N < 0 and k <= 1",
        "Fa = Fy/(2*1.15*Nd*k^2) if N < 0 and k > 1",
        "Fa = Fy/Nd if N >= 0",
        "Fe = pi^2*E/(1.15*Nd*slenderness^2)",
        "demand = fa/Fa + (f3/Fb + f2*Nd/Fy)/(1 - fa/Fe) if N < 0 and fa < 0.999*Fe",
        "demand = fa/Fa + (f3/Fb + f2*Nd/Fy)/0.001 if N < 0 and fa >= 0.999*Fe and fa < Fe",
        "demand = fa/Fa + f3/Fb + f2*Nd/Fy if N >= 0 or fa >= Fe",
        "capacity = 1",
    ),
)
def interaction(
    *,
    N: Floats,
    fa: Floats,
    f3: Floats,
    f2: Floats,
    Fb: Floats,
    slenderness: Floats,
    Fy: float,
    Nd: float,
    E: float,
) -> Outcome:
    """Unity check of a beam-column; without axial force it is the sum of the bending shares.

    >>> out = interaction(N=0.0, fa=0.0, f3=50.0, f2=23.0, Fb=100.0, slenderness=50.0, Fy=345.0, Nd=3.0, E=205e3)
    >>> round(float(out.demand), 9)
    0.7
    """
    pushed = np.asarray(N) < 0.0
    Fa = np.where(pushed, column_allowable(slenderness, E, Fy, Nd), Fy / Nd)
    Fe = np.pi**2 * E / (1.15 * Nd * np.asarray(slenderness) ** 2)
    growth = np.where(pushed & (fa < Fe), 1.0 / np.maximum(1.0 - fa / Fe, 1e-3), 1.0)
    used = fa / Fa + growth * (f3 / Fb + f2 * (Nd / Fy))
    ok = ~pushed | ((np.asarray(slenderness) <= 200.0) & (fa < Fe))
    return Outcome(used, 1.0, {"Fa": Fa, "Fe": Fe}, ok, "column too slender")
