"""Specified minimums of the material files against the specifications' values; each row names its source."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from params.files.read import HERE, material_names, read_material
from params.schema.material import Charpy
from params.steps.problems import ParameterError
from tests.published import case

# File and the published tensile strength, yield strength and elongation. Rows marked M were set down from memory.
ROWS = {
    "a27-65-35": ("G001", "G002", "G003"),
    "a148-80-50": ("G004", "G005", "G006"),
    "a572-50": ("G016", "G017", "G018"),
    "a709-hps-70w": ("G019", "G020", "G021"),
    "er80s-d2": ("G031", "G032", "G033"),
    "er100s-1": ("G034", "G035", "G036"),
    "er110s-1": ("G037", "G038", "G039"),
}


def test_every_material_file_is_tested() -> None:
    assert material_names() == sorted(ROWS)


@pytest.mark.parametrize("name", ROWS)
def test_specified_minimums(name: str) -> None:
    tensile, strength, elongation = (case(row) for row in ROWS[name])
    material = read_material(name)
    assert "tensile" in tensile.title
    assert "yield" in strength.title
    assert "elongation" in elongation.title
    assert material.tensile_strength == pytest.approx(tensile.expected, rel=1e-12)
    assert material.yield_strength == pytest.approx(strength.expected, rel=1e-12)
    assert material.elongation_percent == elongation.expected


@pytest.mark.parametrize("name", ROWS)
def test_specified_toughness(name: str) -> None:
    """Energy and temperature stand beside the strength rows, as in `68 J at -51 C`; absent where nothing is specified."""
    actual = re.search(r"(\d+) J at (-\d+) C", case(ROWS[name][0]).inputs)
    charpy = read_material(name).charpy
    assert (charpy is None) == (actual is None)
    if actual and charpy:
        assert (charpy.energy, charpy.temperature) == (float(actual[1]), float(actual[2]))


@pytest.mark.parametrize("name", ROWS)
def test_toughness_is_asked_for_where_none_is_specified(name: str) -> None:
    """And marked as the buyer's own, invented, to be agreed: in the practice and on the line."""
    material = read_material(name)
    assert (material.supplementary is None) == (material.charpy is not None)
    if material.supplementary:
        text = (HERE / "materials" / f"{name}.yaml").read_text()
        line = next(line for line in text.splitlines() if line.startswith("supplementary:"))
        for words in (line, material.supplementary.practice):
            assert "invented for the demo, to be agreed with the " in words
        assert "supplementary requirement at purchase" in line


def test_toughness_at_the_coldest_temperature() -> None:
    """The specified minimum where it holds there, else what is asked for, else nothing."""
    wire, plate = read_material("er80s-d2"), read_material("a572-50")
    assert wire.charpy_for(-29.0) == wire.charpy and wire.charpy_for(-29.1) is None
    assert plate.charpy_for(-30.0) == plate.supplementary and plate.charpy_for(-31.0) is None
    colder = plate.model_copy(update={"charpy": Charpy.model_construct(energy=40.0, temperature=-10.0)})
    assert colder.charpy_for(-5.0) == colder.charpy and colder.charpy_for(-20.0) == plate.supplementary


@pytest.mark.parametrize("name", ROWS)
def test_the_source_stands_on_each_line(name: str) -> None:
    text = (HERE / "materials" / f"{name}.yaml").read_text()
    for key in (
        "yield_strength",
        "tensile_strength",
        "elongation_percent",
        "elastic_modulus",
        "poisson_ratio",
        "density",
    ):
        line = next(line for line in text.splitlines() if line.startswith(f"{key}:"))
        assert re.search(r"#.*(ASTM A|AWS A5|common practice, no source)", line), line
    remembered = any("M" in case(row).provenance for row in ROWS[name])
    assert remembered == ("from memory" in read_material(name).source)


def test_steel_constants() -> None:
    """Carbon and low-alloy steel: 200 to 210 GPa, 0.27 to 0.30, 7.8 to 7.87 t/m3; common practice, no source."""
    for name in ROWS:
        material = read_material(name)
        assert 200e3 <= material.elastic_modulus <= 210e3
        assert 0.27 <= material.poisson_ratio <= 0.30
        assert 7.80e-6 <= material.density <= 7.87e-6


@pytest.mark.parametrize("name", ["none", "../arms/bench-lever", "", "/etc/passwd"])
def test_material_that_is_not_there(name: str) -> None:
    with pytest.raises(ParameterError):
        read_material(name)


def test_material_file_with_faults(tmp_path: Path) -> None:
    text = (HERE / "materials" / "a572-50.yaml").read_text()
    (tmp_path / "materials").mkdir()
    path = tmp_path / "materials" / "odd.yaml"
    path.write_text(text.replace("yield_strength: 345 MPa", "yield_strength: 460 MPa"))
    with pytest.raises(ParameterError) as caught:
        read_material("odd", tmp_path)
    lines = str(caught.value).split("\n")
    assert any("name: a572-50, differs from the file's name odd" in line for line in lines)
    assert any(
        "tensile_strength: 450 MPa, is below the yield strength, at least 460 MPa, check both" in line
        for line in lines
    )
