"""The hub beside the pivot bore: net section through the pivot centre, square to each arm."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause
from analysis.mechanics.sections import hub_net
from params.steps.arrays import Floats


@clause(
    check="net section at pivot",
    what="two walls beside the bore, on the plane through the pivot square to the arm",
    equation="fcr = sqrt((|N|/A + |M3| (D/2)/I3 + |M2| (w/2)/I2)^2 + 3 (1.5 |V2|/A + 1.5 |V3|/A + tT)^2) <= Fy/Nd",
    kind="stress",
    symbols={
        "N": ("axial force from the arm", "force"),
        "V2": ("in-plane shear", "force"),
        "V3": ("sideways shear", "force"),
        "M3": ("in-plane moment about the pivot", "moment"),
        "M2": ("sideways moment about the pivot", "moment"),
        "T": ("torque about the arm", "moment"),
        "D": ("outside of the hub", "length"),
        "d": ("bore", "length"),
        "w": ("width of the hub", "length"),
        "A": ("net area", "area"),
        "I3": ("net second moment in plane", "mm4"),
        "I2": ("net second moment sideways", "mm4"),
        "tT": ("shear of the walls from T as a couple, 1.5 of the mean", "stress"),
        "sigma": ("normal stress at the outside", "stress"),
        "tau": ("shear stress, torsion's with it", "stress"),
        "Fy": ("specified yield strength", "stress"),
        "Nd": ("design factor", "-"),
    },
    limits="straight-beam theory; the whole moment of the arm at the pivot centre, not reduced by the pivot's bearing",
    reference="ASME BTH-1-2020 3-2.5 on the net section; beam theory",
    working=(
        "A = w*(D - d)",
        "I3 = w*(D^3 - d^3)/12",
        "I2 = (D - d)*w^3/12",
        "sigma = abs(N)/A + abs(M3)*(D/2)/I3 + abs(M2)*(w/2)/I2",
        "tT = 1.5*abs(T)/((D + d)/2*A/2)",
        "tau = 1.5*(abs(V2) + abs(V3))/A + tT",
        "demand = sqrt(sigma^2 + 3*tau^2)",
        "capacity = Fy/Nd",
    ),
)
def net_section(
    *,
    N: Floats,
    V2: Floats,
    V3: Floats,
    M3: Floats,
    M2: Floats,
    T: Floats,
    D: Floats,
    d: float,
    w: float,
    Fy: float,
    Nd: float,
) -> Outcome:
    """Equivalent stress at the outside of the net section, with the greatest shear added on the safe side.

    Pure bending of a hub 300 outside, 100 bore, 60 wide: I3 = 60 (300^3 - 100^3)/12 = 130e6 mm4.

    >>> out = net_section(N=0, V2=0, V3=0, M3=13e6, M2=0, T=0, D=300.0, d=100.0, w=60.0, Fy=345.0, Nd=3.0)
    >>> round(float(out.demand), 9)
    15.0
    """
    (A, I3), I2 = hub_net(w, D, d), (D - d) * w**3 / 12.0
    sigma = np.abs(N) / A + np.abs(M3) * (D / 2.0) / I3 + np.abs(M2) * (w / 2.0) / I2
    twist = 1.5 * np.abs(T) / ((D + d) / 2.0) / (A / 2.0)
    tau = 1.5 * (np.abs(V2) + np.abs(V3)) / A + twist
    symbols = {"A": A, "I3": I3, "I2": I2, "sigma": sigma, "tT": twist}
    return Outcome(np.sqrt(sigma**2 + 3.0 * tau**2), Fy / Nd, symbols)
