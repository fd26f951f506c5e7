"""summary.json of an arm that was never meshed, for tests of what reads it; every figure is invented."""

from __future__ import annotations

from typing import Any

from analysis.contracts.elastic import MeshSize, Solver
from analysis.contracts.summary import MeshCheck, Position, Summary
from params.files.origin import Origin

EXPLAIN = "Explain: bending stress: mesh +8 % against hand (allowed 3 %), 3 load cases."
NOTE = "The solid has no blend at the input boss."
CHECK = MeshCheck(
    check="flange stress", place="output arm", load_case="raise", demand_MPa=1.0, capacity_MPa=1.3, margin=0.3
)
MESH = MeshSize(
    nodes=1,
    elements=12345,
    unknowns=67890,
    per_quarter_bore=4,
    worst_quality=0.1,
    volume_mm3=1.0,
    levels=2,
    attempts=1,
    notes=(NOTE,),
)
GIVEN: dict[str, Any] = {
    "arm": "arm",
    "revision": "A",
    "material": "a572-50",
    "caution": "",
    "mass_kg": 4.0,
    "mesh_mass_kg": 4.0,
    "sizes_mm": {},
    "governing": "bending at output arm, raise",
    "hand_margin": 0.1,
    "hand_fails": 0,
    "hand_out_of_range": 0,
    "mesh_margin": 0.314159,
    "mesh_governing": "flange stress at output arm, raise",
    "mesh_governing_case": "raise",
    "mesh_checks": (CHECK,),
    "verdict": "explain",
    "explain": (EXPLAIN,),
    "settled": True,
    "mesh": MESH,
    "solver": Solver(method="direct", iterations=0, note=""),
    "peak_error_band_percent": None,
    "energy_error_percent": 6.72,
    "cases": {"raise": Position(fraction=1.0, at="100 % of the swing")},
    "seconds": {},
    "peak_memory_MB": 1.0,
    "versions": {"numpy": "2"},
    "parameter_sha256": "0" * 64,
    "origin": Origin(arm="0" * 64, inputs={}, program="0" * 64),
}


def a_summary(**changes: Any) -> Summary:
    given = GIVEN | changes
    state = "holds" if min(given["hand_margin"], given["mesh_margin"]) >= 0.0 else "fails"
    return Summary.model_validate({"state": state} | given)
