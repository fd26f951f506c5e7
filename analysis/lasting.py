"""The hand checks of fatigue and fracture, for arms whose file says what they need: every design at once.

The range of a cycle between two load cases goes from the least to the most of each force over the positions of both. Forces
that turn, at bores, count by the range of each component.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from analysis.checked import Checked, apply, lift
from analysis.clauses import fatigue, fracture
from analysis.concentration import HOLE_BENDING, hole_net, lug_net, shoulder_bending
from analysis.hubforces import across_bisector, at_pivot
from analysis.life.curve import Curve
from analysis.life.found import toughness_of
from analysis.life.meanstress import MeanRule
from analysis.life.states import rule_of, surface_curve
from analysis.life.variants import Variant, this_arm
from analysis.spans import bores
from analysis.state import Limb, State
from params.arm import Arm
from params.bores import Bores, Region

Floats = NDArray[np.float64]
PLACES: dict[Region, str] = {
    "pivot_bore": "pivot bore", "input_bore": "input bore", "output_bore": "output bore",
}  # fmt: skip


@dataclass(frozen=True)
class Swings:
    """Extremes of the duty's pairs of load cases: cycles in the service life (k,), and the cases' numbers (k, 2)."""

    often: Floats
    cases: NDArray[np.int64]

    def ends(self, values: Floats) -> tuple[Floats, Floats]:
        """Least and most (D, k) of a signed quantity (D, C, P) over both cases of each pair and all positions."""
        first, second = self.cases.T
        least = reduce(
            np.minimum, np.moveaxis(values, 2, 0)
        )  # of few positions by pairs, which numpy does faster
        most = reduce(np.maximum, np.moveaxis(values, 2, 0))
        return np.minimum(least[:, first], least[:, second]), np.maximum(most[:, first], most[:, second])


def swings(arm: Arm) -> Swings:
    """The duty of the file over its service life."""
    cases = list(arm.load_cases)
    pairs = arm.duty.pairs
    often = np.array([pair.cycles_per_year for pair in pairs]) * arm.duty.service_years
    return Swings(often, np.array([[cases.index(p.from_case), cases.index(p.to_case)] for p in pairs]))


def lasting(state: State) -> Iterator[Checked]:
    """Fatigue of bores and blends, and flaws at the rims, where the arm's file has the sections for them."""
    arm = state.arm
    if arm.bores is None:
        return
    this, duty = this_arm(arm, state.material), swings(arm)
    for limb in state.limbs:
        stress = blend(state, limb, duty)
        yield judged(arm.bores, this, duty, "outside", f"{limb.name} arm at hub", *stress)
        stress = boss(state, limb, duty)
        region: Region = "input_bore" if limb.name == "input" else "output_bore"
        yield judged(arm.bores, this, duty, region, PLACES[region], *stress)
    yield judged(arm.bores, this, duty, "pivot_bore", PLACES["pivot_bore"], *hub(state, duty))


def judged(
    said: Bores, this: Variant, duty: Swings, region: Region, place: str, least: Floats, most: Floats
) -> Checked:
    """A place's peak stresses at both ends of each cycle, (D, k), against its curve."""
    curve, _ = surface_curve(said, this, region, tight=False)
    total = float(duty.often.sum())
    s = equivalent(least, most, duty.often, curve, rule_of(said, this))
    slope = curve.slope if total <= curve.cycles_at_knee else curve.slope_beyond
    return apply(
        fatigue.peak_range, place, s=lift(s), largest=lift((most - least).max(axis=1)), sk=curve.knee,
        Nk=curve.cycles_at_knee, N=total, mN=slope, m=curve.slope,
    )  # fmt: skip


def equivalent(least: Floats, most: Floats, often: Floats, curve: Curve, rule: MeanRule) -> Floats:
    """All cycles of a design as one fully reversed range, (D,)."""
    reversed_ = 2.0 * rule.equivalent((most - least) / 2.0, (most + least) / 2.0)
    return ((reversed_**curve.slope @ often) / often.sum()) ** (1.0 / curve.slope)


