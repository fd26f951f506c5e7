"""The old arm with its section reduced by the metal that is missing: reduced.yaml, for the checks of the arm as it is.

The largest loss found anywhere along both arms is taken off everywhere: from the flanges' thickness and the web's of an I, from
depth and width of a closed section. Where nothing is missing, or a size is still to be given, no file is made.
"""

from __future__ import annotations

from pathlib import Path

from analysis.survey import armfile
from analysis.survey.found import Found
from analysis.survey.writing import given
from params.files.read import read_arm
from params.steps.problems import ParameterError

NAME = "reduced.yaml"


def write(found: Found, folder: Path) -> None:
    """The file beside arm.yaml, or none."""
    path = folder / "reduced" / "arm.yaml"
    path.unlink(missing_ok=True)
    if not found.losses or not all(given(found, name) for name in found.state.order):
        return
    old, certainty = dict(found.state.sizes), found.certainty
    try:
        found.state.sizes.update(less(found))
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(armfile.text(found), encoding="utf-8", newline="\n")
        read_arm(path)
    except ParameterError as error:
        path.unlink(missing_ok=True)
        print(f"survey: the arm less its missing metal is none that can be checked: {error}")
    finally:
        found.state.sizes, found.certainty = old, certainty


def less(found: Found) -> dict[str, float]:
    """Sizes of the section after the largest losses."""
    flange, side = (max(getattr(one, part) for one in found.losses) for part in ("flange", "web"))
    sizes = found.state.sizes
    if found.state.kind == "i":
        return {
            "section.flange_thickness": max(1.0, sizes["section.flange_thickness"] - flange),
            "section.web_thickness": max(1.0, sizes["section.web_thickness"] - side),
        }
    return {
        "section.depth_at_hub": sizes["section.depth_at_hub"] - flange,
        "section.depth_at_pins": sizes["section.depth_at_pins"] - flange,
        "section.width": sizes["section.width"] - side,
    }
