"""Moving nodes inside a block of tetrahedra: quality by its definition, better worst elements, the block as it was."""

import numpy as np
import pytest
from scipy.spatial import Delaunay

from geometry.smoothing import smoothed, straight


def test_quality_of_known_tetrahedra():
    """1 for the regular one; a corner of a cube: volume 1/6, edges 1, 1, 1 and three of sqrt 2, so sqrt 2 / 1.5^1.5."""
    regular = np.array([[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]])
    assert abs(straight(regular)) == pytest.approx(1.0)
    corner = np.vstack([np.zeros(3), np.eye(3)])
    assert straight(corner) == pytest.approx(np.sqrt(2.0) / 1.5**1.5)
    assert straight(corner[[1, 0, 2, 3]]) == pytest.approx(-np.sqrt(2.0) / 1.5**1.5)  # turned inside out


def block():
    """A grid of 5 x 5 x 5 points, those inside shaken, filled with tetrahedra of one handedness."""
    points = np.array([(i, j, k) for i in range(5) for j in range(5) for k in range(5)], dtype=float)
    inner = ((points > 0.0) & (points < 4.0)).all(axis=1)
    points[inner] += np.random.default_rng(4).uniform(-0.35, 0.35, (inner.sum(), 3))
    tets = Delaunay(points).simplices
    turned = straight(points[tets]) < 0.0
    tets[turned] = tets[turned][:, [1, 0, 2, 3]]
    return points, tets[straight(points[tets]) > 1e-6], inner  # flat ones on the block's faces hold no volume


def test_the_worst_element_gets_better_and_the_faces_stay():
    points, tets, inner = block()
    before, made = straight(points[tets]), smoothed(points, tets, inner)
    after = straight(made[tets])
    free = inner[tets].any(axis=1)  # the others have no node to move
    assert after[free].min() > 1.5 * before[free].min() and after.min() > 0.0
    np.testing.assert_array_equal(made[~inner], points[~inner])
    a, b, c, d = np.moveaxis(made[tets], 1, 0)
    volume = np.sum(np.cross(b - a, c - a) * (d - a)) / 6.0
    assert volume == pytest.approx(4.0**3, rel=1e-9)  # no element overlaps another


def test_good_elements_are_left_alone():
    points, tets, inner = block()
    good = np.where(inner[:, None], np.round(points), points)
    kept = straight(good[tets]) > 0.3
    np.testing.assert_array_equal(smoothed(good, tets[kept], inner), good)
