"""The table at the end of a run: a recommended design's own differences to explain are told, not only the written arm's."""

import pytest
from rich.console import Console

from analysis.tables.overview import overview
from params.files.read import read_arm
from tests.arms import ARMS

WRITTEN = {
    "mass_kg": 5.0,
    "governing": "pin bending at input bore, raise",
    "hand_margin": 0.5,
    "mesh_margin": 0.6,
    "verdict": "holds",
    "explain": [],
}
BEST = {
    "id": "d000300",
    "mass_kg": 4.0,
    "saved_kg": 1.0,
    "saved_percent": 20.0,
    "hand_margin": 0.03,
    "mesh_margin": 0.17,
    "hand_governing": "combined stress at output arm, raise",
    "sizes_mm": {"width": 28.0},
}


@pytest.mark.parametrize(
    "explain", [[], ["Explain: mass, arm: mesh +4 % against hand (allowed 2 %), 1 load case."]]
)
def test_recommended_design_with_differences_says_so(explain):
    console = Console(width=140)
    with console.capture() as caught:
        console.print(overview(read_arm(ARMS / "bench-lever.yaml"), WRITTEN, BEST | {"explain": explain}))
    printed = caught.get()
    (row,) = [line for line in printed.splitlines() if "recommended d000300" in line]
    assert ("confirmed, explain" in row) == bool(explain) and "confirmed" in row
    assert ("designs/d000300/verify.csv" in printed) == bool(explain)
    assert all(line.removeprefix("Explain: ") in printed for line in explain)
