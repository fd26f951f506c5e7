"""Forces on the arm over the swing by line of action, in the arm's frame, for D designs, C load cases, P positions.

Conventions: the cylinder force is positive when it pushes (rod in compression), the load when it pulls the pin along its
line. Pivot friction has the moment mu R d/2 of the pivot pin, R the in-plane pivot reaction; friction at the two end pins
is left out. The side force of the input pin is along +z, that of the output pin along +z or -z, whichever tilts the pivot
more in that load case (the mirror images load the arm alike); each pin force stands off the mid-plane on the side on which it
adds to the sideways moment of its arm. The pivot takes what closes the balance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from analysis.mechanics.mass import Mass
from geometry.datums import ARMS, arm_datum, centre
from params.rules.derived import cylinder_areas, load_table
from params.rules.linkage import Poses, poses
from params.schema.arm import Arm, LoadCase
from params.steps.arrays import Floats
from params.steps.problems import ParameterError, Problem

GRAVITY = 9.80665  # m/s2, standard gravity (ISO 80000-3)


@dataclass(frozen=True)
class Statics:
    """Arrays (D, C, P) in N, mm and MPa unless said; vectors lead with their three components in the arm's frame."""

    fraction: Floats  # (C, P)
    phi: Floats  # (C, P)
    cylinder_length: Floats  # (C, P)
    cylinder: Floats
    pressure: Floats
    load: Floats
    input: Floats  # (3, D, C, P) force on the arm at the input pin, acting at z = eccentricity[0]
    output: Floats
    pivot: Floats
    pivot_moment: Floats  # (3, D, C, P) on the arm about the pivot centre
    gravity: Floats  # (3, C, P) m/s2, shock included
    weight: Floats  # (3, D, C, P)
    eccentricity: Floats  # (2, D, C, P) z of the force at input and output pin


def of_cases(cases: Sequence[LoadCase], name: str) -> Floats:
    """One number of every load case, (C, 1)."""
    return np.array([[float(getattr(case, name))] for case in cases])


def pull_of_load(arm: Arm, pose: Poses) -> Floats:
    """Pull of the load table on the output pin at each pose, N; a resisting moment acts through its line's arm."""
    value, by_force = load_table(arm, pose.fraction)
    return value if by_force else value / np.abs(pose.pull_arm)


def relief_force(arm: Arm, cases: Sequence[LoadCase]) -> Floats:
    """Force of the cylinder at relief pressure and its overshoot for blocked cases, signed, (C, 1); nan for the others."""
    push, pull = (arm.drive.relief_pressure * area for area in cylinder_areas(arm))
    force = {"extend": push, "retract": -pull}
    return np.array(
        [
            [case.overshoot_factor * force[case.push or "extend"] if case.kind == "blocked" else np.nan]
            for case in cases
        ]
    )


def sense(arm: Arm, cases: Sequence[LoadCase]) -> Floats:
    """Sense in which the arm turns: +1 counter-clockwise, -1 clockwise, 0 at rest, (C, 1)."""
    up = np.sign(arm.drive.raised - arm.drive.lowered)
    turn = {"raise": up, "lower": -up, "hold": 0.0, "blocked": 0.0}
    return np.array([[turn[case.kind]] for case in cases])


def with_friction(
    arm: Arm, push_arm: Floats, moment: Floats, along: Floats, square: Floats, lag: Floats
) -> Floats:
    """Cylinder force F with F a + m = k R and R^2 = F^2 + 2 F c + q, k = turn mu d/2: the root of the quadratic with that sign.

    `moment` m of load and weight about the pivot, `along` c their force along the cylinder's line, `square` q its square.

    Raises
    ------
    ParameterError
        where friction alone locks the arm (moment arm of the cylinder not above mu d/2).
    """
    if np.any(np.abs(push_arm) <= np.abs(lag)):
        wrong = (
            "pivot friction locks the arm: the cylinder's moment arm is not above friction times half the pin"
        )
        raise ParameterError(
            [
                Problem(
                    f"{arm.name}.yaml",
                    1,
                    "load_cases",
                    "friction",
                    wrong,
                    mend="move the anchor or lower the friction",
                )
            ]
        )
    # The roots' difference without the cancelling terms of b^2 - a c, so that little friction stays exact.
    inner = push_arm**2 * square - 2.0 * push_arm * moment * along + moment**2 - lag**2 * (square - along**2)
    root = np.sign(push_arm) * lag * np.sqrt(np.maximum(inner, 0.0))
    return (lag**2 * along - push_arm * moment + root) / (push_arm**2 - lag**2)


