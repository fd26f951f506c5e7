"""What the page gets beyond the tables: packing, outsides of meshes, linkage, thinned sweep, forms of numbers."""

import base64
import struct

import numpy as np
import pytest
from PIL import Image

from analysis.hand import __main__ as hand
from analysis.hand.linkage import linkage
from analysis.page.bores import answers, bores
from analysis.page.cloud import CELLS, TOP, cloud
from analysis.page.packed import counted, packed
from analysis.page.skin import as_stress, life, skin
from analysis.page.stills import small
from analysis.page.tables import laid_out, table, worst
from analysis.tables.columns import in_units
from analysis.tables.files import read_csv, write_csv
from geometry.meshfile import write_vtu
from params.files.read import read_material
from params.schema.units import outside
from tests.arms import ARMS, changed, demo
from tests.page.folder import SIDES, block, stress_of, write_stresses

LARGE = 10**9  # bytes: no thinning


def read(coded, letter):
    """The whole numbers of a packed array by the standard library: little-endian, after base64 (RFC 4648)."""
    raw = base64.b64decode(coded["data"])
    return np.array(struct.unpack(f"<{len(raw) // struct.calcsize(letter)}{letter}", raw))


def spread(coded, low=None, high=None):
    low, high = coded["low"] if low is None else low, coded["high"] if high is None else high
    return low + (high - low) * read(coded, {8: "B", 16: "H"}[coded["bits"]]) / (2 ** coded["bits"] - 1)


@pytest.mark.parametrize("bits", [8, 16])
def test_packed_numbers_come_back_within_half_a_step(bits):
    values = np.random.default_rng(3).normal(size=(40, 3)) * 1e3
    step = (values.max() - values.min()) / (2**bits - 1)
    assert (
        np.abs(spread(packed(values, bits)) - values.ravel()).max() <= 0.5001 * step
    )  # half a step and rounding


def test_equal_numbers_pack():
    assert spread(packed([7.0, 7.0])) == pytest.approx([7.0, 7.0])


@pytest.mark.parametrize(("largest", "letter"), [(65_535, "H"), (65_536, "I")])
def test_counted_numbers_come_back_as_they_are(largest, letter):
    assert list(read(counted(np.array([0, 5, largest])), letter)) == [0, 5, largest]


@pytest.fixture(scope="module")
def result(tmp_path_factory):
    folder = tmp_path_factory.mktemp("skin")
    arm = demo("bench-lever")
    return folder, arm, read_material(arm.material), write_stresses(folder, list(arm.load_cases))


def corners(packed_skin):
    return np.column_stack([spread(column) for column in packed_skin["points"]])


def nearest(mesh, points):
    """Node numbers of corners; a corner that lies on no node fails."""
    away = np.linalg.norm(mesh.points[None] - points[:, None], axis=2)
    # Packing moves a coordinate by at most half of its range over 65,535.
    assert away.min(axis=1).max() < max(SIDES) / 65_535
    return away.argmin(axis=1)


@pytest.mark.parametrize("most", [LARGE, 5_000, 1_500])
def test_every_corner_of_the_outside_is_a_node_with_that_nodes_stress(result, most):
    folder, arm, material, mesh = result
    actual = skin(folder, arm, material, most)
    nodes = nearest(mesh, corners(actual))
    assert actual["whole"] == (most == LARGE)
    for number, case in enumerate(arm.load_cases):
        field = next(
            one for one in actual["fields"] if (one["name"], one["case"]) == ("equivalent stress", case)
        )
        wanted = stress_of(mesh.points, number)
        assert field["peak"] == pytest.approx(
            wanted.max(), rel=1e-6
        )  # of the whole mesh; the file holds single precision
        step = (field["high"] - field["low"]) / 65_535
        assert np.abs(spread(field) - wanted[nodes]).max() <= 0.51 * step + 1e-5 * wanted.max()


@pytest.mark.parametrize("most", [LARGE, 5_000, 1_500])
def test_the_outside_of_a_block_has_the_blocks_area(result, most):
    folder, arm, material, _ = result
    actual = skin(folder, arm, material, most)
    a, b, c = corners(actual)[read(actual["faces"], "H").reshape(-1, 3).T]
    area = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()
    x, y, z = SIDES
    assert area == pytest.approx(2.0 * (x * y + y * z + z * x), rel=1e-4)  # coordinates are packed


