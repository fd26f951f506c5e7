"""The sections `found_cracks:` and `cracks:`: what is read, what is refused and in which words, and what becomes of it."""

# ruff: noqa: E501 (the lines as they are printed)
from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from pydantic import ValidationError

from analysis.fracture import bodies, bodies_profile, found
from analysis.fracture.weight_function import Profile
from params.rules.cracks import cracking, section_of
from params.schema.cracks import Cracks, FoundCrack
from tests.arms import demo

ARM = demo("linkspan-rocker")  # pivot bore 320, hub 360 wide; sizes invented for the demo
CRACK = {
    "name": "pivot-north",
    "region": "pivot_bore",
    "shape": "corner",
    "length": "20 mm",
    "depth": "12 mm",
    "found": "2026-03-02",
}
TOUGH = {
    "charpy": [
        {"temperature": "-30 degC", "energy": "20 ft*lbf"},
        {"temperature": "0 degC", "energy": "45 J"},
    ]
}
CRACKS = {
    "coldest": "-20 degC",
    "toughness": TOUGH,
    "scatter": {"load": 0.1, "size": 0.2, "growth": 0.4, "toughness": "weibull"},
    "inspection": {
        "examinations": [
            {
                "method": "magnetic particle",
                "depth": "2 mm",
                "length": "6 mm",
                "source": "common practice, no source",
            }
        ],
        "service_years": 100.0,
    },
}


def crack(**changes):
    return FoundCrack.model_validate(
        {name: value for name, value in (CRACK | changes).items() if value is not None}
    )


def cracks(**changes):
    return Cracks.model_validate(CRACKS | changes)


def told(found_cracks, section):
    return [
        f"{'.'.join(map(str, f.key))}: {f.value}, {f.wrong}, {f.limit}, {f.mend}"
        for f in cracking(found_cracks, section, ARM)
    ]


def test_a_good_section_breaks_no_rule():
    assert told([crack()], cracks()) == []
    assert crack().length == 20.0
    assert crack().found == date(2026, 3, 2)
    assert cracks().toughness.charpy[0].energy == pytest.approx(27.1164, abs=1e-3)  # 20 x 1.35582 J


# What is changed, and what is said; limits by hand from the arm's sizes.
RULES = [
    (
        [crack(depth="400 mm")],
        cracks(),
        "found_cracks.0.depth: 400.0 mm, is larger than the section, below 360.0 mm, the wall there, check it, or write a through crack",
    ),
    (
        [crack(depth=None)],
        cracks(),
        "found_cracks.0.depth: , is missing, a corner crack has one, add depth, measured by ultrasonics or assumed",
    ),
    (
        [crack(shape="hole-through")],
        cracks(),
        "found_cracks.0.depth: 12.0 mm, is not used with shape hole-through, a hole-through crack goes through, remove it",
    ),
    (
        [crack(region="outside")],
        cracks(),
        "found_cracks.0.region: outside, has no bore, which shape corner needs, a bore or its faces, change one of the two",
    ),
    (
        [crack(region="outside", shape="surface")],
        cracks(),
        "found_cracks.0.section: , is missing, the plate of a crack on outside, add section: {thickness: ..., width: ...}",
    ),
    (
        [crack(), crack()],
        cracks(),
        "found_cracks.1.name: pivot-north, is used twice, a name of its own, change one",
    ),
    (
        [crack()],
        None,
        "found_cracks: , needs the section cracks as well, which holds the material's toughness, add it",
    ),
    (
        [],
        cracks(coldest="-40 degC"),
        "cracks.coldest: -40 degC, is outside the Charpy data, -30 degC to 0 degC, test at that temperature; nothing is extrapolated",
    ),
    (
        [],
        cracks(coldest="10 degC"),
        "cracks.coldest: 10 degC, is outside the Charpy data, -30 degC to 0 degC, test there, or write held_when_warmer: true for a specified minimum",
    ),
    (
        [],
        cracks(toughness={"charpy": TOUGH["charpy"][::-1]}),
        "cracks.toughness.charpy.1.temperature: -30 degC, is not warmer than the one before, coldest first, sort them",
    ),
]


@pytest.mark.parametrize(("found_cracks", "section", "line"), RULES)
def test_each_broken_rule_is_one_clear_line(found_cracks, section, line):
    assert told(found_cracks, section) == [line]


