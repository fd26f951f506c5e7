"""Stress along crack paths and what drives a crack: closed forms on meshes of which the stress is known everywhere."""

from __future__ import annotations

import numpy as np
import pytest

from analysis.elastic.sample import Sampler
from analysis.fatigue.duty import NONE, Cycles, pairs
from analysis.fracture.bodies_profile import ProfileEdge
from analysis.fracture.driven import driven, ratio
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


def swings(found, depth):
    """Range of stress and R with the residual stress, block by block, read at a depth as a crack's front would."""
    at = np.array([np.interp(depth, found.profile.depth, row) for row in found.profile.stress])
    made = []
    for block in found.blocks:
        stress = block.states @ at
        steady = float(found.residual @ at)
        made.append((np.ptp(stress), (stress.min() + steady) / (stress.max() + steady)))
    return made


def test_blocks_of_a_uniform_stress_are_its_ranges():
    path = straight((0.0, 0.0), (100.0, 100.0), (40.0, 40.0))
    cycles = pairs(["off", "full", "some"], [("off", "full", 10.0), ("off", "some", 500.0)])
    found = driven(path, cycles, 0.0)
    assert found.range == pytest.approx(100.0)
    assert [one for one, _ in swings(found, 5.0)] == pytest.approx([100.0, 40.0])
    assert [block.per_year for block in found.blocks] == [10.0, 500.0]
    assert found.highest.tolist() == [[0.0, 1.0, 0.0, 0.0]]  # the others lie below it all along


def test_residual_stress_raises_the_ratio_and_has_a_profile_of_its_own():
    """It stays even where the cycle's own stress falls to nothing: R is 0.5 at the mouth, and 0.8 where 25 MPa are left."""
    path = straight((0.0, 0.0), (100.0, 0.0))
    found = driven(path, pairs(["off", "full"], [("off", "full", 1.0)]), 100.0)
    assert found.ratio == pytest.approx(0.5)  # (0 + 100) / (100 + 100)
    assert swings(found, 0.0)[0] == pytest.approx((100.0, 0.5))
    assert swings(found, 7.5)[0] == pytest.approx((25.0, 0.8))
    assert found.profile.stress[-1] == pytest.approx(np.ones(21))
    assert found.residual.tolist() == [0.0, 0.0, 100.0]
    assert found.under(30.0).residual.tolist() == [0.0, 0.0, 30.0]


def test_every_cycle_is_read_from_its_own_profile():
    """One falls from 100 to 0, another stays at 50: at 3 of 10 mm they are 70 and 50, no ratio of one to the other."""
    path = straight((0.0, 0.0), (100.0, 0.0), (50.0, 50.0))
    cycles = pairs(["off", "full", "some"], [("off", "full", 1.0), ("off", "some", 1.0)])
    found = driven(path, cycles, 0.0)
    assert [one for one, _ in swings(found, 3.0)] == pytest.approx([70.0, 50.0])
    assert len(found.highest) == 2  # neither lies below the other all along


def test_steady_stress_that_is_even_does_what_an_even_stress_does_to_an_edge_crack():
    """103 MPa of residual stress on a path whose cycle falls from 40 MPa to nothing: K is that of 103 MPa, 1.1215 S sqrt(pi a)
    within 1 %, and not that of the largest ratio of the two along the path."""
    path = straight((0.0, 0.0), (40.0, 1.0), depth=100.0)
    found = driven(path, pairs(["off", "full"], [("off", "full", 1.0)]), 103.0)
    k = ProfileEdge(found.profile, 1e6).influence(np.array([[20.0]]))
    made = float(np.tensordot(found.residual, k, axes=1)[0, 0])
    assert made == pytest.approx(1.1215 * 103.0 * np.sqrt(20.0 * np.pi), rel=0.01)


def test_a_crack_is_driven_by_what_the_stroke_changes():
    """Alike in both cases, 80 MPa, and 20 at the least of one: a range of 60, R = 20/80."""
    path = straight((80.0, 80.0), (80.0, 80.0), (20.0, 20.0))
    found = driven(path, pairs(["off", "full"], [("off", "full", 1.0)], ["full"]), 0.0)
    assert (found.range, found.most, found.ratio) == pytest.approx((60.0, 80.0, 0.25))
    assert swings(found, 4.0)[0] == pytest.approx((60.0, 0.25))


def test_counted_cycles_run_between_blends_of_two_states():
    """From -0.1 to 0.6 of the way from 20 to 100 MPa: 12 to 68."""
    cycles = Cycles(
        np.array([0]),
        np.array([1]),
        np.array([-0.1]),
        np.array([0.6]),
        np.array([7.0]),
        np.array([[NONE, NONE]]),
    )
    found = driven(straight((20.0, 20.0), (100.0, 100.0)), cycles, 0.0)
    assert swings(found, 2.0)[0] == pytest.approx((56.0, 12.0 / 68.0))


def test_no_cycle_no_growth_but_the_highest_stress_may_break():
    path = straight((30.0, 15.0), (30.0, 15.0))
    found = driven(path, pairs(["a", "b"], [("a", "b", 1.0)]), 60.0)
    assert (found.blocks, found.range, found.most) == ((), 0.0, 30.0)
    assert found.highest @ found.profile.stress == pytest.approx(path.stress[:1])
    assert found.residual @ found.profile.stress == pytest.approx(np.full(21, 60.0))


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
