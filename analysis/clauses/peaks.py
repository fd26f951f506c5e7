"""Elastic peak stress at bores and blends: a stress concentration factor on a nominal stress against Fy over the peak factor."""

from __future__ import annotations

import numpy as np

from analysis.clauses.clause import Outcome, clause, within
from analysis.clauses.concentration import (
    HOLE_BENDING,
    LUG_RANGE,
    hole_net,
    lug_net,
    shoulder_bending,
    winkler,
)
from analysis.mechanics.sections import hub_net
from params.steps.arrays import Floats

LUG = "Frocht and Hill (1940) in Pilkey, Peterson's Stress Concentration Factors, 2nd ed. (1997), chart 4.67 (from memory)"
WALL = {
    "Fy": ("specified yield strength", "stress"),
    "factor": ("least ratio of yield strength to peak", "-"),
}


@clause(
    check="bore peak",
    what="boss as a lug about its pin; the wall toward the arm carries all of a force square to the arm, not half",
    equation="Kt sqrt(Fs^2 + (2 Ft)^2)/((D - d) t) (1 + 6 e/t) <= Fy/factor",
    kind="stress",
    symbols={
        "Fs": ("force of the pin along the arm", "force"),
        "Ft": ("force of the pin square to the arm, in its plane", "force"),
        "D": ("outside of the boss", "length"),
        "d": ("bore", "length"),
        "t": ("width of the boss", "length"),
        "e": ("eccentricity of the pin force", "length"),
        "x": ("bore over outside", "-"),
        "Kt": ("factor on the net section", "-"),
        **WALL,
    },
    limits="0.15 <= d/D <= 0.75; close-fitting pin",
    reference=LUG
    + "; the factor 2 square to the arm is this project's, the mesh of its demo arms gives 1.8 to 2.05",
    working=(
        "x = d/D",
        "Kt = 12.882 - 52.714*x + 89.762*x^2 - 51.667*x^3",
        "demand = Kt*sqrt(Fs^2 + (2*Ft)^2)/((D - d)*t)*(1 + 6*abs(e)/t)",
        "capacity = Fy/factor",
    ),
)
def boss(
    *, Fs: Floats, Ft: Floats, D: Floats, d: float, t: float, e: Floats, Fy: float, factor: float
) -> Outcome:
    """Peak at an end bore; along the arm both walls share the force as in the lug of the chart.

    >>> out = boss(Fs=100e3, Ft=0.0, D=200.0, d=100.0, t=50.0, e=0.0, Fy=345.0, factor=1.5)
    >>> round(float(out.symbols["Kt"]), 3), round(float(out.demand), 2)
    (2.507, 50.14)
    """
    Kt = lug_net(d / np.asarray(D))
    nominal = np.hypot(Fs, 2.0 * np.asarray(Ft)) / ((D - d) * t)
    spread = 1.0 + 6.0 * np.abs(e) / t
    fit = within(d / np.asarray(D), *LUG_RANGE)
    return Outcome(Kt * nominal * spread, Fy / factor, {"Kt": Kt}, fit, "bore outside the curve's range")


