"""Equilibrium of a load case at its governing position, written out in the world frame, and the forces at the hub edges."""

from __future__ import annotations

from typing import Any

import numpy as np

from analysis.hand.evaluate import Hand
from analysis.hand.worked.working import working
from analysis.mechanics.response import Limb
from analysis.mechanics.statics import GRAVITY, sense
from params.rules.derived import cylinder_areas
from params.schema.arm import Arm, LoadCase

KINDS: dict[str, tuple[str, str]] = {
    "L1": ("pivot centre to input pin", "length"),
    "L2": ("pivot centre to output pin", "length"),
    "gamma": ("angle between the arms", "angle"),
    "phi": ("output arm above the horizontal", "angle"),
    "x1": ("input pin", "length"),
    "y1": ("input pin", "length"),
    "xa": ("cylinder's anchor", "length"),
    "ya": ("cylinder's anchor", "length"),
    "l1": ("length of the cylinder, pin to pin", "length"),
    "u1x": ("direction of the cylinder's push", "-"),
    "u1y": ("direction of the cylinder's push", "-"),
    "a1": ("lever of the cylinder about the pivot, counter-clockwise positive", "length"),
    "x2": ("output pin", "length"),
    "y2": ("output pin", "length"),
    "delta": ("direction of the load's pull", "angle"),
    "xb": ("far end of the load's link", "length"),
    "yb": ("far end of the load's link", "length"),
    "l2": ("length of the load's link", "length"),
    "u2x": ("direction of the load's pull", "-"),
    "u2y": ("direction of the load's pull", "-"),
    "a2": ("lever of the load about the pivot", "length"),
    "m": ("mass of the arm", "mass"),
    "g": ("gravity", "gravity"),
    "Ks": ("shock factor", "-"),
    "W": ("weight with shock", "force"),
    "xg": ("centre of gravity in the arm's frame", "length"),
    "yg": ("centre of gravity in the arm's frame", "length"),
    "MW": ("moment of the weight about the pivot", "moment"),
    "f": ("fraction of the swing", "-"),
    "f1": ("load table, point below", "-"),
    "f2": ("load table, point above", "-"),
    "Q1": ("load at the point below", "force"),
    "Q2": ("load at the point above", "force"),
    "Q": ("load by the table", "force"),
    "T1": ("resisting moment at the point below", "moment"),
    "T2": ("resisting moment at the point above", "moment"),
    "TQ": ("resisting moment by the table", "moment"),
    "KL": ("load factor", "-"),
    "P": ("pull of the load", "force"),
    "mu": ("friction of the pivot", "-"),
    "dp": ("pivot pin", "length"),
    "sign": ("sign of the friction: sense of rotation times side of the cylinder", "-"),
    "way": ("sense of rotation: counter-clockwise 1, clockwise -1", "-"),
    "k": ("lever of friction", "length"),
    "M0": ("moment of load and weight", "moment"),
    "c0": ("load and weight along the cylinder", "force"),
    "Q0": ("load and weight together", "force"),
    "K0": ("part of K", "moment2"),
    "K": ("under the root of F a1 + M0 = sign k R, R the pivot reaction", "moment2"),
    "F": ("force of the cylinder, pushing positive", "force"),
    "pr": ("relief pressure", "stress"),
    "Ko": ("overshoot of the relief pressure", "-"),
    "Ab": ("piston area that pushes", "area"),
    "Aa": ("piston area that pulls", "area"),
    "p": ("pressure", "stress"),
    "Rx": ("pivot on the arm, world frame", "force"),
    "Ry": ("pivot on the arm, world frame", "force"),
    "R": ("pivot reaction in plane", "force"),
    "Mf": ("friction of the pivot on the arm", "moment"),
    "ks": ("side force over pin force", "-"),
    "n2": (
        "side force of the output pin: 1 as the input pin's, -1 opposite; the one that tilts the pivot more",
        "-",
    ),
    "F1z": ("side force at the input pin", "force"),
    "F2z": ("side force at the output pin", "force"),
    "Rz": ("side force at the pivot", "force"),
    "Fs": ("pin force along the arm", "force"),
    "Ft": ("pin force square to the arm, in plane", "force"),
    "Fz": ("side force of the pin", "force"),
    "gs": ("gravity with shock, along the arm", "gravity"),
    "gt": ("gravity with shock, square to the arm", "gravity"),
    "mo": ("mass of the arm beyond the hub edge", "mass"),
    "So": ("its first moment about the hub edge", "mass moment"),
    "e": ("eccentricity of the pin force along z", "length"),
    "lr": ("hub edge to pin", "length"),
    "N": ("axial force, tension positive", "force"),
    "V2": ("in-plane shear", "force"),
    "V3": ("sideways shear", "force"),
    "T": ("torque", "moment"),
    "M2": ("sideways moment", "moment"),
    "M3": ("in-plane moment, counter-clockwise positive", "moment"),
    "A": ("area", "area"),
    "S3": ("elastic modulus in plane", "mm3"),
    "splus": ("stress at the flange middle on the +eta side", "stress"),
    "sminus": ("stress at the flange middle on the -eta side", "stress"),
}
CYLINDER = (
    "x1 = L1*cos(phi + gamma)",
    "y1 = L1*sin(phi + gamma)",
    "l1 = sqrt((x1 - xa)^2 + (y1 - ya)^2)",
    "u1x = (x1 - xa)/l1",
    "u1y = (y1 - ya)/l1",
    "a1 = x1*u1y - y1*u1x",
)
LINK = ("l2 = sqrt((xb - x2)^2 + (yb - y2)^2)", "u2x = (xb - x2)/l2", "u2y = (yb - y2)/l2")
WEIGHT = ("W = m*g*Ks", "MW = -W*(xg*cos(phi) - yg*sin(phi))")
FRICTION = (
    "k = mu*dp/2",
    "M0 = P*a2 + MW",
    "c0 = P*(u2x*u1x + u2y*u1y) - W*u1y",
    "Q0 = sqrt((P*u2x)^2 + (P*u2y - W)^2)",
    "K0 = (a1*Q0)^2 - 2*a1*M0*c0",
    "K = K0 + M0^2 - k^2*(Q0^2 - c0^2)",
    "F = (k^2*c0 - a1*M0 + sign*k*sqrt(K))/(a1^2 - k^2)",
)
PIVOT = (
    "p = F/Ab if F >= 0",
    "p = -F/Aa if F < 0",
    "Rx = -(F*u1x + P*u2x)",
    "Ry = -(F*u1y + P*u2y - W)",
    "R = sqrt(Rx^2 + Ry^2)",
)
SIDE = ("F1z = ks*abs(F)", "F2z = n2*ks*abs(P)", "Rz = -(F1z + F2z)")
HUB_EDGE = (
    "N = Fs + mo*gs",
    "V2 = Ft + mo*gt",
    "M3 = lr*Ft + So*gt",
    "V3 = Fz",
    "T = -e*Ft",
    "M2 = e*Fs - lr*Fz",
    "splus = N/A - M3/S3",
    "sminus = N/A + M3/S3",
)


