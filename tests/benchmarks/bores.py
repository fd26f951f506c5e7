"""Do the bands of the bores' tables hold? `python -m tests.benchmarks.bores results/ARM [--folder DIR]`.

Takes an arm whose contact has been solved, solves it once more on a mesh one step finer than its file asks for, makes the tables
of lives and cracks there, and prints both columns with their differences: a figure that was printed must lie within the band that
was printed with it, one without a band within 10 % (lives, intervals), 5 % (sizes, factors) or two hundredths (chances). What is
printed as not settled comes first. Ends with 1 where a figure lies beyond.
"""

from __future__ import annotations

import argparse
import math
import re
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from analysis.contact.__main__ import on_mesh
from analysis.contact.settled import COARSER, meshes
from analysis.contact.table import in_contact
from analysis.contracts.loads import LoadsFile
from analysis.fatigue.__main__ import main as fatigue
from analysis.fracture.__main__ import main as fracture
from analysis.tables.files import read_csv
from params.files.read import read_arm, read_material
from params.steps.contract import read_of_cases

FIELDS = ("contact.msh", "stress-fit.vtu", "stress-compare.vtu")
LIVES, SIZES, CHANCE = 10.0, 5.0, 2.0  # percent, of a chance points
ROUND = 0.1  # percent by which a figure without a band may move: of figures that rest on the range of a solution alone
# Table, key, and its figures with the column of the band of each and what is allowed where it has none.
TABLES = (
    (
        "life.csv",
        ("arm", "region"),
        {"years": ("years_band_percent", LIVES), "margin": ("stress_band_percent", SIZES)},
    ),
    (
        "cracks.csv",
        ("crack", "residual"),
        {
            "years": ("years_band_percent", LIVES),
            "load_factor": ("load_factor_band_percent", SIZES),
            "Kr": ("Kr_band_percent", SIZES),
            "K_range": ("K_range_band_percent", SIZES),
            "chance_at_outage": ("chance_at_outage_band_percent", CHANCE),
        },
    ),
    (
        "inspection.csv",
        ("arm", "region", "flaw", "method"),
        {
            "acceptable_depth": ("acceptable_depth_band_percent", SIZES),
            "critical_depth": ("critical_depth_band_percent", SIZES),
            "interval_years": ("interval_years_band_percent", LIVES),
        },
    ),
)
Row = dict[str, str]


def further(source: Path, target: Path) -> Path:
    """`source` (results/ARM) made again in `target` with its contact on one mesh more; returns the new as-written."""
    folder = target / "as-written"
    shutil.copytree(source / "inputs", target / "inputs")
    shutil.copytree(source / "as-written", folder, ignore=shutil.ignore_patterns("bores", "pictures", "log"))
    coarser = folder / "bores" / "coarser"
    coarser.mkdir(parents=True)
    for name in FIELDS:
        shutil.copy(source / "as-written" / "bores" / name, coarser / name)
    arm = read_arm(folder / "arm.yaml")
    wanted = read_of_cases(folder / "loads.json", LoadsFile, arm.load_cases)
    finer = round(meshes(arm.mesh.per_quarter_bore)[1] * COARSER)
    material = read_material(arm.material, arm.library)
    if on_mesh(folder, arm, material, in_contact(arm), wanted, finer, folder / "bores") is None:
        raise SystemExit("the further mesh cannot be made or solved")
    fatigue(folder)
    if arm.cracks:
        fracture(folder)
    return folder


def compared(before: Path, after: Path) -> Iterator[tuple[str, str, float, float, float, float]]:
    """Place, figure, both values, percent of difference and percent allowed, of every figure that was printed."""
    for table, key, figures in TABLES:
        if not (before / table).exists():
            continue
        others = first(read_csv(after / table), key)
        for place, row in first(read_csv(before / table), key).items():
            for name, (band, allowed) in figures.items():
                if place not in others or not row.get(name):
                    continue
                old, new = reserve(name, row), reserve(name, others[place])
                most = max(float(row[band]), ROUND) if row.get(band) else allowed
                yield f"{table}: {', '.join(place)}", name, old, new, difference(name, old, new), most


def difference(name: str, old: float, new: float) -> float:
    """Percent from one to the other, of a chance points; none where both are without end."""
    if old == new or (math.isinf(old) and math.isinf(new)):
        return 0.0
    if name.startswith("chance"):
        return 100.0 * (new - old)
    return 100.0 * (new / old - 1.0) if old else math.inf


def left_out(before: Path) -> Iterator[str]:
    """What the tables give no figure for, as not settled."""
    for table, key, figures in TABLES:
        if (before / table).exists():
            for place, row in first(read_csv(before / table), key).items():
                for name in figures:
                    if not row.get(name) and f"{words(name)} not settled" in row.get("note", ""):
                        yield f"{table}: {', '.join(place)}: {latest(name, row)[0]}"


def first(rows: list[Row], key: tuple[str, ...]) -> dict[tuple[str, ...], Row]:
    """The first row of each key, which is the worst."""
    known: dict[tuple[str, ...], Row] = {}
    for row in rows:
        known.setdefault(tuple(row.get(name, "") for name in key), row)
    return known


def words(name: str) -> str:
    return name.replace("_", " ")


def latest(name: str, row: Row) -> tuple[str, str]:
    """What a note says of a figure that has not settled: all of it, and the finer mesh's value."""
    said = next(
        (one for one in row["note"].split("; ") if one.startswith(f"{words(name)} not settled: ")), ""
    )
    found = re.search(r", (no end|no damage|none|[-+.\de]+)", said)
    return said, found.group(1) if found else ""


def reserve(name: str, row: Row) -> float:
    """A figure as it is compared: a margin as capacity over demand, of one that has not settled its value on the finer mesh."""
    text = row[name]
    if not text:
        _, text = latest(name, row)
        share = 100.0 if name in ("margin", "chance_at_outage") else 1.0
        text = "" if text in ("no end", "no damage", "none") else text and str(float(text) / share)
    return (1.0 if name == "margin" else 0.0) + (float(text) if text else math.inf)


def main() -> int:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("results", type=Path, help="results/ARM with the tables of its bores")
    parser.add_argument(
        "--folder", type=Path, help="where the further mesh is solved; a temporary folder by default"
    )
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        made = further(asked.results, asked.folder or Path(temporary) / "further")
        beyond = 0
        for line in left_out(asked.results / "as-written" / "bores"):
            print(f"no figure: {line}")
        for place, name, old, new, off, allowed in compared(
            asked.results / "as-written" / "bores", made / "bores"
        ):
            outside = abs(off) > allowed
            beyond += outside
            print(
                f"{place:70} {name:17} {old:10.4g} {new:10.4g} {off:+8.2f} % of {allowed:5.1f}{'  BEYOND' * outside}"
            )
    print(f"{beyond} beyond their bands")
    return int(beyond > 0)


if __name__ == "__main__":
    sys.exit(main())
