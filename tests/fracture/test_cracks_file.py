"""The sections `found_cracks:` and `cracks:`: what is read, what is refused and in which words, and what becomes of it."""

# ruff: noqa: E501 (the lines as they are printed)
from __future__ import annotations

import math
from datetime import date
from types import SimpleNamespace

import numpy as np
import pytest
from pydantic import ValidationError

from analysis.fatigue.duty import pairs
from analysis.fracture import bodies, bodies_profile, found
from analysis.fracture.driven import driven
from analysis.fracture.fad import Diagram
from analysis.fracture.flaws import Place, Steel
from analysis.fracture.found_table import (
    CRACK_COLUMNS,
    GROWTH_COLUMNS,
    LIMIT_COLUMNS,
    SURVIVAL_COLUMNS,
    followed,
)
from analysis.fracture.growth import End, Service
from analysis.fracture.growth_law import LAWS
from analysis.fracture.inspection_table import cracking_energy
from analysis.fracture.loads import tough
from analysis.fracture.path import Path
from analysis.fracture.remaining import remaining_life
from analysis.fracture.residual import cases
from analysis.fracture.survival import DAYS
from analysis.fracture.toughness import FOOT_POUND, KSI, KSI_ROOT_INCH, MPA_ROOT_M
from analysis.fracture.weight_function import Profile
from params.files.read import read_material
from params.rules.cracks import cracking, section_of
from params.schema.cracks import Cracks, FoundCrack
from tests.arms import demo
from tests.fracture.loading import cycle

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


def test_toughness_of_the_file():
    """BS 7910 Annex J by hand at -20 degC, 100 mm: Cv = 27.116 + (45 - 27.116)/3 = 33.078 J, of which the lowest of three may be
    0.7, 23.154 J; (12 sqrt(23.154) - 20) (0.25)^0.25 + 20 = 46.69 MPa root m. With the lowest stated it counts.
    """
    steel = read_material("a27-65-35")
    assert found.toughness_of(cracks(), steel, 100.0) / MPA_ROOT_M == pytest.approx(46.69, abs=0.01)
    stated = {"charpy": [{"temperature": "-20 degC", "energy": "50 J", "lowest": "33.078 J"}]}
    lowest = found.toughness_of(cracks(toughness=stated), steel, 100.0)
    assert lowest / MPA_ROOT_M == pytest.approx(54.66, abs=0.01)  # (12 sqrt(33.078) - 20) (0.25)^0.25 + 20
    mean = found.toughness_of(cracks(toughness=stated | {"method": "transition"}), steel, 100.0)
    psi = (
        2.0 * steel.elastic_modulus / KSI * 1000.0 * (50.0 / FOOT_POUND) ** 1.5
    )  # Barsom and Rolfe take the mean
    assert mean == pytest.approx(math.sqrt(psi) / 1000.0 * KSI_ROOT_INCH)
    held = cracks(
        coldest="30 degC",
        toughness={**stated, "held_when_warmer": True}
        | {"charpy": [{"temperature": "0 degC", "energy": "60 J", "lowest": "45 J"}]},
    )
    assert found.toughness_of(held, steel, 25.0) / MPA_ROOT_M == pytest.approx(
        0.54 * 45.0 + 55.0
    )  # the shelf's bound, below 80.5
    master = cracks(toughness=TOUGH | {"reference_temperature": "-20 degC"})
    # At T0 and 25 mm, 5 %: 20 + 88 (-ln 0.95)^0.25 = 61.88 by hand.
    assert found.toughness_of(master, steel, 25.0) / MPA_ROOT_M == pytest.approx(61.88, abs=0.01)


def test_smallest_detectable_flaw_as_sizes():
    said = cracks().inspection.examinations[0]
    assert found.method_of(said, "surface").sizes(bodies.Surface(20.0)).tolist() == [2.0, 3.0]
    assert found.method_of(said, "corner").sizes(bodies.HoleCorner(20.0, 20.0, 100.0)).tolist() == [2.0, 6.0]
    assert found.method_of(said, "through").sizes(bodies.Through()).tolist() == [3.0]
    assert found.method_of(said, "hole-through").sizes(bodies.HoleThrough(20.0, 20.0, 100.0)).tolist() == [
        6.0
    ]
    assert found.scatter_of(cracks().scatter).toughness == "weibull"


def test_remaining_life_in_cycles_years_and_a_day():
    at = np.array([60.0, 0.0])
    kept = Service(
        [cycle(20_000.0, at, 0.5)],
        at,
        LAWS["two-stage mean"],
        Diagram(240.0, 450.0, 205e3),
        60.0 * MPA_ROOT_M,
    )
    made = remaining_life(
        found.found_body(crack(), ARM), found.sizes_of("corner", 20.0, 12.0), kept, crack().found
    )
    assert made.end in (End.TOUGHNESS, End.COLLAPSE, End.RANGE)
    assert made.cycles == pytest.approx(20_000.0 * made.years)
    assert made.day is not None
    assert (made.day - crack().found).days == int(made.years * DAYS)
    assert made.load_factor > 1.0
    assert (made.sizes > [12.0, 20.0]).all()