@clause(
    check="bore peak",
    what="hub: lug about the pivot under its reaction, plus the hole in a strip under bending and tension",
    equation="Kt R/((D - d) w) + 2 M (d/2)/Inet + Kh N/((D - d) w) + tilt <= Fy/factor",
    kind="stress",
    symbols={
        "R": ("pivot reaction in plane", "force"),
        "M": ("moment through the hub, the greater of both arms", "moment"),
        "N": ("axial force through the hub, square to the plane halving the arms' angle", "force"),
        "Mt": ("moment that tilts the pivot in its bore", "moment"),
        "D": ("outside of the hub", "length"),
        "d": ("bore", "length"),
        "w": ("width of the hub", "length"),
        "x": ("bore over outside", "-"),
        "A": ("net area", "area"),
        "Kt": ("lug factor", "-"),
        "Kh": ("hole factor in tension", "-"),
        "tilt": ("reaction growing along the bore", "stress"),
        "Inet": ("net second moment", "mm4"),
        **WALL,
    },
    limits="0.15 <= d/D <= 0.75; close-fitting pivot; peaks at different places are added, the safe side",
    reference=LUG + "; Heywood (1952) for bending, Howland (1930) for tension",
    working=(
        "x = d/D",
        "Kt = 12.882 - 52.714*x + 89.762*x^2 - 51.667*x^3",
        "Kh = 3 - 3.140*x + 3.667*x^2 - 1.527*x^3",
        "A = w*(D - d)",
        "Inet = w*(D^3 - d^3)/12",
        "tilt = Kt*6*abs(Mt)/(w*A)",
        "demand = Kt*abs(R)/A + 2*abs(M)*(d/2)/Inet + Kh*abs(N)/A + tilt",
        "capacity = Fy/factor",
    ),
)
def hub(
    *, R: Floats, M: Floats, N: Floats, Mt: Floats, D: Floats, d: float, w: float, Fy: float, factor: float
) -> Outcome:
    """Peak at the pivot bore.

    Bending alone, hub 300 outside, 100 bore, 60 wide, 13 kN m: nominal at the bore's edge 5 MPa, doubled.

    >>> out = hub(R=0.0, M=13e6, N=0.0, Mt=0.0, D=300.0, d=100.0, w=60.0, Fy=345.0, factor=1.5)
    >>> round(float(out.demand), 9)
    10.0
    """
    ratio = d / np.asarray(D)
    Kt, Kh, (A, Inet) = lug_net(ratio), hole_net(ratio), hub_net(w, D, d)
    tilt = Kt * 6.0 * np.abs(Mt) / (w * A)
    peak = Kt * np.abs(R) / A + HOLE_BENDING * np.abs(M) * (d / 2.0) / Inet + Kh * np.abs(N) / A + tilt
    symbols = {"Kt": Kt, "Kh": Kh, "Inet": Inet, "tilt": tilt}
    return Outcome(peak, Fy / factor, symbols, within(ratio, *LUG_RANGE), "bore outside the curve's range")


@clause(
    check="hub as ring",
    what="wall beside the pivot bore as a curved bar, the reaction passing through a ring",
    equation="R/(2 Aw) + k (0.182 R rm) <= Fy/factor, k = (rn - ri)/(Aw e ri)",
    kind="stress",
    symbols={
        "R": ("pivot reaction in plane", "force"),
        "D": ("outside of the hub", "length"),
        "d": ("bore", "length"),
        "w": ("width of the hub", "length"),
        "rm": ("mean radius of the wall", "length"),
        "rn": ("radius of the neutral line", "length"),
        "Aw": ("area of one wall", "area"),
        "k": ("stress at the bore per unit moment, curved bar", "1/mm3"),
        **WALL,
    },
    limits="ring under two opposite point loads: a distributed pressure and the arms beside it give less stress",
    reference="Winkler and Bach, and the ring's moment R rm (1/2 - 1/pi): Timoshenko, Strength of Materials Part II",
    working=(
        "rm = (D + d)/4",
        "Aw = w*(D - d)/2",
        "rn = (D - d)/2/ln(D/d)",
        "k = (rn - d/2)/(Aw*(rm - rn)*(d/2))",
        "demand = abs(R)/(2*Aw) + k*abs(R)*rm*(1/2 - 1/pi)",
        "capacity = Fy/factor",
    ),
)
def ring(*, R: Floats, D: Floats, d: float, w: float, Fy: float, factor: float) -> Outcome:
    """Hoop stress at the bore, square to the reaction.

    >>> out = ring(R=0.0, D=300.0, d=100.0, w=60.0, Fy=345.0, factor=1.5)
    >>> float(out.demand), float(out.symbols["rm"])
    (0.0, 100.0)
    """
    rm, Aw = (D + d) / 4.0, w * (D - d) / 2.0
    k, _ = winkler(d / 2.0, D / 2.0, w)
    moment = np.abs(R) * rm * (0.5 - 1.0 / np.pi)
    return Outcome(np.abs(R) / (2.0 * Aw) + k * moment, Fy / factor, {"rm": rm, "Aw": Aw, "k": k})


