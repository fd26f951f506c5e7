"""Views, facts and whole packages of demo arms, made once for all tests of a process."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from analysis.drawing.arrangement import drawn
from analysis.drawing.arrangement import main as draw
from analysis.drawing.sheet import Sheet
from analysis.package.facts import facts
from analysis.package.package import pack
from analysis.package.requirements import printed
from analysis.tables.files import plain, write_json
from geometry.blanks import main as blanks
from geometry.display import main as display
from geometry.solid import main as solid_files
from geometry.solid import solid
from geometry.views import views
from params.files.read import read_arm
from params.schema.arm import Arm
from tests.arms import ARMS, demo

NOWHERE = Path("no-such-folder")


@cache
def seen(name: str) -> dict[str, Any]:
    return views(solid(demo(name)), demo(name))


def said(arm: Arm, shown: dict[str, Any]) -> dict[str, Any]:
    return plain(facts(arm, shown, NOWHERE, NOWHERE))


def sheet(name: str, projection: str = "first", size: str = "A2") -> Sheet:
    arm = demo(name)
    drawing = arm.drawing.model_copy(update={"projection": projection, "sheet": size})
    return drawn(said(arm.model_copy(update={"drawing": drawing}), seen(name)), seen(name))


def issue(folder: Path, issued: Path, text: str | None = None) -> Path:
    """A package of the tiny arm, each step as the run does it, in a folder of its own."""
    folder.mkdir(parents=True)
    filed = folder / "arm.yaml"
    filed.write_text(text or (ARMS / "bench-lever.yaml").read_text())
    arm = read_arm(filed)
    body = views(solid(arm), arm) if text else seen("bench-lever")
    write_json(folder / "views.json", body)
    write_json(folder / "facts.json", facts(arm, body, folder, issued))
    assert draw(folder / "facts.json", folder / "views.json", folder) == 0
    assert solid_files(filed, folder) == 0
    assert blanks(filed, folder) == 0
    assert display(filed, folder / "display.3mf") == 0
    message = plain(facts(arm, body, folder, issued))
    (folder / "requirements.pdf").write_bytes(printed(message))
    target = issued / f"{arm.name}-{arm.revision}.zip"
    pack(arm, filed, folder, target)
    return target
