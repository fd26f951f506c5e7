"""The designs of a sweep and the choice among them."""

from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from analysis.mechanics.sizes import SWEPT
from analysis.sweep.design_file import main, written
from analysis.sweep.front import non_dominated, worth_a_mesh
from analysis.sweep.grid import designs, spans
from params.files.read import read_arm
from params.files.yamlfile import read_yaml
from params.schema.arm import Span

BENCH = "params/arms/bench-lever.yaml"


def with_spans(arm, grid_limit=200_000, **ranges):
    fields = dict.fromkeys(SWEPT) | {
        name: Span(least=f"{a} mm", most=f"{b} mm", steps=n) for name, (a, b, n) in ranges.items()
    }
    return arm.model_copy(update={"sweep": arm.sweep.model_copy(update=fields | {"grid_limit": grid_limit})})


@pytest.fixture
def arm():
    return read_arm(BENCH)


def test_grid_holds_every_combination_once(arm):
    sizes = designs(with_spans(arm, width=(40.0, 60.0, 3), flange_thickness=(8.0, 12.0, 5)))
    pairs = set(zip(sizes["width"], sizes["flange_thickness"], strict=True))
    assert pairs == {(w, t) for w in (40.0, 50.0, 60.0) for t in (8.0, 9.0, 10.0, 11.0, 12.0)}


def test_hypercube_has_one_design_in_each_of_its_strata(arm):
    swept = with_spans(arm, grid_limit=50, width=(40.0, 90.0, 100), flange_thickness=(8.0, 58.0, 100))
    sizes = designs(swept)
    for name, low in (("width", 40.0), ("flange_thickness", 8.0)):
        assert len(sizes[name]) == 50
        # Strata are 1 mm wide here and sizes are rounded to 0.1 mm, so a size may sit on the edge of its stratum.
        assert np.all(np.abs(np.sort(sizes[name]) - (low + np.arange(50) + 0.5)) <= 0.5 + 0.051)
    again = designs(swept)
    assert all(np.array_equal(sizes[name], again[name]) for name in sizes)


@given(arrays(float, (30, 2), elements=st.integers(0, 8).map(float)))
def test_front_is_what_pairwise_comparison_gives(points):
    mass, margin = points[:, 0], points[:, 1]
    front = non_dominated(mass, margin)
    for i in range(len(mass)):
        beaten = np.any((mass <= mass[i]) & (margin >= margin[i]) & ((mass < mass[i]) | (margin > margin[i])))
        same = [j for j in front if mass[j] == mass[i] and margin[j] == margin[i]]
        assert len(same) == (0 if beaten else 1)
    assert np.all(np.diff(mass[front]) > 0.0) and np.all(np.diff(margin[front]) > 0.0)


def test_designs_for_the_mesh_start_at_the_lightest_and_stay_in_the_front():
    margin = np.sort(np.random.default_rng(3).uniform(0.0, 2.0, 40))
    chosen = worth_a_mesh(margin, 6)
    assert chosen[0] == 0 and len(chosen) <= 6 and np.all(np.diff(chosen) > 0)
    assert list(worth_a_mesh(np.array([0.3]), 6)) == [0]


def test_design_file_changes_only_the_swept_sizes(arm, tmp_path):
    text = Path(BENCH).read_text()
    sizes = {name: 1.05 * getattr(arm.geometry.section, name) for name in spans(arm) if name != "hub"}
    target = tmp_path / "arm.yaml"
    target.write_text(written(sizes, text, arm))
    design = read_arm(target)
    for name, size in sizes.items():
        assert getattr(design.geometry.section, name) == pytest.approx(
            size, rel=1e-6
        )  # seven digits are written
    same = design.model_copy(update={"geometry": arm.geometry, "route": None})
    assert same == arm
    assert (design.route, design.geometry.section.fillet) == (
        "welded",
        8.0,
    )  # its inside radius of the route file
    left = target.read_text().splitlines()
    left.remove("route: welded  # of the design's material")
    changed = [a for a, b in zip(text.splitlines(), left, strict=True) if a != b]
    assert len(changed) == len(sizes) + 1


