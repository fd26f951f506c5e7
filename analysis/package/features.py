"""The sizes of a part as drawing and report form name them: nominal, limit deviations, and where these come from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from math import degrees
from typing import Any

from analysis.bores.limits_fits import limits
from analysis.package.tolerances import angular, linear
from geometry.datums import ARMS, CORNER, arm_datum, bore
from geometry.edges import bend_radii
from params.rules.derived import pin_to_pin
from params.schema.arm import Arm
from params.schema.fitclass import ToleranceClass, gap
from params.schema.geometry import BORES, BoreName


@dataclass(frozen=True)
class Feature:
    """One size; mm, or degrees for angles. Deviations are None where no limit is asked for."""

    what: str
    nominal: float
    lower: float | None
    upper: float | None
    basis: str  # H7, ISO 2768-1 m, as drawn, reference
    kind: str = "length"  # length, diameter, radius, chamfer, angle, geometric


def features(arm: Arm) -> list[dict[str, Any]]:
    """Every size that the drawing shows, under its `id`, in the order of the report form."""
    named = [*_centres(arm), *_bores(arm), *_section(arm), *_geometric(arm)]
    return [{"id": name} | asdict(feature) for name, feature in named]


def _centres(arm: Arm) -> Iterator[tuple[str, Feature]]:
    geometry, off = arm.geometry, arm.drawing.centre_tolerance
    for name in ("input", "output"):
        nominal = getattr(geometry, f"{name}_arm")
        yield f"{name}_arm", Feature(f"pivot centre to {name} pin centre", nominal, -off, off, "as drawn")
    grade = arm.drawing.general_tolerance
    turn = angular(grade, min(geometry.input_arm, geometry.output_arm))
    angle = degrees(geometry.included_angle)
    what = "angle between the arms"
    yield "included_angle", Feature(what, angle, -turn, turn, f"ISO 2768-1 {grade}", "angle")
    between = pin_to_pin(arm)
    yield "pin_to_pin", Feature("input pin centre to output pin centre", between, None, None, "reference")


def _bores(arm: Arm) -> Iterator[tuple[str, Feature]]:
    for name in BORES:
        size, part = bore(arm, name), "hub" if name == "pivot" else f"{name} boss"
        yield f"{name}_bore", fitted(arm, name)
        yield f"{name}_width", machined(arm, f"{part}, width over faces", size.width)
        if size.chamfer:
            what = f"{name} bore, chamfers at 45 deg"
            yield f"{name}_chamfer", machined(arm, what, size.chamfer, "chamfer")
        yield f"{name}_outside", raw(arm, f"{part}, outside diameter", size.outside, "diameter")


def _section(arm: Arm) -> Iterator[tuple[str, Feature]]:
    section = arm.geometry.section
    webs = "web" if section.kind == "i" else "webs"
    corners = "between web and flange" if section.kind == "i" else "of inside corners in elevation"
    rows = {
        "depth_at_hub": ("arms, depth at the hub circle", section.depth_at_hub, "length"),
        **_depths(arm),
        "section_width": ("arms, width", section.width, "length"),
        "flange_thickness": ("flanges, thickness", section.flange_thickness, "length"),
        "web_thickness": (f"{webs}, thickness", section.web_thickness, "length"),
        "fillet": (f"radius {corners}", section.fillet, "radius"),
        "blend_radius": ("radius where arms run into hub and bosses", arm.geometry.blend_radius, "radius"),
    }
    if section.kind == "i":
        corner = CORNER * (section.fillet or 0.0)
        rows["pocket_corner"] = ("radius of the pockets' corners in elevation", corner, "radius")
    rows |= {name: (what, size, "radius") for name, what, size in _bends(arm)}
    for name, (what, nominal, kind) in rows.items():
        if nominal:
            yield name, raw(arm, what, nominal, kind)


def _depths(arm: Arm) -> dict[str, tuple[str, float, str]]:
    """Depths beyond the hub: alike on both arms, or each arm's own where its edges turn in toward the boss."""
    corners = {limb: arm_datum(arm, limb).corners() for limb in ARMS}
    if all(len(s) == 3 for s, _ in corners.values()):
        return {
            "depth_at_pins": ("arms, depth at the pin centres", arm.geometry.section.depth_at_pins, "length")
        }
    rows = {}
    for limb, (s, depth) in corners.items():
        what = f"{limb} arm, depth at the pin centre"
        rows["depth_at_pins" if limb == "output" else "input_depth_at_pin"] = (
            what,
            float(depth[-1]),
            "length",
        )
        if len(s) == 4:
            what = f"{limb} arm, from the pivot's centre to where its edges turn in"
            rows[f"{limb}_turn"] = (what, float(s[2]), "length")
            rows[f"{limb}_depth_at_turn"] = (f"{limb} arm, depth there", float(depth[2]), "length")
    return rows


