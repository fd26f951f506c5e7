"""What a part is made from, made again from the files of a package, and what differs told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from analysis.making.pieces import cutting
from analysis.package.extracts import route_text
from analysis.package.package import gathered
from analysis.package.plates import FOLDER, LIST, entries
from analysis.package.regenerate import PLAN, blank_findings
from analysis.package.revision import PARAMETERS
from geometry import pieces as solids
from geometry.blanks import blanks, written
from geometry.pattern import pattern
from params.files.read import HERE, read_material
from params.files.readroute import read_route, route_of
from tests.arms import ARMS, demo
from tests.making.test_split import small_cell

BENCH = "bench-lever"
ARM = (ARMS / f"{BENCH}.yaml").read_bytes()


def faults(package: dict[str, bytes]) -> list[str]:
    return [one.text for one in blank_findings(package) if not one.good]


@pytest.fixture(scope="module")
def welded(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    route = read_route(HERE / "routes" / "welded.yaml")
    made = blanks(demo(BENCH), route, tmp_path_factory.mktemp("welded"))
    flat = {name: data for name, (data, _) in entries(made["plates"], 7.85e-6).items()}
    text = route_text(HERE / "routes" / "welded.yaml")
    return {PARAMETERS: ARM, "parameters/route/welded.yaml": text} | flat


def test_plates_agree_and_each_is_told(welded: dict[str, bytes]) -> None:
    told = blank_findings(welded)
    assert all(one.good for one in told)
    assert (
        len(told) == sum(name.endswith(".dxf") for name in welded) == 7
    )  # web and flange of two arms, three rings
    assert any(
        one.text.startswith("plate hub: 62 mm, ") for one in told
    )  # 50 mm wide, 6 mm of stock on both faces


def test_changed_plates_are_told(welded: dict[str, bytes]) -> None:
    """An outline a hundredth off, a row thicker, a row gone, a plate too many: one line each."""
    hub, boss = f"{FOLDER}hub.dxf", f"{FOLDER}output-boss.dxf"
    other = welded | {
        hub: welded[hub].replace(b"45.0\n", b"45.01\n"),
        boss: b"no drawing",
        f"{FOLDER}more.dxf": b"",
    }
    lines = welded[LIST].decode().splitlines()
    thicker = [line.replace(",9,", ",9.5,") if line.startswith("input-web,") else line for line in lines]
    other[LIST] = "\n".join(line for line in thicker if not line.startswith("output-web,")).encode()
    told = faults(other)
    (unread,) = (one for one in told if one.startswith("plate output-boss: its outline cannot be read"))
    assert [one for one in told if one != unread] == [
        "plate input-web: thickness_mm 9.5 in the cutting list, 9 from the route file",
        "plate output-web: is not in the cutting list",
        "plate hub: its outline differs from that of the parameter and route files",
        f"{FOLDER}more.dxf: is not a plate of the parameter and route files",
    ]


def test_without_the_route_file_nothing_can_be_made_again(welded: dict[str, bytes]) -> None:
    (told,) = faults({name: data for name, data in welded.items() if "route" not in name})
    assert told.endswith("the package has no route file")
    assert blank_findings({PARAMETERS: ARM}) == []


def test_pattern_agrees_or_not(tmp_path: Path) -> None:
    """The pattern of the demo's cast route, and the same beside a route with another shrinkage."""
    text = (HERE / "routes" / "cast.yaml").read_text().replace("machining: 10 mm", "machining: 2 mm")
    (tmp_path / "cast.yaml").write_text(text)
    arm = demo(BENCH)
    written(pattern(arm, read_route(tmp_path / "cast.yaml")), arm, "pattern", tmp_path)
    package = {
        PARAMETERS: ARM,
        "parameters/route/cast.yaml": (kept := route_text(tmp_path / "cast.yaml")),
        "pattern/pattern.step": (tmp_path / "pattern.step").read_bytes(),
    }
    (told,) = blank_findings(package)
    assert told.good and told.text.startswith("pattern: ")
    shrunk = re.sub(rb"shrinkage_percent: 2(\.0)?\n", b"shrinkage_percent: 2.1\n", kept)
    assert shrunk != kept
    wrong = faults(package | {"parameters/route/cast.yaml": shrunk})
    assert len(wrong) == 2 and wrong[0].startswith(
        "pattern, volume: "
    )  # volume and area; the faces are as many


