"""Whether the duty as given explains the cracks that were found, and what would: `python -m analysis.fracture.explained DIR` writes
explained.csv to DIR/bores.

When a crack was due by fatigue from the old arm's fit, surface and material; in how many years it grows to what was found, and
from which size it does so in the years that the arm has served; the verdict; where that is no, every cause that would explain it.
Each figure stands beside that of the coarser mesh, where there is one: what moves by over 10 % is not settled and has no number.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from analysis.elastic.mesh import Mesh
from analysis.fatigue.cycles import year
from analysis.fatigue.settled import YEARS, both, steady
from analysis.fatigue.stresses import mesh_file
from analysis.fatigue.variants import CRACKED, THIS, variants
from analysis.fracture.causes import SMALLEST_DEFECT, Cause, causes, least
from analysis.fracture.defect import MOST, least_defect
from analysis.fracture.hindcast import (
    FIRST,
    Found,
    becomes,
    due,
    in_all,
    needed_toughness,
    share_of_diagram,
    widest,
)
from analysis.fracture.loads import Loads, loads, shown_toughness
from analysis.fracture.past import Past, past
from analysis.fracture.residual import cases
from analysis.fracture.site import Assumed, Site, on_mesh, site_of
from analysis.tables.files import write_cautioned
from analysis.tables.names import names
from geometry.meshfile import read_mesh
from params.files.read import read_arm
from params.schema.cracks import Cracks, FoundCrack
from params.schema.units import outside, show, shown_unit
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.out_of_range import NOT_SETTLED, joined, or_reason

COLUMNS = names(
    "crack part what residual least value most unit coarser settled range_tried years status note"
)
EXPLAINED, NOT_EXPLAINED, NOT_KNOWN = "explained", "not explained", "not known"
FURTHER = (1.0, 10.0)  # mm, other sizes that growth is shown from
UNSAID = "cracks.old_arm.in_service is not stated: without the years served nothing can be said"
Rows = list[dict[str, Any]]


@dataclass(frozen=True)
class Told:
    """A figure on the finer mesh and the coarser one (None: no second mesh)."""

    value: float
    coarser: float | None = None

    @property
    def settled(self) -> bool:
        return self.coarser is None or steady([self.coarser, self.value], YEARS)

    def columns(self, none: str = "") -> dict[str, Any]:
        """Cells of a figure; where it has not settled both values in the note."""
        said = "" if self.coarser is None else "yes" if self.settled else "no"
        known = {"coarser": self.coarser, "settled": said, "value": self.value if self.settled else None}
        if not self.settled:
            values = both([self.coarser or math.inf, self.value], "{:.3g}").replace("no damage", "never")
            return known | {"status": NOT_SETTLED, "note": f"{NOT_SETTLED}: {values}"}
        return known | ({"note": none} if math.isinf(self.value) else {})


def explained_rows(folder: Path, looked: Sequence[Loads], cracks: Cracks, crack: FoundCrack) -> Rows:
    """Rows on one found crack, on the finer mesh and, where there is one, the coarser; one row with the reason where a value is out
    of its formula's range."""
    units, places = looked[0].arm.units, [None, folder / "bores" / "coarser"]

    def rows() -> Rows:
        return explained(
            [site_of(folder, held, cracks, crack, at) for held, at in zip(looked, places, strict=False)]
        )

    known, reason = or_reason(units, rows)
    if known is None:
        return [{"crack": crack.name, "part": "answer", "status": NOT_KNOWN, "note": reason}]
    return known


def explained(sites: list[Site]) -> Rows:
    """Rows on one found crack; its sites on the finer mesh and, where there is one, the coarser."""
    site = sites[0]
    old = site.cracks.old_arm
    served = past(old, site.crack.found) if old else None
    if old is None or served is None:
        why = UNSAID if old else "cracks.old_arm is not stated: the file says nothing of the arm that cracked"
        return [{"crack": site.crack.name, "part": "answer", "status": NOT_KNOWN, "note": why}]
    rows = list(figures(sites, old.environment, served))
    stated = assumed_of(site, old.environment)
    answer, verdict = concluded(sites, stated, served)
    rows += [carried_row(site, stated), defect_row(site, stated)]
    if verdict != EXPLAINED:
        found = list(causes(site, stated, served))
        rows += [cause_row(site, one) for one in found]
        answer["note"] = f"{answer['note'].removesuffix('.')}; {would(site, found)}"
    return [{"crack": site.crack.name} | row for row in [answer, *rows]]


def assumed_of(site: Site, environment: Any) -> Assumed:
    """What the file says: at the residual stress that counts."""
    strength = site.variant.material.yield_strength
    counts = next(case for case in cases(site.variant.residual, strength) if case.governs)
    return Assumed(counts.stress, environment)