def test_a_crack_longer_than_the_ligament_is_refused():
    hub = ARM.geometry.pivot
    ligament = (hub.outside - hub.bore) / 2.0
    (line,) = told([crack(length=f"{ligament} mm")], cracks())
    assert "is larger than the section" in line
    within = (
        0.4 * hub.outside - hub.bore / 2.0
    )  # reach of the corner crack's equation (Newman and Raju, 1981)
    assert told([crack(length=f"{within - 0.1} mm", depth="40 mm")], cracks()) == []
    (line,) = told([crack(length=f"{within + 0.1} mm", depth="40 mm")], cracks())
    assert "is outside the range of its solution" in line


TOUGHNESS = [
    (
        {"charpy": [{"temperature": "-20 degC", "energy": "500 J", "lowest": "450 J"}]},
        "charpy: 450 J, is outside what the method holds for, 3 J to 400 J for method lower bound, choose another method",
    ),
    (
        {"charpy": [{"temperature": "-20 degC", "energy": "4 J", "lowest": "2 J"}]},
        "charpy: 2 J, is outside what the method holds for, 3 J to 400 J for method lower bound, choose another method",
    ),
    (
        {"charpy": [{"temperature": "-20 degC", "energy": "83 J"}], "method": "transition"},
        "charpy: 83 J, is outside what the method holds for, 4 J to 82 J for method transition, choose another method",
    ),
    (
        {"charpy": [{"temperature": "-20 degC", "energy": "20 J"}], "method": "upper shelf"},
        "charpy: 20 J, is outside what the method holds for, 21 J to 123 J for method upper shelf, choose another method",
    ),
    (
        {"charpy": [{"temperature": "-20 degC", "energy": "20 J", "lowest": "21 J"}]},
        "charpy.0.lowest: 21 J, is more than the mean, at most 20 J, the mean, check the two",
    ),
    (
        TOUGH | {"reference_temperature": "31 degC"},
        "reference_temperature: 31 degC, is too far from the coldest temperature, -70 degC to 30 degC (ASTM E1921), give Charpy energies in its place",
    ),
]


@pytest.mark.parametrize(("toughness", "line"), TOUGHNESS)
def test_toughness_outside_of_its_method_is_told_at_the_check(toughness, line):
    assert told([], cracks(toughness=toughness)) == [f"cracks.toughness.{line}"]


# Limits by hand: hub 360 mm wide along the pin, so at most 288 mm deep; a/c from 0.2 to 2, on a length of 20 mm 4 to 40 mm.
BEYOND = [
    (
        {"depth": "300 mm", "length": "40 mm"},
        "depth: 300.0 mm, is outside the range of its solution, at most 288.0 mm, 0.8 of the wall there",
    ),
    (
        {"depth": "3.9 mm"},
        "depth: 3.9 mm, is outside the range of its solution, 4.0 mm to 40.0 mm deep at this length",
    ),
    (
        {"depth": "40.1 mm"},
        "depth: 40.1 mm, is outside the range of its solution, 4.0 mm to 40.0 mm deep at this length",
    ),
    (
        {"shape": "surface", "depth": "20.1 mm"},
        "depth: 20.1 mm, is outside the range of its solution, 0.0 mm to 20.0 mm deep at this length",
    ),
    (
        {"shape": "surface", "length": "181 mm"},
        "length: 181.0 mm, is outside the range of its solution, at most 180.0 mm in a section 360.0 mm wide",
    ),
    (
        {"shape": "through", "depth": None},
        "shape: through, has no solution for the stress of the 3D model, surface, corner, edge or hole-through",
    ),
]


@pytest.mark.parametrize(("changes", "line"), BEYOND)
def test_a_crack_beyond_its_solution_is_told_before_anything_is_meshed(changes, line):
    assert any(one.startswith(f"found_cracks.0.{line}, ") for one in told([crack(**changes)], cracks()))


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"length": "20"}, "length"),
        ({"length": "-2 mm"}, "length"),
        ({"shape": "embedded"}, "shape"),
        ({"found": "2026-13-01"}, "found"),
        ({"colour": "red"}, "colour"),
        ({"region": "tail"}, "region"),
    ],
)
def test_the_schema_is_closed(changes, where):
    with pytest.raises(ValidationError) as error:
        crack(**changes)
    assert error.value.errors()[0]["loc"] == (where,)


