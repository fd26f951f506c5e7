"""The bores' steps where a value is out of range, and what reads them: a row with its reason, no crash, no silent figure."""

from datetime import date
from types import SimpleNamespace

import pytest

from analysis.fracture import found_table as fracture_found_table
from analysis.fracture import inspection_table as fracture_inspection_table
from analysis.making.decision import decision
from analysis.making.routes import life_and_flaw as lasting
from analysis.package.sheets import acceptance
from analysis.page import bores as page
from analysis.pictures.bores import crack_ends
from analysis.pictures.bores import cracks as draw_cracks
from analysis.pictures.bores import flaws as draw_flaws
from analysis.pictures.bores import materials as draw_materials
from analysis.record.bores_and_making import whole
from analysis.sweep import materials as steels
from analysis.tables.files import read_csv, write_cautioned, write_csv
from params.schema.cracks import FoundCrack
from params.steps.problems import OutOfRange
from tests.arms import changed, demo

ARM = demo("sluice-crank")
REASON = "crack with depth 1.00 in is larger than its section or than its solution's range"
REFUSED = OutOfRange("in mm", lambda units: REASON if units == "us" else "in mm")


def refuse(*given):
    raise REFUSED


def held():
    """As much of the loads as a refused row needs."""
    variant = SimpleNamespace(name="this arm", material=SimpleNamespace(name="a709-hps-70w"))
    return SimpleNamespace(arm=ARM, variant=variant, worst={"pivot_bore": 0, "outside": 0})


def a_crack(name: str) -> FoundCrack:
    return ARM.found_cracks[0].model_copy(update={"name": name, "found": date(2026, 3, 2)})


@pytest.fixture
def beyond(monkeypatch, tmp_path):
    """cracks.csv and inspection.csv of an arm whose every crack is out of range."""
    monkeypatch.setattr(fracture_found_table, "found_service", refuse)
    monkeypatch.setattr(fracture_inspection_table, "new_place", refuse)
    made = [fracture_found_table.follow(held(), ARM.cracks, a_crack(name)) for name in ("one", "two")]
    looks = list(fracture_inspection_table.look_rows(held(), ARM.cracks, ARM.cracks.inspection))
    folder = tmp_path / "as-written" / "bores"
    write_cautioned(folder / "cracks.csv", fracture_found_table.CRACK_COLUMNS, [row for row, _, _ in made])
    write_cautioned(folder / "growth.csv", fracture_found_table.GROWTH_COLUMNS, [])
    write_cautioned(folder / "survival.csv", fracture_found_table.SURVIVAL_COLUMNS, [])
    write_cautioned(folder / "inspection.csv", fracture_inspection_table.LOOK_COLUMNS, looks)
    return tmp_path


def test_each_crack_and_region_has_its_row(beyond):
    found = read_csv(beyond / "as-written" / "bores" / "cracks.csv")
    assert [(row["crack"], row["status"], row["note"], row["years"]) for row in found] == [
        ("one", "out of range", REASON, ""),
        ("two", "out of range", REASON, ""),
    ]
    looks = read_csv(beyond / "as-written" / "bores" / "inspection.csv")
    assert len(looks) == 2 * len(ARM.cracks.inspection.examinations)
    assert {(row["status"], row["note"], row["acceptable_depth"]) for row in looks} == {
        ("out of range", REASON, "")
    }
    assert float(looks[0]["found_depth"]) * 25.4 == pytest.approx(ARM.cracks.inspection.examinations[0].depth)


def test_a_fault_of_the_program_is_raised(monkeypatch):
    def fault(*given):
        raise ValueError("stress: every value must be finite")

    monkeypatch.setattr(fracture_found_table, "found_service", fault)
    monkeypatch.setattr(fracture_inspection_table, "new_place", fault)
    with pytest.raises(ValueError, match="finite"):
        fracture_found_table.follow(held(), ARM.cracks, a_crack("one"))
    with pytest.raises(ValueError, match="finite"):
        list(fracture_inspection_table.look_rows(held(), ARM.cracks, ARM.cracks.inspection))


