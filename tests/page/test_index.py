"""The index of arms in a real browser: every arm with its state, links that lead to files."""

import hashlib
import html
import shutil

import pytest

from analysis.page import index
from tests.arms import ARMS
from tests.page.browser import Seen
from tests.page.folder import TOP, one_arm, summary
from tests.page.hostile import hostile

pytestmark = pytest.mark.slow  # a browser is started


@pytest.fixture
def library(tmp_path):
    """Parameter files of four arms and the results of some."""
    arms, result = tmp_path / "arms", tmp_path / "results"
    arms.mkdir()
    text = (ARMS / "bench-lever.yaml").read_text()
    for name in ("holds", "breaks", "changed", "new"):
        (arms / f"{name}.yaml").write_text(
            hostile(text).replace("name: bench-lever", f"name: {name}"), encoding="utf-8"
        )
    one_arm(result / "holds" / "as-written", (arms / "holds.yaml").read_text())
    for name in ("breaks", "changed"):
        shutil.copytree(result / "holds", result / name)
    for name, verdict in (("holds", "holds"), ("breaks", "fails"), ("changed", "holds")):
        summary(
            result / name / "as-written",
            sha256(arms / f"{name}.yaml"),
            verdict=verdict,
            hand_margin=-0.25 if verdict == "fails" else 0.5,
        )
    with (arms / "changed.yaml").open("a") as file:
        file.write("# a remark\n")
    (arms / "unread.yaml").write_text("name: unread\ncolour: red\n")
    index.main(arms, result, result / "index.html")
    return result


def sha256(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_index_tells_the_state_of_every_arm(browser, library):
    one = Seen(browser, library / "index.html", scripts=False)
    states = {
        card.get_attribute("id"): card.locator(".status").inner_text()
        for card in one.page.locator(".cards > li").all()
    }
    assert states == {
        "holds": "current",
        "breaks": "fails",
        "changed": "stale",
        "new": "never run",
        "unread": "fails",
    }
    breaks = one.page.locator("#breaks dl").inner_text()
    assert "\u221225 % by hand" in breaks and "a572-50" in breaks
    assert "unread.yaml:1: caution: is missing" in one.page.locator("#unread .bad").inner_text()
    message = one.page.locator("#new").inner_text()
    for target in (
        "vendor",
        "everything",
    ):  # the package, and all of it, each by one command that the Snakefile knows
        assert f"snakemake --cores all {target} --config arm=new" in message
        assert f"\nrule {target}:\n" in (TOP / "Snakefile").read_text()
    assert html.unescape(one.page.locator("#new .long-text").inner_text()).startswith("<img src=x")
    assert one.errors == [] and one.requests == []
    one.page.context.close()


def test_links_of_the_index_lead_to_files(browser, library):
    one = Seen(browser, library / "index.html", scripts=False)
    links = [link.get_attribute("href") for link in one.page.locator("a").all()]
    assert "holds/as-written/checks.csv" in links and all((library / link).is_file() for link in links)
    one.page.context.close()


def test_index_says_stale_first_and_takes_the_lesser_margin(tmp_path):
    path = tmp_path / "a.yaml"
    path.write_text("a: 1\n")
    message = {
        "parameter_sha256": "0",
        "verdict": "fails",
        "mass_kg": 5.0,
        "hand_margin": 0.3,
        "mesh_margin": 0.1,
        "mesh_governing": "peak",
    }
    assert index.status(path, message) == "stale"
    assert index.answer(message, "si")[1] == ("governing margin", "+10 % by mesh: peak")
