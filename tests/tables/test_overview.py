"""The table at the end of a run: a recommended design's own differences to explain are told, not only the written arm's."""

import pytest
from rich.console import Console

from analysis.contracts.recommended import Recommended
from analysis.tables.overview import overview
from params.files.origin import Origin
from params.files.read import read_arm
from tests.arms import ARMS
from tests.summaries import NOTE, a_summary

WRITTEN = a_summary(
    mass_kg=5.0,
    governing="pin bending at input bore, raise",
    hand_margin=0.5,
    mesh_margin=0.6,
    verdict="holds",
    explain=(),
    origin=Origin(arm="a1" * 32, inputs={"materials/a572-50.yaml": "b2" * 32}, program="c3" * 32),
)
BEST = Recommended(
    id="d000300",
    mass_kg=4.0,
    saved_kg=1.0,
    saved_percent=20.0,
    hand_margin=0.03,
    mesh_margin=0.17,
    explain=(),
    hand_governing="combined stress at output arm, raise",
    mesh_governing="",
    sizes_mm={"width": 28.0},
)


@pytest.mark.parametrize(
    "explain", [[], ["Explain: mass, arm: mesh +4 % against hand (allowed 2 %), 1 load case."]]
)
def test_recommended_design_with_differences_says_so(explain):
    console = Console(width=140)
    with console.capture() as caught:
        best = BEST.model_copy(update={"explain": tuple(explain)})
        console.print(overview(read_arm(ARMS / "bench-lever.yaml"), WRITTEN, best, []))
    printed = caught.get()
    (row,) = [line for line in printed.splitlines() if "recommended d000300" in line]
    assert ("holds, explain" in row) == bool(explain) and "holds" in row
    assert ("designs/d000300/verify.csv" in printed) == bool(explain)
    assert all(line.removeprefix("Explain: ") in printed for line in explain)
    assert "Out of date" not in printed
    assert 'python -m analysis.adopt bench-lever d000300 --reason "..."' in printed


def test_a_recommended_design_that_is_the_arm_as_written_saves_nothing():
    arm = read_arm(ARMS / "bench-lever.yaml").model_copy(update={"route": "welded"})
    written, console = WRITTEN.model_copy(update={"sizes_mm": {"width": 28.0}}), Console(width=140)
    with console.capture() as caught:
        console.print(overview(arm, written, BEST, []))
    assert "They are those of the arm as written." in caught.get()
    assert "Weight saved" not in caught.get() and "analysis.adopt" not in caught.get()


def test_where_the_solid_is_not_as_the_file_says_is_told():
    console = Console(width=140)
    with console.capture() as caught:
        console.print(overview(read_arm(ARMS / "bench-lever.yaml"), WRITTEN, BEST, []))
    assert f"Note: {NOTE}" in caught.get()


def test_it_says_from_what_it_was_made_and_what_changed_since():
    """Twelve of the 64 digits of each digest, and what is another now, in one line."""
    console = Console(width=140)
    with console.capture() as caught:
        now = ["materials/a572-50.yaml", "the program"]
        console.print(overview(read_arm(ARMS / "bench-lever.yaml"), WRITTEN, BEST, now))
    lines = caught.get().splitlines()
    assert (
        "Made from (SHA-256): parameter file a1a1a1a1a1a1, materials/a572-50.yaml b2b2b2b2b2b2, program c3c3c3c3c3c3."
        in lines
    )
    assert "Out of date: materials/a572-50.yaml, the program changed since this run; run again." in lines