def test_thinning_keeps_to_its_bytes(result):
    folder, arm, material, _ = result
    actual = skin(folder, arm, material, 1_500)
    size = sum(
        len(base64.b64decode(one["data"]))
        for one in [*actual["points"], actual["faces"], *actual["fields"]]
        if "data" in one
    )
    assert size < 1.3 * 1_500  # about: decimation stops where it would break an edge


def test_utilisation_is_stress_over_yield_by_the_peak_factor(result):
    folder, arm, material, _ = result
    fields = skin(folder, changed(arm, criteria__peak_factor=2.0), material, LARGE)["fields"]
    at = next(k for k, one in enumerate(fields) if one["name"] == "utilisation")
    assert fields[at]["peak"] == pytest.approx(2.0 * fields[at - 1]["peak"] / material.yield_strength)
    shared = spread(
        fields[at - 1], fields[at]["low"], fields[at]["high"]
    )  # the numbers of the stress on another scale
    assert shared == pytest.approx(2.0 * spread(fields[at - 1]) / material.yield_strength)


def test_us_arms_get_ksi(result):
    folder, arm, material, _ = result
    si, us = (skin(folder, changed(arm, units=units), material, LARGE)["fields"][0] for units in ("si", "us"))
    # 1 ksi = 6.894757 MPa (NIST SP 811, 2008, appendix B).
    assert us["unit"] == "ksi" and us["peak"] == pytest.approx(si["peak"] / 6.894757, rel=1e-6)


def test_error_as_a_stress():
    # Uniaxial stress s in a volume V: energy norm squared s^2 V / E, the norm's own definition.
    s, volume, modulus = 40.0, 250.0, 200_000.0
    assert as_stress(
        np.array([np.sqrt(s**2 * volume / modulus)]), np.array([volume]), modulus
    ) == pytest.approx([s])


def test_lives_are_shown_by_their_logarithm_and_capped(tmp_path):
    mesh = block(1)
    years = np.linspace(-5.0, 30_000.0, len(mesh.points))
    years[7] = np.nan  # within the body
    write_vtu(tmp_path / "life.vtu", mesh, {"years:new": years, "range_MPa:new": years}, {})
    known = np.delete(np.arange(len(mesh.points)), 7)
    (field,) = life(tmp_path / "life.vtu", mesh.points[known])
    assert field["name"] == "years to a crack, new" and field["peak"] == 0.1
    step = 0.51 * 5.0 / 255.0  # half of one of 255 steps over five decades, and rounding
    assert np.abs(spread(field) - np.log10(np.clip(years[known], 0.1, 10_000.0))).max() <= step
    assert life(tmp_path / "none.vtu", mesh.points) == []


def test_lives_of_another_mesh_are_taken_from_the_nearest_node(tmp_path):
    coarse = block(1)
    years = 10.0 ** (4.0 * coarse.points[:, 0] / SIDES[0])
    write_vtu(tmp_path / "life.vtu", coarse, {"years:new": years}, {})
    points = coarse.points + np.array([0.4, -0.3, 0.2])  # nodes stand 5 mm apart or more
    (field,) = life(tmp_path / "life.vtu", points)
    assert np.abs(spread(field) - 4.0 * coarse.points[:, 0] / SIDES[0]).max() <= 0.51 * 4.0 / 255.0


@pytest.fixture(scope="module")
def swing(tmp_path_factory):
    folder = tmp_path_factory.mktemp("swing")
    hand.main(ARMS / "sluice-crank.yaml", folder)
    arm = demo("sluice-crank")
    rows = read_csv(folder / "stroke.csv")
    return arm, rows, linkage(arm, read_material(arm.material), rows)


def test_forces_of_the_drawing_balance_and_are_those_of_the_table(swing):
    arm, rows, actual = swing
    assert actual.unit == "kip"
    for case in arm.load_cases:
        some = [row for row in rows if row["load_case"] == case]
        forces = {name: np.array(force) for name, force in actual.cases[case].forces.items()}
        # Equilibrium in the plane; the file keeps nine digits of each of four forces.
        assert np.abs(sum(forces.values())).max() < 4 * 0.5e-8 * actual.largest
        for name in ("input_pin", "output_pin", "pivot"):
            size = np.hypot(*forces[name.removesuffix("_pin")].T)
            assert size == pytest.approx(
                [float(row[f"{name}_kip"]) for row in some], rel=1e-5
            )  # six digits in the table