def test_sections_follow_from_the_hub():
    """By the drawing: in the bore's wall the crack runs into the ligament; at the bore's edge through the hub."""
    hub = ARM.geometry.pivot
    ligament = (hub.outside - hub.bore) / 2.0
    wall = section_of(crack(shape="surface"), ARM)
    assert (wall.thickness, wall.width) == (ligament, hub.width)
    edge = section_of(crack(), ARM)
    assert (edge.thickness, edge.width) == (hub.width, hub.outside)
    face = section_of(crack(region="pivot_faces", shape="surface"), ARM)
    assert (face.thickness, face.width) == (hub.width, ligament)
    said = {"thickness": "40 mm", "width": "240 mm"}
    own = section_of(crack(region="outside", shape="surface", section=said), ARM)
    assert (own.thickness, own.width) == (40.0, 240.0)


def test_words_become_bodies_and_sizes():
    corner = found.found_body(crack(), ARM)
    assert isinstance(corner, bodies.HoleCorner)
    assert (corner.radius, corner.thickness) == (160.0, 360.0)
    assert found.sizes_of("corner", 20.0, 12.0).tolist() == [12.0, 20.0]
    assert found.sizes_of("surface", 20.0, 12.0).tolist() == [12.0, 10.0]
    assert found.sizes_of("through", 20.0, None).tolist() == [10.0]
    profile = Profile(np.array([0.0, 100.0]), np.array([2.0, 1.0]))
    assert isinstance(found.found_body(crack(), ARM, profile), bodies_profile.ProfileHole)
    assert isinstance(found.found_body(crack(shape="surface"), ARM, profile), bodies_profile.ProfileSurface)
    assert isinstance(found.found_body(crack(shape="edge"), ARM, profile), bodies_profile.ProfileEdge)
    with pytest.raises(ValueError, match="through crack: no solution for a stress profile"):
        found.body_of("through", section_of(crack(), ARM), 0.0, profile)


def test_a_small_corner_crack_in_a_thick_wall():
    """A wall of 15 in about a bore of 6 in. K of a small crack lies between a circular front's inside a body, (2/pi) S sqrt(pi a), and 1.12^2 of it for the two free surfaces, under
    the hole's local stress of 3 S (closed forms)."""
    section = section_of(crack(), ARM).model_copy(update={"thickness": 381.0, "width": 4000.0})
    body = found.body_of("corner", section, 76.2)
    k = body.influence(np.array([[1.0], [1.0]]))[0].max()
    inside = 3.0 * (2.0 / np.pi) * np.sqrt(np.pi)
    assert inside < k < 1.12**2 * inside


OLD = {"material": "a27-65-35", "toughness": TOUGH}


@pytest.mark.parametrize(
    ("said", "key", "wrong"),
    [
        ({"in_service": 2026}, "cracks.old_arm.in_service", "is not before the finding"),
        ({"history": [{"from_year": 1990, "cycles": 1.0}]}, "cracks.old_arm.in_service", "is missing"),
        (
            {"in_service": 1960, "history": [{"from_year": 1950, "cycles": 1.0}]},
            "cracks.old_arm.history.0.from_year",
            "is not in the order of time",
        ),
        (
            {
                "in_service": 1960,
                "history": [{"from_year": 1960, "cycles": 1.0}, {"from_year": 1960, "cycles": 2.0}],
            },
            "cracks.old_arm.history.1.from_year",
            "is not in the order of time",
        ),
        (
            {"in_service": 1960, "history": [{"from_year": 2027, "cycles": 1.0}]},
            "cracks.old_arm.history.0.from_year",
            "is after the finding",
        ),
    ],
)
def test_years_of_the_old_arm_are_in_order(said, key, wrong):
    """The crack was found on 2 March 2026."""
    (line,) = told([crack()], cracks(old_arm=OLD | said))
    assert line.startswith(f"{key}: ") and wrong in line


def test_a_history_in_order_breaks_no_rule():
    spells = [{"from_year": 1960, "cycles": 0.5}, {"from_year": 1990, "cycles": 1.0, "load": 0.8}]
    made = cracks(old_arm=OLD | {"in_service": 1960, "history": spells, "environment": "marine"})
    assert told([crack()], made) == [] and made.old_arm.history[0].load == 1.0
    with pytest.raises(ValidationError):
        cracks(old_arm=OLD | {"environment": "salt"})