def followed_crack(section, stated):
    """Rows of a corner crack of 12 x 20 mm at the demo's bore, 0 to 50 MPa even along the face, 1000 cycles a year."""
    steel = read_material("a27-65-35")
    variant = SimpleNamespace(name="cracked arm", material=steel, toughness=None, residual=stated)
    held = SimpleNamespace(arm=ARM, variant=variant)
    depth = np.linspace(0.0, 150.0, 50)
    path = Path(depth, np.stack([0.0 * depth, 50.0 + 0.0 * depth]), 150.0, np.zeros(3))
    drive = driven(path, pairs(["off", "on"], [("off", "on", 1000.0)]), 0.0)
    body = found.found_body(crack(), ARM, drive.profile)
    kmat = found.toughness_of(section, steel, 360.0)
    place = Place(body, (1.0,), drive.blocks, drive.highest, drive.residual)
    metal = Steel(Diagram(240.0, 450.0, 205e3), kmat, LAWS["two-stage upper"])
    made = [
        followed(held, section, crack(), (place, drive, 10.0), metal, case)
        for case in cases(stated, steel.yield_strength)
    ]
    return body, kmat, made


def test_a_found_crack_stands_at_every_residual_stress():
    """K is that of the formula for 1 MPa, times 50 for the load and times the residual stress; R at the front from the two."""
    body, kmat, made = followed_crack(cracks(), 30.0)
    one = body.influence(np.array([[12.0], [20.0]]))[-1].max()
    rows = [row for row, *_ in made]
    assert [(row["residual"], row["residual_stress"], row["governs"]) for row in rows] == [
        ("none", 0.0, "no"),
        ("stated", 30.0, "yes"),
        ("yield-limited", 240.0, "no"),
    ]
    for row, stress in zip(rows, (0.0, 30.0, 240.0), strict=True):
        assert set(row) <= set(CRACK_COLUMNS)
        assert row["K_highest"] == pytest.approx(50.0 * one / MPA_ROOT_M)
        assert row["K_range"] == pytest.approx(50.0 * one / MPA_ROOT_M)
        assert row["K_residual"] == pytest.approx(stress * one / MPA_ROOT_M)
        assert row["ratio"] == pytest.approx(stress / (stress + 50.0))
        assert "not stated" not in row["note"] and "Charpy of the arm's file counts (33 J" in row["note"]
    assert rows[0]["Kr"] == pytest.approx(50.0 * one / kmat)
    assert rows[1]["Kr"] > 80.0 * one / kmat  # and what plasticity adds
    for _, grown, chances, limits in made:
        assert set(grown[0]) <= set(GROWTH_COLUMNS) and set(chances[0]) <= set(SURVIVAL_COLUMNS)
        assert set(limits[0]) <= set(LIMIT_COLUMNS) and limits[0]["load_percent"] == 200.0
        assert chances[0]["chance"] == 1.0


def test_residual_stress_left_out_is_told_and_partial_factors_stand_beside():
    said = {"chance": "1e-3", "stress": 0.1, "size": 0.1, "toughness": 0.1}
    _, _, made = followed_crack(cracks(partial_factors=said), None)
    rows = [row for row, *_ in made]
    assert [(row["residual"], row["governs"]) for row in rows] == [("none", "no"), ("yield-limited", "yes")]
    for row in rows:
        assert "residual stress not stated in the file" in row["note"]
        assert "stress 1.2, size 1.4, toughness 1.3, yield 1.05 (BS 7910 Annex K, from memory)" in row["note"]
        assert row["Kr_factored"] > 1.2 * 1.3 * row["Kr"]
    assert (rows[0]["holds_factored"], rows[1]["holds_factored"]) == ("yes", "no")
    wild = cracks(partial_factors=said | {"toughness": 0.9})
    assert "variation of toughness 0.9 is over 0.3" in followed_crack(wild, 0.0)[2][0][0]["note"]


def test_toughness_and_energy_in_us_units():
    """100 ksi in^0.5 are 100 x 6894.757 psi x sqrt(25.4) N/mm^1.5; E 29,700 ksi, so (1 - 0.3^2) 100^2/29700 = 0.3064 kip/in =
    306.4 in lbf over a square inch, 25.53 ft lbf/in2 (Irwin); in SI 53.66 kJ/m2."""
    steel = read_material("a572-50").model_copy(
        update={"elastic_modulus": 29700.0 * 6.894757293, "poisson_ratio": 0.3}
    )
    value = 100.0 * 6.894757293 * 25.4**0.5
    us, si = (
        SimpleNamespace(arm=demo(name), variant=SimpleNamespace(material=steel, toughness=None))
        for name in ("sluice-crank", "linkspan-rocker")
    )
    told_us = tough(us, cracks(), value) | cracking_energy(us, value)
    assert told_us["toughness"] == pytest.approx(100.0, rel=1e-8)
    assert told_us["toughness_unit"] == "ksi in^0.5" and told_us["energy_unit"] == "ft lbf"
    # -20 degC lies a third of the way from 20 ft lbf at -30 to 45 J, 33.19 ft lbf, at 0 degC.
    assert told_us["charpy"] == pytest.approx(20.0 + (45.0 / 1.355817948 - 20.0) / 3.0, rel=1e-8)
    assert told_us["fracture_energy"] == pytest.approx(1000.0 * 0.91 * 100.0**2 / 29700.0 / 12.0, rel=1e-8)
    assert told_us["fracture_energy_unit"] == "ft lbf/in2"
    told_si = tough(si, cracks(), value) | cracking_energy(si, value)
    assert told_si["toughness"] == pytest.approx(109.884, rel=1e-5)
    assert (told_si["fracture_energy"], told_si["fracture_energy_unit"]) == (
        pytest.approx(53.66, abs=0.005),
        "kJ/m2",
    )
