"""Mass of what a part is machined from: as poured, as deposited, or its plates; from blanks.json of the geometry room.

Stock, draft and near-net allowance are in it, as the solids and plates have them. What no file of the route says is left out
and named in the text: gates and risers of a casting, weld metal and offcuts of a weldment.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.tables.files import read_json
from params.files.read import read_arm, read_material
from params.files.readroute import route_of
from params.schema.arm import Arm
from params.schema.route import Route
from params.schema.units import show

MISSING = "not computed"
PLATES = "plates as cut, hub and bosses with machining stock; without weld metal and offcuts"
SOLIDS = {
    "cast": "as poured, with machining stock and draft, bores full; without gates and risers",
    "deposited": "as deposited, with machining stock and near-net allowance",
}


def volume(blanks: dict[str, Any], route: Route) -> float | None:
    """mm3 of cold metal in blanks.json: the pattern without the shrinkage, the near-net solid, or all plates; None without any."""
    shrunk = 1.0 + route.stock.shrinkage_percent / 100.0 if route.form == "cast" else 1.0
    solids = sum(file["volume_mm3"] for file in blanks["files"].values()) / shrunk**3
    plates = sum(plate["count"] * plate["area_mm2"] * plate["thickness_mm"] for plate in blanks["plates"])
    return solids + plates or None


def blank(folder: Path) -> dict[str, Any]:
    """Columns `blank_mass_kg` and `blank` (what it is, or why it has no mass) of a route's best design in `folder`/best."""
    file = folder / "blank" / "blanks.json"
    if not file.exists():
        return {"blank_mass_kg": None, "blank": MISSING}
    arm, blanks = read_arm(folder / "best" / "arm.yaml"), read_json(file)
    material = read_material(arm.material, arm.library)
    route = route_of(folder / "best" / "arm.yaml", arm, material)
    size = volume(blanks, route) if route else None
    if route is None or size is None:
        return {"blank_mass_kg": None, "blank": blanks["refused"]}
    mass = material.density * size
    return {"blank_mass_kg": mass, "blank": described(arm, route, mass)}


def described(arm: Arm, route: Route, mass: float) -> str:
    """What the mass counts, and whether it is more than one pour."""
    most = route.limits.largest_mass
    over = f"; more than the route's largest mass, {show(most, 'mass', arm.units)}"
    return SOLIDS.get(route.form, PLATES) + (over if route.form == "cast" and mass > most else "")
