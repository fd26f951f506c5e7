"""Fatigue and flaw checks by hand, for arms whose file has the sections they need: every design at once.

The range of a cycle between two load cases goes from the least to the most of each force over the positions of both. Forces
that turn, at bores, count by the range of each component.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial, reduce
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from analysis.clauses import fatigue, fracture
from analysis.clauses.applied import Checked, apply
from analysis.clauses.concentration import HOLE_BENDING, hole_net, lug_net, shoulder_bending
from analysis.fatigue.curve import Curve
from analysis.fatigue.curve_at import surface_law
from analysis.fatigue.cycles import year
from analysis.fatigue.meanstress import MeanRule
from analysis.fatigue.stresses import bore_hoop, interference
from analysis.fatigue.variants import Variant, this_arm
from analysis.fracture.toughness_bound import Tough, toughness_or_bound
from analysis.hand.places import PLACES
from analysis.mechanics.axes import lift
from analysis.mechanics.hub_forces import across_bisector, at_pivot
from analysis.mechanics.response import Limb, Response
from analysis.mechanics.sections import hub_net
from analysis.mechanics.spans import bores
from geometry.datums import bore
from params.schema.arm import Arm
from params.schema.bores import Region
from params.steps.arrays import Floats
from params.steps.out_of_range import or_reason

STEPS = 8  # ends of counted cycles, outward: few kinds of cycles for many designs


@dataclass(frozen=True)
class Swings:
    """Cycles in the service life (k,); each runs between two blends of two load cases: `cases` are their numbers (k, 2),
    `low` and `high` (k,) the share of the second at both ends (0 and 1 for a pair of the file)."""

    often: Floats
    cases: NDArray[np.int64]
    low: Floats
    high: Floats

    def ends(self, values: Floats) -> tuple[Floats, Floats]:
        """Least and most (D, k) of a signed quantity (D, C, P) over both ends of each cycle and all positions."""
        sides = self.sides(values)
        at = [(blended(w, *sides, 0), blended(w, *sides, 1)) for w in (self.low, self.high)]
        return np.minimum(at[0][0], at[1][0]), np.maximum(at[0][1], at[1][1])

    def largest(self, sizes: Floats) -> Floats:
        """Most (D, k) that a size (D, C, P), such as that of a force that turns, can be at either end of each cycle."""
        _, (a, b) = zip(*self.sides(sizes), strict=True)
        ends = [np.abs(1.0 - w) * a + np.abs(w) * b for w in (self.low, self.high)]
        return np.maximum(*ends)

    def sides(self, values: Floats) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
        """Least and most (D, k) over all positions, of the first case of each cycle and of the second."""
        first, second = self.cases.T
        least = reduce(
            np.minimum, np.moveaxis(values, 2, 0)
        )  # of few positions by pairs, which numpy does faster
        most = reduce(np.maximum, np.moveaxis(values, 2, 0))
        return (least[:, first], most[:, first]), (least[:, second], most[:, second])


def blended(
    share: Floats, first: tuple[Floats, Floats], second: tuple[Floats, Floats], side: Literal[0, 1]
) -> Floats:
    """Least (side 0) or most (side 1) of (1 - share) first + share second, both anywhere between their ends."""
    rest, other = 1.0 - share, 1 - side
    up = np.maximum(rest, 0.0) * first[side] + np.maximum(share, 0.0) * second[side]
    if (share >= 0.0).all() and (share <= 1.0).all():
        return up
    return up + np.minimum(rest, 0.0) * first[other] + np.minimum(share, 0.0) * second[other]


def swings(arm: Arm) -> Swings:
    """The duty of the file over its service life, measured histories among it where the file has them."""
    cycles = year(arm, arm.bores, STEPS)
    often = cycles.per_year * arm.duty.service_years
    return Swings(often, np.column_stack([cycles.start, cycles.end]), cycles.low, cycles.high)


def turning(response: Response) -> list[Floats]:
    """Signed forces (C, P) of the first design whose least and most over the positions make the ranges of fatigue; none where the
    file has no section `bores`."""
    if response.arm.bores is None:
        return []
    carried = [at_pivot(response, limb) for limb in response.limbs]
    whole = (len(response.sizes), *response.limbs[0].root.n.shape[1:3])
    parts = [*response.statics.pivot[:2], across_bisector(response, carried)[..., 0]]
    parts += [side["M3"][..., 0] for side in carried]
    for limb in response.limbs:
        parts += [force[..., 0] for force in (limb.root.n, limb.root.m3, limb.root.m2)]
        parts += [limb.pin.s, limb.pin.eta]
    return [np.broadcast_to(part, whole)[0] for part in parts]


def fatigue_checks(response: Response) -> Iterator[Checked]:
    """Fatigue of bores and blends, where the arm's file has a section `bores`."""
    arm = response.arm
    if arm.bores is None:
        return
    variant, duty = this_arm(arm, response.material), swings(arm)
    tight = fit_stress(response, variant)
    for limb in response.limbs:
        stress = blend(response, limb, duty)
        yield fatigue_check(arm, variant, duty, "outside", f"{limb.name} arm at hub", *stress)
        stress = boss(response, limb, duty)
        region: Region = "input_bore" if limb.name == "input" else "output_bore"
        yield fatigue_check(arm, variant, duty, region, PLACES[region], *stress, tight.get(region))
    region = "pivot_bore"
    yield fatigue_check(arm, variant, duty, region, PLACES[region], *hub(response, duty), tight.get(region))