def turned(vector: Floats, phi: Floats) -> Floats:
    """World components (2, ...) as components in the frame of an arm turned by phi."""
    c, s = np.cos(phi), np.sin(phi)
    return np.stack([c * vector[0] + s * vector[1], c * vector[1] - s * vector[0]])


@dataclass(frozen=True)
class Lines:
    """Lines of action of C cases at P positions, world frame."""

    phi: Floats  # (C, P)
    length: Floats  # (C, P) of the cylinder
    push: Floats  # (2, C, P) unit vector of a pushing cylinder
    push_arm: Floats  # (C, P) moment arm, counter-clockwise positive
    pull: Floats  # (2, C, P) unit vector of the load
    pull_arm: Floats  # (C, P)
    table: Floats  # (C, P) pull of the load table, N


def lines(arm: Arm, fraction: Floats) -> Lines:
    """Lines of action at the fractions (C, P) of the swing."""
    pose = poses(arm, fraction.ravel())

    def grid(values: Floats) -> Floats:
        return values.T.reshape(*values.shape[1:], *fraction.shape)

    return Lines(
        grid(pose.phi),
        grid(pose.cylinder_length),
        grid(pose.push),
        grid(pose.push_arm),
        grid(pose.pull),
        grid(pose.pull_arm),
        grid(pull_of_load(arm, pose)),
    )


def driven(
    arm: Arm, cases: Sequence[LoadCase], line: Lines, weight: Floats, weight_moment: Floats
) -> tuple[Floats, Floats, Floats]:
    """Load, cylinder force (D, C, P) and friction per newton of reaction (C, 1) that turn the arm without acceleration."""
    relief = relief_force(arm, cases)
    blocked = ~np.isnan(relief)
    given = line.table * of_cases(cases, "load_factor") * of_cases(cases, "shock_factor")
    held = -(np.nan_to_num(relief) * line.push_arm + weight_moment) / line.pull_arm
    load = np.where(blocked, held, given)
    force = np.stack([load * line.pull[0], load * line.pull[1] - weight])
    lag = sense(arm, cases) * of_cases(cases, "friction") * arm.geometry.pivot.pin.diameter / 2.0
    along = force[0] * line.push[0] + force[1] * line.push[1]
    moment = load * line.pull_arm + weight_moment
    free = with_friction(arm, line.push_arm, moment, along, force[0] ** 2 + force[1] ** 2, lag)
    return load, np.where(blocked, relief, free), lag


def statics(arm: Arm, mass: Mass, fraction: ArrayLike, cases: Sequence[LoadCase] | None = None) -> Statics:
    """Forces at the fractions of the swing, (P,) for all cases or (C, P); cases default to the arm's own, in order."""
    cases = tuple(arm.load_cases.values()) if cases is None else tuple(cases)
    fraction = np.broadcast_to(np.asarray(fraction, dtype=float), (len(cases), np.shape(fraction)[-1]))
    line, shock = lines(arm, fraction), of_cases(cases, "shock_factor")
    weight = mass.total[:, None, None] * GRAVITY * shock  # (D, C, 1), along -y of the world
    cg = mass.cg[:, :, None, None]
    weight_moment = -weight * (cg[:, 0] * np.cos(line.phi) - cg[:, 1] * np.sin(line.phi))
    load, cylinder, lag = driven(arm, cases, line, weight, weight_moment)
    side = of_cases(cases, "side_ratio")
    pins = [
        with_side(turned(size * unit[:, None], line.phi), side)
        for size, unit in ((cylinder, line.push), (load, line.pull))
    ]
    heavy = with_side(falling(weight, line.phi), 0.0)
    pins, eccentricity, tilt = worse_sides(arm, pins, np.abs(of_cases(cases, "eccentricity")))
    reaction = -(pins[0] + pins[1] + heavy)
    moment = np.stack([tilt[0], tilt[1], -lag * np.hypot(reaction[0], reaction[1])])
    push_area, pull_area = cylinder_areas(arm)
    return Statics(
        fraction,
        line.phi,
        line.length,
        cylinder,
        np.where(cylinder >= 0.0, cylinder / push_area, -cylinder / pull_area),
        load,
        pins[0],
        pins[1],
        reaction,
        moment,
        with_side(falling(GRAVITY * shock, line.phi), 0.0),
        heavy,
        eccentricity,
    )


