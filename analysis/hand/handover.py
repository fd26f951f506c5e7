"""What the mesh, its comparison and the summary take from the hand calculation, in N, mm, MPa and kg: loads.json and hand.json."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.hand.evaluate import Hand, Row
from analysis.hand.stations import stations_of
from analysis.hand.worst import at_least, governing_position, unbalanced
from analysis.mechanics.hub_forces import at_pivot
from analysis.mechanics.response import Limb
from params.steps.caution import CAUTION

Floats = NDArray[np.float64]
CHOSEN = "the position of the swing with the largest bending moment at the hub edge of either arm"
CHOSEN_LEAST = (
    "of load cases that a duty pair names, the position of the swing where the larger bending moment at the hub edge of both arms "
    "is least; left out where that is the same position"
)


def loads(hand: Hand) -> dict[str, Any]:
    """Forces on the arm for the solver, N, mm and m/s2 in the arm's frame, at each case's governing position (`cases`) and of
    those that a duty pair names where they load the arm least (`least`)."""
    positions = enumerate(zip(hand.response.arm.load_cases, governing_position(hand), strict=True))
    cases = {case: load(hand, c, int(p)) for c, (case, p) in positions}
    least = {case: load(hand, c, p) for case, (c, p) in at_least(hand).items()}
    centre = {"cg_mm": [*hand.response.mass.cg[0], 0.0], "mass_kg": hand.mass[0]}
    units = (
        "force N, moment N mm about the bore centre at z = 0, gravity m/s2 with the shock factor, arm frame"
    )
    head = {"units": units, "position": CHOSEN, "least_position": CHOSEN_LEAST, "caution": CAUTION}
    return {**head, **centre, "cases": cases, "least": least}


def load(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """Forces on the arm in one case at one position."""
    now, spot = hand.response.statics, (slice(None), 0, c, p)
    e = float(now.eccentricity[c, 0])
    bores = {
        "input_bore": {"force": now.input[spot], "moment": pin_moment(now.input[spot], e)},
        "output_bore": {"force": now.output[spot], "moment": pin_moment(now.output[spot], e)},
        "pivot_bore": {"force": now.pivot[spot], "moment": now.pivot_moment[spot]},
    }
    return {
        "fraction": now.fraction[c, p],
        "phi_rad": now.phi[c, p],
        "gravity": now.gravity[:, c, p],
        "weight": now.weight[:, 0, c, p if now.weight.shape[3] > 1 else 0],
        "bores": bores,
        "residual": unbalanced(hand)[c, p],
    }


def pin_moment(force: Floats, e: float) -> list[float]:
    """Moment about the bore's centre of a force acting at z = e: (0, 0, e) x F."""
    return [float(-e * force[1]), float(e * force[0]), 0.0]


def figures(hand: Hand, rows: list[Row]) -> dict[str, Any]:
    """hand.json: what the comparison with the mesh and the summary need, in N, mm, MPa and kg."""
    counted = [row for row in rows if row.status != "out of range" or row.check.outcome.bound]
    counted = [row for row in counted if np.isfinite(row.margin)]
    counted = [row for row in counted if not row.check.clause.drive or row.status == "fails"]
    worst = min(counted, key=lambda row: row.margin)
    governing = {
        "check": worst.check.clause.check,
        "place": worst.check.place,
        "load_case": worst.load_case,
        "margin": worst.margin,
    }
    of_arm = [
        row for row in counted if not row.check.clause.drive and row.load_case in hand.response.arm.load_cases
    ]
    positions = governing_position(hand)
    cases = {case: of_case(hand, c, int(positions[c])) for c, case in enumerate(hand.response.arm.load_cases)}
    least = {case: nominal(hand, c, p) for case, (c, p) in at_least(hand).items()}
    return {
        "units": "N, mm, MPa, kg, rad",
        "position": CHOSEN,
        "least_position": CHOSEN_LEAST,
        "caution": CAUTION,
        "mass_kg": hand.mass[0],
        "cg_mm": hand.response.mass.cg[0],
        "least_margin": hand.margin[0],
        "governing": governing,
        "drawn_case": min(of_arm, key=lambda row: row.margin).load_case,
        "fails": sum(row.status == "fails" for row in rows),
        "out_of_range": sum(row.status == "out of range" for row in rows),
        "rows": len(rows),
        "largest_residual": unbalanced(hand).max(),
        "cases": cases,
        "least": least,
    }


def of_case(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """One load case at its governing position."""
    now = hand.response.statics
    pin = {
        f"{name}_bore": np.hypot(*getattr(now, name)[:2, 0, c, p]) for name in ("pivot", "input", "output")
    }
    moved = {
        limb.name: {"in_plane": limb.movement[0][0, c, p], "sideways": limb.movement[1][0, c, p]}
        for limb in hand.response.limbs
    }
    return {
        "fraction": now.fraction[c, p],
        "phi_rad": now.phi[c, p],
        "cylinder_force": now.cylinder[0, c, p],
        "load": now.load[0, c, p],
        "pressure": now.pressure[0, c, p],
        "pin_force": pin,
        "deflection": moved,
        "bore_peak": peaks(hand, c, p),
        "net_section": {limb.name: net(hand, limb, c, p) for limb in hand.response.limbs},
        "stations": {limb.name: stations_of(hand, limb, c, p) for limb in hand.response.limbs},
    }


def nominal(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """Stations of both arms in one load case where it loads the arm least: what fatigue of welds takes from there."""
    stations = {limb.name: stations_of(hand, limb, c, p) for limb in hand.response.limbs}
    return {"fraction": hand.response.statics.fraction[c, p], "stations": stations}


def peaks(hand: Hand, c: int, p: int) -> dict[str, float]:
    """Peak at each bore by its concentration factor, MPa."""
    stress = {}
    for checked in hand.checked:
        if checked.clause.check == "bore peak":
            demand = np.broadcast_to(checked.outcome.demand, checked.used.shape)
            stress[checked.place.replace(" ", "_")] = float(demand[0, c, p, 0])
    return stress


def net(hand: Hand, limb: Limb, c: int, p: int) -> dict[str, float]:
    """Forces at the pivot centre from one arm and the normal stress on the net section's outside at eta > 0 and eta < 0."""
    carried = {name: float(value[0, c, p, 0]) for name, value in at_pivot(hand.response, limb).items()}
    pivot, outside_size = hand.response.arm.geometry.pivot, float(hand.response.sizes.hub[0])
    area = pivot.width * (outside_size - pivot.bore)
    bend = carried["M3"] * outside_size / 2.0 / (pivot.width * (outside_size**3 - pivot.bore**3) / 12.0)
    return carried | {"sigma_plus": carried["N"] / area - bend, "sigma_minus": carried["N"] / area + bend}
