"""Interpolation at points, and invariants of stress."""

import numpy as np
import pytest

from analysis.elastic.invariants import principals, von_mises
from analysis.elastic.sample import Sampler
from tests.elastic.fields import FULL
from tests.elastic.meshes import ring

MESH = ring(100.0, 200.0, 50.0, (16, 3, 2))


def test_sampling_reproduces_coordinates_inside_curved_elements():
    """The map of an isoparametric element reproduces the coordinates themselves."""
    random = np.random.default_rng(3)
    radius, angle, z = (
        random.uniform(102, 198, 300),
        random.uniform(0, 2 * np.pi, 300),
        random.uniform(-25, 25, 300),
    )
    places = np.column_stack([radius * np.cos(angle), radius * np.sin(angle), z])
    assert np.abs(Sampler(MESH)(places, MESH.points) - places).max() < 1e-8


def test_points_outside_the_body_are_not_numbers():
    field = np.ones((len(MESH.points), 6))
    places = [[0.0, 0.0, 0.0], [150.0, 0.0, 0.0], [150.0, 0.0, 26.0], [900.0, 0.0, 0.0]]
    values = Sampler(MESH)(places, field)
    assert np.isnan(values[[0, 2, 3]]).all()
    assert values[1] == pytest.approx(np.ones(6))


def test_invariants_against_a_general_eigenvalue_routine():
    stress = np.random.default_rng(5).normal(0.0, 100.0, (200, 6))
    stress[0] = 0.0
    stress[1] = [70.0, 70.0, 70.0, 0.0, 0.0, 0.0]
    wanted = np.linalg.eigvalsh(stress[:, FULL])[:, ::-1]
    assert np.allclose(principals(stress), wanted, atol=1e-5)  # arccos near its ends keeps half the digits
    a, b, c = wanted.T
    assert np.allclose(
        von_mises(stress), np.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2), atol=1e-9
    )