@clause(
    check="blend peak",
    what="where the arm's edge runs into the hub",
    equation="|N|/A + Kt |M3|/S3 + |M2|/S2 <= Fy/factor",
    kind="stress",
    symbols={
        "N": ("axial force", "force"),
        "A": ("area at the hub edge", "area"),
        "M3": ("bending moment in plane", "moment"),
        "S3": ("elastic modulus at the hub edge", "mm3"),
        "M2": ("bending moment sideways", "moment"),
        "S2": ("elastic modulus sideways", "mm3"),
        "D": ("outside of the hub", "length"),
        "h": ("depth at the hub", "length"),
        "r": ("blend radius", "length"),
        "step": ("height of the shoulder", "length"),
        "q": ("shoulder over blend radius, within 0.1 and 20", "-"),
        "x": ("both shoulders over the hub's outside", "-"),
        "C1": ("coefficient of the handbook", "-"),
        "C2": ("coefficient of the handbook", "-"),
        "C3": ("coefficient of the handbook", "-"),
        "C4": ("coefficient of the handbook", "-"),
        "Kt": ("shoulder factor in bending", "-"),
        **WALL,
    },
    limits="square shoulder in a flat bar; the hub circle is blunter",
    reference="Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed. (2002), table 17.1 case 5b (from memory)",
    working=(
        "Kt = 1 if D <= h",
        "step = (D - h)/2 if D > h",
        "q = max(0.1, min(20, step/r)) if D > h and r > 0",
        "q = 20 if D > h and r <= 0",
        "x = 2*step/D if D > h",
        "C1 = 1.007 + sqrt(q) - 0.031*q if D > h and q <= 2",
        "C2 = -0.270 - 2.404*sqrt(q) + 0.749*q if D > h and q <= 2",
        "C3 = 0.677 + 1.133*sqrt(q) - 0.904*q if D > h and q <= 2",
        "C4 = -0.414 + 0.271*sqrt(q) + 0.186*q if D > h and q <= 2",
        "C1 = 1.042 + 0.982*sqrt(q) - 0.036*q if D > h and q > 2",
        "C2 = -3.599 + 1.619*sqrt(q) - 0.431*q if D > h and q > 2",
        "C3 = 6.084 - 5.607*sqrt(q) + 1.158*q if D > h and q > 2",
        "C4 = -2.527 + 3.006*sqrt(q) - 0.691*q if D > h and q > 2",
        "Kt = C1 + C2*x + C3*x^2 + C4*x^3 if D > h",
        "demand = abs(N)/A + Kt*abs(M3)/S3 + abs(M2)/S2",
        "capacity = Fy/factor",
    ),
)
def blend(
    *,
    N: Floats,
    A: Floats,
    M3: Floats,
    S3: Floats,
    M2: Floats,
    S2: Floats,
    D: Floats,
    h: Floats,
    r: float,
    Fy: float,
    factor: float,
) -> Outcome:
    """Peak at the blend between arm and hub; no step, no rise.

    >>> out = blend(N=0, A=1e4, M3=1e8, S3=1e6, M2=0, S2=1e5, D=300.0, h=300.0, r=50.0, Fy=345.0, factor=1.5)
    >>> float(out.demand)
    100.0
    """
    Kt = shoulder_bending(D, h, r)
    return Outcome(np.abs(N) / A + Kt * np.abs(M3) / S3 + np.abs(M2) / S2, Fy / factor, {"Kt": Kt})
