"""What a route changes in the sections on bores and cracks, and years and flaws in the decision."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.fracture.toughness_data import toughness_data
from analysis.making.decision.decision import ENDLESS, UNKNOWN, at_joints, better, cracked, life_of
from analysis.making.routes import life_and_flaw
from analysis.sweep.file_sections import cracks_of, finished, put_in, welds
from analysis.tables.files import read_csv, write_csv
from params.files.commented import commented
from params.files.read import read_arm, read_material
from params.files.yamlfile import read_yaml
from params.schema.arm import Arm
from params.schema.bores import Bores
from params.schema.cracks import Cracks
from tests.arms import ARMS, changed, demo
from tests.making.files import demo as demo_route

ARM = "linkspan-rocker"


def test_finish_of_faces_that_stay_as_made() -> None:
    """The demo's outside becomes as-cast; its bores and bearing faces stay machined."""
    result = finished(demo(ARM).bores, demo_route("cast"))
    assert result is not None
    assert {one.region: one.finish for one in result.surfaces}["outside"] == "as-cast"
    assert {one.finish for one in result.surfaces if one.region != "outside"} == {"machined"}
    assert finished(None, demo_route("cast")) is None


def test_toughness_by_steel() -> None:
    """Own steel: the file's 90 ft lbf; old arm's: 25 ft lbf; wire: its specified 27 J at -29 degC; plate: asked for at -30 degC."""
    arm = demo(ARM)
    foot_pound = 1.3558179483  # J, exact to ten digits
    own, old, wire = (
        toughness_data(arm, read_material(name))[0] for name in ("er100s-1", "a27-65-35", "er80s-d2")
    )
    assert own is not None and old is not None and wire is not None
    assert own.charpy[0].energy == pytest.approx(90.0 * foot_pound, rel=1e-9)
    assert old.charpy[0].energy == pytest.approx(25.0 * foot_pound, rel=1e-9)
    assert (wire.charpy[0].energy, wire.charpy[0].temperature) == pytest.approx((27.0, -29.0))
    plate = read_material("a572-50")
    asked = toughness_data(arm, plate)[0]
    assert asked is not None and asked.charpy[0].temperature == -30.0
    assert toughness_data(arm, plate.model_copy(update={"supplementary": None}))[0] is None
    colder = changed(arm, cracks__coldest=-40.0)
    assert toughness_data(colder, read_material("er80s-d2"))[0] is None  # specified at -29 degC only


def test_examinations_are_the_routes() -> None:
    cracks, text = cracks_of(demo(ARM), demo_route("deposited"), read_material("er80s-d2"))
    assert cracks is not None and cracks.inspection is not None and text == ""
    assert [(one.method, one.depth) for one in cracks.inspection.examinations] == [
        ("magnetic particle", 1.0),
        ("ultrasonics", 3.0),
        ("radiography", 2.0),
    ]
    plate = read_material("a572-50")
    asked, text = cracks_of(demo(ARM), demo_route("welded"), plate)
    assert asked is not None and text == "ask for the Charpy energy of a572-50 at purchase: 27 J at -30 degC"
    plain = plate.model_copy(update={"supplementary": None})
    nothing, text = cracks_of(demo(ARM), demo_route("welded"), plain)
    assert nothing is None and text.startswith("flaws not checked: no toughness of a572-50")
    own, text = cracks_of(demo("bench-lever"), demo_route("welded"), plate)
    assert own is not None and text == ""  # the file has its own data of its own steel


@pytest.mark.parametrize(
    ("way", "material"),
    [("deposited", "er80s-d2"), ("cast", "a148-80-50"), ("cast", "a27-65-35"), ("welded", "a572-50")],
)
def test_file_says_the_same_as_the_model(way: str, material: str, tmp_path: Path) -> None:
    """What is put into the file's data reads back as the model's own sections."""
    arm, route = demo(ARM), demo_route(way)
    cracks, _ = cracks_of(arm, route, read_material(material))
    new: Arm = arm.model_copy(update={"bores": finished(arm.bores, route), "cracks": cracks})
    data = read_yaml(ARMS / f"{ARM}.yaml").data
    put_in(data, new, route)
    (tmp_path / "arm.yaml").write_text(commented(data | {"material": material}, Arm, "head"))
    assert read_arm(tmp_path / "arm.yaml").bores == Bores.model_validate(data["bores"])
    result = Bores.model_validate(data["bores"])
    assert result.surfaces == (new.bores.surfaces if new.bores else ())
    assert len(result.welds) == (
        6 if way == "welded" else 0
    )  # the others have welds at joints and repairs only
    assert ("cracks" in data) == (cracks is not None) and "found_cracks" not in data
    if cracks is not None:
        again = Cracks.model_validate(data["cracks"])
        assert again.toughness.charpy[0].energy == pytest.approx(cracks.toughness.charpy[0].energy, rel=1e-5)
        assert again.inspection is not None and cracks.inspection is not None
        assert [one.depth for one in again.inspection.examinations] == [
            one.depth for one in cracks.inspection.examinations
        ]
        assert again.old_arm is None


def test_the_lowest_of_an_arms_own_impact_tests_stays_in_its_file() -> None:
    """Left out it would be 0.7 of the mean: 28 J in place of the 36 J that were found (invented)."""
    arm = demo("bench-lever")
    assert arm.cracks is not None
    point = arm.cracks.toughness.charpy[0].model_copy(update={"energy": 40.0, "lowest": 36.0})
    tough = arm.cracks.toughness.model_copy(update={"charpy": (point,), "method": "lower bound"})
    data = read_yaml(ARMS / "bench-lever.yaml").data
    put_in(
        data,
        arm.model_copy(update={"cracks": arm.cracks.model_copy(update={"toughness": tough})}),
        demo_route("welded"),
    )
    assert Cracks.model_validate(data["cracks"]).toughness.counted == pytest.approx([36.0])