def test_the_cylinder_pushes_along_its_line_and_is_as_long_as_the_table_says(swing):
    arm, rows, actual = swing
    anchor = np.array(actual.anchors.cylinder)
    for case in arm.load_cases:
        some = [row for row in rows if row["load_case"] == case]
        along = np.array(actual.cases[case].input) - anchor
        length = np.hypot(*along.T)
        force = np.array(actual.cases[case].forces["input"])
        signed = np.array([float(row["cylinder_force_kip"]) for row in some])
        assert np.einsum("pi,pi->p", along, force) / length == pytest.approx(signed, rel=1e-5)
        assert outside(length, "in", "length") == pytest.approx(
            [float(row["cylinder_length_in"]) for row in some], rel=1e-5
        )


def test_all_that_is_drawn_lies_within_the_extent(swing):
    _, _, actual = swing
    x0, y0, x1, y1 = actual.extent
    for case in actual.cases.values():
        pins = np.array(case.input)
        heads = pins + np.array(case.forces["input"]) * actual.longest / actual.largest
        for points in (pins, np.array(case.output), heads):
            assert (points > [x0, y0]).all() and (points < [x1, y1]).all()


def design(number, mass, margin):
    return {"id": f"d{number}", "mass_kg": str(mass), "min_margin": str(margin)}


def test_thinned_designs_leave_no_cell_empty_that_had_one():
    rng = np.random.default_rng(5)
    rows = [
        design(k, m, g)
        for k, (m, g) in enumerate(zip(rng.uniform(1, 2, 9000), rng.uniform(-1, 1.4, 9000), strict=True))
    ]
    kept = cloud(rows)
    assert len(kept) <= (CELLS[0] + 1) * (CELLS[1] + 1)
    places = np.array([(float(row["mass_kg"]), float(row["min_margin"])) for row in kept])
    cell = np.array([1.0, 2.4]) / CELLS
    for row in rows[::50]:
        away = np.abs(places - (float(row["mass_kg"]), float(row["min_margin"]))) / cell
        assert (away.max(axis=1) <= 1.0).any()


def test_designs_without_a_margin_or_far_above_are_not_drawn():
    rows = [design(1, 5.0, 0.1), {"id": "d2", "mass_kg": "5", "min_margin": ""}, design(3, 6.0, TOP + 0.1)]
    assert [row["id"] for row in cloud(rows)] == ["d1"] and cloud(rows[1:2]) == []


def test_worst_keeps_the_least_margin_of_each_place_and_sorts():
    rows = [
        {"check": check, "place": "p", "load_case": case, "margin": margin, "status": "ok"}
        for check, case, margin in (("a", "x", "0.5"), ("a", "y", "0.2"), ("b", "x", "-0.1"), ("c", "x", ""))
    ]
    actual = [(row["check"], row["load_case"]) for row in worst(rows, "check", "place")]
    assert actual == [("b", "x"), ("a", "y"), ("c", "x")]


def test_table_marks_rows_and_knows_columns_of_numbers():
    rows = [
        {"check": "a", "demand_kN": "1234.5", "status": "fails"},
        {"check": "b", "demand_kN": "", "status": "ok"},
    ]
    result = table(rows, mark="status")
    assert result.heads == [("check", False), ("demand, kN", True), ("status", False)]
    assert result.rows[0][1] == "1,234" and result.marks == ["bad", "good"]  # round half to even


LIFE = ("arm", "fits", "material", "region", "years", "margin", "status", "caution")
CRACKS = ("crack", "years", "lasts_to", "outage", "chance_at_outage", "status")
LOOKS = ("region", "arm", "material", "method", "interval_years", "status", "note")


