"""Hand calculation against mesh: `python -m analysis.proof.beside DIR` writes resultants.csv and verify.csv.

Reads hand.json and elastic.json: first N, V, T, M section by section, the proof of statics, then stresses and movements, each with
the terms of its theory. A difference is a share of the hand value; where that is below a fifth of the largest of its kind in the
same load case, a share of this fifth. A row beyond its allowance gets the verdict `explain`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from analysis.contracts.elastic import ElasticCase, ElasticFile, PivotSection
from analysis.contracts.hand import HandCase, HandFile, NetSection, Station
from analysis.mechanics.hub_forces import pull_across
from analysis.mechanics.knee import Knee
from analysis.mechanics.sections import hub_net
from analysis.proof import resultants
from analysis.proof.flanges import flanges, slope
from analysis.proof.rows import COLUMNS, Allowed, Row, Theory, in_units, row
from analysis.tables.files import write_csv
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arguments import arguments
from params.steps.contract import read_of_cases
from params.steps.guard import one_line_errors

# Allowed difference in percent, and why it is allowed.
MASS = Allowed(2.0, "the hand mass leaves out blends and fillets")
PLACE = Allowed(1.0, "of the distance between the pins; as for the mass")
FORCE = Allowed(0.1, "the same force is applied; the integration over the faces is corrected to be exact")
PIVOT_FORCE = Allowed(1.0, "the mesh is balanced with its own weight, not that of the hand calculation")
MOVES = (
    "at least that with a rigid hub, at most that with hub and boss no stiffer than the arm at their edges"
)
NET = Allowed(5.0, "equilibrium of one half of the arm; the stress is read in 2,880 cells")
WALL = (
    "plane sections put the resultant of a wall at 2/3 (R^3 - r^3)/(R^2 - r^2) from the pivot; a stress that falls from the bore "
    "to nothing outside, at (R + 2 r)/3"
)
PEAK = Allowed(
    35.0,
    "by hand a factor for a pin in a plate end, doubled across the arm by a rule of this project; ring bending added",
)
SEARCHED = "upward the mesh; downward what the hand adds beyond N/A + M/S, and the fifth that hub and boss may relieve"
ZERO = Allowed(
    0.01, "support reactions and the sum of all forces must be negligible beside the largest pin force"
)
ENERGY = Allowed(15.0, "estimated error of the mesh in the energy norm, all of the arm")
BAND = Allowed(10.0, "error band of the bore's peak from the mesh series")


LIGHT = 0.05  # of the largest pin force of all cases


def compared(hand: HandFile) -> list[str]:
    """Load cases that are compared: not those of the arm's weight alone, which hand and mesh take with and without blends, so that
    shares of next to nothing would be compared."""
    largest = {name: max(case.pin_force.values()) for name, case in hand.cases.items()}
    return [name for name, force in largest.items() if force >= LIGHT * max(largest.values())]


def whole(arm: Arm, hand: HandFile, mesh: ElasticFile) -> Iterator[Row]:
    """Mass and centre of gravity."""
    yield in_units("mass", "arm", "any", hand.mass_kg, mesh.mass_kg, "mass", arm.units, MASS)
    span = arm.geometry.input_arm + arm.geometry.output_arm
    for axis, a, b in zip("xy", hand.cg_mm, mesh.cg_mm, strict=False):
        yield in_units(f"centre of gravity {axis}", "arm", "any", a, b, "length", arm.units, PLACE, span)


def of_case(arm: Arm, material: Material, case: str, hand: HandCase, mesh: ElasticCase) -> Iterator[Row]:
    """Every quantity of one load case."""
    for bore, force in hand.pin_force.items():
        allowed = PIVOT_FORCE if bore == "pivot_bore" else FORCE
        yield in_units(
            "pin force", words(bore), case, force, mesh.pin_force[bore], "force", arm.units, allowed
        )
    yield from deflections(arm, case, hand, mesh)
    for limb in hand.stations:
        yield worst_of_flanges(arm, case, limb, hand.stations[limb], mesh)
    for limb in hand.stations:
        yield from flanges(arm, material, case, limb, hand.stations[limb], mesh.stations[limb])
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


def deflections(arm: Arm, case: str, hand: HandCase, mesh: ElasticCase) -> Iterator[Row]:
    """Movement of both pins, in the plane and sideways; the hand value lies between two bounds, which the mesh has to keep."""
    for limb in hand.deflection:
        for way, what in (("in_plane", "deflection in the plane"), ("sideways", "deflection sideways")):
            whole, share, most = (
                getattr(of[limb], way) for of in (hand.deflection, hand.deflection_hub, hand.deflection_most)
            )
            if whole:
                theory = Theory(whole - share, {"hub": share})
                allowed = Allowed(
                    max(0.0, 100.0 * (most / whole - 1.0)), MOVES, max(0.0, 100.0 * share / whole)
                )
                by_mesh = getattr(mesh.deflection[limb], way)
                yield in_units(what, f"{limb} pin", case, theory, by_mesh, "length", arm.units, allowed)


def worst_of_flanges(arm: Arm, case: str, limb: str, hand: Sequence[Station], mesh: ElasticCase) -> Row:
    """Largest equivalent stress of the flanges' outer faces between hub and boss, wherever it lies: the hand adds every force with
    the sign that adds, so the mesh should be smaller; the sloping face is stressed along itself, 1/cos^2 of its slope more."""
    worst = max(hand, key=lambda one: one.equivalent)
    steep = worst.equivalent * (1.0 - 1.0 / (1.0 + slope(hand) ** 2))
    plain = max(max(abs(one.sigma_plus), abs(one.sigma_minus)) for one in hand)
    cut = max(mesh.stations[limb], key=lambda one: one.error)
    most = Allowed(100.0 * cut.error**2, SEARCHED, 100.0 * (1.0 - 0.8 * plain / worst.equivalent))
    theory = Theory(worst.equivalent - steep, {"slope": steep})
    what = "flanges, largest equivalent stress anywhere"
    return in_units(
        what, f"{limb} arm", case, theory, mesh.flange_peak[limb].equivalent, "stress", arm.units, most
    )


def hub(arm: Arm, case: str, net: dict[str, NetSection], mesh: PivotSection) -> Iterator[Row]:
    """The section through the pivot along the bisector of the arms: its moment, and the bending part of the wall stress."""
    pivot, place = arm.geometry.pivot, "hub, on the bisector of the arms"
    handed = 0.5 * (net["output"].M3 - net["input"].M3)  # pivot friction acts half on either side
    yield in_units(
        "moment over the section at the pivot", place, case, handed, mesh.M3, "moment", arm.units, NET
    )
    _, second = hub_net(pivot.width, pivot.outside, pivot.bore)
    simple = -handed * (pivot.outside + pivot.bore) / 4.0 / second
    knee, terms = Knee.of(arm), {}
    if knee:
        across = pull_across(arm, net["input"].N, net["input"].V2, net["output"].N, net["output"].V2)
        walls = [knee.mean(across, -handed, strip) for strip in (0, 1)]
        terms = {"knee": 0.5 * (walls[1] - walls[0]) - simple}
    by_mesh = None
    if mesh.mean_inner is not None and mesh.mean_outer is not None:
        by_mesh = 0.5 * (mesh.mean_inner - mesh.mean_outer)
    what = "net section at the pivot, bending part of the mean wall stress"
    outer, inner = pivot.outside / 2.0, pivot.bore / 2.0
    linear = (outer**3 - inner**3) / (outer**2 - inner**2) / 1.5
    allowed = Allowed(100.0 * (3.0 * linear / (outer + 2.0 * inner) - 1.0), WALL)
    yield in_units(what, place, case, Theory(simple, terms), by_mesh, "stress", arm.units, allowed)


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
    material = read_material(arm.material, arm.library)
    statics = [
        row
        for case in compared(hand)
        for row in resultants.resultants(arm, case, hand.cases[case], mesh.cases[case])
    ]
    write_csv(folder / "resultants.csv", resultants.COLUMNS, statics)
    rows = list(whole(arm, hand, mesh))
    for case in compared(hand):
        rows += of_case(arm, material, case, hand.cases[case], mesh.cases[case])
    rows += bands(mesh)
    write_csv(folder / "verify.csv", COLUMNS, rows)
    for what, some in (("section forces", statics), ("hand against mesh", rows)):
        beyond = sum(one["verdict"] == "explain" for one in some)
        print(f"{folder}: {what}: {len(some)} comparisons, {beyond} beyond their allowance, to explain")


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
