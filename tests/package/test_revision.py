"""A further revision says what changed since the one issued before."""

import json
import shutil
import zipfile

import pytest

from analysis.drawing.words import words
from analysis.package.facts import changed
from analysis.package.revision import compared_with, last_issued, opened
from analysis.package.sheets import sections
from params.files.read import read_arm
from tests.arms import ARMS, demo
from tests.package.made import issue, said, seen


def later(text, revision, **changes):
    text = text.replace("revision: A", f"revision: {revision}")
    for before, now in changes.values():
        assert text.count(before) == 1
        text = text.replace(before, now)
    return text


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("issues")
    issue(folder / "a", folder / "issued")
    text = (ARMS / "bench-lever.yaml").read_text()
    hub = ("outside: 90 mm", "outside: 92 mm")
    same = ("included_angle: 150 deg", "included_angle: 150.0 deg")  # written otherwise, the same value
    issue(folder / "b", folder / "issued", later(text, "B", hub=hub, same=same))
    return folder


def test_the_package_says_which_fields_changed(folder):
    with zipfile.ZipFile(folder / "issued" / "bench-lever-B.zip") as file:
        changes = json.loads(file.read("manifest.json"))["changes"]
    assert changes == {
        "since": "A",
        "rows": [{"field": "geometry.pivot.outside", "before": "90 mm", "now": "92 mm"}],
    }


def test_the_first_issue_has_no_changes(folder):
    with zipfile.ZipFile(folder / "issued" / "bench-lever-A.zip") as file:
        assert json.loads(file.read("manifest.json"))["changes"] is None


def test_the_latest_of_several_counts(folder):
    arm = demo("bench-lever").model_copy(update={"revision": "C"})
    assert last_issued(folder / "issued", arm).arm.revision == "B"
    assert last_issued(folder / "issued", read_arm(folder / "b" / "arm.yaml")).arm.revision == "A"


def beside(root, place, **section):
    """A design's folder beside the arm as written, some sizes of its section changed."""
    text = (ARMS / "bench-lever.yaml").read_text()
    for name, folder in (("", root / "as-written"), (place, root / place)):
        folder.mkdir(parents=True, exist_ok=True)
        for key, (old, new) in (section if name else {}).items():
            line = f"{key}: {old}"
            assert text.count(line) == 1
            text = text.replace(line, f"{key}: {new}")
        (folder / "arm.yaml").write_text(text)
    return root / place


@pytest.mark.parametrize("place", ["designs/d000007", "making/welded/best"])
def test_a_design_says_what_differs_from_the_arm_as_written(tmp_path, place):
    source = beside(tmp_path, place, depth_at_hub=("76 mm", "61 mm"))
    arm = read_arm(source / "arm.yaml")
    row = {"field": "geometry.section.depth_at_hub", "before": "76 mm", "now": "61 mm"}
    result = changed(arm, source, tmp_path / "vendor")
    assert result == {"since": "as written", "rows": [row]}
    message = said(arm, seen("bench-lever")) | {"changes": result}
    sheet = next(one for one in sections(message) if one["title"].endswith("Changes"))
    assert sheet["rows"] == [["geometry.section.depth_at_hub", "76 mm", "61 mm"]]
    assert sheet["columns"][1:] == ["as written", "this design"] and "the arm as written" in sheet["lines"][0]


def test_the_arm_as_written_is_not_compared_with_itself(tmp_path):
    beside(tmp_path, "designs/d1")
    assert changed(demo("bench-lever"), tmp_path / "as-written", tmp_path / "vendor") is None


def test_an_issued_revision_counts_before_the_arm_as_written(folder, tmp_path):
    """Of the packages of one revision, that of the same design, then that of the arm as written."""
    for name in ("bench-lever-A", "bench-lever-A-d1", "bench-lever-A-d2"):
        shutil.copy(folder / "issued" / "bench-lever-A.zip", tmp_path / f"{name}.zip")
    arm = demo("bench-lever").model_copy(update={"revision": "B"})
    for chosen, name in (("", "bench-lever-A"), ("-d2", "bench-lever-A-d2"), ("-d3", "bench-lever-A")):
        assert last_issued(tmp_path, arm, chosen).path.stem == name
    source = beside(tmp_path, "designs/d2")
    since, old = compared_with(source, arm, tmp_path)
    assert (since, old.path.stem) == ("A", "bench-lever-A-d2")


def test_what_is_no_package_is_passed_over(tmp_path):
    (tmp_path / "x.zip").write_bytes(b"PK nothing")
    assert opened(tmp_path / "x.zip") is None
    assert last_issued(tmp_path, demo("bench-lever")) is None


def test_limits_in_inches_keep_a_ten_thousandth():
    say = words(said(demo("sluice-crank"), seen("bench-lever")))
    bore = say.sizes["input_bore"]  # 6 in H8: IT8 over 120 up to 180 mm is 63 um (ISO 286-1, Table 1)
    assert (say.deviation(bore["upper"]), say.deviation(bore["lower"])) == ("+0.0025", "0")


def test_requirement_sheet_says_limits_and_what_was_not_computed():
    message = {
        one["title"].split("  ")[1]: one for one in sections(said(demo("bench-lever"), seen("bench-lever")))
    }
    rows = message["Dimensional report"]["rows"]
    bore = next(row for row in rows if row[1] == "pivot bore, diameter")
    assert bore[2:6] == ["Ø40", "40", "40.025", "H7"]  # ISO 286-2: 40 H7 is 0 / +25 um
    assert "not computed" in message["Acceptance sizes from the fracture check"]["lines"][0]
    strength = dict(message["Material: specified minimums"]["rows"])
    assert strength["yield strength, at least"] == "345.0 MPa"  # ASTM A572 grade 50
