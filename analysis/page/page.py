"""One HTML file an arm: `python -m analysis.page.page results/ARM page.html` sets what stands in the tables into it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.contracts.recommended import NoneRecommended, Recommended, read_recommended
from analysis.contracts.summary import Summary, read_summary
from analysis.page.bores import answers, bores
from analysis.page.embed import library, picture, policy, program, render
from analysis.page.making import making
from analysis.page.panels import VERDICTS, WRITTEN, panels
from analysis.page.tables import Table, label, laid_out, shown, table, worst
from analysis.tables.beside import STATICS, THEORY, by_place, statics, with_terms
from analysis.tables.columns import in_units
from analysis.tables.files import read_csv, read_json, write_json
from analysis.tables.number import figure, percent
from analysis.tables.revisions import HEADS, revisions
from params.files.origin import Origin, lines, origin
from params.files.read import read_arm
from params.schema.arm import Arm
from params.schema.units import outside, shown_unit
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors

BORES = "bores-"  # begins the names of small copies of pictures of the bores
DRAWINGS = ("free-body", "diagrams")
PICTURES = ("solid", "mesh", "stress", "deformed", *DRAWINGS, "convergence")
CAPTIONS = (
    Path(__file__).parents[1] / "record" / "captions"
)  # a sentence for each picture, as in the report of a run


def answer(arm: Arm, summary: Summary, best: Recommended | NoneRecommended) -> dict[str, Any]:
    """The arm as written beside the recommended sizes, line by line."""
    new = best if isinstance(best, Recommended) else None
    lines = [
        (
            "mass",
            shown(summary.mass_kg, "mass", arm.units),
            shown(new.mass_kg, "mass", arm.units) if new else "",
        )
    ]
    for name, size in summary.sizes_mm.items():
        recommended = shown(new.sizes_mm[name], "length", arm.units) if new else ""
        lines.append((label(name), shown(size, "length", arm.units), recommended))
    for way, old, other in (
        ("hand", by_hand(summary), new and by_hand(new)),
        ("mesh", by_mesh(summary), new and by_mesh(new)),
    ):
        lines.append((f"least margin by {way}", percent(old[0]), percent(other[0]) if other else ""))
        lines.append((f"governing by {way}", old[1], other[1] if other else ""))
    verdict = "holds by hand and by mesh" + ("; explain" if new.explain else "") if new else ""
    lines.append(("verdict", summary.verdict, verdict))
    return {
        "lines": lines,
        "verdict": VERDICTS[summary.verdict],
        "mark": summary.verdict,
        "explain": summary.explain,
        "notes": summary.mesh.notes,
        "id": best.id,
        "reason": best.reason if isinstance(best, NoneRecommended) else "",
        "gain": gain_text(arm, new) if new else "",
    }


def by_hand(one: Summary | Recommended) -> tuple[float, str]:
    """Least margin by hand and the check that governs."""
    return one.hand_margin, one.governing if isinstance(one, Summary) else one.hand_governing


def by_mesh(one: Summary | Recommended) -> tuple[float, str]:
    return one.mesh_margin, one.mesh_governing


def gain_text(arm: Arm, best: Recommended) -> str:
    mass, saved = shown(best.mass_kg, "mass", arm.units), shown(abs(best.saved_kg), "mass", arm.units)
    way = "lighter" if best.saved_kg >= 0.0 else "heavier"
    return f"{mass}, {saved} ({abs(best.saved_percent):.0f} %) {way} than as written"


def chart(folder: Path, arm: Arm, cloud: list[dict[str, str]], best: str | None) -> dict[str, Any]:
    """Points of weight against margin, in the arm's unit of mass."""
    unit, summary = shown_unit("mass", arm.units), read_summary(folder / WRITTEN / "summary.json")

    def point(
        identifier: str, mass: float, hand: str | float, mesh: str | float | None = None
    ) -> dict[str, Any]:
        margins = [None if value in (None, "") else float(value) for value in (hand, mesh)]
        return {
            "id": identifier,
            "mass": float(outside(mass, unit, "mass")),
            "hand": margins[0],
            "mesh": margins[1],
        }

    front = read_csv(folder / "sweep" / "front.csv")
    return {
        "unit": unit,
        "recommended": best,
        "cloud": [point(row["id"], float(row["mass_kg"]), row["min_margin"]) for row in cloud],
        "front": [
            point(row["id"], float(row["mass_kg"]), row["hand_margin"], row["mesh_margin"]) for row in front
        ],
        "written": point(WRITTEN, summary.mass_kg, summary.hand_margin, summary.mesh_margin),
    }


def stroke(rows: list[dict[str, str]]) -> dict[str, Any]:
    """Forces over the swing for each load case: heads, cells as text, and the same as numbers for the curves."""
    names = [name for name in rows[0] if name not in ("load_case", "residual")]
    cases: dict[str, Any] = {}
    for row in rows:
        case = cases.setdefault(row["load_case"], {"rows": [], "numbers": []})
        case["rows"].append([figure(float(row[name])) for name in names])
        case["numbers"].append([float(row[name]) for name in names])
    heads = {"phi_deg": "angle of the output arm, deg", "fraction": "share of the swing"}
    return {"heads": [heads.get(name, label(name)) for name in names], "cases": cases}


