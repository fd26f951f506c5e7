"""An arm with its pin end to end: matching meshes, the forces of the hand calculation by contact, files for the next step."""

from __future__ import annotations

import json

import meshio
import numpy as np
import pytest
from scipy.spatial import KDTree

from analysis.contact import __main__ as contact
from analysis.elastic.mesh import Mesh
from analysis.elastic.recovery import nodal_volumes
from analysis.hand.__main__ import main as hand
from analysis.tables.files import read_csv
from geometry.datums import BORES, centre
from geometry.datums import bore as bore_of
from geometry.mesher import mesh_with_pins
from geometry.meshfile import read_mesh
from geometry.pins import pin_shape
from geometry.solid import main as make_solid
from tests.arms import ARMS, demo

pytestmark = pytest.mark.slow
READ = ("contact_arc_deg", "peak_pressure_MPa", "edge_mean_MPa", "peak_middle_MPa")
FINER = (
    ("per_quarter_bore: 3", "per_quarter_bore: 4"),
    ("growth: 3", "growth: 2"),
)  # bores finer than the file has them


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("bench")
    text, source = (ARMS / "bench-lever.yaml").read_text(), place / "arm.yaml"
    for old, new in FINER:
        assert old in text
        text = text.replace(old, new)
    source.write_text(text)
    make_solid(source, place)
    hand(source, place)
    assert contact.main(place) == 0
    return place


def test_pin_and_bore_share_their_nodes_and_the_pin_has_its_parts(folder):
    arm, pins = (Mesh.of(read_mesh(folder / "bores" / f"{name}.msh")) for name in ("contact", "pins"))
    size = demo("bench-lever").geometry.pivot
    bore, seat = arm.points[arm.nodes("pivot_bore")], pins.points[pins.nodes("pivot_seat")]
    assert sorted(map(tuple, bore)) == sorted(map(tuple, seat))
    near = size.width / 2.0 + size.pin.gap
    for side, sign in (("low", -1.0), ("high", 1.0)):
        z = sign * pins.points[pins.nodes(f"pivot_{side}_plate"), 2]
        assert (z.min(), z.max()) == pytest.approx((near, near + size.pin.side_plate))
    away = pins.points[:, :2] - centre(demo("bench-lever"), "pivot")
    assert np.hypot(*away.T).max() == pytest.approx(size.bore / 2.0, rel=1e-6)


def test_hollow_pins_in_every_bore(folder):
    """Their volume is that of the tubes: the mesh's curved elements miss it by less than 0.1 %."""
    arm = demo("bench-lever")
    shapes = {name: pin_shape(arm, name, 0.4 * bore_of(arm, name).bore) for name in BORES}
    files = folder / "hollow-arm.msh", folder / "hollow.msh"
    mesh_with_pins(folder / "arm.brep", folder / "faces.json", arm.mesh, shapes, files, 4)
    tubes = sum(
        np.pi * (shape.radius**2 - shape.inside**2) * 2.0 * shape.plate[1] for shape in shapes.values()
    )
    assert nodal_volumes(Mesh.of(read_mesh(files[1]))).sum() == pytest.approx(tubes, rel=1e-3)


def test_every_case_settles_without_pull_and_with_the_pin_s_force(folder):
    rows = read_csv(folder / "bores" / "contact.csv")
    assert len(rows) == 2 * (len(demo("bench-lever").load_cases) + 1)
    for row in rows:
        pairs = {name: (float(row[name]), float(row[f"coarser_{name}"])) for name in READ}
        off = [name for name, (now, before) in pairs.items() if abs(now - before) > 0.1 * abs(now)]
        assert row["status"] == (f"not settled: {', '.join(off)}" if off else "ok")
        assert float(row["least_pressure_MPa"]) >= 0.0
        assert float(row["overlap_share"]) <= 0.01
        assert float(row["force_balance"]) < 1e-6
    loose = {row["load_case"]: row for row in rows if row["fits"] == "fit"}
    tight = {row["load_case"]: row for row in rows if row["fits"] == "compare"}
    assert float(loose["fitted"]["lift_off_share"]) == 1.0
    assert float(tight["fitted"]["contact_arc_deg"]) == 360.0
    assert all(float(loose[case]["contact_arc_deg"]) < 180.0 for case in loose)


@pytest.fixture(scope="module")
def bore(folder):
    """Mid-edge nodes of the pivot bore: numbers, outward normals (k, 2), a third of the flat faces next to each (k,)."""
    arrays = read_mesh(folder / "bores" / "contact.msh")
    faces = arrays.surfaces["pivot_bore"]
    a, b, c = (arrays.points[faces[:, k]] for k in range(3))
    area = np.zeros(len(arrays.points))
    np.add.at(
        area, faces[:, 3:], 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)[:, None].repeat(3, 1) / 3.0
    )
    nodes = np.flatnonzero(area)
    away = arrays.points[nodes, :2] - centre(demo("bench-lever"), "pivot")
    return arrays, nodes, away / np.linalg.norm(away, axis=1, keepdims=True), area[nodes]


