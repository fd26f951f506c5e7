"""Every fit that the arm's file names, in figures: `python -m analysis.bores.table DIR` writes DIR/bores/fit.csv."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from analysis.bores.fit import Figure, figures, limits_of
from analysis.tables.columns import columns
from analysis.tables.files import write_csv
from analysis.tables.quantity import shown
from geometry.datums import bore as bore_of
from params.files.read import read_arm, read_material
from params.schema.arm import Arm
from params.schema.bores import BoreFit, Sizes
from params.schema.material import Material
from params.schema.units import System
from params.steps.arguments import arguments
from params.steps.guard import one_line_errors

OLD = "old arm"
COLUMNS = columns("bore which fit quantity least mean most unit capacity status note")


def rows(arm: Arm, material: Material, old: Material | None = None) -> Iterator[dict[str, Any]]:
    """Limits of size, then every figure, of each bore's fit and of the one named for comparison; last the old arm's, which has
    the latter where there is one, against the strength of its own material."""
    for name, wanted in arm.bores.fits.items() if arm.bores else ():
        compared = [("fit", wanted.fit, material), ("compare", wanted.compare, material)]
        if old is not None:
            compared.append((OLD, wanted.compare or wanted.fit, old))
        for which, sizes, metal in compared:
            if sizes is None:
                continue
            head = {"bore": name, "which": which, "fit": str(sizes.fit or "as measured")}
            for figure in (
                *limits(arm, name, wanted, sizes),
                *figures(wanted, sizes, bore_of(arm, name), metal),
            ):
                yield head | of(figure, arm.units)


def limits(arm: Arm, name: str, wanted: BoreFit, sizes: Sizes) -> Iterator[Figure]:
    """Smallest, mean and largest diameter of hole and shaft."""
    nominal = wanted.bush.inside if wanted.bush else bore_of(arm, name).bore
    sizes_at = limits_of(sizes, nominal)
    for part, limit in (("hole", sizes_at.hole), ("shaft", sizes_at.shaft)):
        low, high = limit.least, limit.most
        yield Figure(f"diameter of the {part}", "length", low, (low + high) / 2.0, high)


def of(figure: Figure, units: System) -> dict[str, Any]:
    """A figure as a row in the arm's units."""
    values = {name: shown(getattr(figure, name), figure.kind, units) for name in ("least", "mean", "most")}
    capacity = None if figure.capacity is None else shown(figure.capacity, figure.kind, units)[0]
    return {
        "quantity": figure.quantity,
        **{name: value for name, (value, _) in values.items()},
        "unit": values["mean"][1],
        "capacity": capacity,
        "status": figure.status,
        "note": figure.note,
    }


def main(folder: Path) -> None:
    arm = read_arm(folder / "arm.yaml")
    cracked = arm.cracks.old_arm if arm.cracks else None
    old = read_material(cracked.material, arm.library) if cracked else None
    material = read_material(arm.material, arm.library)
    write_csv(folder / "bores" / "fit.csv", COLUMNS, rows(arm, material, old))


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, folder=Path))
