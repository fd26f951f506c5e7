"""The tables of the hand calculation: what people read in the arm's units, what machines read in N, mm and MPa."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from analysis.beam import fibre
from analysis.hand import Hand, Row
from analysis.hubforces import at_pivot
from analysis.life.year import paired
from analysis.sections import POINTS
from analysis.state import Limb
from analysis.statics import residual
from analysis.tables import write_cautioned, write_csv, write_json
from analysis.worked.files import write as write_workings
from params.caution import CAUTION
from params.units import KINDS, System, outside, shown_unit

COLUMNS = ("check", "place", "load_case", "demand", "capacity", "unit", "margin", "clause", "status", "note")
BORES = ("pivot_bore", "input_bore", "output_bore")
Floats = NDArray[np.float64]


def write(hand: Hand, folder: Path) -> None:
    """checks.csv, substitutions.json, stroke.csv, stations.csv, loads.json, hand.json and workings.json of one design."""
    found = hand.rows()
    units = hand.state.arm.units
    write_cautioned(folder / "checks.csv", COLUMNS, [for_people(row, units) for row in found])
    write_json(
        folder / "substitutions.json",
        {"caution": CAUTION, "rows": [substitution(row, units) for row in found]},
    )
    stroke = stroke_rows(hand)
    write_csv(folder / "stroke.csv", list(stroke[0]), stroke)
    stations = station_rows(hand)
    write_csv(folder / "stations.csv", list(stations[0]), stations)
    write_json(folder / "loads.json", loads(hand))
    write_json(folder / "hand.json", figures(hand, found))
    write_workings(hand, found, governing_position(hand), folder / "workings.json")


def shown(value: float, kind: str, units: System) -> tuple[float, str]:
    """A number with its unit for people: a kind of quantity, a power of mm such as mm3, or toughness."""
    if kind in KINDS:
        unit = shown_unit(kind, units)
        return float(outside(value, unit, kind)), unit.replace("*", " ").replace("^", "")
    if kind.startswith("mm") and kind[2:].isdigit() and units == "us":
        return value / float(KINDS_MM_PER_IN) ** int(kind[2:]), "in" + kind[2:]
    if kind == "toughness":
        return (
            (value, "MPa mm0.5")
            if units == "si"
            else (value / (MPA_PER_KSI * KINDS_MM_PER_IN**0.5), "ksi in0.5")
        )
    return value, kind


KINDS_MM_PER_IN = 25.4
MPA_PER_KSI = 6.894757293168361


def for_people(row: Row, units: System) -> dict[str, Any]:
    """A row of checks.csv."""
    clause = row.check.clause
    demand, unit = shown(row.demand, clause.kind, units)
    return {
        "check": clause.check,
        "place": row.check.place,
        "load_case": row.load_case,
        "demand": demand,
        "capacity": shown(row.capacity, clause.kind, units)[0],
        "unit": unit,
        "margin": row.margin,
        "clause": clause.reference,
        "status": row.status,
        "note": "; ".join(filter(None, (row.note, where(row, units)))),
    }


def where(row: Row, units: System) -> str:
    """Position of the swing and station, as text."""
    told = []
    if row.fraction is not None:
        told.append(f"at {100.0 * row.fraction:.1f} % of the swing")
    if row.station is not None:
        value, unit = shown(row.station, "length", units)
        told.append(f"{value:.{1 if units == 'si' else 2}f} {unit} from the pivot")
    return ", ".join(told)


def substitution(row: Row, units: System) -> dict[str, Any]:
    """What a record prints of a row: equation, symbols with meaning, number and unit, result."""
    clause = row.check.clause
    symbols = []
    for name, value in row.symbols.items():
        meaning, kind = clause.symbols.get(name, (name, "-"))
        number, unit = shown(value, kind, units)
        symbols.append({"symbol": name, "meaning": meaning, "value": number, "unit": unit})
    return for_people(row, units) | {
        "what": clause.what,
        "equation": clause.equation,
        "limits": clause.limits,
        "symbols": symbols,
    }


def in_units(units: System, **columns: tuple[float, str]) -> dict[str, Any]:
    """Numbers with their kinds as columns named with their units."""
    made = {}
    for name, (value, kind) in columns.items():
        number, unit = shown(float(value), kind, units)
        made[f"{name}_{unit.replace(' ', '_')}" if unit != "-" else name] = number
    return made


def stroke_rows(hand: Hand) -> list[dict[str, Any]]:
    """Forces in every load case over the swing."""
    now, units = hand.state.statics, hand.state.arm.units
    left = unbalanced(hand)
    found = []
    for c, case in enumerate(hand.state.arm.load_cases):
        for p, fraction in enumerate(now.fraction[c]):
            numbers = in_units(
                units,
                phi=(now.phi[c, p], "angle"),
                cylinder_length=(now.cylinder_length[c, p], "length"),
                cylinder_force=(now.cylinder[0, c, p], "force"),
                pressure=(now.pressure[0, c, p], "stress"),
                load=(now.load[0, c, p], "force"),
                input_pin=(np.hypot(*now.input[:2, 0, c, p]), "force"),
                output_pin=(np.hypot(*now.output[:2, 0, c, p]), "force"),
                pivot=(np.hypot(*now.pivot[:2, 0, c, p]), "force"),
                side=(now.pivot[2, 0, c, p], "force"),
                friction=(now.pivot_moment[2, 0, c, p], "moment"),
            )
            found.append({"load_case": case, "fraction": fraction, **numbers, "residual": left[c, p]})
    return found


def unbalanced(hand: Hand) -> Floats:
    """Residual of equilibrium by case and position."""
    return residual(hand.state.arm, hand.state.mass, hand.state.statics)[0]


def loading(hand: Hand) -> Floats:
    """How much each case loads the arm at each position, (C, P): the larger bending moment at the hub edge of both arms; of
    equals, the larger pivot reaction."""
    moment = np.maximum(*(np.abs(limb.root.m3[0, :, :, 0]) for limb in hand.state.limbs))
    return moment + 1e-9 * np.hypot(*hand.state.statics.pivot[:2, 0])


def governing_position(hand: Hand) -> NDArray[np.intp]:
    """Position of each case that loads the arm most."""
    return np.argmax(loading(hand), axis=1)


def least_position(hand: Hand) -> NDArray[np.intp]:
    """Position of each case that loads the arm least."""
    return np.argmin(loading(hand), axis=1)


CHOSEN = "the position of the swing with the largest bending moment at the hub edge of either arm"
CHOSEN_LEAST = (
    "of load cases that a duty pair names, the position of the swing where the larger bending moment at the hub edge of both arms "
    "is least; left out where that is the same position"
)


def at_least(hand: Hand) -> dict[str, tuple[int, int]]:
    """Number and least position of each load case that a duty pair names, where that is not its governing position."""
    most, least, cases = governing_position(hand), least_position(hand), list(hand.state.arm.load_cases)
    numbers = [cases.index(case) for case in paired(hand.state.arm)]
    return {cases[c]: (c, int(least[c])) for c in numbers if least[c] != most[c]}


def station_rows(hand: Hand) -> list[dict[str, Any]]:
    """Internal forces and stresses along both arms at each case's governing position."""
    units, found = hand.state.arm.units, []
    for c, (case, p) in enumerate(zip(hand.state.arm.load_cases, governing_position(hand), strict=True)):
        for limb in hand.state.limbs:
            for station in stations_of(hand, limb, c, int(p)):
                kinds = {name: (station[name], kind) for name, kind in STATION_KINDS.items()}
                head = {"arm": limb.name, "load_case": case, "fraction": hand.state.statics.fraction[c, p]}
                found.append(head | in_units(units, **kinds) | {"worst_point": station["worst_point"]})
    return found


