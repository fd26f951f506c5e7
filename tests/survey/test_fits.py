"""Fits against closed forms with known noise: no published reference set of points is at hand, so the bound is the measure.

Of n points with independent normal noise s spread evenly over a full cylinder, the radius has the variance s^2 / n and each
coordinate of the axis 2 s^2 / n; a plane's place has s^2 / n (the Cramer-Rao bounds of the linear models, Kay, Fundamentals of
Statistical Signal Processing I, 1993, chapter 3, from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from analysis.survey.bores import robust, widened
from analysis.survey.circles import common
from analysis.survey.deviation import medians
from analysis.survey.normals import crowded, directions, normals
from analysis.survey.pose import Pose, onto
from analysis.survey.reduce import thinned

N, S, R = 400, 0.1, 80.0


def cylinder(seed, n=N):
    random = np.random.default_rng(seed)
    turn, z = random.uniform(0.0, 2.0 * np.pi, n), random.uniform(-50.0, 50.0, n)
    radius = R + random.normal(0.0, S, n)
    return np.column_stack([radius * np.cos(turn), radius * np.sin(turn), z]), turn, z


def test_the_circles_centre_scatters_as_its_bound_says():
    found = np.array(
        [common(cylinder(seed)[0][:, :2], [np.arange(N)], np.array([2.0, -1.0])) for seed in range(200)]
    )
    bound = np.sqrt(2.0 / N) * S
    assert np.abs(found.mean(axis=0)).max() < 4.0 * bound / np.sqrt(200)
    # 200 draws know a standard deviation to 5 %; Tukey's weights cost 2.5 %, free radius nothing
    np.testing.assert_allclose(found.std(axis=0), bound, rtol=0.17)


def test_a_bores_radius_and_its_uncertainty_are_the_bounds():
    found, told = [], []
    for seed in range(200):
        points, turn, _ = cylinder(seed)
        A = np.column_stack([np.ones(N), np.cos(turn), np.sin(turn), np.cos(2 * turn), np.sin(2 * turn)])
        deep = np.hypot(*points[:, :2].T) - R
        x, weight, noise = robust(A, deep)
        found.append(x[0])
        told.append(np.sqrt(widened(A, deep - A @ x, weight, noise, points)[0, 0]))
    bound = S / np.sqrt(N)
    assert abs(np.mean(found)) < 4.0 * bound / np.sqrt(200)
    np.testing.assert_allclose(np.std(found), bound, rtol=0.17)
    np.testing.assert_allclose(np.median(told), bound, rtol=0.25)


def test_errors_that_neighbours_share_widen_the_uncertainty():
    """Twenty plates of one error each: 400 points tell no more than 20."""
    points, turn, _ = cylinder(3)
    random = np.random.default_rng(5)
    order = np.argsort(turn)
    shared = np.empty(N)
    shared[order] = np.repeat(random.normal(0.0, S, 20), 20)
    A = np.ones((N, 1))
    x, weight, noise = robust(A, shared)
    told = np.sqrt(widened(A, shared - A @ x, weight, noise, points)[0, 0])
    assert told > 2.5 * S / np.sqrt(N)


def test_normals_of_a_plane_and_its_direction():
    random = np.random.default_rng(2)
    flat = np.column_stack([random.uniform(0, 1000, (4000, 2)), random.normal(0.0, 0.1, 4000)])
    normal, sound = normals(flat)
    assert sound.mean() > 0.8
    assert np.median(np.abs(normal[sound, 2])) > 0.9999
    assert abs(directions(normal[sound])[0][2]) > 0.99999


def test_stray_points_are_told_from_a_surface():
    random = np.random.default_rng(4)
    flat = np.column_stack([random.uniform(0, 1000, (7000, 2)), random.normal(0.0, 0.1, 7000)])
    stray = random.uniform(0, 1000, (3000, 3))
    kept = crowded(np.vstack([flat, stray]))
    assert kept[:7000].mean() > 0.95 and kept[7000:].mean() < 0.1


def test_thinning_keeps_points_as_measured_and_about_as_many_as_asked():
    points = np.random.default_rng(6).uniform(0, 1000, (200_000, 3)) * [1.0, 1.0, 1e-3]
    rows = thinned(points, 10_000)
    assert 6_000 < len(rows) <= 10_000 and len(np.unique(rows)) == len(rows)


@pytest.mark.parametrize("seed", range(3))
def test_a_pose_is_found_from_targets(seed):
    random = np.random.default_rng(seed)
    points = random.normal(0.0, 500.0, (6, 3))
    true = Pose().moved(random.normal(0.0, 1.0, 6))
    np.testing.assert_allclose(onto(points, true(points))(points), true(points), atol=1e-9)
    np.testing.assert_allclose(true.inverse()(true(points)), points, atol=1e-9)


def test_medians_of_patches():
    far, patch = np.array([3.0, 1.0, 2.0, 10.0, 20.0]), np.array([0, 0, 0, 1, 1])
    np.testing.assert_array_equal(medians(far, patch, np.bincount(patch)), [2.0, 15.0])
