"""What of a design goes into the arm's file, on all demo arms: SI and US units, routes with and without factors, a bar."""

from __future__ import annotations

from pathlib import Path

import pytest

from analysis.adopt.part import agrees, changes, put_in
from analysis.making.routes.candidate import written as of_route
from analysis.making.routes.sweep import SIZES
from analysis.sweep.design_file import written as of_sweep
from analysis.sweep.grid import spans
from analysis.sweep.on_route import fitted
from params.files.read import read_arm, read_material
from params.files.readroute import read_route
from params.files.yamlfile import read_yaml
from params.schema.units import outside, shown_unit
from tests.arms import ARMS, demo

ROUTES = ["cast", "deposited", "welded"]
SMALL = ("bench-lever", "cast")  # no wall of 20 mm fits it
DEMOS = ["bench-lever", "linkspan-rocker", "sluice-crank"]


def comments(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def carried(name: str, design_text: str, folder: Path) -> str:
    """The arm's text with the design put in; it agrees with the design in all that is the part."""
    source, filed = ARMS / f"{name}.yaml", folder / "arm.yaml"
    filed.write_text(design_text)
    design, arm = read_arm(filed), read_arm(source)
    found = changes(read_yaml(source).data, read_yaml(filed).data, arm, design)
    assert found
    text = put_in(source.read_text(), found)
    filed.write_text(text)
    now = read_arm(filed)
    assert agrees(now, design) and not agrees(arm, design)
    for key in ("found_cracks", "duty", "drive", "driven", "mesh", "outage", "routes", "units", "caution"):
        assert getattr(now, key) == getattr(arm, key), key
    old = arm.cracks.old_arm if arm.cracks else None
    assert (now.cracks.old_arm if now.cracks else None) == old
    return text


@pytest.mark.parametrize("name", DEMOS)
def test_a_swept_design(name: str, tmp_path: Path) -> None:
    arm, text = demo(name), (ARMS / f"{name}.yaml").read_text()
    sizes = {one: getattr(arm.geometry.section, one) * 0.987 for one in spans(arm) if one != "hub"}
    now = carried(name, of_sweep(sizes, text, arm), tmp_path)
    assert set(comments(text)) - set(comments(now)) <= {
        "# route:",
        "# pin_factor:",
    }  # the rocker's steel is deposited


@pytest.mark.parametrize(
    ("name", "route"), [(name, route) for name in DEMOS for route in ROUTES if (name, route) != SMALL]
)
def test_a_routes_design(name: str, route: str, tmp_path: Path) -> None:
    """Sizes of the file, with the walls that the route makes; every material of the route whose toughness is known."""
    arm, way = demo(name), read_route(ARMS.parent / "routes" / f"{route}.yaml")
    source = ARMS / f"{name}.yaml"
    unit, tried = shown_unit("length", arm.units), 0
    for steel in way.materials:
        adapted = fitted(arm, way, read_material(arm.material), read_material(steel))
        section, hub = adapted.arm.geometry.section, adapted.arm.geometry.pivot.outside
        row = {"route": route, "id": "d000001", "notes": ""}
        for one in SIZES:
            size = hub if one == "hub" else getattr(section, one)
            row[f"{one}_{unit}"] = "" if size is None else f"{outside(size, unit, 'length'):.6g}"
        if adapted.arm.cracks is None:
            continue
        text = of_route(read_yaml(source).data, adapted, row, way)
        now = carried(name, text, tmp_path)
        gone = set(comments(source.read_text())) - set(comments(now))
        assert all(line.endswith(":") and line.count(" ") == 1 for line in gone), (
            gone
        )  # keys that are filled in
        tried += 1
    assert tried or all(
        fitted(arm, way, read_material(arm.material), read_material(steel)).arm.cracks is None
        for steel in way.materials
    )


def test_a_bar_leaves_its_plates_out(tmp_path: Path) -> None:
    """An i section that becomes a bar: no walls, no ranges for them, and every comment stays."""
    arm, source = demo("bench-lever"), ARMS / "bench-lever.yaml"
    way = read_route(ARMS.parent / "routes" / "welded.yaml")
    bar = way.model_copy(update={"limits": way.limits.model_copy(update={"sections": ("solid",)})})
    adapted = fitted(arm, bar, read_material(arm.material), read_material(arm.material))
    section = adapted.arm.geometry.section
    row = {"route": "welded", "id": "d000001", "notes": ""}
    row |= {f"{one}_mm": f"{getattr(section, one):g}" if getattr(section, one, None) else "" for one in SIZES}
    row["hub_mm"] = "90"
    now = carried("bench-lever", of_route(read_yaml(source).data, adapted, row, bar), tmp_path)
    assert now.count("# flange_thickness:") == 2 and now.count("# web_thickness:") == 2
    assert set(comments(source.read_text())) - set(comments(now)) <= {"# route:", "# welds:"}
