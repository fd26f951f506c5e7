"""Hand calculation against mesh: `python -m analysis.proof.beside DIR` writes verify.csv.

Reads hand.json and elastic.json. A difference is a share of the hand value; where that is below a fifth of the largest of its
kind in the same load case, a share of this fifth. A row beyond its allowance gets the verdict `explain`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from analysis.contracts.elastic import ElasticCase, ElasticFile, Fibre, PivotSection
from analysis.contracts.hand import HandCase, HandFile, NetSection, Station
from analysis.mechanics.sections import hub_net
from analysis.tables.files import write_csv
from params.files.read import read_arm
from params.schema.arm import Arm
from params.schema.units import System, outside, shown_unit
from params.steps.arguments import arguments
from params.steps.contract import read_of_cases
from params.steps.guard import one_line_errors

COLUMNS = [
    "quantity",
    "place",
    "load_case",
    "hand",
    "mesh",
    "unit",
    "difference_percent",
    "allowed_percent",
    "verdict",
    "note",
]
SMALL = 0.2  # a hand value below this share of the largest of its kind is compared with that share instead
Row = dict[str, Any]

# Allowed difference in percent, and why it is allowed.
MASS = (2.0, "the hand mass leaves out blends and fillets")
PLACE = (1.0, "of the distance between the pins; as for the mass")
FORCE = (0.1, "the same force is applied; the integration over the faces is corrected to be exact")
PIVOT_FORCE = (1.0, "the mesh is balanced with its own weight, not that of the hand calculation")
DEFLECTION = (
    10.0,
    "the hub's share follows a rule of this project, calibrated on the meshes of its demo arms: no independent check",
)
MIDDLE = (
    3.0,
    "middle third: beam theory holds, 1 to 2 % seen in trials; both ends disturb an arm shorter than three depths",
)
NEAR_HUB = (12.0, "near the hub: its stiffness and the blends disturb the stress in the flanges")
NEAR_BOSS = (8.0, "near the boss: about 5 % seen in trials; the pin's force spreads from the boss")
END = (
    40.0,
    "the edge of hub or boss stiffens the section and draws stress away from the flanges: the mesh gives less there",
)
NET = (5.0, "equilibrium of one half of the arm; the stress is read in 2,880 cells")
WALL = (
    25.0,
    "by hand: plane sections of the hub less its bore; by mesh: a ring loaded by its pin and by both arms",
)
PEAK = (
    35.0,
    "by hand a factor for a pin in a plate end, doubled across the arm by a rule of this project; ring bending added",
)
ZERO = (0.01, "support reactions and the sum of all forces must be negligible beside the largest pin force")
ENERGY = (15.0, "estimated error of the mesh in the energy norm, all of the arm")
BAND = (10.0, "error band of the bore's peak from the mesh series")


def row(
    quantity: str,
    place: str,
    case: str,
    hand: float,
    mesh: float | None,
    unit: str,
    allowed: tuple[float, str],
    scale: float | None = None,
) -> Row:
    """One comparison; the difference is a share of `scale` (of the hand value where left out)."""
    if mesh is None:
        values = (
            quantity,
            place,
            case,
            hand,
            None,
            unit,
            None,
            allowed[0],
            "explain",
            "cannot be read from the mesh here",
        )
        return dict(zip(COLUMNS, values, strict=True))
    base = abs(hand) if scale is None else scale
    sign = -1.0 if hand < 0.0 else 1.0  # positive: the mesh is larger in size
    difference = 100.0 * sign * (mesh - hand) / base if base else 100.0 * mesh
    verdict = "agrees" if abs(difference) <= allowed[0] else "explain"
    return dict(
        zip(
            COLUMNS,
            (quantity, place, case, hand, mesh, unit, difference, allowed[0], verdict, allowed[1]),
            strict=True,
        )
    )


def in_units(
    quantity: str,
    place: str,
    case: str,
    hand: float,
    mesh: float | None,
    kind: str,
    units: System,
    allowed: tuple[float, str],
    scale: float | None = None,
) -> Row:
    """A comparison of quantities with a unit, shown in the arm's units."""
    unit = shown_unit(kind, units)
    comparison = row(quantity, place, case, hand, mesh, unit.replace("*", " "), allowed, scale)
    shown = None if mesh is None else outside(mesh, unit, kind)
    return comparison | {"hand": outside(hand, unit, kind), "mesh": shown}


def whole(arm: Arm, hand: HandFile, mesh: ElasticFile) -> Iterator[Row]:
    """Mass and centre of gravity."""
    yield in_units("mass", "arm", "any", hand.mass_kg, mesh.mass_kg, "mass", arm.units, MASS)
    span = arm.geometry.input_arm + arm.geometry.output_arm
    for axis, a, b in zip("xy", hand.cg_mm, mesh.cg_mm, strict=False):
        yield in_units(f"centre of gravity {axis}", "arm", "any", a, b, "length", arm.units, PLACE, span)