def test_the_page_says_that_no_life_is_known(beyond):
    said = page.answers(beyond / "as-written" / "bores", beyond)
    assert f"Found crack one: out of range, no life is known: {REASON}." in said
    assert f"Inspection, this arm (a709-hps-70w): pivot bore out of range: {REASON}." in said
    assert not any("does not grow" in one or "every" in one for one in said)
    assert len(page.bores(beyond / "as-written" / "bores", "us")) == 2


def test_the_record_and_the_vendors_sheet_say_it(beyond):
    folder = beyond / "as-written" / "bores"
    assert all("out of range" in whole(folder / f"{name}.csv", (), "us") for name in ("cracks", "inspection"))
    sheet = str(acceptance({"acceptance": [dict(row) for row in read_csv(folder / "inspection.csv")]}))
    assert f"Pivot bore out of range: {REASON}." in sheet


def test_the_pictures_are_drawn(beyond):
    folder = beyond / "as-written" / "bores"
    assert crack_ends(read_csv(folder / "cracks.csv")).startswith(
        f"one in a709-hps-70w: out of range, {REASON}; two"
    )
    for name, draw in (("cracks", draw_cracks), ("flaws", draw_flaws)):
        draw(ARM, folder, folder / f"{name}.png")
        assert (folder / f"{name}.png").stat().st_size > 5000


def test_the_decision_knows_no_chance_where_one_crack_could_not_be_judged(beyond):
    table = beyond / "as-written" / "bores" / "cracks.csv"
    one, two = ({name: row[name] for name in fracture_found_table.CRACK_COLUMNS} for row in read_csv(table))
    well = two | {
        "chance_at_outage": "0.99",
        "status": "ok",
        "note": "",
        "years": "12",
        "end": "within the horizon",
    }
    write_cautioned(table, fracture_found_table.CRACK_COLUMNS, [one, well])
    row = decision.cracked(beyond)
    assert row["chance_of_lasting"] == decision.UNKNOWN
    assert row["note"] == f"crack one out of range: {REASON}"
    write_cautioned(table, fracture_found_table.CRACK_COLUMNS, [well])
    assert decision.cracked(beyond)["chance_of_lasting"] == 0.99


def test_a_route_tells_the_regions_without_a_figure(beyond):
    rows = read_csv(beyond / "as-written" / "bores" / "inspection.csv")
    assert lasting.smallest(rows) == {}
    assert lasting.beyond(rows) == [f"pivot bore: {REASON}", f"outside: {REASON}"]
    nothing = [{"arm": "this arm", "margin": "", "years": "", "region": "outside"}]
    assert lasting.shortest(nothing) == {}  # not endless


def test_a_material_keeps_what_is_known_of_it(tmp_path, monkeypatch):
    """Margin and lightest design stay where toughness and life are refused; a fault is raised."""
    known = {"material": "x", "note": "Charpy of the old arm"}
    row = steels.together(
        ARM, known, [lambda: {"margin": 0.25}, refuse, lambda: {"critical_outside": 1.0, "note": "a bound"}]
    )
    assert row == {
        "material": "x",
        "margin": 0.25,
        "critical_outside": 1.0,
        "status": "out of range",
        "note": f"Charpy of the old arm; {REASON}; a bound",
    }
    assert steels.together(ARM, known, [lambda: {"margin": 0.25}])["status"] == "ok"
    with pytest.raises(ZeroDivisionError):
        steels.together(ARM, known, [lambda: {"margin": 1.0 / 0.0}])
    table = [
        row | {"life_margin": ""},
        {"material": ARM.material, "margin": 0.5, "lightest": 900.0, "status": "ok", "mass_unit": "lb"},
    ]
    write_csv(tmp_path / "materials.csv", steels.COLUMNS, table)
    draw_materials(changed(ARM), tmp_path, tmp_path / "materials.png")
    assert (tmp_path / "materials.png").stat().st_size > 5000
