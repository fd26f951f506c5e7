"""A design becomes the next revision: what is written, what stays, and that the chain of figures holds."""

from __future__ import annotations

import datetime
import difflib
import re
from pathlib import Path

import pytest
import yaml

from analysis.adopt.__main__ import main
from analysis.hand.evaluate import evaluate
from analysis.mechanics.sizes import SWEPT
from analysis.tables.files import read_csv, read_json
from params import check
from params.files.read import read_arm, read_material
from tests.adopt.conftest import BENCH, Adopt, Ids
from tests.adopt.made import MESH, NAME, world
from tests.arms import ARMS

DATE = ["--date", "2026-02-01"]
PLACEHOLDERS = {"# revisions:", "# drawing:"}  # comments in place of keys that are filled in


def comments(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def recommended(top: Path) -> dict[str, object]:
    return read_json(top / "results" / NAME / "sweep" / "recommended.json")


def test_the_recommended_design_comes_back_with_its_sizes_mass_and_margin(top: Path, run: Adopt) -> None:
    """The chain: what the sweep printed is what the hand calculation of the adopted file says, to the six digits of tables."""
    best, source = recommended(top), top / "arms" / f"{NAME}.yaml"
    row = next(
        row for row in read_csv(top / "results" / NAME / "sweep" / "designs.csv") if row["id"] == best["id"]
    )
    assert run(NAME, str(best["id"])) == 0
    assert check.main([str(source)]) == 0
    arm = read_arm(source)
    section = arm.geometry.section
    for name in SWEPT:
        if f"{name}_mm" in row:
            size = arm.geometry.pivot.outside if name == "hub" else getattr(section, name)
            assert size == pytest.approx(float(row[f"{name}_mm"]), rel=1e-6)  # seven digits in the file
    hand = evaluate(arm, read_material(arm.material, arm.library))
    assert float(hand.mass[0]) == pytest.approx(float(row["mass_kg"]), rel=1e-5)  # six digits in the table
    assert float(hand.margin[0]) == pytest.approx(float(row["min_margin"]), rel=1e-5)
    assert str(hand.governing[0]) == row["governing"]
    assert arm.revision == "B" and arm.route == "welded" and str(arm.drawing.issued) == "2026-02-01"


@pytest.mark.parametrize("route", ["deposited", "welded"])
def test_a_routes_best_comes_with_material_and_factors(top: Path, run: Adopt, route: str) -> None:
    """The deposited one counts 0.9 of its strength across the layers: factors of 2 and 1.2 become 2/0.9 and 1.2/0.9."""
    place = top / "results" / NAME / "making" / route
    best = read_csv(place / "best.csv")[0]
    assert run(NAME, route) == 0
    arm = read_arm(top / "arms" / f"{NAME}.yaml")
    assert (arm.route, arm.material) == (route, best["material"])
    hand = evaluate(arm, read_material(arm.material, arm.library))
    assert float(hand.mass[0]) == pytest.approx(float(best["mass_kg"]), rel=1e-5)
    assert float(hand.margin[0]) == pytest.approx(float(best["hand_margin"]), rel=1e-5)
    row = arm.revisions[-1]
    assert (row.design, row.route) == (f"{route}-{best['id']}", route)
    if route == "deposited":
        assert arm.criteria.design_factor == pytest.approx(2 / 0.9, abs=1e-4)  # rounded up to four decimals
        assert arm.criteria.peak_factor == pytest.approx(1.2 / 0.9, abs=1e-4)
        assert arm.bores and arm.bores.surfaces[-1].finish == "as-deposited"


def test_comments_stay_and_no_other_value_changes(top: Path, run: Adopt, ids: Ids) -> None:
    """Lines that differ are those of the swept sizes, the radius of the route (8 mm), route, revision, date, and new rows."""
    assert run(NAME, ids["SECOND"]) == 0
    now = (top / "arms" / f"{NAME}.yaml").read_text()
    kept = [line for line in comments(BENCH) if line not in PLACEHOLDERS and line != "# route:"]
    told = [line for line in comments(now) if "arm in service has its former sizes and surfaces" not in line]
    assert [line for line in told if "issued/bench-lever-A.yaml only" not in line] == kept
    gone = [
        line[2:].strip() for line in difflib.ndiff(BENCH.splitlines(), now.splitlines()) if line[0] == "-"
    ]
    assert {line.partition(":")[0] for line in gone} == {
        *("revision", "# revisions", "# route", "# drawing"),
        *("depth_at_hub", "width", "flange_thickness", "web_thickness", "fillet"),
    }
    old, new = yaml.safe_load(BENCH), yaml.safe_load(now)
    for key in old:
        if key not in ("revision", "geometry"):
            assert new[key] == old[key], key


def test_the_former_file_is_kept_byte_for_byte(top: Path, run: Adopt, ids: Ids) -> None:
    source = top / "arms" / f"{NAME}.yaml"
    before = source.read_bytes()
    assert run(NAME, ids["SECOND"]) == 0
    assert (top / "arms" / "issued" / f"{NAME}-A.yaml").read_bytes() == before
    assert sorted(path.name for path in (top / "arms").iterdir()) == [
        f"{NAME}.yaml",
        "issued",
    ]  # nothing left over
    assert sorted(path.name for path in (top / "arms" / "issued").iterdir()) == [f"{NAME}-A.yaml"]


def test_the_row_of_the_revision_table_has_reason_and_old_figures(top: Path, run: Adopt, ids: Ids) -> None:
    old = read_json(top / "results" / NAME / "as-written" / "summary.json")
    assert run(NAME, ids["FIRST"], "--by", "J. Invented", "--reason", 'Hub: "12 %" lighter # see 4') == 0
    row = read_arm(top / "arms" / f"{NAME}.yaml").revisions[0]
    assert (row.revision, row.date, row.by) == ("B", datetime.date(2026, 2, 1), "J. Invented")
    assert row.reason == 'Hub: "12 %" lighter # see 4' and row.confirmed
    assert row.before is not None
    assert row.before.mass == pytest.approx(old["mass_kg"], rel=1e-5)
    assert row.before.hand_margin == pytest.approx(old["hand_margin"], rel=1e-5)
    assert row.before.mesh_margin == MESH
    by_mesh = old["mesh_margin"] < old["hand_margin"]
    least = f"{old['mesh_governing']} (mesh)" if by_mesh else f"{old['governing']} (hand)"
    assert row.before.governing == least


def test_the_steel_of_the_arm_in_service_stays_known(
    top: Path, run: Adopt, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before: the file's own steel was that of the cracked arm. After: it is the new one's, so the old one has to be said."""
    before = read_arm(top / "arms" / f"{NAME}.yaml")
    assert run(NAME, "deposited") == 0
    arm = read_arm(top / "arms" / f"{NAME}.yaml")
    assert before.cracks and arm.cracks and arm.cracks.old_arm
    assert arm.material != before.material == arm.cracks.old_arm.material
    assert arm.cracks.old_arm.toughness == before.cracks.toughness
    assert arm.cracks.old_arm.residual_stress == before.cracks.residual_stress
    assert arm.found_cracks == before.found_cracks
    text = (top / "arms" / f"{NAME}.yaml").read_text()
    assert (
        "  # and its life holds for the file issued/bench-lever-A.yaml only.\n  old_arm: {material: a572-50"
        in text
    )
    assert "has its former sizes and surfaces" in capsys.readouterr().out


def test_two_revisions_one_after_the_other(top: Path, run: Adopt, ids: Ids, tmp_path: Path) -> None:
    """B from A, its results made anew, C from B: both rows and both files stand, the remark once."""
    assert run(NAME, ids["SECOND"]) == 0
    text = (top / "arms" / f"{NAME}.yaml").read_text()
    later = world(tmp_path / "later", text)
    (later / "arms" / "issued").mkdir()
    for path in (top / "arms" / "issued").iterdir():
        (later / "arms" / "issued" / path.name).write_bytes(path.read_bytes())
    given = [NAME, "deposited", "--reason", "Second", "--date", "2026-03-01"]
    assert main(given, later / "arms", later / "results") == 0
    arm = read_arm(later / "arms" / f"{NAME}.yaml")
    assert [row.revision for row in arm.revisions] == ["B", "C"] == ["B", arm.revision]
    assert (later / "arms" / "issued" / f"{NAME}-B.yaml").read_text() == text
    now = (later / "arms" / f"{NAME}.yaml").read_text()
    assert now.count("has its former sizes and surfaces") == 1 and "issued/bench-lever-A.yaml" in now
    assert arm.criteria.design_factor == pytest.approx(2 / 0.9, abs=1e-4)  # welded took nothing


def test_a_file_in_braces_keeps_its_layout(tmp_path: Path) -> None:
    """The example of params/README.md, groups in braces over several lines, with a row of its own in the revision table."""
    example = re.search(
        r"```yaml\n(# params/arms/short-lever.yaml.*?)```", (ARMS.parent / "README.md").read_text(), re.DOTALL
    )
    assert example
    text = example[1].replace("short-lever", NAME).replace("[welded]", "[deposited, welded]")
    text = re.sub(r"cycles_per_year: \d+", "cycles_per_year: 50", text)  # so that some design lasts
    place = world(tmp_path / "braces", text, ["deposited"])
    assert main([NAME, "deposited", "--reason", "x", *DATE], place / "arms", place / "results") == 0
    now = (place / "arms" / f"{NAME}.yaml").read_text()
    arm = read_arm(place / "arms" / f"{NAME}.yaml")
    one = arm.geometry.section
    assert (
        f"width: {one.width:g} mm, flange_thickness: {one.flange_thickness:g} mm,\n    web_thickness: " in now
    )
    assert (one.width, one.flange_thickness, one.fillet) != (36.0, 9.0, 0.0)
    assert (
        "peak_factor: 1.3334, pin_code: bth1, pin_factor: 1.1112, least_margin: 0.05}  # the last: of a new"
        in now
    )
    assert 'owner: Invented owner, issued: "2026-02-01"}  # optional' in now
    for line in text.splitlines():
        _, mark, remark = line.partition("  # ")
        assert not mark or f"# {remark}" in now, line
    assert [row.revision for row in arm.revisions] == [
        "A",
        "B",
    ] and "has its former sizes and surfaces" in now


def test_windows_line_ends_stay(top: Path, tmp_path: Path) -> None:
    other = world(tmp_path / "other", BENCH.replace("\n", "\r\n"))
    given = [NAME, "deposited", "--reason", "x", *DATE]
    assert main(given, other / "arms", other / "results") == 0
    content = (other / "arms" / f"{NAME}.yaml").read_bytes()
    assert content.count(b"\r\n") == content.count(b"\n") > 400


def test_a_design_that_was_never_meshed_only_on_demand(
    top: Path, run: Adopt, ids: Ids, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(NAME, ids["BY-HAND"]) == 1
    assert f"was never meshed, meshed are {ids['MESHED']}; --not-confirmed" in capsys.readouterr().err
    assert run(NAME, ids["BY-HAND"], "--not-confirmed") == 0
    assert "not meshed yet" in capsys.readouterr().out
    assert read_arm(top / "arms" / f"{NAME}.yaml").revisions[0].confirmed is False
