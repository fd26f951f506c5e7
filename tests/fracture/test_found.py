"""What becomes of the sections `found_cracks:` and `cracks:`: toughness, sizes that are seen, life and its rows, units."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest

from analysis.fatigue.duty import pairs
from analysis.fracture import bodies, found
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
from params.files.read import read_material
from tests.arms import demo
from tests.fracture.loading import cycle
from tests.fracture.test_cracks_file import ARM, TOUGH, crack, cracks


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
