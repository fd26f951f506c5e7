"""The answer for one arm: `python -m analysis.proof.summary DIR` reads the tables there and writes summary.json."""

from __future__ import annotations

from importlib import metadata
from pathlib import Path

from analysis.contracts.elastic import ElasticFile, FatigueMargin
from analysis.contracts.hand import HandFile
from analysis.contracts.summary import MeshCheck, Position, Summary, Verdict
from analysis.mechanics.sizes import SWEPT
from analysis.tables.beside import allowed, excess
from analysis.tables.files import read_csv, write_json
from params.files.origin import TO_SUMMARY, origin
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.contract import read_of_cases
from params.steps.guard import one_line_errors

PACKAGES = ("leverwright", "cadquery", "gmsh", "meshio", "numpy", "scipy", "numba")
SHOWN = 6  # lines of explanation at most


def mesh_checks(arm: Arm, material: Material, elastic: ElasticFile) -> list[MeshCheck]:
    """Checks by mesh: the flanges' outer faces, wherever they are worst, against yield over the design factor; peaks against yield
    over the peak factor; fatigue of regions; flaws at the rims of bores."""
    factors = dict(zip(arm.load_cases, arm.design_factors, strict=True))
    local = material.yield_strength / arm.criteria.peak_factor
    checks = []
    for name, case in elastic.cases.items():
        nominal = material.yield_strength / factors[name]
        for limb, worst in case.flange_peak.items():
            checks.append(check("flange stress", f"{limb} arm", name, worst.equivalent, nominal))
        for place, peak in case.peaks.items():
            one = check("peak stress", place.replace("_", " "), name, peak.equivalent, local)
            checks.append(banded(one, place, elastic))
    checks += [
        banded(fatigue_check(place, one, one.margin), place, elastic)
        for place, one in elastic.fatigue.items()
        if one.margin is not None
    ]
    for place, flaw in elastic.flaws.items():
        where = place.replace("_", " ")
        one = check("flaw at the rim", where, flaw.load_case, flaw.stress, flaw.allowable)
        checks.append(banded(one, place, elastic))
    return checks


def banded(one: MeshCheck, place: str, elastic: ElasticFile) -> MeshCheck:
    """The check with the band of its surface's peak, and whether that has settled, where several meshes say so."""
    band = elastic.bands_percent.get(place)
    if band is None:
        return one
    return one.model_copy(update={"band_percent": band, "settled": place not in elastic.unsettled})


def fatigue_check(place: str, one: FatigueMargin, margin: float) -> MeshCheck:
    """Fatigue of a region by mesh, or of a weld by its nominal stress; the margin is on the stress range."""
    return MeshCheck(
        check="fatigue",
        place=place.replace("_", " "),
        load_case="the duty's cycles",
        demand_MPa=one.range,
        capacity_MPa=one.allowable,
        margin=margin,
    )


def check(what: str, place: str, case: str, demand: float, capacity: float) -> MeshCheck:
    margin = capacity / demand - 1.0
    return MeshCheck(
        check=what, place=place, load_case=case, demand_MPa=demand, capacity_MPa=capacity, margin=margin
    )


def verdict(hand: float, mesh: float, explain: list[str]) -> Verdict:
    """In words: a failed check outranks a difference to explain."""
    if hand < 0.0 or mesh < 0.0:
        return "fails"
    return "explain" if explain else "holds"


def to_explain(rows: list[dict[str, str]], statics: list[dict[str, str]], elastic: ElasticFile) -> list[str]:
    """A line for each quantity and place with differences beyond their allowance, those of section forces (resultants.csv) first,
    then the largest share of it first."""
    lines = []
    wrong = [row for row in statics if row["verdict"] == "explain"]
    if wrong:
        worst = max(wrong, key=lambda row: abs(float(row["by_nodes_percent"])))
        lines.append(
            f"Explain: section forces: {len(wrong)} beyond equilibrium, first {worst['quantity']}, {worst['place']}: mesh "
            f"{float(worst['by_nodes_percent']):+.1f} % against hand, see resultants.csv."
        )
    places: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in rows:
        if row["verdict"] == "explain":
            places.setdefault((row["quantity"], row["place"]), []).append(row)
    ranked = sorted(places.items(), key=lambda item: -max(map(excess, item[1])))
    lines += [
        difference_line(quantity, place, differences) for (quantity, place), differences in ranked[:SHOWN]
    ]
    if len(ranked) > SHOWN:
        lines.append(f"Explain: differences at {len(ranked) - SHOWN} more places, see verify.csv.")
    levels = elastic.mesh.levels
    if not elastic.settled and levels > 1:
        moving = [place.replace("_", " ") for place in elastic.unsettled]
        lines.append(
            f"Explain: peaks have not settled after {levels} meshes, {', '.join(moving)}; see convergence.csv."
        )
    return lines


