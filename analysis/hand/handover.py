"""What the mesh, its comparison and the summary take from the hand calculation, in N, mm, MPa and kg: loads.json and hand.json."""

from __future__ import annotations

import numpy as np

from analysis.contracts.hand import Governing, HandCase, HandFile, Moved, NetSection, Nominal
from analysis.contracts.loads import Bore, CaseLoads, LoadsFile
from analysis.hand.evaluate import Hand, Row
from analysis.hand.stations import stations_of
from analysis.hand.worst import at_least, governing_position, unbalanced
from analysis.mechanics.deflection import hub_flexibility, tip, to_centres
from analysis.mechanics.hub_forces import at_pivot
from analysis.mechanics.response import Limb
from analysis.mechanics.sections import hub_net
from analysis.mechanics.spans import spans
from params.steps.arrays import Floats
from params.steps.caution import CAUTION
from params.steps.contract import Vector

CHOSEN = "the position of the swing with the largest bending moment at the hub edge of either arm"
CHOSEN_LEAST = (
    "of load cases that a duty pair names, the position of the swing where the larger bending moment at the hub edge of both arms "
    "is least; left out where that is the same position"
)


def loads(hand: Hand) -> LoadsFile:
    """Forces on the arm for the solver, N, mm and m/s2 in the arm's frame, at each case's governing position (`cases`) and of
    those that a duty pair names where they load the arm least (`least`)."""
    positions = enumerate(zip(hand.response.arm.load_cases, governing_position(hand), strict=True))
    x, y = hand.response.mass.cg[0]
    return LoadsFile(
        units="force N, moment N mm about the bore centre at z = 0, gravity m/s2 with the shock factor, arm frame",
        position=CHOSEN,
        least_position=CHOSEN_LEAST,
        caution=CAUTION,
        cg_mm=(x, y, 0.0),
        mass_kg=hand.mass[0],
        cases={case: load(hand, c, int(p)) for c, (case, p) in positions},
        least={case: load(hand, c, p) for case, (c, p) in at_least(hand).items()},
    )


def load(hand: Hand, c: int, p: int) -> CaseLoads:
    """Forces on the arm in one case at one position."""
    now, spot = hand.response.statics, (slice(None), 0, c, p)
    pins = {"input_bore": now.input[spot], "output_bore": now.output[spot]}
    offsets = now.eccentricity[spot].tolist()
    bores = {
        name: Bore(force=triple(force), moment=pin_moment(force, e))
        for (name, force), e in zip(pins.items(), offsets, strict=True)
    }
    bores["pivot_bore"] = Bore(force=triple(now.pivot[spot]), moment=triple(now.pivot_moment[spot]))
    return CaseLoads(
        fraction=now.fraction[c, p],
        phi_rad=now.phi[c, p],
        gravity=triple(now.gravity[:, c, p]),
        weight=triple(now.weight[:, 0, c, p if now.weight.shape[3] > 1 else 0]),
        bores=bores,
        residual=unbalanced(hand)[c, p],
    )


def triple(values: Floats) -> Vector:
    x, y, z = values.tolist()
    return x, y, z


def pin_moment(force: Floats, e: float) -> Vector:
    """Moment about the bore's centre of a force acting at z = e: (0, 0, e) x F."""
    return float(-e * force[1]), float(e * force[0]), 0.0


def figures(hand: Hand, rows: list[Row]) -> HandFile:
    """hand.json: what the comparison with the mesh and the summary need, in N, mm, MPa and kg."""
    counted = [row for row in rows if row.status != "out of range" or row.check.outcome.bound]
    counted = [row for row in counted if np.isfinite(row.margin)]
    counted = [row for row in counted if not row.check.clause.drive or row.status == "fails"]
    of_arm = [
        row for row in counted if not row.check.clause.drive and row.load_case in hand.response.arm.load_cases
    ]
    positions = governing_position(hand)
    x, y = hand.response.mass.cg[0]
    return HandFile(
        units="N, mm, MPa, kg, rad",
        position=CHOSEN,
        least_position=CHOSEN_LEAST,
        caution=CAUTION,
        mass_kg=hand.mass[0],
        cg_mm=(x, y),
        least_margin=hand.margin[0],
        governing=governing(min(counted, key=lambda row: row.margin)),
        drawn_case=min(of_arm, key=lambda row: row.margin).load_case,
        fails=sum(row.status == "fails" for row in rows),
        out_of_range=sum(row.status == "out of range" for row in rows),
        rows=len(rows),
        largest_residual=unbalanced(hand).max(),
        cases={
            case: of_case(hand, c, int(positions[c])) for c, case in enumerate(hand.response.arm.load_cases)
        },
        least={case: nominal(hand, c, p) for case, (c, p) in at_least(hand).items()},
    )