@pytest.mark.parametrize("laid_out", ["section on one line", "four spaces a level"])
def test_design_of_a_file_that_is_laid_out_otherwise(arm, tmp_path, laid_out):
    """All that YAML allows and the check takes; the sizes have no lines of their own, or stand deeper."""
    data = read_yaml(Path(BENCH)).data
    flow = None if laid_out == "section on one line" else False
    text = yaml.safe_dump(data, default_flow_style=flow, indent=2 if flow is None else 4, sort_keys=False)
    sizes = {name: 1.05 * getattr(arm.geometry.section, name) for name in spans(arm) if name != "hub"}
    target = tmp_path / "arm.yaml"
    target.write_text(written(sizes, text, arm))
    design = read_arm(target)
    for name, size in sizes.items():
        assert getattr(design.geometry.section, name) == pytest.approx(size, rel=1e-6)
    assert design.model_copy(update={"geometry": arm.geometry, "route": None}) == arm


def design_written(folder, lines, **sizes):
    """A folder of results with this parameter file and one chosen design; what its own file became."""
    for place in ("as-written", "sweep"):
        (folder / place).mkdir()
    (folder / "as-written" / "arm.yaml").write_text("\n".join(lines) + "\n")
    heads, values = (",".join(map(str, row)) for row in (sizes, sizes.values()))
    (folder / "sweep" / "chosen.csv").write_text(f"id,{heads}\nd000001,{values}\n")
    main(folder, "d000001")
    return folder / "designs" / "d000001" / "arm.yaml"


@pytest.mark.parametrize("laid_out", ["as it stands", "list at the margin, a comment in it", "flow"])
def test_design_of_a_smaller_hub_leaves_out_what_was_found_on_the_old_arm(tmp_path, laid_out):
    """The demo arm's crack of 80 mm is beyond its solution on a hub of 560 mm; the new arm does not have it."""
    lines = Path("params/arms/linkspan-rocker.yaml").read_text().splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("# Cracks found"))
    end = next(i for i, line in enumerate(lines) if line.startswith("# What cracks need"))
    if laid_out == "list at the margin, a comment in it":
        entry = next(i for i in range(start, end) if lines[i].startswith("  - "))
        lines[entry : entry + 1] = ["# looked for again in spring", lines[entry].removeprefix("  ")]
        end += 1
    elif laid_out == "flow":
        data = read_yaml(Path("params/arms/linkspan-rocker.yaml")).data
        lines = yaml.safe_dump(data, default_flow_style=True, sort_keys=False).splitlines()
    sizes = {"depth_at_hub_mm": 540, "depth_at_pins_mm": 320, "width_mm": 250, "flange_thickness_mm": 50}
    target = design_written(tmp_path, lines, **sizes, web_thickness_mm=26, hub_mm=560)
    design = read_arm(target)
    assert design.found_cracks == () and design.cracks is not None
    assert design.geometry.pivot.outside == 560.0 and design.geometry.section.web_thickness == 26.0
    if laid_out != "flow":
        rest, left = lines[:start] + lines[end:], target.read_text().splitlines()
        left.remove("route: deposited  # of the design's material")
        left.remove("  pin_factor: 1.1112  # by the route deposited")
        changed = [new for old, new in zip(rest, left, strict=True) if old != new]
        assert sum(line.endswith("# from the sweep") for line in changed) == 6
        assert sum(line.endswith("# by the route deposited") for line in changed) == 2 and len(changed) == 8


def test_a_design_has_the_factors_of_its_route_and_of_its_load_cases(tmp_path):
    """The deposited route takes 0.9 of the strength: N_d 3 becomes 3.3334 (rounded up), a stall's own 2 becomes 2.2223; a further
    design made of the design's own file has them once, not twice."""
    text = Path("params/arms/linkspan-rocker.yaml").read_text()
    text = text.replace("jam-extend: {kind: blocked,", "jam-extend: {kind: blocked, design_factor: 2,")
    first, second, third = (tmp_path / str(count) / "arm.yaml" for count in (1, 2, 3))
    for place in (first, second, third):
        place.parent.mkdir()
    first.write_text(text)
    second.write_text(written({}, text, read_arm(first)))
    design = read_arm(second)
    assert design.route == "deposited"
    assert (design.criteria.design_factor, design.load_cases["jam-extend"].design_factor) == (3.3334, 2.2223)
    assert design.criteria.peak_factor == 1.6667  # 1.5 / 0.9
    third.write_text(written({}, second.read_text(), design))
    assert read_arm(third) == design