def blend(state: State, limb: Limb, duty: Swings) -> tuple[Floats, Floats]:
    """Peak where the arm's edge runs into the hub, the worse of both flanges, at both ends of each cycle (D, k)."""
    root, part = limb.root, limb.part
    s3, s2, area = (getattr(part, name)[:, :1, None] for name in ("s3", "s2", "area"))
    Kt = shoulder_bending(state.sizes.hub, state.sizes.depth_at_hub, state.arm.geometry.blend_radius)
    Kt = np.broadcast_to(Kt, (len(state.sizes),))[:, None, None]
    n, m3, m2 = root.n[..., 0], root.m3[..., 0], root.m2[..., 0]
    sides = [
        duty.ends(n / area - side * Kt * m3 / s3 + edge * m2 / s2)
        for side in (1.0, -1.0)
        for edge in (1.0, -1.0)
    ]
    ranges = np.stack([most - least for least, most in sides])
    worst = np.argmax(ranges, axis=0)[None]
    return tuple(
        np.take_along_axis(np.stack([end[which] for end in sides]), worst, axis=0)[0] for which in (0, 1)
    )  # type: ignore[return-value]


def spread(least: list[Floats], most: list[Floats]) -> Floats:
    """Size of the range of a force that turns, from the ranges of its components."""
    return np.sqrt(sum((b - a) ** 2 for a, b in zip(least, most, strict=True)))


def about(change: Floats, highest: Floats) -> tuple[Floats, Floats]:
    """Ends of a cycle of stress that pulls only: no more than its range and its highest value."""
    most = np.maximum(highest, change)
    return most - change, most


def boss(state: State, limb: Limb, duty: Swings) -> tuple[Floats, Floats]:
    """Peak at an end bore as in `clauses.peaks.boss`, (D, k)."""
    hole = bores(state.arm)[f"{limb.name}_bore"]
    whole = (len(state.sizes), *limb.root.n.shape[1:3])
    s, t = (np.broadcast_to(force, whole) for force in (limb.pin.s, 2.0 * limb.pin.eta))
    offset = 1.0 + 6.0 * float(np.abs(state.statics.eccentricity).max()) / hole.width
    per = (
        float(lug_net(hole.bore / np.array(hole.outside)))
        / ((hole.outside - hole.bore) * hole.width)
        * offset
    )
    ends = [duty.ends(part) for part in (s, t)]
    change = spread(*(list(side) for side in zip(*ends, strict=True)))
    highest = duty.ends(np.hypot(s, t))[1]
    return about(per * change, per * highest)


def hub(state: State, duty: Swings) -> tuple[Floats, Floats]:
    """Peak at the pivot bore as in `clauses.peaks.hub` without its tilt, (D, k)."""
    pivot, size = state.arm.geometry.pivot, state.sizes.hub
    ratio, area = pivot.bore / size, pivot.width * (size - pivot.bore)
    by_r = (lug_net(ratio) / area)[:, None]
    by_m = (HOLE_BENDING * pivot.bore / 2.0 / (pivot.width * (size**3 - pivot.bore**3) / 12.0))[:, None]
    by_n = (hole_net(ratio) / area)[:, None]
    carried = [at_pivot(state, limb) for limb in state.limbs]
    moments = np.stack([side["M3"][..., 0] for side in carried])
    m = np.take_along_axis(moments, np.argmax(np.abs(moments), axis=0)[None], axis=0)[0]
    n = np.broadcast_to(across_bisector(state, carried)[..., 0], m.shape)
    x, y = (np.broadcast_to(force, m.shape) for force in state.statics.pivot[:2])
    r = [duty.ends(part) for part in (x, y)]
    change = by_r * spread(*(list(side) for side in zip(*r, strict=True)))
    for per, part in ((by_m, m), (by_n, n)):
        least, most = duty.ends(part)
        change = change + per * (most - least)
    highest = (
        by_r * duty.ends(np.hypot(x, y))[1] + by_m * duty.ends(np.abs(m))[1] + by_n * duty.ends(np.abs(n))[1]
    )
    return about(change, highest)


def rims(state: State, peaks: list[Checked]) -> Iterator[Checked]:
    """Flaws at the bores' rims under the peaks already found, where the file says what cracks need."""
    arm = state.arm
    if arm.cracks is None or arm.cracks.inspection is None:
        return
    coarsest = max(said.depth for said in arm.cracks.inspection.examinations)
    for one in peaks:
        surface = next((name for name, place in PLACES.items() if place == one.place), None)
        if surface is None or one.clause.check != "bore peak":
            continue
        tough = toughness_of(arm.cracks, state.material, bores(arm)[surface].width)
        yield apply(
            fracture.rim_flaw, one.place, p=one.demand, r=arm.cracks.residual_stress, a=coarsest, Kc=tough
        )