def test_near_net_solid_and_pieces(tmp_path: Path) -> None:
    route, place = small_cell(tmp_path), tmp_path / "making" / "deposited"
    (place / "best").mkdir(parents=True)
    (place / "best" / "arm.yaml").write_bytes(ARM)
    assert cutting.main([str(place / "best" / "arm.yaml"), str(route), str(place)]) == 0
    assert solids.main(place / "best" / "arm.yaml", route, place / "plan.json", place / "pieces") == 0
    package = {
        PARAMETERS: ARM,
        "parameters/route/deposited.yaml": route_text(route),
        PLAN: (place / "plan.json").read_bytes(),
        "near-net/near-net.step": (place / "pieces" / "near-net.step").read_bytes(),
    }
    steps = [path for path in (place / "pieces").glob("*.step") if path.name != "near-net.step"]
    package |= {f"near-net/pieces/{path.name}": path.read_bytes() for path in steps}
    told = blank_findings(package)
    assert [one.text for one in told if not one.good] == []
    assert len(told) == 1 + len(steps) and len(steps) >= 2
    first, second = sorted(name for name in package if name.startswith("near-net/pieces/") and name != PLAN)[
        :2
    ]
    other = {name: data for name, data in package.items() if name != second} | {first: package[second]}
    told_first, told_second = f"piece {Path(first).stem}", f"piece {Path(second).stem}"
    wrong = faults(other)
    assert any(one.startswith(f"{told_first}, volume: ") for one in wrong)
    assert any(one.startswith(f"{told_second}: its STEP file is missing") for one in wrong)
    assert all(one.startswith((told_first, told_second)) for one in wrong)
    (no_plan,) = faults({name: data for name, data in package.items() if name != PLAN})
    assert no_plan.endswith(f"{PLAN} is missing")


def test_the_route_of_a_best_design_is_its_own(tmp_path: Path) -> None:
    """Whatever other route lists the same material."""
    arm, steel = demo(BENCH), read_material("a572-50")
    cast = read_route(HERE / "routes" / "cast.yaml")
    assert "a572-50" not in cast.materials
    assert route_of(tmp_path / "making" / "cast" / "best" / "arm.yaml", arm, steel) == cast
    routes = [
        read_route(HERE / "routes" / f"{name}.yaml") for name in ("cast", "deposited", "welded")
    ]  # those of the arm
    first = next(route.name for route in routes if "a572-50" in route.materials)
    for place in ("as-written", "making/unknown/best"):
        assert route_of(tmp_path / place / "arm.yaml", arm, steel).name == first


def test_the_route_file_goes_into_the_package(tmp_path: Path) -> None:
    (tmp_path / "arm.yaml").write_bytes(ARM)
    (tmp_path / "blanks.json").write_text('{"files": {}, "plates": [], "refused": "", "route": "welded"}')
    found = gathered(tmp_path / "arm.yaml", tmp_path)
    assert found["parameters/route/welded.yaml"][0] == HERE / "routes" / "welded.yaml"
    assert found["parameters/material/a572-50.yaml"][0] == HERE / "materials" / "a572-50.yaml"


def test_a_run_packs_its_own_copies(tmp_path: Path) -> None:
    """Beside an arm's results its copies of material and route count, not what `params` holds by now."""
    for kind, name in (("materials", "a572-50"), ("routes", "welded")):
        (tmp_path / "inputs" / kind).mkdir(parents=True)
        text = (HERE / kind / f"{name}.yaml").read_text()
        (tmp_path / "inputs" / kind / f"{name}.yaml").write_text(f"# of this run\n{text}")
    (tmp_path / "as-written").mkdir()
    (tmp_path / "as-written" / "arm.yaml").write_bytes(ARM)
    (tmp_path / "blanks.json").write_text('{"files": {}, "plates": [], "refused": "", "route": "welded"}')
    found = gathered(tmp_path / "as-written" / "arm.yaml", tmp_path)
    packed = (found["parameters/route/welded.yaml"][0], found["parameters/material/a572-50.yaml"][0])
    assert all(path.read_text().startswith("# of this run\n") for path in packed)