def difference_line(quantity: str, place: str, rows: list[dict[str, str]]) -> str:
    """One line for all load cases of a quantity at a place."""
    worst = max(rows, key=excess)
    cases = f"{len(rows)} load case{'s' if len(rows) > 1 else ''}"
    if not worst["difference_percent"]:
        return f"Explain: {quantity}, {place}: {worst['note']}, {cases}."
    difference, bound = float(worst["difference_percent"]), allowed(worst)
    return f"Explain: {quantity}, {place}: mesh {difference:+.0f} % against hand (allowed {bound:.3g} %), {cases}."


def sizes(arm: Arm) -> dict[str, float]:
    """Section sizes and hub diameter, mm."""
    section = arm.geometry.section
    values = {name: getattr(section, name) for name in SWEPT if name != "hub"} | {
        "hub": arm.geometry.pivot.outside
    }
    return {name: value for name, value in values.items() if value is not None}


def position(fraction: float) -> Position:
    return Position(fraction=fraction, at=f"{100.0 * fraction:.0f} % of the swing")


def versions(packages: tuple[str, ...] = PACKAGES) -> dict[str, str]:
    installed = {}
    for name in packages:
        try:
            installed[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            continue
    return installed


def summary(folder: Path) -> Summary:
    """Everything of summary.json."""
    source = folder / "arm.yaml"
    arm = read_arm(source)
    hand = read_of_cases(folder / "hand.json", HandFile, arm.load_cases)
    elastic = read_of_cases(folder / "elastic.json", ElasticFile, arm.load_cases)
    checks = mesh_checks(arm, read_material(arm.material, arm.library), elastic)
    worst = min(checks, key=lambda one: one.margin)
    shown = min((one for one in checks if one.load_case in elastic.cases), key=lambda one: one.margin)
    hashes = origin(arm, source, TO_SUMMARY, [f"materials/{arm.material}.yaml"])
    explain = to_explain(read_csv(folder / "verify.csv", 1), read_csv(folder / "resultants.csv", 1), elastic)
    known = {place: band for place, band in elastic.bands_percent.items() if band is not None}
    return Summary(
        state="holds" if min(hand.least_margin, worst.margin) >= 0.0 else "fails",
        arm=arm.name,
        revision=arm.revision,
        material=arm.material,
        caution=CAUTION,
        mass_kg=hand.mass_kg,
        mesh_mass_kg=elastic.mass_kg,
        sizes_mm=sizes(arm),
        governing=f"{hand.governing.check} at {hand.governing.place}, {hand.governing.load_case}",
        hand_margin=hand.least_margin,
        hand_fails=hand.fails,
        hand_out_of_range=hand.out_of_range,
        mesh_margin=worst.margin,
        mesh_governing=f"{worst.check} at {worst.place}, {worst.load_case}",
        mesh_governing_case=shown.load_case,
        mesh_checks=tuple(checks),
        verdict=verdict(hand.least_margin, worst.margin, explain),
        explain=tuple(explain),
        mesh=elastic.mesh,
        solver=elastic.solver,
        settled=elastic.settled,
        peak_error_band_percent=max(known.values(), default=None),
        energy_error_percent=100.0 * max(case.energy_error for case in elastic.cases.values()),
        cases={name: position(case.fraction) for name, case in elastic.cases.items()},
        seconds=elastic.seconds,
        peak_memory_MB=elastic.peak_memory_MB,
        versions=versions(),
        parameter_sha256=hashes.arm,
        origin=hashes,
    )


def main(folder: Path) -> None:
    write_json(folder / "summary.json", summary(folder))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
