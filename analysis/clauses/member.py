"""The section under combined stress, and its shear: ASME BTH-1 section 3-2 (edition 2020; equations from memory)."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from params.steps.arrays import Floats

BTH = "ASME BTH-1-2020, "


@clause(
    check="combined stress",
    what="equivalent stress at flange tip, flange middle, flange-web junction and neutral axis",
    equation="fcr = sqrt(sigma^2 + 3 tau^2) <= Fy / Nd",
    kind="stress",
    symbols={
        "N": ("axial force there", "force"),
        "A": ("area of the section", "area"),
        "M3": ("moment in plane", "moment"),
        "w3": ("normal stress at the point per unit of M3, y/I3", "1/mm3"),
        "M2": ("moment sideways", "moment"),
        "w2": ("normal stress at the point per unit of M2, z/I2", "1/mm3"),
        "T": ("torque", "moment"),
        "wT": ("normal stress at the point per unit of T, warping held at the hub", "1/mm3"),
        "sb": ("of it by bending and warping", "stress"),
        "kf": (
            "1/cos^2 of the slope of the flange's outer face, along which the stress runs; 1 elsewhere",
            "-",
        ),
        "sigma": ("normal stress from N, M2, M3, and T by held warping", "stress"),
        "V": ("shear force of the web, less the share of the inclined flanges", "force"),
        "v2": ("shear stress at the point per unit of V, Q/(I t)", "1/mm2"),
        "V3": ("shear sideways", "force"),
        "v3": ("shear stress at the point per unit of V3", "1/mm2"),
        "vT": ("shear stress at the point per unit of T", "1/mm3"),
        "tau": ("shear stress from V2, V3, T", "stress"),
        "fcr": ("equivalent stress", "stress"),
        "Fy": ("specified yield strength", "stress"),
        "Nd": ("design factor", "-"),
    },
    limits="elastic; sections that do not buckle before yield (see slenderness)",
    reference=BTH + "3-2.5, combined normal and shear stresses",
    working=(
        "sb = abs(M3)*w3 + abs(M2)*w2 + abs(T)*wT",
        "sigma = kf*(abs(N)/A + sb)",
        "tau = abs(V)*v2 + abs(V3)*v3 + abs(T)*vT",
        "demand = sqrt(sigma^2 + 3*tau^2)",
        "capacity = Fy/Nd",
    ),
)
def combined_stress(*, sigma: Floats, tau: Floats, fcr: Floats, Fy: float, Nd: float) -> Outcome:
    """Von Mises stress against the allowable; `fcr` comes with its parts so that a record can show them.

    Pure shear at the allowable of 3-2.3.6, Fy / (Nd sqrt 3), is just used up:

    >>> tau = 345.0 / (3.0 * 3.0**0.5)
    >>> out = combined_stress(sigma=0.0, tau=tau, fcr=(3.0 * tau**2) ** 0.5, Fy=345.0, Nd=3.0)
    >>> round(float(out.demand / out.capacity), 9)
    1.0
    """
    return Outcome(fcr, Fy / Nd)


@clause(
    check="section shear",
    what="greatest in-plane shear stress of the web",
    equation="fv = V Q / (I t) <= Fy / (Nd sqrt(3))",
    kind="stress",
    symbols={
        "V": ("shear force of the web, less the share of the inclined flanges", "force"),
        "q": ("Q / (I t) at the neutral axis, per unit of shear", "1/mm2"),
        "Fy": ("specified yield strength", "stress"),
        "Nd": ("design factor", "-"),
        "slenderness": ("clear web depth over thickness", "-"),
        "limit": ("greatest slenderness", "-"),
        "E": ("modulus of elasticity", "stress"),
    },
    limits="clear depth / thickness <= 2.45 sqrt(E / Fy)",
    reference=BTH + "3-2.3.6, shear on bars, pins and plates",
    working=(
        "limit = 2.45*sqrt(E/Fy)",
        "demand = abs(V)*q",
        "capacity = Fy/(Nd*sqrt(3))",
    ),
)
def section_shear(*, V: Floats, q: Floats, slenderness: Floats, Fy: float, Nd: float, E: float) -> Outcome:
    """Shear flow at the neutral axis against the allowable.

    A bar of 40 x 200 mm under 100 kN: 1.5 V / A = 18.75 MPa (Jourawski).

    >>> out = section_shear(V=100e3, q=1.5 / (40.0 * 200.0), slenderness=5.0, Fy=345.0, Nd=3.0, E=205e3)
    >>> round(float(out.demand), 6), round(float(out.capacity), 3)
    (18.75, 66.395)
    """
    limit = 2.45 * np.sqrt(E / Fy)
    return Outcome(
        np.abs(V) * q,
        Fy / (Nd * np.sqrt(3.0)),
        {"limit": limit},
        np.asarray(slenderness) <= limit,
        "web too slender for the shear allowable",
    )