STATION_KINDS = {
    "s": "length", "depth": "length",
    "N": "force", "V2": "force", "V3": "force", "M2": "moment", "M3": "moment", "T": "moment",
    "sigma_plus": "stress", "sigma_minus": "stress", "tau_web": "stress",
    "normal": "stress", "shear": "stress", "equivalent": "stress",
}  # fmt: skip


def stations_of(hand: Hand, limb: Limb, c: int, p: int) -> list[dict[str, Any]]:
    """Stations of one arm in internal units; sigma_plus and sigma_minus at the flange middles on the +eta and -eta side."""
    inside, part = limb.forces, limb.part
    names = POINTS[hand.state.sizes.kind]
    plus, minus = fibre(inside, part, 1.0)[0, c, p], fibre(inside, part, -1.0)[0, c, p]
    at = {name: np.broadcast_to(value, inside.n.shape)[0, c, p] for name, value in vars(inside).items()}
    found = []
    for k, s in enumerate(limb.s[0]):
        worst = limb.worst_at(k)
        force = {name if name == "web" else name.upper(): value[k] for name, value in at.items()}
        found.append({
            "s": s, "depth": part.depth[0, k], **force, "sigma_plus": plus[k], "sigma_minus": minus[k],
            "tau_web": -at["web"][k] * part.points.v2[0, k, 3], "normal": worst.normal[0, c, p],
            "shear": worst.shear[0, c, p], "equivalent": worst.equivalent[0, c, p], "worst_point": names[int(worst.point[0, c, p])],
        })  # fmt: skip
    return found


def loads(hand: Hand) -> dict[str, Any]:
    """Forces on the arm for the solver, N, mm and m/s2 in the arm's frame, at each case's governing position (`cases`) and of
    those that a duty pair names where they load the arm least (`least`)."""
    positions = enumerate(zip(hand.state.arm.load_cases, governing_position(hand), strict=True))
    cases = {case: load(hand, c, int(p)) for c, (case, p) in positions}
    least = {case: load(hand, c, p) for case, (c, p) in at_least(hand).items()}
    centre = {"cg_mm": [*hand.state.mass.cg[0], 0.0], "mass_kg": hand.mass[0]}
    units = (
        "force N, moment N mm about the bore centre at z = 0, gravity m/s2 with the shock factor, arm frame"
    )
    told = {"units": units, "position": CHOSEN, "least_position": CHOSEN_LEAST, "caution": CAUTION}
    return {**told, **centre, "cases": cases, "least": least}