@pytest.mark.parametrize("kind", ["fit", "compare"])
def test_pressure_carries_the_force_by_hand(folder, bore, kind):
    arrays, nodes, normal, area = bore
    rows = [row for row in read_csv(folder / "bores" / "contact-field.csv") if row["fits"] == kind]
    table = np.array([[float(row[name]) for name in ("angle_deg", "z_mm", "pressure_MPa")] for row in rows])
    own = np.column_stack([np.rad2deg(np.arctan2(normal[:, 1], normal[:, 0])), arrays.points[nodes, 2]])
    distance, at = KDTree(table[:, :2]).query(own)
    assert distance.max() < 2e-3  # six digits of the table
    force = (table[at, 2] * area) @ normal
    wanted = json.loads((folder / "loads.json").read_text())["cases"][rows[0]["load_case"]]["bores"]
    wanted = np.array(wanted["pivot_bore"]["force"][:2])
    # chords of four elements a quarter are 0.6 % short; the mesh's own weight is put on the pivot
    assert force == pytest.approx(wanted, abs=0.01 * np.hypot(*wanted))


def test_stress_at_the_bore_is_the_contact_pressure(folder, bore):
    """Fields for the next step: the arm's nodes, every case and the fit alone; their traction on the bore adds up to the force."""
    arrays, nodes, normal, area = bore
    cases = json.loads((folder / "loads.json").read_text())["cases"]
    for kind in ("fit", "compare"):
        field = meshio.read(folder / "bores" / f"stress-{kind}.vtu")
        assert field.points == pytest.approx(arrays.points, abs=1e-9)
        for case in (*cases, "fitted"):
            assert field.point_data[f"displacement:{case}"].shape == (len(arrays.points), 3)
            assert field.point_data[f"stress:{case}"].shape == (len(arrays.points), 6)
    field = meshio.read(folder / "bores" / "stress-fit.vtu")
    least = json.loads((folder / "loads.json").read_text())["least"]
    assert (
        set(least) == {"raise", "jam-extend", "unloaded"}
        and "displacement:raise at its least" not in field.point_data
    )
    every = {f"stress:{case}": load for case, load in cases.items()}
    every |= {f"stress:{case} at its least": load for case, load in least.items()}
    for name, load in every.items():
        xx, yy, _, xy, _, _ = field.point_data[name][nodes].astype(float).T
        pull = np.stack([xx * normal[:, 0] + xy * normal[:, 1], xy * normal[:, 0] + yy * normal[:, 1]])
        wanted = np.array(load["bores"]["pivot_bore"]["force"][:2])
        # Nodes on the rim carry a fifth of the force and share their stress with the free chamfer: on so coarse a mesh
        # up to 8 % of the whole is missing there (measured 6 to 7 %); what holds inside is the next test.
        assert -(pull * area).sum(axis=1) == pytest.approx(wanted, abs=0.08 * np.hypot(*wanted))


def test_stress_short_of_the_rim_carries_the_pressure_there(folder, bore):
    """Equilibrium at the surface: stress times normal against pressure, both summed over the bore between its rims."""
    arrays, nodes, normal, area = bore
    rows = [row for row in read_csv(folder / "bores" / "contact-field.csv") if row["fits"] == "fit"]
    told = np.array([[float(row[name]) for name in ("angle_deg", "z_mm", "pressure_MPa")] for row in rows])
    own = np.column_stack([np.rad2deg(np.arctan2(normal[:, 1], normal[:, 0])), arrays.points[nodes, 2]])
    at = KDTree(told[:, :2]).query(own)[1]
    field = meshio.read(folder / "bores" / "stress-fit.vtu")
    xx, yy, _, xy, _, _ = field.point_data[f"stress:{rows[0]['load_case']}"][nodes].astype(float).T
    pull = np.stack([xx * normal[:, 0] + xy * normal[:, 1], xy * normal[:, 0] + yy * normal[:, 1]])
    inside = np.abs(own[:, 1]) < np.abs(own[:, 1]).max() - 1e-3
    pressed = ((told[at, 2] * area)[:, None] * normal)[inside].sum(axis=0)
    # Single precision of the field and six digits of the table.
    assert -(pull * area)[:, inside].sum(axis=1) == pytest.approx(pressed, abs=2e-4 * np.hypot(*pressed))