def statics_lines(arm: Arm, case: LoadCase, moving: bool, table: tuple[str, ...]) -> list[str]:
    """Lines of one case: geometry, weight, load, cylinder, pivot."""
    direction = LINK if arm.driven.anchor else ("u2x = cos(delta)", "u2y = sin(delta)")
    lines = [*CYLINDER, "x2 = L2*cos(phi)", "y2 = L2*sin(phi)", *direction, "a2 = x2*u2y - y2*u2x", *WEIGHT]
    if case.kind == "blocked":
        lines += ["F = -Ko*pr*Aa" if case.push == "retract" else "F = Ko*pr*Ab", "P = -(F*a1 + MW)/a2"]
    else:
        force = arm.driven.load[0].force is not None
        lines += [*table, "P = Q*KL*Ks" if force else "P = TQ/abs(a2)*KL*Ks"]
        lines += FRICTION if moving else ["F = -(P*a2 + MW)/a1"]
    return [*lines, *PIVOT, *(["Mf = -way*k*R"] if moving else []), *(SIDE if case.side_ratio else [])]


def load_table(arm: Arm, fraction: float) -> tuple[tuple[str, ...], dict[str, float]]:
    """Lines and numbers of the interpolation in the load table."""
    points = arm.driven.load
    after = next(
        (index for index, point in enumerate(points) if index and fraction <= point.at), len(points) - 1
    )
    below, above = points[after - 1], points[after]
    name, each = ("Q", "Q") if below.force is not None else ("TQ", "T")
    low, high = ((point.force if name == "Q" else point.moment) or 0.0 for point in (below, above))
    line = f"{name} = {each}1 + ({each}2 - {each}1)*(f - f1)/(f2 - f1)"
    return (line,), {"f": fraction, "f1": below.at, "f2": above.at, f"{each}1": low, f"{each}2": high}


