"""One table at the end of a run: `python -m analysis.tables.overview results/ARM overview.txt` prints and writes it."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from rich.console import Console, Group
from rich.table import Table
from rich.text import Text

from analysis.contracts.recommended import NoneRecommended, Recommended, read_recommended
from analysis.contracts.summary import Summary, read_summary
from analysis.tables.number import percent
from params.files.origin import MARK, TO_SUMMARY, changed
from params.files.origin import lines as made_of
from params.files.read import read_arm
from params.schema.arm import Arm
from params.schema.units import show
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.guard import one_line_errors


def overview(arm: Arm, written: Summary, best: Recommended | NoneRecommended, now: list[str]) -> Group:
    """The arm as written and the recommended sizes, verdict first."""
    table = Table(title=f"{arm.name}, revision {arm.revision}", title_justify="left", title_style="bold")
    for name in ("", "mass", "governing check", "margin by hand", "margin by mesh", "verdict"):
        table.add_column(
            name, justify="right" if name in ("mass", "margin by hand", "margin by mesh") else "left"
        )
    table.add_row(
        "as written",
        show(written.mass_kg, "mass", arm.units),
        written.least_governing,
        percent(written.hand_margin, minus="-"),
        percent(written.mesh_margin, minus="-"),
        written.verdict,
    )
    told = [*written.explain, *(f"Note: {line}" for line in written.mesh.notes)]
    lines: list[Any] = [*(Text(line, style="bold") for line in told), table]
    if isinstance(best, Recommended):
        table.add_row(
            f"recommended {best.id}",
            show(best.mass_kg, "mass", arm.units),
            best.least_governing,
            percent(best.hand_margin, minus="-"),
            percent(best.mesh_margin, minus="-"),
            "holds, explain" if best.explain else "holds",
        )
        sizes = ", ".join(
            f"{name.replace('_', ' ')} {show(size, 'length', arm.units)}"
            for name, size in best.sizes_mm.items()
        )
        lines += [Text(f"Recommended sizes: {sizes}."), *taken(arm, written, best)]
        if best.explain:
            where = f"All of {best.id}: designs/{best.id}/verify.csv."
            lines.append(
                Text(
                    f"Recommended, to explain: {best.explain[0].removeprefix('Explain: ')} {where}",
                    style="bold",
                )
            )
    else:
        lines.append(Text(f"No recommendation: {best.reason}."))
    marks = ", ".join(f"{name} {digest[:MARK]}" for name, digest in made_of(written.origin))
    lines.append(Text(f"Made from (SHA-256): {marks}."))
    if now:
        lines.append(Text(f"Out of date: {', '.join(now)} changed since this run; run again.", style="bold"))
    return Group(*lines, Text(CAUTION, style="italic"))


def taken(arm: Arm, written: Summary, best: Recommended) -> list[Text]:
    """What the recommended design saves and how it is adopted, or that it is the arm as written."""
    sizes = written.sizes_mm
    same = best.sizes_mm.keys() == sizes.keys() and all(
        math.isclose(size, sizes[name], rel_tol=1e-6) for name, size in best.sizes_mm.items()
    )
    if arm.route and same:
        return [Text("They are those of the arm as written.")]
    saved = f"Weight saved {show(best.saved_kg, 'mass', arm.units)} ({best.saved_percent:.0f} %)."
    take = f'Taken as the next revision by: python -m analysis.adopt {arm.name} {best.id} --reason "..."'
    return [Text(saved), Text(take)]


def main(folder: Path, target: Path) -> None:
    source = folder / "as-written" / "arm.yaml"
    arm, written = read_arm(source), read_summary(folder / "as-written" / "summary.json")
    now = changed(written.origin, source, TO_SUMMARY, arm.library)
    table = overview(arm, written, read_recommended(folder / "sweep" / "recommended.json"), now)
    Console().print(table)
    with target.open("w") as file:
        Console(file=file, width=140).print(table)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path, target=Path))