def fit_stress(response: Response, variant: Variant) -> dict[str, Floats]:
    """Steady hoop stress (D,) at each bore with an interference fit, MPa: a thick ring at mean interference."""
    stress: dict[str, Floats] = {}
    for name, most in interference(response.arm, variant).items():
        if most > 0.0:
            sizes = response.sizes.hub if name == "pivot" else np.array([bore(response.arm, name).outside])
            each, where = np.unique(sizes, return_inverse=True)
            hoop = np.array([bore_hoop(response.arm, variant, name, float(outside)) for outside in each])
            stress[f"{name}_bore"] = np.broadcast_to(hoop[where], len(response.sizes))
    return stress


def fatigue_check(
    arm: Arm,
    variant: Variant,
    duty: Swings,
    region: Region,
    place: str,
    least: Floats,
    most: Floats,
    steady: Floats | None = None,
) -> Checked:
    """A place's peak stresses at both ends of each cycle, (D, k), against its curve; `steady` (D,) where a fit is tight."""
    assert arm.bores is not None  # checked by the caller
    bores_, total, largest = arm.bores, float(duty.often.sum()), lift((most - least).max(axis=1))
    if steady is not None:
        least, most = least + steady[:, None], most + steady[:, None]
    tight = [] if steady is None else [region.removesuffix("_bore")]
    law, reason = or_reason(arm.units, partial(surface_law, bores_, variant, region, tight))
    if law is None:
        unknown = dict.fromkeys(("sk", "Nk", "mN", "m"), np.nan)
        check = apply(fatigue.peak_range, place, s=largest, largest=largest, N=total, **unknown)
        return replace(check, outcome=replace(check.outcome, in_range=False, note=reason))
    curve = law.curve
    s = equivalent(least, most, duty.often, curve, law.rule)
    slope = curve.slope if total <= curve.cycles_at_knee else curve.slope_beyond
    return apply(
        fatigue.peak_range,
        place,
        s=lift(s),
        largest=largest,
        sk=curve.knee,
        Nk=curve.cycles_at_knee,
        N=total,
        mN=slope,
        m=curve.slope,
    )


def equivalent(least: Floats, most: Floats, often: Floats, curve: Curve, rule: MeanRule) -> Floats:
    """All cycles of a design as one fully reversed range, (D,)."""
    reversed_ = 2.0 * rule.equivalent((most - least) / 2.0, (most + least) / 2.0)
    return ((reversed_**curve.slope @ often) / often.sum()) ** (1.0 / curve.slope)


