"""What drawing and requirement sheet say, gathered once.

`python -m analysis.package.facts SOURCE_DIR VIEWS.json ISSUED_DIR OUT.json`: SOURCE_DIR holds an arm.yaml, ISSUED_DIR the
packages issued so far. Lengths in mm, masses in kg, stresses in MPa; the renderers turn them into the arm's units.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.package.features import features
from analysis.package.qualification import MARKING, QUALIFICATION
from analysis.package.revision import changes, compared_with, texts
from analysis.tables.files import read_csv, read_json, read_row, write_json
from geometry.datums import BORES, arm_datum, bore, centre
from params.files.read import read_arm, read_material
from params.files.readroute import route_of
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.route import Route
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors

TOLD = {"revision", "date", "reason", "by", "design", "route"}  # of a revision; figures stay with the record


def facts(arm: Arm, views: dict[str, Any], source: Path, issued: Path) -> dict[str, Any]:
    """Everything of facts.json."""
    material = read_material(arm.material, arm.library)
    route = route_of(source / "arm.yaml", arm, material)
    return {
        "arm": arm.name,
        "revision": arm.revision,
        "revisions": [row.model_dump(mode="json", include=TOLD) for row in arm.revisions],
        "units": arm.units,
        "description": arm.description,
        "caution": CAUTION,
        "owner_caution": arm.caution,
        "design": design_of(source),
        "number": number(arm, source),
        "drawing": arm.drawing.model_dump(mode="json"),
        "features": features(arm),
        "bores": {name: placed(arm, name) for name in BORES},
        "arms": {name: edges(arm, name) for name in ("input", "output")},
        "section": arm.geometry.section.kind,
        "material": of_material(material),
        "toughness": toughness(arm),
        "route": of_route(route),
        "mass_kg": views["volume_mm3"] * material.density,
        "centroid_mm": views["centroid_mm"],
        "box_mm": views["box_mm"],
        "station_B_mm": views["station_B_mm"],
        "qualification": QUALIFICATION[material.form],
        "marking": MARKING,
        "changes": changed(arm, source, issued),
        "acceptance": rows_of(source / "bores" / "inspection.csv"),
    }


def design_of(source: Path) -> str:
    """The design of the sweep or of a route's front that a folder holds; none for the arm as written."""
    if source.parent.name == "designs":
        return source.name
    table = source.parent / "best.csv"
    return read_row(table)["id"] if source.name == "best" and table.is_file() else ""


def number(arm: Arm, source: Path) -> str:
    """Identification number: the file's own is that of the arm as written; any other part has its route and design behind it.

    Two parts that differ never share a number and a revision.
    """
    own, design = arm.drawing.number or arm.name, design_of(source)
    behind = [source.parent.name, design] if source.name == "best" else [design]
    return "-".join(filter(None, [own, *behind]))


def placed(arm: Arm, name: str) -> dict[str, Any]:
    """Where a bore is, and the circles about it."""
    size = bore(arm, name)
    return {
        "centre": centre(arm, name),
        "bore": size.bore,
        "outside": size.outside,
        "width": size.width,
        "chamfer": size.chamfer,
    }


def edges(arm: Arm, name: str) -> dict[str, Any]:
    """The lines of an arm in the elevation: direction, length, and depth where the taper begins, turns in, and ends."""
    datum = arm_datum(arm, name)
    at, depth = datum.corners()
    return {
        "along": datum.along,
        "across": datum.across,
        "length": datum.length,
        "hub_edge": datum.hub_edge,
        "depth_at_hub": datum.depth_at_hub,
        "depth_at_pin": float(depth[-1]),
        "corners": [[float(s), float(deep)] for s, deep in zip(at[1:], depth[1:], strict=True)],
    }


def of_material(material: Material) -> dict[str, Any]:
    return material.model_dump(mode="json")


def toughness(arm: Arm) -> list[dict[str, Any]] | None:
    """Charpy points of the fracture check; None where the arm's file has no section on cracks."""
    return [point.model_dump(mode="json") for point in arm.cracks.toughness.charpy] if arm.cracks else None


def of_route(route: Route | None) -> dict[str, Any] | None:
    fields = {"name", "title", "form", "finish", "stock", "factors", "welds", "examination", "heat_treatment"}
    return route.model_dump(mode="json", include=fields) if route else None


def changed(arm: Arm, source: Path, issued: Path) -> dict[str, Any] | None:
    """Differences from the revision issued last, or of a design from the arm as written; None where there is neither."""
    earlier = compared_with(source, arm, issued)
    if earlier is None:
        return None
    since, old = earlier
    return {"since": since, "rows": changes(old, arm, texts(source / "arm.yaml"))}


def rows_of(path: Path) -> list[dict[str, str]] | None:
    """A table of another step, or None where that step was not run."""
    return read_csv(path) if path.is_file() else None


def main(source: Path, views: Path, issued: Path, target: Path) -> None:
    write_json(target, facts(read_arm(source / "arm.yaml"), read_json(views), source, issued))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path, views=Path, issued=Path, target=Path))
