"""The answer for one arm: `python -m analysis.proof.summary DIR` reads the tables there and writes summary.json."""

from __future__ import annotations

from importlib import metadata
from pathlib import Path
from typing import Any

from analysis.mechanics.sizes import FIELDS
from analysis.tables.files import read_csv, write_json
from params.files.origin import TO_SUMMARY, origin
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.material import Material
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.results import read_cases

PACKAGES = ("leverwright", "cadquery", "gmsh", "meshio", "numpy", "scipy", "numba")
SHOWN = 6  # lines of explanation at most


def mesh_checks(arm: Arm, material: Material, elastic: dict[str, Any]) -> list[dict[str, Any]]:
    """Checks by mesh: fibre stresses against yield over the design factor, peaks against yield over the peak factor, fatigue of
    regions, flaws at the rims of bores."""
    nominal = material.yield_strength / arm.criteria.design_factor
    local = material.yield_strength / arm.criteria.peak_factor
    found = []
    for name, case in elastic["cases"].items():
        for limb, rows in case["stations"].items():
            worst = max(row["largest"] for row in rows if row["largest"] is not None)
            found.append(check("flange stress", f"{limb} arm", name, worst, nominal))
        for place, peak in case["peaks"].items():
            found.append(check("peak stress", place.replace("_", " "), name, peak["equivalent"], local))
    found += [lasting(place, told) for place, told in elastic.get("fatigue", {}).items()]
    for place, told in elastic.get("flaws", {}).items():
        where = place.replace("_", " ")
        found.append(check("flaw at the rim", where, told["load_case"], told["stress"], told["allowable"]))
    return [one for one in found if one["margin"] is not None]  # none: where nothing swings


def lasting(place: str, told: dict[str, Any]) -> dict[str, Any]:
    """Fatigue of a region by mesh, or of a weld by its nominal stress; the margin is on the stress range."""
    return {
        "check": "fatigue",
        "place": place.replace("_", " "),
        "load_case": "the duty's cycles",
        "demand_MPa": told["range"],
        "capacity_MPa": told["allowable"],
        "margin": told["margin"],
    }


def check(what: str, place: str, case: str, demand: float, capacity: float) -> dict[str, Any]:
    margin = capacity / demand - 1.0
    return {
        "check": what,
        "place": place,
        "load_case": case,
        "demand_MPa": demand,
        "capacity_MPa": capacity,
        "margin": margin,
    }


def verdict(hand: float, mesh: float, explain: list[str]) -> str:
    """In words: a failed check outranks a difference to explain."""
    if hand < 0.0 or mesh < 0.0:
        return "fails"
    return "explain" if explain else "holds"


def to_explain(rows: list[dict[str, str]], elastic: dict[str, Any]) -> list[str]:
    """Differences beyond their allowance, gathered by quantity and place, the largest share of the allowance first."""
    places: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in rows:
        if row["verdict"] == "explain":
            places.setdefault((row["quantity"], row["place"]), []).append(row)
    ranked = sorted(places.items(), key=lambda item: -max(map(excess, item[1])))
    lines = [told(quantity, place, found) for (quantity, place), found in ranked[:SHOWN]]
    if len(ranked) > SHOWN:
        lines.append(f"Explain: {len(ranked) - SHOWN} more places in verify.csv.")
    if not elastic["settled"] and elastic["mesh"]["levels"] > 1:
        levels = elastic["mesh"]["levels"]
        lines.append(
            f"Explain: the bores' peaks have not settled after {levels} meshes; see convergence.csv."
        )
    return lines


def excess(row: dict[str, str]) -> float:
    """Difference over what is allowed; without end where the mesh could not be read."""
    return abs(float(row["difference_percent"] or "inf")) / float(row["allowed_percent"])


def told(quantity: str, place: str, found: list[dict[str, str]]) -> str:
    """One line for all load cases of a quantity at a place."""
    worst = max(found, key=excess)
    cases = f"{len(found)} load case{'s' if len(found) > 1 else ''}"
    if not worst["difference_percent"]:
        return f"Explain: {quantity}, {place}: {worst['note']}, {cases}."
    difference, allowed = float(worst["difference_percent"]), worst["allowed_percent"]
    return (
        f"Explain: {quantity}, {place}: mesh {difference:+.0f} % against hand (allowed {allowed} %), {cases}."
    )


def sizes(arm: Arm) -> dict[str, float]:
    """Section sizes and hub diameter, mm."""
    section = arm.geometry.section
    found = {name: getattr(section, name) for name in FIELDS if name != "hub"} | {
        "hub": arm.geometry.pivot.outside
    }
    return {name: value for name, value in found.items() if value is not None}


def position(fraction: float) -> dict[str, Any]:
    return {"fraction": fraction, "at": f"{100.0 * fraction:.0f} % of the swing"}


def versions(packages: tuple[str, ...] = PACKAGES) -> dict[str, str]:
    found = {}
    for name in packages:
        try:
            found[name] = metadata.version(name)
        except metadata.PackageNotFoundError:
            continue
    return found


def summary(folder: Path) -> dict[str, Any]:
    """Everything of summary.json."""
    source = folder / "arm.yaml"
    arm = read_arm(source)
    hand, elastic = (read_cases(folder / f"{name}.json", arm.load_cases) for name in ("hand", "elastic"))
    checks = mesh_checks(arm, read_material(arm.material, arm.library), elastic)
    worst = min(checks, key=lambda one: one["margin"])
    shown = min(
        (one for one in checks if one["load_case"] in elastic["cases"]), key=lambda one: one["margin"]
    )
    by_hand = hand["governing"]
    made = origin(arm, source, TO_SUMMARY, [f"materials/{arm.material}.yaml"])
    explain = to_explain(read_csv(folder / "verify.csv", 1), elastic)
    bands = [
        band for place, band in elastic["bands_percent"].items() if band is not None and place != "outside"
    ]
    return {
        "arm": arm.name, "revision": arm.revision, "material": arm.material, "caution": CAUTION, "state": "confirmed",
        "mass_kg": hand["mass_kg"], "mesh_mass_kg": elastic["mass_kg"], "sizes_mm": sizes(arm),
        "governing": f"{by_hand['check']} at {by_hand['place']}, {by_hand['load_case']}", "hand_margin": hand["least_margin"],
        "hand_fails": hand["fails"], "hand_out_of_range": hand["out_of_range"],
        "mesh_margin": worst["margin"], "mesh_governing": f"{worst['check']} at {worst['place']}, {worst['load_case']}",
        "mesh_governing_case": shown["load_case"], "mesh_checks": checks,
        "verdict": verdict(hand["least_margin"], worst["margin"], explain), "explain": explain,
        "mesh": elastic["mesh"], "solver": elastic["solver"], "settled": elastic["settled"],
        "peak_error_band_percent": max(bands) if bands else None,
        "energy_error_percent": 100.0 * max(case["energy_error"] for case in elastic["cases"].values()),
        "cases": {name: position(case["fraction"]) for name, case in elastic["cases"].items()},
        "seconds": elastic["seconds"], "peak_memory_MB": elastic["peak_memory_MB"], "versions": versions(),
        "parameter_sha256": made["arm"], "origin": made,
    }  # fmt: skip


def main(folder: Path) -> None:
    write_json(folder / "summary.json", summary(folder))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