def blend(response: Response, limb: Limb, duty: Swings) -> tuple[Floats, Floats]:
    """Peak where the arm's edge runs into the hub, the worse of both flanges, at both ends of each cycle (D, k)."""
    root, part = limb.root, limb.part
    s3, s2, area = (getattr(part, name)[:, :1, None] for name in ("s3", "s2", "area"))
    Kt = shoulder_bending(response.sizes.hub, response.sizes.depth_at_hub, response.arm.geometry.blend_radius)
    Kt = np.broadcast_to(Kt, (len(response.sizes),))[:, None, None]
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


def boss(response: Response, limb: Limb, duty: Swings) -> tuple[Floats, Floats]:
    """Peak at an end bore as in `clauses.peaks.boss`, (D, k)."""
    hole = bores(response.arm)[f"{limb.name}_bore"]
    whole = (len(response.sizes), *limb.root.n.shape[1:3])
    s, t = (np.broadcast_to(force, whole) for force in (limb.pin.s, 2.0 * limb.pin.eta))
    offset = 1.0 + 6.0 * float(np.abs(response.statics.eccentricity).max()) / hole.width
    per = (
        float(lug_net(hole.bore / np.array(hole.outside)))
        / ((hole.outside - hole.bore) * hole.width)
        * offset
    )
    ends = [duty.ends(part) for part in (s, t)]
    change = spread(*(list(side) for side in zip(*ends, strict=True)))
    highest = duty.largest(np.hypot(s, t))
    return about(per * change, per * highest)


def hub(response: Response, duty: Swings) -> tuple[Floats, Floats]:
    """Peak at the pivot bore as in `clauses.peaks.hub` without its tilt, (D, k)."""
    pivot, size = response.arm.geometry.pivot, response.sizes.hub
    ratio, (area, second) = pivot.bore / size, hub_net(pivot.width, size, pivot.bore)
    by_r = (lug_net(ratio) / area)[:, None]
    by_m = (HOLE_BENDING * pivot.bore / 2.0 / second)[:, None]
    by_n = (hole_net(ratio) / area)[:, None]
    carried = [at_pivot(response, limb) for limb in response.limbs]
    moments = np.stack([side["M3"][..., 0] for side in carried])
    m = np.take_along_axis(moments, np.argmax(np.abs(moments), axis=0)[None], axis=0)[0]
    n = np.broadcast_to(across_bisector(response, carried)[..., 0], m.shape)
    x, y = (np.broadcast_to(force, m.shape) for force in response.statics.pivot[:2])
    r = [duty.ends(part) for part in (x, y)]
    change = by_r * spread(*(list(side) for side in zip(*r, strict=True)))
    for per, part in ((by_m, m), (by_n, n)):
        least, most = duty.ends(part)
        change = change + per * (most - least)
    highest = (
        by_r * duty.largest(np.hypot(x, y)) + by_m * duty.largest(np.abs(m)) + by_n * duty.largest(np.abs(n))
    )
    return about(change, highest)


def rim_flaws(response: Response, peaks: list[Checked]) -> Iterator[Checked]:
    """Flaws at the rims of the bores under their peak stress, where the file has `cracks` with `inspection`."""
    arm = response.arm
    if arm.cracks is None or arm.cracks.inspection is None:
        return
    tight = fit_stress(response, this_arm(arm, response.material))
    coarsest = max(said.depth for said in arm.cracks.inspection.examinations)
    for one in peaks:
        surface = next((name for name, place in PLACES.items() if place == one.place), None)
        if surface is None or one.clause.check != "bore peak":
            continue
        steady = tight.get(surface)
        residual = arm.cracks.residual_stress or 0.0
        r = residual if steady is None else lift(residual + steady)
        tough, reason = or_reason(
            arm.units,
            partial(toughness_or_bound, arm.cracks, response.material, bores(arm)[surface].width, arm.units),
        )
        tough = tough or Tough(np.nan)
        check = apply(fracture.rim_flaw, one.place, p=one.demand, r=r, a=coarsest, Kc=tough.value)
        outcome = replace(check.outcome, in_range=not reason, note=reason, bound=tough.note)
        yield replace(check, outcome=outcome)
