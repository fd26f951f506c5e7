"""What a route changes in the sections on bores and cracks, and years and flaws in the decision."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.making import lasting
from analysis.making.decision import ENDLESS, UNKNOWN, better, cracked, life_of
from analysis.making.steel import cracks_of, finished, put_in, toughness_of
from analysis.tables import read_csv, write_csv
from params.arm import Arm
from params.bores import Bores
from params.cracks import Cracks
from params.read import read_material
from params.yamlfile import read_yaml
from tests.arms import ARMS, changed, demo
from tests.making.files import demo as demo_route

ARM = "linkspan-rocker"


def test_finish_of_faces_that_stay_as_made() -> None:
    """The demo's outside becomes as-cast; its bores and bearing faces stay machined."""
    made = finished(demo(ARM).bores, demo_route("cast"))
    assert made is not None
    assert {one.region: one.finish for one in made.surfaces}["outside"] == "as-cast"
    assert {one.finish for one in made.surfaces if one.region != "outside"} == {"machined"}
    assert finished(None, demo_route("cast")) is None


def test_toughness_by_steel() -> None:
    """Own steel: the file's 90 ft lbf; old arm's: 25 ft lbf; wire: its specified 27 J at -29 degC; plate without Charpy: none."""
    arm = demo(ARM)
    foot_pound = 1.3558179483  # J, exact to ten digits
    own, old, wire = (
        toughness_of(arm, read_material(name)) for name in ("er100s-1", "a27-65-35", "er80s-d2")
    )
    assert own is not None and old is not None and wire is not None
    assert own.charpy[0].energy == pytest.approx(90.0 * foot_pound, rel=1e-9)
    assert old.charpy[0].energy == pytest.approx(25.0 * foot_pound, rel=1e-9)
    assert (wire.charpy[0].energy, wire.charpy[0].temperature) == pytest.approx((27.0, -29.0))
    assert toughness_of(arm, read_material("a572-50")) is None
    colder = changed(arm, cracks__coldest=-40.0)
    assert toughness_of(colder, read_material("er80s-d2")) is None  # specified at -29 degC only


def test_examinations_are_the_routes() -> None:
    cracks, told = cracks_of(demo(ARM), demo_route("deposited"), read_material("er80s-d2"))
    assert cracks is not None and cracks.inspection is not None and told == ""
    assert [(one.method, one.depth) for one in cracks.inspection.examinations] == [
        ("magnetic particle", 1.0), ("ultrasonics", 3.0), ("radiography", 2.0),
    ]  # fmt: skip
    nothing, told = cracks_of(demo(ARM), demo_route("welded"), read_material("a572-50"))
    assert nothing is None and told.startswith("flaws not checked: no toughness of a572-50")


@pytest.mark.parametrize(
    ("way", "steel"), [("deposited", "er80s-d2"), ("cast", "a148-80-50"), ("cast", "a27-65-35")]
)
def test_file_says_the_same_as_the_model(way: str, steel: str) -> None:
    """What is put into the file's data reads back as the model's own sections."""
    arm, route = demo(ARM), demo_route(way)
    cracks, _ = cracks_of(arm, route, read_material(steel))
    new: Arm = arm.model_copy(update={"bores": finished(arm.bores, route), "cracks": cracks})
    data = read_yaml(ARMS / f"{ARM}.yaml").data
    put_in(data, new)
    assert Bores.model_validate(data["bores"]) == new.bores
    assert ("cracks" in data) == (cracks is not None) and "found_cracks" not in data
    if cracks is not None:
        again = Cracks.model_validate(data["cracks"])
        assert again.toughness.charpy[0].energy == pytest.approx(cracks.toughness.charpy[0].energy, rel=1e-5)
        assert again.inspection is not None and cracks.inspection is not None
        assert [one.depth for one in again.inspection.examinations] == [
            one.depth for one in cracks.inspection.examinations
        ]
        assert again.old_arm is None


LIFE = ["arm", "region", "years", "utilisation", "margin"]
LOOK = ["arm", "region", "acceptable_depth", "acceptable_length", "unit"]


def test_shortest_life_and_smallest_flaw() -> None:
    """Only this arm's rows count; the least margin and the least depth."""
    rows = [
        dict(zip(LIFE, row, strict=True))
        for row in (
            ("this arm", "outside", "480", "0.2", "0.4"),
            ("this arm", "pivot_bore", "", "0", "1.6"),
            ("this arm, other fit", "pivot_bore", "5.6", "17", "-0.4"),
        )
    ]
    assert lasting.shortest(rows) == {
        "years_to_crack": "480",
        "life_utilisation": "0.2",
        "life_region": "outside",
    }
    looks = [
        dict(zip(LOOK, row, strict=True))
        for row in (
            ("this arm", "pivot_bore", "50", "50", "mm"),
            ("this arm", "outside", "5.4", "27", "mm"),
            ("cracked arm", "outside", "4", "20", "mm"),
        )
    ]
    assert (
        lasting.smallest(looks)["acceptable_depth"] == "5.4"
        and lasting.smallest(looks)["flaw_region"] == "outside"
    )
    assert lasting.smallest([]) == {}


def test_command_without_mesh_or_sections(tmp_path: Path) -> None:
    (tmp_path / "arm.yaml").write_bytes((ARMS / "bench-lever.yaml").read_bytes())
    assert lasting.main(tmp_path) == 0
    assert read_csv(tmp_path / "lasting.csv")[0]["note"] == "the design has no mesh"
    assert life_of(tmp_path) == {"years_to_crack": UNKNOWN, "acceptable_flaw": UNKNOWN}
    assert life_of(tmp_path / "nowhere") == {"years_to_crack": UNKNOWN, "acceptable_flaw": UNKNOWN}


def test_years_in_the_decision(tmp_path: Path) -> None:
    row = {"years_to_crack": None, "life_utilisation": 0.0, "life_region": "outside", "caution": "c"}
    flaw = {
        "acceptable_depth": 5.39943,
        "acceptable_length": 26.9972,
        "length_unit": "mm",
        "flaw_region": "outside",
    }
    write_csv(tmp_path / "lasting.csv", lasting.COLUMNS, [row | flaw])
    assert life_of(tmp_path) == {"years_to_crack": ENDLESS, "acceptable_flaw": "5.4 x 27 mm, outside"}
    assert better({"years_to_crack": ENDLESS}, {"years_to_crack": 50.0})
    assert not better({"years_to_crack": 50.0}, {"years_to_crack": ENDLESS})


def test_row_of_the_cracked_arm(tmp_path: Path) -> None:
    """The crack with the least chance to last to the outage."""
    names = ["crack", "material", "chance_at_outage", "outage", "years", "end", "note"]
    rows = [("a", "m", 0.9, "2026-11-02", 3.0, "", ""), ("b", "m", 0.4, "2026-11-02", 0.52, "", "look again")]
    write_csv(
        tmp_path / "as-written" / "bores" / "cracks.csv",
        names,
        (dict(zip(names, row, strict=True)) for row in rows),
    )
    row = cracked(tmp_path)
    assert row["chance_of_lasting"] == 0.4
    assert row["note"] == "crack b, chance to 2026-11-02; lasts 0.52 years; look again"
