"""What the part is made from: plates, pattern and near-net solid against the finished part."""

import io
import os
import subprocess
import sys

import ezdxf
import numpy as np
import pytest

from analysis.package.plates import cutting_list, entries
from geometry.blanks import blanks
from geometry.outline import SolidRefused
from geometry.pattern import pattern
from geometry.plates import plates
from geometry.solid import solid
from params.files.read import HERE
from params.files.readroute import read_route
from tests.arms import changed, demo

BENCH = "bench-lever"


def route(name):
    return read_route(HERE / "routes" / f"{name}.yaml")


@pytest.mark.parametrize("name", [BENCH, "sluice-crank"])
def test_plates_without_stock_weigh_what_the_part_weighs(name):
    """They differ by the blends, fillets and chamfers, and by the ends of flanges beside hub and bosses: some per cent."""
    arm = demo(name)
    total = sum(p["count"] * p["thickness_mm"] * p["area_mm2"] for p in plates(arm, 0.0))
    assert total == pytest.approx(solid(arm).Volume(), rel=0.05)


def test_web_and_flange_of_a_straight_bar_in_closed_form():
    """Without taper, arms in line: the flange runs from hub circle to boss circle at its own height, the web between."""
    arm = changed(
        demo(BENCH),
        geometry__included_angle=np.pi,
        geometry__section__depth_at_pins=40.0,
        geometry__section__depth_at_hub=40.0,
    )
    result = {plate["name"]: plate for plate in plates(arm, 0.0)}
    hub, boss, length, section = 45.0, 22.0, 200.0, arm.geometry.section
    y = np.linspace(-20.0, 20.0, 20001)
    run = length - np.sqrt(hub**2 - y**2) - np.sqrt(boss**2 - y**2)
    inner = np.abs(y) <= 20.0 - section.flange_thickness
    web = np.trapezoid(run[inner], y[inner])
    assert result["output-web"]["area_mm2"] == pytest.approx(web, rel=1e-4)  # steps of 2 um at the ends
    strip = (np.trapezoid(run, y) - web) / 2.0
    assert result["output-flange"]["area_mm2"] == pytest.approx(
        strip / section.flange_thickness * section.width, rel=1e-3
    )
    assert result["output-flange"]["note"] == ""


def test_outlines_are_closed_clean_and_at_full_size():
    result = plates(demo(BENCH), 6.0)
    files = entries(result, 7.85e-6)
    assert len(files) == len(result) + 1
    for plate in result:
        data, _ = files[f"plates/{plate['name']}.dxf"]
        read = ezdxf.read(io.StringIO(data.decode()))
        assert not read.audit().errors
        ends = []
        for entity in read.modelspace():
            if entity.dxftype() == "LWPOLYLINE":
                points = [tuple(np.round(p[:2], 2)) for p in entity.get_points()]
                ends += [points[0], points[-1]]
            elif entity.dxftype() == "ARC":
                ends += [tuple(np.round((p.x, p.y), 2)) for p in (entity.start_point, entity.end_point)]
        near = np.array(ends).reshape(-1, 2)
        for point in near:  # every end meets one other end
            assert np.sum(np.hypot(*(near - point).T) < 0.05) == 2
    hub = ezdxf.read(io.StringIO(files["plates/hub.dxf"][0].decode()))
    assert sorted(circle.dxf.radius for circle in hub.modelspace().query("CIRCLE")) == [
        14.0,
        45.0,
    ]  # 40/2 - 6; 90/2


def test_cutting_list_weighs_by_density():
    rows = cutting_list(plates(demo(BENCH), 0.0), 7.85e-6).decode().splitlines()
    hub = next(row.split(",") for row in rows if row.startswith("hub,"))
    weight = np.pi / 4.0 * (90.0**2 - 40.0**2) * 50.0 * 7.85e-6
    assert float(hub[4]) == pytest.approx(weight, rel=1e-5)  # six digits are printed


def test_pattern_holds_the_part_with_its_stock_at_every_face():
    arm, cast = demo(BENCH), route("cast")
    result = pattern(arm, cast)
    cold = result.scale(1.0 / (1.0 + cast.stock.shrinkage_percent / 100.0))
    part = solid(arm)
    assert result.isValid()
    assert part.cut(cold).Volume() == pytest.approx(0.0, abs=1e-6 * part.Volume())
    box, own = cold.BoundingBox(), arm.geometry.pivot
    assert box.zmax == pytest.approx(own.width / 2.0 + cast.stock.machining, abs=1e-4)
    foot = own.outside / 2.0 + (own.width / 2.0 + cast.stock.machining) * np.tan(cast.limits.draft)
    assert box.ymin == pytest.approx(-foot, abs=1e-3)  # the hub at the parting plane, draft in rad


def test_a_closed_box_has_no_pattern_and_the_reason_is_told(tmp_path):
    arm = changed(demo(BENCH), geometry__section__kind="box")
    with pytest.raises(SolidRefused, match="needs a core"):
        pattern(arm, route("cast"))
    assert "needs a core" in blanks(arm, route("cast"), tmp_path)["refused"]


def test_near_net_solid_holds_the_finished_one(tmp_path):
    text = blanks(demo(BENCH), route("deposited"), tmp_path)
    assert text["files"]["near-net.step"]["volume_mm3"] > solid(demo(BENCH)).Volume()
    assert (tmp_path / "near-net.step").read_text().startswith("ISO-10303-21")


def test_an_outline_has_the_same_bytes_in_every_process():
    """Sets of words are in another order in each process; two seeds of that order."""
    text = (
        "import hashlib; from analysis.package.plates import outline;"
        " edges = [{'centre': [0, 0], 'radius': 5.0, 'from': 0.0, 'to': 360.0}];"
        " print(hashlib.sha256(outline({'edges': edges})).hexdigest())"
    )
    result = {
        subprocess.run(
            [sys.executable, "-c", text],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3", "4")
    }
    assert len(result) == 1