def test_answers_of_the_bores_are_the_least_of_the_tables(tmp_path):
    lines = [
        ("old", "H7/s6", "a27", "pivot_bore", 41.25, -0.14, "fails", "c"),
        ("old", "H7/s6", "a27", "outside", 90.0, 0.5, "ok", "c"),
        ("new", "H8/d9", "er100", "outside", None, 0.28, "ok", "c"),
    ]
    write_csv(tmp_path / "life.csv", LIFE, [dict(zip(LIFE, line, strict=True)) for line in lines])
    lines = [("at-bore", 2.5, "2029-01-01", "2027-11-01", 0.9876, "ok"), ("still", None, "", "", None, "ok")]
    write_csv(tmp_path / "cracks.csv", CRACKS, [dict(zip(CRACKS, line, strict=True)) for line in lines])
    lines = [
        ("outside", "new", "er100", "ultrasonics", 12.0, "ok", ""),
        ("pivot_bore", "new", "er100", "magnetic", 7.5, "ok", ""),
        ("pivot_bore", "new", "er100", "radiography", 0.0, "ok", ""),
        ("outside", "old", "a27", "radiography", 0.0, "ok", ""),
        ("outside", "calm", "a27", "visual", None, "ok", "not governed by growth; workmanship limits apply"),
    ]
    write_csv(tmp_path / "inspection.csv", LOOKS, [dict(zip(LOOKS, line, strict=True)) for line in lines])
    assert answers(tmp_path, tmp_path / "none") == [
        "Life, old (a27; H7/s6): 41 years to a crack at pivot bore, margin \u221214 %.",
        "Life, new (er100; H8/d9): no fatigue damage under the duty at outside, margin +28 %.",
        "Found crack at-bore: lasts 2.5 years, to 2029-01-01; chance of lasting to the outage on 2027-11-01: 98.8 %.",
        "Found crack still: does not grow to failure.",
        "Inspection, new (er100): pivot bore by magnetic at least every 7.5 years.",
        "Inspection, old (a27): outside by radiography is not enough at any interval.",
        "Inspection, calm (a27): outside by visual is not governed by growth; workmanship limits apply.",
    ]
    shown = bores(tmp_path)
    message = [str(one.table) for one in shown]  # a crack's years are those that it lasts
    assert (
        "years to a crack" in message[0]
        and "lasts, years" in message[1]
        and "years to a crack" not in message[1]
    )
    assert [one.title for one in shown] == [
        "Years to a crack",
        "Found cracks",
        "Acceptable flaws and inspection",
    ]
    assert shown[0].table.marks == ["bad", "good", "good"] and "caution" not in dict(shown[0].table.heads)
    assert answers(tmp_path / "none", tmp_path / "none") == [] and bores(tmp_path / "none") == []


def test_pictures_are_the_same_bytes_twice(tmp_path):
    Image.effect_noise((1600, 900), 60.0).convert("RGB").save(tmp_path / "a.png")
    small(tmp_path / "a.png", tmp_path / "b.webp")
    small(tmp_path / "a.png", tmp_path / "c.webp")
    assert (tmp_path / "b.webp").read_bytes() == (tmp_path / "c.webp").read_bytes()
    assert Image.open(tmp_path / "b.webp").width == 1170


def test_a_wide_table_of_few_rows_is_turned_and_says_once_what_is_the_same():
    """Two rows of ten columns: each row a column under its name, units in the heads, the common cell in words, blanks left out."""
    names = [
        "route",
        "stress_unit",
        "range",
        "mean",
        "margin",
        "chance_missed",
        "a",
        "b",
        "c",
        "d",
        "e",
        "note",
    ]
    first = ["cast", "MPa", "12.5", "3", "0.25", "0.5", "1", "2", "3", "4", "", "Same."]
    second = ["welded", "MPa", "22.5", "4", "-0.5", "0.0004", "2", "3", "4", "5", "", "Same."]
    result = laid_out([dict(zip(names, row, strict=True)) for row in (first, second)])
    assert result.same == "note Same" and result.heads == [("", False), ("cast", False), ("welded", False)]
    assert result.rows[:4] == [
        ["range, MPa", "12.5", "22.5"],
        ["mean, MPa", "3", "4"],
        ["margin", "+25 %", "\u221250 %"],
        ["chance missed", "50.0 %", "under 0.1 %"],
    ]
    heads = "range, MPa|mean, MPa|margin|chance missed|a|b|c|d"
    assert [row[0] for row in result.rows] == heads.split("|")


def test_tables_of_inside_units_are_shown_in_those_of_a_us_arm():
    """1 ksi = 6.894757 MPa, 1 in = 25.4 mm, 1 lb = 0.45359237 kg (NIST SP 811, 2008, appendix B)."""
    row = {"peak_MPa": "68.94757", "gap_mm": "2.54", "mass_kg": "45.359237", "place": "hub", "empty_mm": ""}
    (shown,) = in_units([row], "us")
    assert {
        name: float(text) for name, text in shown.items() if name not in ("place", "empty_in")
    } == pytest.approx({"peak_ksi": 10.0, "gap_in": 0.1, "mass_lb": 100.0}, rel=1e-5)  # six digits
    assert shown["place"] == "hub" and shown["empty_in"] == ""
    assert in_units([row], "si") == [row]
