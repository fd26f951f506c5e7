"""What the index says of an arm's results: current, or stale and because of what; a stale failure is called stale."""

import json
import shutil
import zipfile

import pytest

from analysis.page import index
from params.files.origin import TO_SUMMARY
from tests.arms import ARMS
from tests.page.folder import made_from
from tests.summaries import a_summary

STEEL, AUTUMN = "materials/a572-50.yaml", "outages/late-autumn.yaml"
OTHER = "0" * 64


@pytest.fixture
def source(tmp_path):
    """The demo arm's file: of a572-50, for the outage late-autumn."""
    (tmp_path / "arms").mkdir()
    return shutil.copy(ARMS / "bench-lever.yaml", tmp_path / "arms" / "bench-lever.yaml")


@pytest.fixture
def folder(source, tmp_path):
    """Results with all that the card links, made from files and program as they are."""
    folder = tmp_path / "results" / "bench-lever"
    put(
        folder / "as-written" / "summary.json",
        a_summary(verdict="holds", origin=made_from(source, *TO_SUMMARY, material=STEEL)),
    )
    for name in ("page/origin.json", "record.json", "making/origin.json"):
        put(folder / name, made_from(source, material=STEEL, outage=AUTUMN))
    package(folder / "vendor" / "bench-lever-A.zip", made_from(source, material=STEEL, outage=AUTUMN))
    return folder


def put(path, content):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(content.model_dump_json())


def package(path, origin, **changes):
    """A package with a manifest that says from what it was made, some of it changed; nothing of it where `origin` is None."""
    path.parent.mkdir(parents=True, exist_ok=True)
    made = {"origin": origin.model_dump() | changes} if origin else {}
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("manifest.json", json.dumps(made))


def change(path, **fields):
    """One entry of what a product says of its making, set to another digest."""
    content = json.loads(path.read_text())
    made = content.get("origin", content)
    for name, value in fields.items():
        made[name] = made[name] | value if isinstance(value, dict) else value
    path.write_text(json.dumps(content))


def seen(source, folder):
    found = index.card(source, folder.parent)
    return found["status"], found["since"]


def test_all_as_it_is_now_is_current(source, folder):
    assert seen(source, folder) == ("current", [])


@pytest.mark.parametrize(
    ("fields", "since"),
    [
        ({"inputs": {STEEL: OTHER}}, STEEL),
        ({"inputs": {"materials/no-more.yaml": OTHER}}, "materials/no-more.yaml"),
        ({"program": OTHER}, "the program"),
        ({"arm": OTHER}, "the parameter file"),
    ],
)
def test_a_summary_of_another_origin_is_stale_by_name(source, folder, fields, since):
    change(folder / "as-written" / "summary.json", **fields)
    assert seen(source, folder) == ("stale", [since])


@pytest.mark.parametrize("product", ["page/origin.json", "record.json", "making/origin.json"])
@pytest.mark.parametrize(
    ("fields", "since"),
    [
        ({"arm": OTHER}, "the parameter file"),
        ({"inputs": {AUTUMN: OTHER}}, AUTUMN),
        ({"inputs": {"routes/cast.yaml": OTHER}}, "routes/cast.yaml"),
        ({"program": OTHER}, "the program"),
    ],
)
def test_a_product_older_than_the_summary_makes_the_card_stale(source, folder, product, fields, since):
    change(folder / product, **fields)
    assert seen(source, folder) == ("stale", [since])


def test_another_outage_named_since(source, folder):
    """Its file is there and unchanged; the arm's file names another one."""
    text = source.read_text()
    assert text.count("outage: late-autumn") == 1
    source.write_text(text.replace("outage: late-autumn", "outage: early-summer"))
    state, since = seen(source, folder)
    assert state == "stale"
    assert {"the parameter file", "the outage (late-autumn, the file names early-summer)"} == {
        one for one in since if "zip" not in one
    }


def test_a_package_of_another_program_is_stale_and_named(source, folder):
    path = folder / "vendor" / "bench-lever-A.zip"
    package(path, made_from(source, material=STEEL), program=OTHER)
    assert seen(source, folder) == ("stale", ["the program (since bench-lever-A.zip)"])


def test_an_earlier_revision_stays_as_issued(source, folder):
    """Its parameter file is another by right, whatever else changed."""
    path = folder / "vendor" / "bench-lever-0.zip"
    package(path, made_from(source), arm=OTHER, inputs={STEEL: OTHER}, program=OTHER)
    assert seen(source, folder) == ("current", [])


def test_a_package_that_says_nothing_of_its_making_or_is_none(source, folder):
    package(folder / "vendor" / "bench-lever-B.zip", None)
    (folder / "vendor" / "bench-lever-C.zip").write_bytes(b"no zip")
    assert seen(source, folder) == ("current", [])


def test_no_results_is_never_run(source, tmp_path):
    assert seen(source, tmp_path / "results" / "bench-lever") == ("never run", [])


def test_a_summary_of_another_form_is_stale(source, folder):
    (folder / "as-written" / "summary.json").write_text('{"verdict": "holds"}')
    assert seen(source, folder) == ("stale", ["the form of summary.json"])


def test_a_stale_failure_is_called_stale():
    assert index.status(a_summary(verdict="fails"), ["the program"]) == "stale"
    assert index.status(a_summary(verdict="fails"), []) == "fails"
    assert index.status(a_summary(verdict="explain"), []) == "current"


def test_the_lesser_margin_is_told():
    found = a_summary(hand_margin=0.3, mesh_margin=0.1, mesh_governing="peak", governing="pin bending")
    assert index.answer(found, "si")[1] == ("governing margin", "+10 % by mesh: peak")
    found = found.model_copy(update={"hand_margin": 0.04})
    assert index.answer(found, "si")[1] == ("governing margin", "+4 % by hand: pin bending")