def statics(hand: Hand, case: str, c: int, p: int) -> dict[str, Any]:
    """Equilibrium of the whole arm in case `c` at position `p`."""
    arm, now = hand.response.arm, hand.response.statics
    load = arm.load_cases[case]
    table, numbers = load_table(arm, float(now.fraction[c, p]))
    way = float(sense(arm, [load])[0, 0])
    moving = way != 0.0 and load.friction > 0.0
    lines = statics_lines(arm, load, moving, table)
    drive, g = arm.drive, arm.geometry
    far = arm.driven.anchor
    cg = hand.response.mass.cg[0]
    push, pull = cylinder_areas(arm)
    lever = float(np.sign(levers(arm, float(now.phi[c, p]))))
    given = numbers | {
        "L1": g.input_arm,
        "L2": g.output_arm,
        "gamma": g.included_angle,
        "phi": float(now.phi[c, p]),
        "xa": drive.anchor.x,
        "ya": drive.anchor.y,
        "delta": arm.driven.direction or 0.0,
        "xb": far.x if far else 0.0,
        "yb": far.y if far else 0.0,
        "m": float(hand.mass[0]),
        "g": GRAVITY,
        "Ks": load.shock_factor,
        "KL": load.load_factor,
        "xg": float(cg[0]),
        "yg": float(cg[1]),
        "mu": load.friction,
        "dp": g.pivot.pin.diameter,
        "way": way,
        "sign": way * lever,
        "pr": drive.relief_pressure,
        "Ab": push,
        "Aa": pull,
        "ks": load.side_ratio,
        "Ko": load.overshoot_factor,
        "n2": float(np.sign(now.output[2, 0, c, p]) or 1.0),
    }
    known = {"F": now.cylinder, "P": now.load, "p": now.pressure, "R": np.hypot(now.pivot[0], now.pivot[1])}
    computed = {name: float(value[0, c, p]) for name, value in known.items()}
    return working(lines, given, KINDS, arm.units, computed)


def levers(arm: Arm, phi: float) -> float:
    """Lever of the cylinder about the pivot, mm."""
    angle = phi + arm.geometry.included_angle
    x, y = arm.geometry.input_arm * np.cos(angle), arm.geometry.input_arm * np.sin(angle)
    along = np.array([x - arm.drive.anchor.x, y - arm.drive.anchor.y])
    return float((x * along[1] - y * along[0]) / np.hypot(*along))


def hub_edge(hand: Hand, limb: Limb, c: int, p: int) -> dict[str, Any]:
    """Internal forces of one arm at the hub edge and the stresses of its flanges there."""
    pin, part = limb.pin, limb.part
    e = float(pin.offset[0, c, p])
    given = {
        "Fs": float(pin.s[0, c, p]),
        "Ft": float(pin.eta[0, c, p]),
        "Fz": float(pin.z[0, c, p]),
        "e": e,
        "gs": float(limb.gravity[0, c, p]),
        "gt": float(limb.gravity[1, c, p]),
        "mo": float(limb.outer[0][0, 0]),
        "So": float(limb.outer[1][0, 0]),
        "lr": float(limb.reach[0, 0]),
        "A": float(part.area[0, 0]),
        "S3": float(part.s3[0, 0]),
    }
    names = {"N": "n", "V2": "v2", "M3": "m3", "V3": "v3", "T": "t", "M2": "m2"}
    known = {symbol: float(getattr(limb.root, name)[0, c, p, 0]) for symbol, name in names.items()}
    return working(HUB_EDGE, given, KINDS, hand.response.arm.units, known)
