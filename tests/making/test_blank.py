"""Mass before machining: from volumes of blanks.json by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.making.routes.blank import MISSING, blank
from analysis.making.routes.table import of_route
from analysis.tables.files import write_csv, write_json
from tests.arms import ARMS

MATERIAL = 7850.0e-9  # kg/mm3: carbon steel, EN 1991-1-1:2002 Table A.4 (77 to 78.5 kN/m3), from memory


def place(folder: Path, route: str, **text: object) -> Path:
    """A route's folder whose best design is the bench lever, with this blanks.json."""
    (folder / route / "best").mkdir(parents=True)
    (folder / route / "best" / "arm.yaml").write_bytes((ARMS / "bench-lever.yaml").read_bytes())
    result = {"route": route, "files": {}, "plates": [], "refused": ""} | text
    write_json(folder / route / "blank" / "blanks.json", result)
    return folder / route


def test_a_casting_is_smaller_than_its_pattern(tmp_path: Path) -> None:
    """A pattern of 102 mm on edge, 2 % of shrinkage (cast.yaml): a cube of 100 mm of cold metal, 7.85 kg."""
    result = blank(place(tmp_path, "cast", files={"pattern.step": {"volume_mm3": 102.0**3}}))
    assert result["blank_mass_kg"] == pytest.approx(MATERIAL * 100.0**3, rel=1e-9)
    assert "as poured" in result["blank"] and "largest mass" not in result["blank"]


def test_more_than_one_pour_is_told(tmp_path: Path) -> None:
    """15 t is the most of one pour in cast.yaml; 1.3 m on edge by 7850 kg/m3 is 17.2 t."""
    result = blank(place(tmp_path, "cast", files={"pattern.step": {"volume_mm3": 1326.0**3}}))
    assert result["blank"].endswith("more than the route's largest mass, 15,000 kg")


def test_plates_count_each(tmp_path: Path) -> None:
    plates = [
        {"count": 2, "area_mm2": 1000.0, "thickness_mm": 10.0},
        {"count": 1, "area_mm2": 4.0e4, "thickness_mm": 25.0},
    ]
    result = blank(place(tmp_path, "welded", plates=plates))
    assert result["blank_mass_kg"] == pytest.approx(MATERIAL * (2.0e4 + 1.0e6), rel=1e-9)
    assert "without weld metal" in result["blank"]


def test_the_near_net_solid_is_deposited(tmp_path: Path) -> None:
    result = blank(place(tmp_path, "deposited", files={"near-net.step": {"volume_mm3": 1.0e6}}))
    assert result["blank_mass_kg"] == pytest.approx(MATERIAL * 1.0e6, rel=1e-9)  # no shrinkage


def test_no_mass_has_its_reason(tmp_path: Path) -> None:
    text = "a closed box needs a core, which is the foundry's to design"
    folder = place(tmp_path, "cast", refused=text)
    assert blank(folder) == {"blank_mass_kg": None, "blank": text}
    (folder / "blank" / "blanks.json").unlink()
    assert blank(folder) == {"blank_mass_kg": None, "blank": MISSING}


def test_a_route_without_a_design_has_none(tmp_path: Path) -> None:
    row = {"route": "cast", "id": "", "mass_kg": "", "hand_governing": "", "reason": "none of 20 can be made"}
    write_csv(tmp_path / "cast" / "best.csv", list(row), [row])
    result = of_route(tmp_path / "cast")
    assert (result["blank_mass_kg"], result["blank"]) == (None, None)