def of_case(arm: Arm, case: str, hand: HandCase, mesh: ElasticCase) -> Iterator[Row]:
    """Every quantity of one load case."""
    for bore, force in hand.pin_force.items():
        allowed = PIVOT_FORCE if bore == "pivot_bore" else FORCE
        yield in_units(
            "pin force", words(bore), case, force, mesh.pin_force[bore], "force", arm.units, allowed
        )
    for limb, moved in hand.deflection.items():
        yield in_units(
            "deflection in the plane",
            f"{limb} pin",
            case,
            moved.in_plane,
            mesh.deflection[limb].in_plane,
            "length",
            arm.units,
            DEFLECTION,
        )
    for limb in hand.stations:
        yield from fibres(arm, case, limb, hand.stations[limb], mesh.stations[limb])
    yield from hub(arm, case, hand.net_section, mesh.pivot_section)
    for bore, peak in hand.bore_peak.items():
        yield in_units(
            "bore peak", words(bore), case, peak, mesh.peaks[bore].equivalent, "stress", arm.units, PEAK
        )
    yield row("support reactions", "arm", case, 0.0, mesh.reaction, "share of the load", ZERO)
    yield row(
        "sum of all forces",
        "arm",
        case,
        0.0,
        mesh.imbalance / max(hand.pin_force.values()),
        "share of the load",
        ZERO,
    )
    yield row("discretisation error, energy norm", "arm", case, 0.0, mesh.energy_error, "share", ENERGY)


def hub(arm: Arm, case: str, net: dict[str, NetSection], mesh: PivotSection) -> Iterator[Row]:
    """The section through the pivot along the bisector of the arms: its moment, and the bending part of the wall stress."""
    pivot, place = arm.geometry.pivot, "hub, on the bisector of the arms"
    handed = 0.5 * (net["output"].M3 - net["input"].M3)  # pivot friction acts half on either side
    yield in_units(
        "moment over the section at the pivot", place, case, handed, mesh.M3, "moment", arm.units, NET
    )
    _, second = hub_net(pivot.width, pivot.outside, pivot.bore)
    by_hand = -handed * (pivot.outside + pivot.bore) / 4.0 / second
    by_mesh = None
    if mesh.mean_inner is not None and mesh.mean_outer is not None:
        by_mesh = 0.5 * (mesh.mean_inner - mesh.mean_outer)
    what = "net section at the pivot, bending part of the mean wall stress"
    yield in_units(what, place, case, by_hand, by_mesh, "stress", arm.units, WALL)


def fibres(arm: Arm, case: str, limb: str, hand: Sequence[Station], mesh: Sequence[Fibre]) -> Iterator[Row]:
    """Normal stress at the middles of both flanges, station by station."""
    largest = max(max(abs(one.sigma_plus), abs(one.sigma_minus)) for one in hand)
    start, end = hand[0].s, hand[-1].s
    for a, b in zip(hand, mesh, strict=True):
        share = (a.s - start) / (end - start)
        unit = shown_unit("length", arm.units)
        place = f"{limb} arm, {outside(a.s, unit, 'length'):.4g} {unit} from the pivot"
        sides = {"plus": (a.sigma_plus, b.sigma_plus), "minus": (a.sigma_minus, b.sigma_minus)}
        for side, (value, by_mesh) in sides.items():
            scale = max(abs(value), SMALL * largest)
            yield in_units(
                f"bending stress, {side} flange",
                place,
                case,
                value,
                by_mesh,
                "stress",
                arm.units,
                allowance(share),
                scale,
            )


def allowance(share: float) -> tuple[float, str]:
    """Allowed difference of a fibre stress at this share of the way from hub edge to boss edge."""
    if share < 0.1 or share > 0.9:
        return END
    if share < 1.0 / 3.0:
        return NEAR_HUB
    return MIDDLE if share <= 2.0 / 3.0 else NEAR_BOSS


def words(name: str) -> str:
    return name.replace("_", " ")


def bands(mesh: ElasticFile) -> Iterator[Row]:
    """Error band of each peak; a single mesh has none."""
    for place, percent in mesh.bands_percent.items():
        if percent is not None:
            yield row("error band of the peak", words(place), "any", 0.0, percent / 100.0, "share", BAND)


def main(folder: Path) -> None:
    arm = read_arm(folder / "arm.yaml")
    hand = read_of_cases(folder / "hand.json", HandFile, arm.load_cases)
    mesh = read_of_cases(folder / "elastic.json", ElasticFile, arm.load_cases)
    rows = list(whole(arm, hand, mesh))
    for case in hand.cases:
        rows += of_case(arm, case, hand.cases[case], mesh.cases[case])
    rows += bands(mesh)
    write_csv(folder / "verify.csv", COLUMNS, rows)
    beyond = sum(one["verdict"] == "explain" for one in rows)
    print(
        f"{folder}: hand against mesh: {len(rows)} comparisons, {beyond} beyond their allowance, to explain"
    )


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
