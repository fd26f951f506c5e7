"""Stress along crack paths and what drives a crack: closed forms on meshes of which the stress is known everywhere."""

from __future__ import annotations

import numpy as np
import pytest

from analysis.elastic.sample import Sampler
from analysis.fatigue.duty import pairs
from analysis.fracture.driven import driven, factor, ratio
from analysis.fracture.path import Path, from_surface, opened
from tests.elastic.meshes import box


def test_stress_on_a_plane_is_that_of_the_rotated_tensor():
    """A bar pulled with 100 MPa along x: on a plane turned by t the normal stress is 100 cos^2 t (Cauchy)."""
    stress = np.array([[[100.0, 0.0, 0.0, 0.0, 0.0, 0.0]]])
    for degrees in (0.0, 30.0, 45.0, 90.0):
        t = np.radians(degrees)
        found = opened(stress, np.array([np.cos(t), np.sin(t), 0.0]))
        assert found[0, 0] == pytest.approx(100.0 * np.cos(t) ** 2, abs=1e-9)


def test_shear_opens_the_planes_between():
    """Pure shear of 40 MPa pulls with 40 MPa on the plane halfway between x and y, and presses on the other."""
    stress = np.zeros((1, 1, 6))
    stress[0, 0, 3] = 40.0  # xy
    assert opened(stress, np.array([1.0, 1.0, 0.0]))[0, 0] == pytest.approx(40.0)
    assert opened(stress, np.array([1.0, -1.0, 0.0]))[0, 0] == pytest.approx(-40.0)
    stress = np.zeros((1, 1, 6))
    stress[0, 0, 5] = 40.0  # zx
    assert opened(stress, np.array([1.0, 0.0, 1.0]))[0, 0] == pytest.approx(40.0)


@pytest.fixture(scope="module")
def bent():
    """A block 60 x 20 x 20 mm whose stress along x is 10 MPa times its height above y = 0, in two cases: none, and this."""
    mesh = box((60.0, 20.0, 20.0), (6, 4, 4))
    stress = np.zeros((len(mesh.points), 2, 6))
    stress[:, 1, 0] = 10.0 * mesh.points[:, 1]
    return mesh, stress


def test_path_runs_into_the_metal_and_reads_a_linear_field_exactly(bent):
    mesh, stress = bent
    top = mesh.points[:, 1].max()
    name = next(
        key for key, faces in mesh.surfaces.items() if np.allclose(mesh.points[np.unique(faces), 1], top)
    )
    nodes = mesh.nodes(name)
    middle = mesh.points[nodes].mean(axis=0)
    node = int(nodes[np.argmin(np.linalg.norm(mesh.points[nodes] - middle, axis=1))])
    path = from_surface(mesh, Sampler(mesh), stress, name, node, np.array([1.0, 0.0, 0.0]), 50.0)
    assert path.wall == pytest.approx(20.0, abs=1.01)  # read every 2 % of 50 mm
    # Quadratic elements hold a linear field exactly; the first point is read 0.05 mm below the surface.
    assert path.stress[1, 1:] == pytest.approx(10.0 * (top - np.maximum(path.depth, 0.05))[1:], abs=1e-6)
    assert path.stress[0] == pytest.approx(np.zeros(len(path.depth)), abs=1e-9)


def straight(*ends: tuple[float, float], depth: float = 10.0) -> Path:
    """Cases with a stress that runs straight from one value at the mouth to another at the end of the path."""
    x = np.linspace(0.0, depth, 21)
    return Path(x, np.array([a + (b - a) * x / depth for a, b in ends]), depth, np.zeros(3))


def test_blocks_of_a_uniform_stress_are_its_ranges():
    path = straight((0.0, 0.0), (100.0, 100.0), (40.0, 40.0))
    cycles = pairs(["off", "full", "some"], [("off", "full", 10.0), ("off", "some", 500.0)])
    found = driven(path, cycles, 0.0)
    assert found.range == pytest.approx(100.0)
    assert [block.range.membrane for block in found.blocks] == pytest.approx([1.0, 0.4])
    assert [block.per_year for block in found.blocks] == [10.0, 500.0]
    assert [block.ratio for block in found.blocks] == [0.0, 0.0]
    assert found.peak.membrane == pytest.approx(1.0)


def test_residual_stress_raises_the_ratio_and_counts_over_the_profile():
    path = straight((0.0, 0.0), (100.0, 100.0))
    found = driven(path, pairs(["off", "full"], [("off", "full", 1.0)]), 100.0)
    assert found.ratio == pytest.approx(0.5)  # (0 + 100) / (100 + 100)
    assert found.residual.membrane == pytest.approx(1.0)


def test_a_steeper_profile_counts_by_its_largest_ratio():
    """The one that serves falls from 100 to 0; another stays at 50: at 30 % of the path it is 50/70 of it."""
    path = straight((0.0, 0.0), (100.0, 0.0), (50.0, 50.0))
    cycles = pairs(["off", "full", "some"], [("off", "full", 1.0), ("off", "some", 1.0)])
    assert driven(path, cycles, 0.0).blocks[1].range.membrane == pytest.approx(50.0 / 70.0)
    assert factor(path.stress[2], path.stress[1], path.depth) == pytest.approx(50.0 / 70.0)


def test_a_crack_is_driven_by_what_the_stroke_changes():
    """Alike in both cases, 80 MPa, and 20 at the least of one: a range of 60, R = 20/80."""
    path = straight((80.0, 80.0), (80.0, 80.0), (20.0, 20.0))
    found = driven(path, pairs(["off", "full"], [("off", "full", 1.0)], ["full"]), 0.0)
    assert (found.range, found.most, found.ratio) == pytest.approx((60.0, 80.0, 0.25))


def test_no_cycle_no_growth_but_the_highest_stress_may_break():
    path = straight((30.0, 15.0), (30.0, 15.0))
    found = driven(path, pairs(["a", "b"], [("a", "b", 1.0)]), 60.0)
    assert (found.blocks, found.range, found.most) == ((), 0.0, 30.0)
    assert found.profile.stress == pytest.approx(path.stress[0])
    assert found.peak.membrane == pytest.approx(1.0)
    assert found.residual.membrane == pytest.approx(60.0 / (30.0 - 15.0 * 0.3))  # at 30 % of the path


@pytest.mark.parametrize(
    ("a", "b", "residual", "expected"),
    [
        (0.0, 100.0, 0.0, 0.0),
        (-50.0, 100.0, 0.0, -0.5),
        (100.0, 50.0, 0.0, 0.5),
        (-80.0, -20.0, 0.0, -1.0),
        (-50.0, 50.0, 150.0, 0.5),
    ],
)
def test_stress_ratio_is_least_over_most(a, b, residual, expected):
    assert ratio(a, b, residual) == pytest.approx(expected)
