"""Years to a crack and acceptable flaw of a route's best design: `python -m analysis.making.lasting DIR` writes lasting.csv there.

Runs the steps of fatigue and fracture on the meshed design, as far as its file has the sections for them.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from analysis import fatigue, fracture
from analysis.life.variants import THIS
from analysis.tables import read_csv, write_csv
from params.caution import CAUTION
from params.plainly import plainly
from params.read import read_arm

COLUMNS = [
    "years_to_crack", "service_years", "life_utilisation", "life_region", "acceptable_depth", "acceptable_length", "length_unit",
    "flaw_region", "note", "caution",
]  # fmt: skip


def shortest(rows: list[dict[str, str]]) -> dict[str, Any]:
    """The place that uses most of its life; years are empty where no cycle does damage."""
    own = [row for row in rows if row["arm"] == THIS]
    worst = min(own, key=lambda row: float(row["margin"] or "inf"))
    return {
        "years_to_crack": worst["years"],
        "life_utilisation": worst["utilisation"],
        "life_region": worst["region"].replace("_", " "),
    }


def smallest(rows: list[dict[str, str]]) -> dict[str, Any]:
    """The least flaw that may be left in the design, and where."""
    own = [
        row
        for row in rows
        if row["arm"] == THIS and row["acceptable_depth"] and row.get("flaw") != "embedded"
    ]
    if not own:
        return {}
    worst = min(own, key=lambda row: float(row["acceptable_depth"]))
    return {
        "acceptable_depth": worst["acceptable_depth"],
        "acceptable_length": worst["acceptable_length"],
        "length_unit": worst["unit"],
        "flaw_region": worst["region"].replace("_", " "),
    }


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    row: dict[str, Any] = {"service_years": arm.duty.service_years, "caution": CAUTION}
    told = []
    if not (folder / "stress.vtu").exists():
        told.append("the design has no mesh")
    elif arm.bores is None:
        told.append("the file has no section bores")
    else:
        if state := fatigue.main(folder):
            return state
        row |= shortest(read_csv(folder / "bores" / "life.csv", 1))
        if arm.cracks is None:
            told.append("toughness not known")
        else:
            if state := fracture.main(folder):
                return state
            row |= smallest(read_csv(folder / "bores" / "inspection.csv"))
    write_csv(folder / "lasting.csv", COLUMNS, [row | {"note": "; ".join(told)}])
    return 0


if __name__ == "__main__":
    with plainly():
        sys.exit(main(Path(sys.argv[1])))
