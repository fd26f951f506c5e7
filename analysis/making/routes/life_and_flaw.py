"""Years to a crack and acceptable flaw of a route's best design.

`python -m analysis.making.routes.life_and_flaw DIR` writes DIR/life-and-flaw.csv.

Runs the steps of fatigue and fracture on the meshed design, as far as its file has the sections for them.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from analysis.fatigue import __main__ as fatigue
from analysis.fatigue.outside import ONE_MESH
from analysis.fatigue.variants import THIS
from analysis.fracture import __main__ as fracture
from analysis.tables.files import read_csv, write_csv
from analysis.tables.names import names
from params.files.read import read_arm
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors
from params.steps.out_of_range import STATUS

COLUMNS = names(
    "years_to_crack service_years life_utilisation life_region acceptable_depth acceptable_length"
    " length_unit flaw_region note caution"
)


def shortest(rows: list[dict[str, str]]) -> dict[str, Any]:
    """The place that uses most of its life; years are empty where no cycle does damage, all where no place could be judged."""
    own = [row for row in rows if row["arm"] == THIS and margin(row)]
    if not own:
        return {}
    worst = min(own, key=lambda row: float(margin(row)))
    return {
        "years_to_crack": worst["years"] or worst.get("years_least", ""),
        "life_utilisation": worst["utilisation"],
        "life_region": worst["region"].replace("_", " "),
    }


def margin(row: dict[str, str]) -> str:
    """The margin that counts, the less favourable of its values where it has not settled."""
    return row.get("margin_least") or row["margin"]


def smallest(rows: list[dict[str, str]]) -> dict[str, Any]:
    """The least flaw that may be left in the design, and where."""
    own = [row for row in rows if row["arm"] == THIS and depth(row) and row.get("flaw") != "embedded"]
    if not own:
        return {}
    worst = min(own, key=lambda row: float(depth(row)))
    return {
        "acceptable_depth": depth(worst),
        "acceptable_length": worst["acceptable_length"] or worst.get("acceptable_length_least", ""),
        "length_unit": worst["unit"],
        "flaw_region": worst["region"].replace("_", " "),
    }


def depth(row: dict[str, str]) -> str:
    """The acceptable depth that counts, the less favourable of its values where it has not settled."""
    return row["acceptable_depth"] or row.get("acceptable_depth_least", "")


def beyond(rows: list[dict[str, str]]) -> list[str]:
    """What is out of range in the design, each region once."""
    own = {
        row["region"]: row["note"] for row in reversed(rows) if row["arm"] == THIS and row["status"] == STATUS
    }
    return [f"{region.replace('_', ' ')}: {own[region]}" for region in reversed(own)]


def main(folder: Path) -> int:
    arm = read_arm(folder / "arm.yaml")
    row: dict[str, Any] = {"service_years": arm.duty.service_years, "caution": CAUTION}
    notes = []
    if not (folder / "stress.vtu").exists():
        notes.append("the design has no mesh")
    elif arm.bores is None:
        notes.append("the parameter file has no section `bores`")
    else:
        if exit_code := fatigue.main(folder):
            return exit_code
        lives = read_csv(folder / "bores" / "life.csv", 1)
        row |= shortest(lives)
        notes += beyond(lives)
        if arm.cracks is None:
            notes.append("the toughness of the material is not known")
        else:
            if exit_code := fracture.main(folder):
                return exit_code
            looks = read_csv(folder / "bores" / "inspection.csv")
            row |= smallest(looks)
            notes += beyond(looks)
        if "acceptable_depth" in row and any(one.get("settled") == ONE_MESH for one in lives):
            notes.append("years and flaw from one mesh, no band")
    write_csv(folder / "life-and-flaw.csv", COLUMNS, [row | {"note": "; ".join(notes)}])
    return 0


if __name__ == "__main__":
    with one_line_errors():
        sys.exit(main(*arguments(__doc__, folder=Path)))