def falling(size: Floats, phi: Floats) -> Floats:
    """A vector of this size straight down, in the arm's frame, (2, ...)."""
    return np.stack([-size * np.sin(phi), -size * np.cos(phi)])


def with_side(plane: Floats, ratio: Floats | float) -> Floats:
    """In-plane components (2, ...) and, as the third, the share of their resultant that acts along z."""
    return np.concatenate([plane, ratio * np.hypot(plane[0], plane[1])[None]])


def moment_about_pivot(x: ArrayLike, y: ArrayLike, z: ArrayLike, force: Floats) -> Floats:
    """r x F with the components leading, (3, ...)."""
    return np.stack([y * force[2] - z * force[1], z * force[0] - x * force[2], x * force[1] - y * force[0]])


def worse_sides(arm: Arm, pins: list[Floats], eccentricity: Floats) -> tuple[list[Floats], Floats, Floats]:
    """Pin forces and their z (2, D, C, P) with the signs that count, and the tilt of the pivot (2, D, C, P).

    `pins` have side forces along +z, `eccentricity` (C, 1) is a size. Of side forces the same way and opposite ways the one
    with the larger tilt anywhere on the swing counts, design by design and case by case.
    """
    # e Fs and -reach Fz make up the sideways moment of an arm: they add where e has the sign of -Fz Fs.
    directions = [arm_datum(arm, name).along for name in ARMS]
    along = [
        np.where(x * pin[0] + y * pin[1] < 0.0, 1.0, -1.0)
        for (x, y), pin in zip(directions, pins, strict=True)
    ]
    tilts = []
    for way in (1.0, -1.0):
        forces = [pins[0], pins[1] * np.array([1.0, 1.0, way]).reshape(3, 1, 1, 1)]
        offsets = eccentricity * np.stack(np.broadcast_arrays(along[0], way * along[1]))
        tilts.append((forces, offsets, pivot_tilt(arm, forces, offsets)))
    sizes = [np.hypot(*tilt).max(axis=-1) for _, _, tilt in tilts]
    opposite = (sizes[1] > sizes[0] * (1.0 + 1e-9))[..., None]
    same, other = tilts
    forces = [np.where(opposite, b, a) for a, b in zip(same[0], other[0], strict=True)]
    return forces, np.where(opposite, other[1], same[1]), np.where(opposite, other[2], same[2])


def pivot_tilt(arm: Arm, pins: list[Floats], eccentricity: Floats) -> Floats:
    """Mx and My of the pivot on the arm that balance side force and eccentricity, (2, D, C, P)."""
    moments = [
        moment_about_pivot(x, y, offset, pin)[:2]
        for (x, y), offset, pin in zip((centre(arm, name) for name in ARMS), eccentricity, pins, strict=True)
    ]
    return -(moments[0] + moments[1])


def residual(arm: Arm, mass: Mass, acting: Statics) -> Floats:
    """Unbalanced force, and moment over the longer arm, on the whole arm as a share of the pivot reaction, (D, C, P)."""
    cg = mass.cg[:, :, None, None]
    left = acting.input + acting.output + acting.weight + acting.pivot
    turn = acting.pivot_moment + moment_about_pivot(cg[:, 0], cg[:, 1], 0.0, acting.weight)
    for name, offset, pin in zip(ARMS, acting.eccentricity, (acting.input, acting.output), strict=True):
        x, y = centre(arm, name)
        turn = turn + moment_about_pivot(x, y, offset, pin)
    length = max(arm.geometry.input_arm, arm.geometry.output_arm)
    largest = np.maximum(np.linalg.norm(acting.pivot, axis=0), 1e-9)
    return np.maximum(np.abs(left).max(0), np.abs(turn).max(0) / length) / largest


def swing(count: int = 41) -> Floats:
    """Even fractions of the swing, both ends included."""
    return np.linspace(0.0, 1.0, count)