def governing(row: Row) -> Governing:
    check = row.check
    return Governing(check=check.clause.check, place=check.place, load_case=row.load_case, margin=row.margin)


def of_case(hand: Hand, c: int, p: int) -> HandCase:
    """One load case at its governing position."""
    now, limbs = hand.response.statics, hand.response.limbs
    pins = {"pivot_bore": now.pivot, "input_bore": now.input, "output_bore": now.output}
    moved = movements(hand, c, p)
    return HandCase(
        **dict(nominal(hand, c, p)),
        phi_rad=now.phi[c, p],
        cylinder_force=now.cylinder[0, c, p],
        load=now.load[0, c, p],
        pressure=now.pressure[0, c, p],
        pin_force={name: float(np.hypot(*force[:2, 0, c, p])) for name, force in pins.items()},
        deflection=moved["whole"],
        deflection_hub=moved["hub"],
        deflection_most=moved["most"],
        bore_peak=peaks(hand, c, p),
        net_section={limb.name: net(hand, limb, c, p) for limb in limbs},
    )


def movements(hand: Hand, c: int, p: int) -> dict[str, dict[str, Moved]]:
    """Movement of both pins, the hub's share of it, and the most that it can be with flexible hub and bosses."""
    now = hand.response
    span, material = spans(now.arm, now.sizes), now.material
    law = material.elastic_modulus, material.poisson_ratio
    hub, most = hub_flexibility(span, now.arm.geometry.pivot, *law), to_centres(span, *law)
    whole, share, bound = {}, {}, {}
    for index, limb in enumerate(now.limbs):
        moved, by_hub, at_most = (
            np.array([along[0, c, p] for along in pair])
            for pair in (limb.movement, *(tip(flex, index, limb.pin, limb.gravity) for flex in (hub, most)))
        )
        amounts = zip((whole, share, bound), (moved, by_hub, moved - by_hub + at_most), strict=True)
        for table, (up, aside) in amounts:
            table[limb.name] = Moved(in_plane=up, sideways=aside)
    return {"whole": whole, "hub": share, "most": bound}


def nominal(hand: Hand, c: int, p: int) -> Nominal:
    """Stations of both arms in one load case: what fatigue of welds takes from there."""
    stations = {limb.name: stations_of(hand, limb, c, p) for limb in hand.response.limbs}
    return Nominal(fraction=hand.response.statics.fraction[c, p], stations=stations)


def peaks(hand: Hand, c: int, p: int) -> dict[str, float]:
    """Peak at each bore by its concentration factor, MPa."""
    stress = {}
    for checked in hand.checked:
        if checked.clause.check == "bore peak":
            demand = np.broadcast_to(checked.outcome.demand, checked.used.shape)
            stress[checked.place.replace(" ", "_")] = float(demand[0, c, p, 0])
    return stress


def net(hand: Hand, limb: Limb, c: int, p: int) -> NetSection:
    """Forces at the pivot centre from one arm and the normal stress on the net section's outside at eta > 0 and eta < 0."""
    carried = {name: float(value[0, c, p, 0]) for name, value in at_pivot(hand.response, limb).items()}
    pivot, outside_size = hand.response.arm.geometry.pivot, float(hand.response.sizes.hub[0])
    area, second = hub_net(pivot.width, outside_size, pivot.bore)
    bend = carried["M3"] * outside_size / 2.0 / second
    axial = carried["N"] / area
    return NetSection(**carried, sigma_plus=axial - bend, sigma_minus=axial + bend)