def _bends(arm: Arm) -> Iterator[tuple[str, str, float]]:
    """Name, words and radius of each bend in the arms' edges, outside and along pockets or inside of a box, the largest first."""
    section = arm.geometry.section
    inside = "along the pockets" if section.kind == "i" else "inside"
    places = [("bend_radius", "in the arms' edges", 0.0)]
    places += [("inside_bend_radius", inside, section.flange_thickness)] if section.flange_thickness else []
    for name, where, inset in places:
        found = {round(size, 3) for limb in ARMS for size in bend_radii(arm_datum(arm, limb), inset)}
        for number, size in enumerate(sorted(found, reverse=True), 1):
            yield f"{name}_{number}", f"radius of a bend {where}", size


def _geometric(arm: Arm) -> Iterator[tuple[str, Feature]]:
    drawing = arm.drawing
    for name in ("input", "output"):
        what = f"{name} bore, parallelism to datum A"
        yield (
            f"{name}_parallelism",
            Feature(what, 0.0, 0.0, drawing.bore_parallelism, "ISO 1101", "geometric"),
        )
    for name in BORES:
        part = "hub" if name == "pivot" else f"{name} boss"
        what = f"{part}, squareness of both faces to datum A"
        yield f"{name}_squareness", Feature(what, 0.0, 0.0, drawing.face_squareness, "ISO 1101", "geometric")


def machined(arm: Arm, what: str, nominal: float, kind: str = "length") -> Feature:
    return general(arm.drawing.general_tolerance, what, nominal, kind)


def raw(arm: Arm, what: str, nominal: float, kind: str = "length") -> Feature:
    return general(arm.drawing.raw_tolerance, what, nominal, kind)


def general(grade: str, what: str, nominal: float, kind: str) -> Feature:
    off = linear(grade, nominal)
    basis = f"ISO 2768-1 {grade}" if off else "as agreed"
    return Feature(what, nominal, None if off is None else -off, off, basis, kind)


def fitted(arm: Arm, name: BoreName) -> Feature:
    """A bore with the limits of its fit, or with general tolerances where the file gives no fit or no class."""
    nominal, wanted = bore(arm, name).bore, hole_class(arm, name)
    what = f"{name} bore, diameter"
    if wanted is None or gap(wanted, nominal):
        return machined(arm, what, nominal, "diameter")
    size = limits(wanted, nominal)
    return Feature(what, nominal, size.lower / 1000.0, size.upper / 1000.0, str(wanted), "diameter")


def hole_class(arm: Arm, name: BoreName) -> ToleranceClass | None:
    """Class of the hole in the arm itself: of the bush's seat where there is a bush, else of the pin's fit.

    Without a fit in the file the drawing's own class for bores; None where a fit is given by measured sizes.
    """
    chosen = arm.bores.fits.get(name) if arm.bores else None
    if chosen is None:
        return arm.drawing.bore_class
    sizes = chosen.bush.fit if chosen.bush else chosen.fit
    return sizes.fit.hole if sizes.fit else None