def stills(folder: Path, arm: Arm) -> dict[str, tuple[str, str]]:
    """Pictures of the arm as written, by name with their titles: the small copies, and the drawings as they are."""
    places = {name: folder / "page" / f"{name}.webp" for name in PICTURES}
    places |= {name: folder / WRITTEN / "pictures" / f"{name}.svg" for name in DRAWINGS}
    places |= {place.stem: place for place in sorted((folder / "page").glob(f"{BORES}*.webp"))}
    return {name: (caption(name, arm), picture(place)) for name, place in places.items()}


def caption(name: str, arm: Arm) -> str:
    """What a picture shows, in a sentence."""
    file = f"{name.removeprefix(BORES)}.{'svg' if name in DRAWINGS else 'png'}.rst"
    return (CAPTIONS / file).read_text().strip().replace("{{ snakemake.wildcards.arm }}", arm.name)


def figures(summary: Summary, sources: Origin) -> list[tuple[str, str]]:
    """Mesh, solver, versions and the hash of the parameter file, as lines."""
    mesh, solver = summary.mesh, summary.solver
    band = summary.peak_error_band_percent
    return [
        (
            "mesh",
            f"{mesh.elements:,} second-order tetrahedra, {mesh.unknowns:,} unknowns, level {mesh.levels}",
        ),
        ("error in the energy norm", f"{figure(summary.energy_error_percent)} %"),
        (
            "error band of the peaks, bores and outside",
            "not known from one mesh"
            if band is None
            else f"{figure(band)} %, {'settled' if summary.settled else 'not settled'}",
        ),
        ("solver", f"{solver.method}, {solver.iterations} iterations"),
        ("versions", ", ".join(f"{name} {version}" for name, version in summary.versions.items())),
        *((f"{name}, SHA-256", digest) for name, digest in lines(sources)),
    ]


def content(folder: Path) -> dict[str, Any]:
    """Everything the template needs."""
    written = folder / WRITTEN
    arm, summary = read_arm(written / "arm.yaml"), read_summary(written / "summary.json")
    data, best = (
        read_json(folder / "page" / "data.json"),
        read_recommended(folder / "sweep" / "recommended.json"),
    )
    checks, verify = read_csv(written / "checks.csv", 1), read_csv(written / "verify.csv", 1)
    forces = read_csv(written / "resultants.csv", 1)
    shows, chosen = stills(folder, arm), panels(folder, arm, data["cloud"])
    for name in data["skins"]:
        chosen[name]["still"] = (
            shows["stress"][1] if name == WRITTEN else picture(folder / "page" / f"{name}.webp")
        )
    length = shown_unit("length", arm.units)
    plans = making(folder / "making", arm.units)
    sources = origin(arm, written / "arm.yaml")
    return {
        "arm": arm,
        "caution": CAUTION,
        "answer": answer(arm, summary, best),
        "revisions": Table([(head, False) for head in HEADS], rows := revisions(arm), [""] * len(rows)),
        "best": best,
        "panels": chosen,
        "front": [(row["id"], chosen[row["id"]]) for row in read_csv(folder / "sweep" / "front.csv")],
        "checks": table(worst(checks, "check", "place"), mark="status"),
        "check_rows": len(checks),
        "statics": table(statics(forces), STATICS),
        "static_rows": len(forces),
        "terms": table(with_terms(verify), THEORY, mark="verdict"),
        "compared": table(by_place(verify), mark="verdict"),
        "explain_rows": sum(row["verdict"] == "explain" for row in verify),
        "verify_rows": len(verify),
        "convergence": laid_out(in_units(read_csv(written / "convergence.csv", 1), arm.units)),
        "making": plans,
        "bores": bores(written / "bores", arm.units),
        "lives": answers(written / "bores", folder / "sweep"),
        "pictures": shows,
        "figures": figures(summary, sources),
        "written": WRITTEN,
        "origin": sources,
        "cases": list(arm.load_cases),
        "data": {
            "skins": data["skins"],
            "linkage": data["linkage"],
            "panels": chosen,
            "length": {"unit": length, "share": float(outside(1.0, length, "length"))},  # of a corner's mm
            "stroke": stroke(read_csv(written / "stroke.csv", 1)),
            "chart": chart(folder, arm, data["cloud"], best.id),
            "governing": summary.mesh_governing_case,
            "routes": [plan["chart"] for plan in plans["routes"]],
        },
    }


def main(folder: Path, target: Path) -> None:
    scripts = library(), program()
    shown_content = content(folder)
    target.write_text(
        render("page.html", policy=policy(*scripts), scripts=scripts, **shown_content), encoding="utf-8"
    )
    write_json(folder / "page" / "origin.json", shown_content["origin"])


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, target=Path))