def load(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """Forces on the arm in one case at one position."""
    now, spot = hand.state.statics, (slice(None), 0, c, p)
    e = float(now.eccentricity[c, 0])
    bores = {
        "input_bore": {"force": now.input[spot], "moment": pin_moment(now.input[spot], e)},
        "output_bore": {"force": now.output[spot], "moment": pin_moment(now.output[spot], e)},
        "pivot_bore": {"force": now.pivot[spot], "moment": now.pivot_moment[spot]},
    }
    return {
        "fraction": now.fraction[c, p], "phi_rad": now.phi[c, p], "gravity": now.gravity[:, c, p],
        "weight": now.weight[:, 0, c, p if now.weight.shape[3] > 1 else 0], "bores": bores, "residual": unbalanced(hand)[c, p],
    }  # fmt: skip


def pin_moment(force: Floats, e: float) -> list[float]:
    """Moment about the bore's centre of a force acting at z = e: (0, 0, e) x F."""
    return [float(-e * force[1]), float(e * force[0]), 0.0]


def figures(hand: Hand, found: list[Row]) -> dict[str, Any]:
    """hand.json: what the comparison with the mesh and the summary need, in N, mm, MPa and kg."""
    counted = [row for row in found if row.status != "out of range" or row.check.outcome.bound]
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
        row for row in counted if not row.check.clause.drive and row.load_case in hand.state.arm.load_cases
    ]
    positions = governing_position(hand)
    cases = {case: of_case(hand, c, int(positions[c])) for c, case in enumerate(hand.state.arm.load_cases)}
    least = {case: nominal(hand, c, p) for case, (c, p) in at_least(hand).items()}
    return {
        "units": "N, mm, MPa, kg, rad", "position": CHOSEN, "least_position": CHOSEN_LEAST, "caution": CAUTION,
        "mass_kg": hand.mass[0], "cg_mm": hand.state.mass.cg[0],
        "least_margin": hand.margin[0], "governing": governing,
        "drawn_case": min(of_arm, key=lambda row: row.margin).load_case,
        "fails": sum(row.status == "fails" for row in found), "out_of_range": sum(row.status == "out of range" for row in found),
        "rows": len(found), "largest_residual": unbalanced(hand).max(), "cases": cases, "least": least,
    }  # fmt: skip


def of_case(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """One load case at its governing position."""
    now = hand.state.statics
    pin = {
        f"{name}_bore": np.hypot(*getattr(now, name)[:2, 0, c, p]) for name in ("pivot", "input", "output")
    }
    moved = {
        limb.name: {"in_plane": limb.movement[0][0, c, p], "sideways": limb.movement[1][0, c, p]}
        for limb in hand.state.limbs
    }
    return {
        "fraction": now.fraction[c, p], "phi_rad": now.phi[c, p],
        "cylinder_force": now.cylinder[0, c, p], "load": now.load[0, c, p], "pressure": now.pressure[0, c, p],
        "pin_force": pin, "deflection": moved,
        "bore_peak": peaks(hand, c, p), "net_section": {limb.name: net(hand, limb, c, p) for limb in hand.state.limbs},
        "stations": {limb.name: stations_of(hand, limb, c, p) for limb in hand.state.limbs},
    }  # fmt: skip


def nominal(hand: Hand, c: int, p: int) -> dict[str, Any]:
    """Stations of both arms in one load case where it loads the arm least: what fatigue of welds takes from there."""
    stations = {limb.name: stations_of(hand, limb, c, p) for limb in hand.state.limbs}
    return {"fraction": hand.state.statics.fraction[c, p], "stations": stations}


def peaks(hand: Hand, c: int, p: int) -> dict[str, float]:
    """Peak at each bore by its concentration factor, MPa."""
    found = {}
    for checked in hand.checked:
        if checked.clause.check == "bore peak":
            demand = np.broadcast_to(checked.outcome.demand, checked.used.shape)
            found[checked.place.replace(" ", "_")] = float(demand[0, c, p, 0])
    return found


def net(hand: Hand, limb: Limb, c: int, p: int) -> dict[str, float]:
    """Forces at the pivot centre from one arm and the normal stress on the net section's outside at eta > 0 and eta < 0."""
    carried = {name: float(value[0, c, p, 0]) for name, value in at_pivot(hand.state, limb).items()}
    pivot, outside_size = hand.state.arm.geometry.pivot, float(hand.state.sizes.hub[0])
    area = pivot.width * (outside_size - pivot.bore)
    bend = carried["M3"] * outside_size / 2.0 / (pivot.width * (outside_size**3 - pivot.bore**3) / 12.0)
    return carried | {"sigma_plus": carried["N"] / area - bend, "sigma_minus": carried["N"] / area + bend}


__all__ = ["BORES", "COLUMNS", "write"]
