"""What the page shows beyond the tables, computed once: `python -m analysis.page.data results/ARM`.

Writes page/data.json (outsides with fields, positions and forces of the linkage, the thinned sweep) and small pictures.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from analysis.contracts.linkage import LinkageFile
from analysis.contracts.summary import Summary, read_answer, read_summary
from analysis.page.cloud import cloud
from analysis.page.skin import skin
from analysis.page.stills import small
from analysis.pictures.arm import stress
from analysis.pictures.view import read_grid
from analysis.tables.files import read_csv, write_json
from params.files.read import read_arm, read_material
from params.steps.arguments import arguments
from params.steps.caution import CAUTION
from params.steps.contract import read_model
from params.steps.guard import one_line_errors

WRITTEN, DESIGNS = (
    1_300_000,
    2_200_000,
)  # bytes of the outside as written, and of those of all designs together
STILLS = ("solid", "mesh", "stress", "deformed", "convergence")
THUMB = 420  # points across of a thumbnail


def meshed(folder: Path) -> list[Path]:
    """Folders of the chosen designs that could be built."""
    rows = read_csv(folder / "sweep" / "chosen.csv")
    places = [folder / "designs" / row["id"] for row in rows]
    return [place for place in places if isinstance(read_answer(place / "summary.json"), Summary)]


def skins(folder: Path) -> dict[str, Any]:
    """Outside of the arm as written and of every design with a mesh."""
    designs = meshed(folder)
    most = {folder / "as-written": WRITTEN} | dict.fromkeys(designs, DESIGNS // max(len(designs), 1))
    arms = {place: read_arm(place / "arm.yaml") for place in most}
    return {
        place.name: skin(place, arm, read_material(arm.material, arm.library), most[place])
        for place, arm in arms.items()
    }


def pictures(folder: Path) -> None:
    """Small copies of the pictures of the arm as written, and the stress of each design with a mesh."""
    target = folder / "page"
    for name in STILLS:
        small(folder / "as-written" / "pictures" / f"{name}.png", target / f"{name}.webp")
    small(folder / "as-written" / "pictures" / "solid.png", target / "thumbnail.webp", THUMB, bare=True)
    for source in sorted((folder / "as-written" / "bores" / "pictures").glob("*.png")):
        small(source, target / f"bores-{source.stem}.webp")
    for place in meshed(folder):
        arm, summary = read_arm(place / "arm.yaml"), read_summary(place / "summary.json")
        picture = place / "pictures" / "stress.png"
        stress(read_grid(place / "stress.vtu"), arm, summary, picture)
        small(picture, target / f"{place.name}.webp")


def main(folder: Path) -> None:
    written = folder / "as-written"
    content = {
        "caution": CAUTION,
        "skins": skins(folder),
        "linkage": read_model(written / "linkage.json", LinkageFile),
        "cloud": cloud(read_csv(folder / "sweep" / "designs.csv", 1)),
    }
    write_json(folder / "page" / "data.json", content)
    pictures(folder)


if __name__ == "__main__":
    with one_line_errors():
        main(*arguments(__doc__, results=Path))