def figures(sites: list[Site], environment: Any, served: Past) -> Iterator[dict[str, Any]]:
    """Years to a first crack, from it to the found one, and the size that becomes it in time; for each residual stress."""
    site = sites[0]
    for case in cases(site.variant.residual, site.variant.material.yield_strength):
        assumed = Assumed(case.stress, environment)
        known = {"residual": case.name, "unit": "years", "status": "counts" if case.governs else ""}
        yield known | first_crack(sites, assumed, served)
        for start in (start for start in (FIRST, *FURTHER) if math.log(start) < np.log(site.sizes).mean()):
            yield known | growth_row(sites, assumed, served, start)
        yield known | start_row(sites, assumed, served)


def first_crack(sites: list[Site], assumed: Assumed, served: Past) -> dict[str, Any]:
    """When fatigue was due to make a first crack, at the least, used and most fretting factor."""
    worst, mildest = (due(sites[0], replace(assumed, fretting=at), served) for at in (0, 2))
    figure = told([due(site, assumed, served) for site in sites])
    return {
        "part": "fatigue",
        "what": f"first crack due at {sites[0].crack.region.replace('_', ' ')}, years since going into service: worst, used,"
        " mildest fretting factor",
        "least": worst,
        "most": mildest,
    } | figure.columns("no damage: every range stays below the limit")


def growth_row(sites: list[Site], assumed: Assumed, served: Past, start: float) -> dict[str, Any]:
    """Years in which a crack of a size becomes the found one under the duty of the last spell."""
    long = show(start, "length", sites[0].arm.units)
    last = replace(served, spells=(replace(served.spells[-1], begin=0.0),))
    runs = [becomes(site, assumed, last, start) for site in sites]
    return {"part": "growth", "what": f"years from {long} to the crack found"} | told(
        [one.years for one in runs]
    ).columns(runs[0].why)


def start_row(sites: list[Site], assumed: Assumed, served: Past) -> dict[str, Any]:
    """The size that becomes the found crack in the years that the arm has served."""
    unit = shown_unit("length", sites[0].arm.units)
    values = [in_time(one, assumed, served) for one in sites]
    sizes = [math.inf if one is None else float(outside(one, unit, "length")) for one in values]
    none = "none smaller than the crack found does"
    return (
        {
            "part": "growth",
            "what": "size that becomes the crack found in the years served",
        }
        | told(sizes).columns(none)
        | {"unit": unit}
    )


def in_time(site: Site, assumed: Assumed, served: Past) -> float | None:
    """The least size in mm, there from the first day on, that becomes the crack found in the years served."""
    high = float(site.sizes.min())
    return least(
        lambda start: becomes(site, assumed, served, start).years, SMALLEST_DEFECT, high, served.years
    )[0]


def told(values: list[float]) -> Told:
    return Told(values[0], values[1] if len(values) > 1 else None)


def concluded(sites: list[Site], stated: Assumed, served: Past) -> tuple[dict[str, Any], str]:
    """The row of the answer, and the verdict: that of both meshes, else it is not settled."""
    site = sites[0]
    ends = [in_all(one, stated, served) for one in sites]
    in_time = [one.years <= served.years for one in ends]
    worst, mildest = (
        in_all(site, replace(stated, fretting=at), served).years <= served.years for at in (0, 2)
    )
    if in_time[0] != in_time[-1]:
        verdict, ending = NOT_SETTLED, "explains it on one mesh and not on the other."
    elif in_time[0]:
        verdict = EXPLAINED
        ending = "explains it" + ("." if mildest else ", though not at the mildest fretting factor.")
    else:
        verdict = NOT_EXPLAINED
        ending = "does not explain it" + (", but would at the worst fretting factor." if worst else ".")
    figure = told([one.years for one in ends]).columns()
    spoke = spoken(site, due(site, stated, served), ends[0], served)
    counts = next(
        case for case in cases(site.variant.residual, site.variant.material.yield_strength) if case.governs
    )
    row = figure | {
        "part": "answer",
        "what": "years in service (least), and after which fatigue and growth make the crack found (value)",
        "residual": counts.name,
        "least": served.years,
        "unit": "years",
        "status": verdict,
        "note": joined(figure.get("note", ""), f"{spoke}. The duty as given {ending}"),
    }
    return row, verdict


