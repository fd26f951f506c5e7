"""Every format gives back the same points; what is no scan of an arm is told in one line."""

from __future__ import annotations

import numpy as np
import pytest

from analysis.survey.reading import setups
from params.schema.survey import ScanFile
from params.steps.problems import ParameterError

POINTS = np.random.default_rng(1).uniform(-400.0, 400.0, (3000, 3))


def write(path, points, unit=1.0):
    points = points / unit
    match path.suffix:
        case ".ply":
            from plyfile import PlyData, PlyElement

            table = np.zeros(len(points), dtype=[(axis, "<f8") for axis in "xyz"])
            for k, axis in enumerate("xyz"):
                table[axis] = points[:, k]
            PlyData([PlyElement.describe(table, "vertex")]).write(str(path))
        case ".csv":
            np.savetxt(path, points, delimiter=",", header="x,y,z", comments="", fmt="%.9f")
        case ".xyz":
            np.savetxt(path, np.column_stack([points, points[:, 0]]), fmt="%.9f")
        case ".las" | ".laz":
            import laspy

            data = laspy.create(point_format=0, file_version="1.2")
            data.header.scales, data.header.offsets = [1e-5] * 3, points.min(axis=0)
            data.x, data.y, data.z = points.T
            data.write(str(path))
        case ".e57":
            import pye57

            file = pye57.E57(str(path), mode="w")
            file.write_scan_raw({f"cartesian{axis}": points[:, k].copy() for k, axis in enumerate("XYZ")})
            file.close()
        case ".obj" | ".stl":
            import trimesh

            trimesh.creation.icosphere(subdivisions=6, radius=300.0 / unit).export(str(path))


@pytest.mark.parametrize("ending", ["ply", "csv", "xyz", "las", "laz"])
def test_points_come_back_in_millimetres(tmp_path, ending):
    write(tmp_path / f"scan.{ending}", POINTS, 25.4)
    (setup,) = setups(tmp_path, ScanFile(file=f"scan.{ending}", unit="in"))
    np.testing.assert_allclose(setup.points, POINTS, atol=1e-3)


def test_e57_is_in_metres(tmp_path):
    write(tmp_path / "scan.e57", POINTS, 1000.0)
    (setup,) = setups(tmp_path, ScanFile(file="scan.e57"))
    np.testing.assert_allclose(setup.points, POINTS, atol=1e-6)


@pytest.mark.parametrize("ending", ["obj", "stl"])
def test_corners_of_a_fine_mesh_are_its_points(tmp_path, ending):
    write(tmp_path / f"scan.{ending}", POINTS)
    (setup,) = setups(tmp_path, ScanFile(file=f"scan.{ending}", unit="mm"))
    assert len(setup.points) == 40962  # 10 4^6 + 2 corners of a six times divided icosahedron
    np.testing.assert_allclose(np.linalg.norm(setup.points, axis=1), 300.0, atol=1e-3)


def refusal(folder, **file):
    with pytest.raises(ParameterError) as told:
        list(setups(folder, ScanFile(**file)))
    assert len(str(told.value).splitlines()) == 1
    return str(told.value)


def test_a_file_cut_off_is_told(tmp_path):
    write(tmp_path / "scan.ply", POINTS)
    whole = (tmp_path / "scan.ply").read_bytes()
    (tmp_path / "scan.ply").write_bytes(whole[: len(whole) // 2])
    assert "cannot be read" in refusal(tmp_path, file="scan.ply", unit="mm")


def test_no_numbers_are_left_out_and_counted_and_too_many_are_told(tmp_path):
    points = POINTS.copy()
    points[:300, 1] = np.nan
    write(tmp_path / "scan.ply", points)
    (setup,) = setups(tmp_path, ScanFile(file="scan.ply", unit="mm"))
    assert (len(setup.points), setup.dropped) == (2700, 300)
    points[:2000] = np.nan
    write(tmp_path / "scan.ply", points)
    assert "2000 points that are no numbers among 3000" in refusal(tmp_path, file="scan.ply", unit="mm")


def test_two_points_are_told(tmp_path):
    write(tmp_path / "scan.csv", POINTS[:2])
    assert "has 2 points, at least 200" in refusal(tmp_path, file="scan.csv", unit="mm")


@pytest.mark.parametrize("unit", ["m", "ft"])
def test_an_absurd_size_names_the_units_that_would_fit(tmp_path, unit):
    write(tmp_path / "scan.csv", POINTS)
    told = refusal(tmp_path, file="scan.csv", unit=unit)
    assert f"{unit} across" in told and "the unit may be mm" in told


def test_a_unit_must_be_told_where_the_format_has_none(tmp_path):
    write(tmp_path / "scan.csv", POINTS)
    assert "does not tell its unit" in refusal(tmp_path, file="scan.csv")


@pytest.mark.parametrize(
    ("name", "content"),
    [("scan.ply", b"ply\nrubbish"), ("scan.las", b"LASF"), ("scan.e57", b"\0" * 99), ("scan.txt", b"a\nb\n")],
)
def test_rubbish_is_told(tmp_path, name, content):
    (tmp_path / name).write_bytes(content)
    refusal(tmp_path, file=name, unit="mm")
