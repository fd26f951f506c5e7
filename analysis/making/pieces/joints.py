"""Where pieces may be joined: how far the stress and the fatigue of a joint use it, along both arms.

Stress: the greatest equivalent stress of the section over cases and swing, times the design factor, over yield times the
joint factor. Fatigue: nominal stress ranges of the duty at the section's corners by the detail category of the piece
joint (EN 1993-1-9:2005), share of life used over the service years; it may be 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from analysis.fatigue.curve import Curve
from analysis.fatigue.cycles import by_load_state, year
from analysis.fatigue.weldclass import PARTIAL_FACTOR, direct
from analysis.hand.evaluate import POSITIONS, evaluate
from analysis.hand.worst import governing_position, least_position
from analysis.mechanics.response import Limb, Response, response
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.statics import swing
from analysis.tables.files import known
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.route import Route
from params.steps.arrays import Floats

STATIONS = 25  # looked at along each arm, from hub edge to boss edge
PARTIAL = PARTIAL_FACTOR["safe life", "high"]
KEPT = 0.25  # of the free length: joints keep the blend radius, at most this share, from hub and boss


@dataclass(frozen=True)
class Joints:
    """Stations of one arm; arrays (S,)."""

    arm: str
    s: Floats  # mm from the pivot
    stress: Floats  # share of the joint's strength that is used
    fatigue: (
        Floats  # share of the joint's life that the service years use; nan where the route gives no class
    )
    years: Floats  # to a crack
    clear: NDArray[np.bool_]  # of the blends at hub and boss

    @property
    def allowed(self) -> NDArray[np.bool_]:
        return self.clear & (self.stress <= 1.0) & ~(self.fatigue > 1.0)


def joints(arm: Arm, material: Material, route: Route) -> tuple[Joints, Joints]:
    """Every station of the input and the output arm."""
    now = response(arm, material, Sizes.from_arm(arm), swing(POSITIONS), STATIONS)
    hand = evaluate(arm, material)
    positions = np.stack([governing_position(hand), least_position(hand)])
    curve = joint_curve(arm, material, route)
    limbs = [of_limb(now, limb, positions, curve, route) for limb in now.limbs]
    return limbs[0], limbs[1]


def of_limb(
    now: Response, limb: Limb, positions: NDArray[np.intp], curve: Curve | None, route: Route
) -> Joints:
    s = limb.s[0]
    worst = np.array([limb.worst_at(k).equivalent.max() for k in range(len(s))])
    strength = route.factors.joint * now.material.yield_strength / max(now.arm.design_factors)
    yearly = (
        np.full(len(s), np.nan) if curve is None else damage(now.arm, swung(now.arm, limb, positions), curve)
    )
    with np.errstate(divide="ignore"):
        years = 1.0 / yearly
    kept = min(now.arm.geometry.blend_radius, KEPT * (s[-1] - s[0]))
    clear = (s >= s[0] + kept) & (s <= s[-1] - kept)
    return Joints(limb.name, s, worst / strength, yearly * now.arm.duty.service_years, years, clear)


def swung(arm: Arm, limb: Limb, positions: NDArray[np.intp]) -> Floats:
    """Stress (8, states, stations) as `year` numbers the states; positions (2, cases) of the most and of the least load."""
    ends = [np.moveaxis(corners(limb, at), 1, 0) for at in positions]
    by_case = [dict(zip(arm.load_cases, end, strict=True)) for end in ends]
    return np.moveaxis(by_load_state(arm, *by_case), 0, 1)


def corners(limb: Limb, positions: NDArray[np.intp]) -> Floats:
    """Nominal stress along the arm at the corners of the section, (8, cases, stations), at a position of each case."""
    case = np.arange(len(positions))
    n, m3, m2, t = (getattr(limb.forces, name)[0][case, positions] for name in ("n", "m3", "m2", "t"))
    part = limb.part
    return np.stack(
        [
            n / part.area[0] + a * m3 / part.s3[0] + b * m2 / part.s2[0] + c * t * limb.warp[0]
            for a, b, c in product((1.0, -1.0), repeat=3)
        ]
    )


def joint_curve(arm: Arm, material: Material, route: Route) -> Curve | None:
    """S-N curve of the piece joint with the size effect of its thickness; None where the route gives no class."""
    classes = [weld.category for weld in route.welds if weld.place == "piece_joint"]
    if not classes:
        return None
    section = arm.geometry.section
    thickness = section.flange_thickness or section.depth_at_hub
    return direct(min(classes), PARTIAL, thickness, material.yield_strength)


def damage(arm: Arm, stress: Floats, curve: Curve) -> Floats:
    """Worst Miner sum of a year over the corners, (stations,), of stress (8, states, stations); none where every range stays below
    the limit, without end where one is beyond what the curve holds for."""
    cycles = year(arm, arm.bores)
    low, high = cycles.ends(np.moveaxis(stress, 1, 0))
    ranges = np.abs(high - low)  # (cycles, 8, stations)
    yearly = np.sum(cycles.per_year[:, None, None] / curve.cycles(ranges), axis=0)
    most = ranges.max(axis=0)
    return np.where(most > curve.most, np.inf, np.where(most < curve.limit, 0.0, yearly)).max(axis=0)


def rows(
    arm_joints: Joints, route: str, chosen: set[float], unit: str, scale: float
) -> Iterator[dict[str, object]]:
    """Rows of joints.csv; lengths over `scale` are in `unit`."""
    for k, s in enumerate(arm_joints.s):
        yield {
            "route": route,
            "arm": arm_joints.arm,
            f"s_{unit}": s / scale,
            "stress_used": arm_joints.stress[k],
            "life_used": known(arm_joints.fatigue[k]),
            "years_to_crack": known(arm_joints.years[k]),
            "clear_of_blends": bool(arm_joints.clear[k]),
            "allowed": bool(arm_joints.allowed[k]),
            "chosen": float(s) in chosen,
        }
