"""What can be built: the sweep's flags against the rules that the check tells, and against the drawing by hand."""

import math

import numpy as np
import pytest

from analysis.mechanics.sizes import Sizes, unbuildable
from geometry.outline import CORNER
from params.rules import buildable
from params.rules.all import broken_rules
from params.rules.build import building
from params.rules.buildable import AsWritten, pocket_fits
from params.schema.arm import Arm
from tests.arms import changed, demo

COUNT = 3000
ARMS = ("bench-lever", "linkspan-rocker", "sluice-crank")
SWEPT = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "fillet")


def of_kind(name: str, kind: str) -> Arm:
    """A demo arm with a section of this kind, without its sweep's ranges, which have rules of their own."""
    arm = demo(name)
    section = arm.geometry.section
    if kind == "solid":
        plates = dict.fromkeys(("flange_thickness", "web_thickness", "fillet"))
    else:
        plates = {
            "flange_thickness": section.flange_thickness or 0.12 * section.depth_at_pins,
            "web_thickness": section.web_thickness or 0.2 * section.width,
            "fillet": section.fillet or 0.04 * section.width,
        }
    section = section.model_copy(update={"kind": kind, **plates})
    ranges = dict.fromkeys((*SWEPT[:-1], "hub"))
    arm = arm.model_copy(update={"found_cracks": (), "sweep": arm.sweep.model_copy(update=ranges)})
    return changed(arm, geometry__section=section)


def with_sizes(arm: Arm, sizes: dict[str, float]) -> Arm:
    section = {name: size for name, size in sizes.items() if name != "hub"}
    fields = {f"geometry__section__{name}": size for name, size in section.items()}
    return changed(arm, geometry__pivot__outside=sizes["hub"], **fields)


@pytest.mark.parametrize("kind", ["i", "box", "solid"])
@pytest.mark.parametrize("name", ARMS)
def test_the_sweep_calls_buildable_what_the_check_accepts(name, kind):
    """Sizes from a half to one and a half times the arm's own: most rules break somewhere, none of them differently."""
    arm, rng = of_kind(name, kind), np.random.default_rng(20261129)
    own = {one: getattr(arm.geometry.section, one) for one in SWEPT} | {"hub": arm.geometry.pivot.outside}
    drawn = {one: size * rng.uniform(0.6, 1.5, COUNT // 3) for one, size in own.items() if size is not None}
    flags = unbuildable(arm, Sizes.from_arm(arm, **drawn)) == ""
    assert 0.02 < flags.mean() < 0.98  # neither all nor none: the draw says something
    for index, flag in enumerate(flags):
        one = with_sizes(arm, {key: float(values[index]) for key, values in drawn.items()})
        faults = broken_rules(one, None)  # names of library files are no sizes
        assert flag == (not faults), (index, [str(fault) for fault in faults])


def test_the_limits_stand_once(monkeypatch):
    """Another limit of hub over depth moves both answers: a hub of 640 mm about arms 600 mm deep is 1.067 of the depth."""
    arm = changed(
        demo("linkspan-rocker"), geometry__pivot__outside=640.0, geometry__section__depth_at_hub=600.0
    )
    assert unbuildable(arm, Sizes.from_arm(arm))[0] == "" and not list(building(arm))
    monkeypatch.setattr(buildable, "HUB_OVER_DEPTH", 1.1)
    assert "hub circle" in unbuildable(arm, Sizes.from_arm(arm))[0]
    assert [fault.limit for fault in building(arm)] == ["at least 660.0 mm (2 % more than the depth)"]


def test_a_pockets_corner_is_the_solids():
    assert buildable.CORNER == CORNER


def test_a_corner_that_does_not_fit_its_pocket():
    """By the drawing, a straight arm of constant depth 200 mm: hub 300 and boss 220 mm leave 1000 - 150 - 110 = 740 mm on the axis,
    flanges of 20 mm a clear height of 160 mm. A disc of radius 80 just fits, one of 81 does not; between hub and boss set 60 mm
    apart a disc of radius 30 fits on the axis, one of 40 only beside it: there sqrt(190^2 - y^2) + sqrt(150^2 - y^2) = 320
    has the root y = 57.0 mm (by bisection), and 57.0 + 40 is more than the 80 mm of half the clear height.
    """
    arm = demo("bench-lever")
    section = arm.geometry.section.model_copy(
        update={
            "kind": "box",
            "depth_at_hub": 200.0,
            "depth_at_pins": 200.0,
            "width": 100.0,
            "flange_thickness": 20.0,
            "web_thickness": 10.0,
            "fillet": 5.0,
        }
    )
    arm = changed(
        arm,
        geometry__section=section,
        geometry__included_angle=math.pi,
        geometry__pivot__outside=300.0,
        geometry__output__outside=220.0,
        geometry__output_arm=1000.0,
    )

    def fits(radius: float) -> bool:
        written = AsWritten.of(arm.geometry)
        return bool(pocket_fits(arm.geometry, written, "output", np.array([radius]))[0])

    assert fits(79.9) and not fits(80.1)
    arm = changed(arm, geometry__output_arm=320.0)
    assert fits(30.0) and not fits(40.0)


@pytest.mark.parametrize(("code", "text"), [("aisc360", True), ("bth1", False), ("en1993", False)])
def test_a_bore_made_3_mm_larger_with_its_pin_forgotten(code, text):
    """ANSI/AISC 360 D5.2 lets the hole be 1 mm (1/32 in.) larger than the pin; the other two codes judge a loose pin. A pin of
    12.98 in in a bore of 13 in + 3 mm has 3.5 mm."""
    arm = demo("sluice-crank")
    arm = changed(arm, criteria__pin_code=code, geometry__pivot__bore=13.0 * 25.4 + 3.0)
    actual = [fault for fault in building(arm) if fault.key[-1] == "diameter"]
    assert [(fault.key, fault.value) for fault in actual] == (
        [(("geometry", "pivot", "pin", "diameter"), "12.98 in")] if text else []
    )
    if text:
        assert actual[0].wrong == "is 0.14 in smaller than the bore of 13.12 in"
        assert actual[0].limit == "at least 13.08 in: 0.04 in less, the most of pin_code aisc360 (D5.2)"