def test_welds_of_the_weldment() -> None:
    """Hub of 700 mm, bosses of 320 and 330 mm on arms of 1250 and 1750 mm: welds at 350, 1090 and 1585 mm.

    EN 1993-1-9:2005 Table 8.5 detail 1, from memory: a plate of over 50 mm that ends on more than 300 mm from toe to toe is 40.
    """
    result = welds(demo(ARM), demo_route("welded"))
    at = {(one["arm"], one["station"], one["category"]) for one in result}
    assert at == {
        ("input", "350 mm", 100),
        ("input", "350 mm", 40),
        ("input", "1090 mm", 40),
        ("output", "350 mm", 100),
        ("output", "350 mm", 40),
        ("output", "1585 mm", 40),
    }


def test_joints_of_pieces_count_where_they_are_weaker(tmp_path: Path) -> None:
    table, names = tmp_path / "joints.csv", ["chosen", "years_to_crack"]
    rows = [("yes", 300.0), ("yes", None), ("no", 5.0)]
    write_csv(table, names, (dict(zip(names, row, strict=True)) for row in rows))
    assert at_joints({"years_to_crack": 479.0}, table)["years_to_crack"] == 300.0
    assert at_joints({"years_to_crack": 200.0}, table)["years_to_crack"] == 200.0
    assert at_joints({"years_to_crack": ENDLESS}, table)["years_to_crack"] == 300.0
    assert at_joints({"years_to_crack": UNKNOWN}, table)["years_to_crack"] == UNKNOWN
    assert at_joints({"years_to_crack": 479.0}, tmp_path / "none.csv")["years_to_crack"] == 479.0


LIFE = ["arm", "region", "years", "utilisation", "margin"]
LOOK = ["arm", "region", "acceptable_depth", "acceptable_length", "unit"]


def test_shortest_life_and_smallest_flaw() -> None:
    """Only this arm's rows count; the least margin and the least depth."""
    rows = [
        dict(zip(LIFE, row, strict=True))
        for row in (
            ("this arm", "outside", "480", "0.2", "0.4"),
            ("this arm", "pivot_bore", "", "0", "1.6"),
            ("this arm", "outside", "", "0", ""),  # a weld where nothing swings
            ("this arm, other fit", "pivot_bore", "5.6", "17", "-0.4"),
        )
    ]
    assert life_and_flaw.shortest(rows) == {
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
        life_and_flaw.smallest(looks)["acceptable_depth"] == "5.4"
        and life_and_flaw.smallest(looks)["flaw_region"] == "outside"
    )
    assert life_and_flaw.smallest([]) == {}


def test_command_without_mesh_or_sections(tmp_path: Path) -> None:
    (tmp_path / "arm.yaml").write_bytes((ARMS / "bench-lever.yaml").read_bytes())
    assert life_and_flaw.main(tmp_path) == 0
    assert read_csv(tmp_path / "life-and-flaw.csv")[0]["note"] == "the design has no mesh"
    actual = life_of(tmp_path)
    assert (actual["years_to_crack"], actual["acceptable_flaw"]) == (UNKNOWN, UNKNOWN)
    assert life_of(tmp_path / "nowhere") == {"years_to_crack": UNKNOWN, "acceptable_flaw": UNKNOWN}


def test_years_in_the_decision(tmp_path: Path) -> None:
    row = {"service_years": 100.0, "life_utilisation": 0.0, "life_region": "outside", "caution": "c"}
    flaw = {
        "acceptable_depth": 5.39943,
        "acceptable_length": 26.9972,
        "length_unit": "mm",
        "flaw_region": "outside",
    }
    write_csv(tmp_path / "life-and-flaw.csv", life_and_flaw.COLUMNS, [row | flaw])
    assert life_of(tmp_path) == {
        "years_to_crack": ENDLESS,
        "service_years": 100.0,
        "acceptable_flaw": "5.4 x 27 mm, outside",
    }
    at = [{"years_to_crack": years, "service_years": 100.0} for years in (50.0, 200.0, ENDLESS)]
    assert better(at[1], at[0]) and better(at[2], at[0]) and not better(at[0], at[2])
    assert not better(at[2], at[1])  # both outlast the service life
    write_csv(
        tmp_path / "life-and-flaw.csv",
        life_and_flaw.COLUMNS,
        [row | {"note": "the toughness of the material is not known"}],
    )
    assert life_of(tmp_path)["acceptable_flaw"] == "the toughness of the material is not known"


def test_row_of_the_cracked_arm(tmp_path: Path) -> None:
    """The crack with the least chance to last to the outage."""
    names = ["crack", "material", "chance_at_outage", "outage", "years", "end", "status", "note"]
    rows = [
        ("a", "m", 0.9, "2026-11-02", 3.0, "", "ok", ""),
        ("b", "m", 0.4, "2026-11-02", 389.7, "", "ok", "look again"),
    ]
    write_csv(
        tmp_path / "as-written" / "bores" / "cracks.csv",
        names,
        (dict(zip(names, row, strict=True)) for row in rows),
    )
    row = cracked(tmp_path)
    assert row["chance_of_lasting"] == 0.4
    assert row["note"] == "crack b, chance of lasting to 2026-11-02; lasts 390 years; look again"