def spoken(site: Site, first: float, end: Found, served: Past) -> str:
    """What fatigue and growth say, in half a sentence."""
    where = site.crack.region.replace("_", " ")
    start, size = (show(one, "length", site.arm.units) for one in (FIRST, site.crack.length))
    head = f"In {served.years:.0f} years of service "
    if math.isinf(first):
        return f"{head}fatigue makes no crack at the {where}"
    made = f"{head}a first crack at the {where} was due after {first:.2g} years of fatigue"
    if end.years == first:
        return f"{made}, no smaller than the one found, {size} long"
    if math.isinf(end.years):
        return f"{made}, and from {start} it never becomes the one found, {size} long ({end.why})"
    return f"{made}, and from {start} it takes {end.years - first:.2g} more to the one found, {size} long"


def carried_row(site: Site, stated: Assumed) -> dict[str, Any]:
    """Whether the duty's own cycles leave the found crack whole, and the toughness that this takes."""
    used, needed = share_of_diagram(site, stated), needed_toughness(site, stated)
    unit = "MPa m^0.5" if site.arm.units == "si" else "ksi in^0.5"
    why = (
        "the arm carries the crack found"
        if used < 1.0
        else "at the toughness of the file it would have broken"
    )
    return {
        "part": "toughness",
        "what": "least toughness with which the arm carries the crack found under its duty",
        "value": shown_toughness(needed, site.arm.units) if math.isfinite(needed) else None,
        "unit": unit,
        "status": "ok" if used < 1.0 else "contradicts",
        "note": f"{why}: {100.0 * used:.0f} % of the failure assessment diagram",
    } | ({"note": "residual stress alone breaks it at any toughness"} if math.isinf(needed) else {})


def defect_row(site: Site, stated: Assumed) -> dict[str, Any]:
    """The casting defect that the stress of the duty makes a crack of (Murakami)."""
    unit, tensile = shown_unit("length", site.arm.units), site.variant.material.tensile_strength
    amplitude, ratio = widest(site, stated)
    root = least_defect(amplitude, tensile, ratio)
    most = show(MOST, "length", site.arm.units)
    none = f"no defect up to {most} does; beyond it the threshold of growth counts"
    stress = show(amplitude, "stress", site.arm.units)
    return {
        "part": "defect",
        "what": "square root of area of a surface defect that the duty's stress makes a crack of, without fretting (Murakami)",
        "value": None if math.isnan(root) else float(outside(root, unit, "length")),
        "unit": unit,
        "note": f"amplitude {stress} at R {ratio:.2f}" + (f"; {none}" if math.isnan(root) else ""),
    }


def cause_row(site: Site, one: Cause) -> dict[str, Any]:
    """One cause."""
    low, high = (amount(site, bound, one.kind) for bound in (one.low, one.high))
    tried = "" if one.kind == "yes" else f"{low} to {high}"
    unit = "" if one.kind in ("-", "yes") else shown_unit(one.kind, site.arm.units)
    value = one.value if one.value is None or not unit else float(outside(one.value, unit, one.kind))
    return {
        "part": "cause",
        "what": one.name,
        "value": None if one.kind == "yes" else value,
        "unit": unit,
        "range_tried": tried,
        "years": one.years,
        "status": "would explain it" if one.value is not None else "cannot explain it",
        "note": one.why,
    }


def amount(site: Site, value: float, kind: str) -> str:
    return f"{value:.3g}" if kind in ("-", "yes") else show(value, kind, site.arm.units)


def would(site: Site, found: list[Cause]) -> str:
    """What would explain it, in one sentence."""
    able = [
        one.name if one.kind == "yes" else f"{one.name} {amount(site, one.value, one.kind)}"
        for one in found
        if one.value is not None
    ]
    if not able:
        return "no single cause that was tried explains it within its range."
    return f"each alone, these would: {'; '.join(able)}."


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    if arm.bores is None or arm.cracks is None:
        print(f"{folder / 'arm.yaml'}: needs the sections bores and cracks", file=sys.stderr)
        return 1
    cycles, arms = year(arm, arm.bores), {one.name: one for one in variants(arm)}
    mesh, coarser = Mesh.of(read_mesh(mesh_file(folder))), folder / "bores" / "coarser"
    old = loads(folder, arm, mesh, cycles, arms.get(CRACKED, arms[THIS]))
    looked = [old]
    if (coarser / "contact.msh").exists():
        before = Mesh.of(read_mesh(coarser / "contact.msh"))
        looked.append(on_mesh(folder, old, before, cycles, coarser))
    rows = [row for crack in arm.found_cracks for row in explained_rows(folder, looked, arm.cracks, crack)]
    write_cautioned(folder / "bores" / "explained.csv", COLUMNS, rows)
    for row in rows:
        if row["part"] == "answer":
            print(f"crack {row['crack']}: {row['note']}")
    print(CAUTION)
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
