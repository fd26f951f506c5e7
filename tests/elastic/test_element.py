"""Shape functions and quadrature: their defining properties."""

from math import factorial

import numpy as np
import pytest

from analysis.elastic.element import FACE_EDGES, FACE_NODES, TET_EDGES, TET_NODES, gradients, shapes
from analysis.elastic.quadrature import tetrahedron4, tetrahedron14, triangle
from tests.elastic.meshes import ring

POINTS = {
    3: np.array([[0.1, 0.2, 0.3], [0.25, 0.25, 0.25], [0.6, 0.1, 0.05]]),
    2: np.array([[0.2, 0.3], [0.7, 0.1]]),
}
NODES = {3: TET_NODES, 2: FACE_NODES}
EXACT = 1e-14  # a few roundings of numbers near one


@pytest.mark.parametrize("dimension", [2, 3])
@pytest.mark.parametrize("linear", [False, True])
def test_one_at_its_own_node_and_zero_at_the_others(dimension, linear):
    nodes = NODES[dimension][: dimension + 1] if linear else NODES[dimension]
    assert np.allclose(shapes(nodes, linear), np.eye(len(nodes)), atol=EXACT)


@pytest.mark.parametrize("dimension", [2, 3])
@pytest.mark.parametrize("linear", [False, True])
def test_partition_of_unity(dimension, linear):
    assert np.allclose(shapes(POINTS[dimension], linear).sum(axis=1), 1.0, atol=EXACT)
    assert np.allclose(gradients(POINTS[dimension], linear).sum(axis=1), 0.0, atol=4 * EXACT)


@pytest.mark.parametrize("dimension", [2, 3])
def test_gradients_against_central_differences(dimension):
    step, computed = 1e-5, gradients(POINTS[dimension])
    for axis in range(dimension):
        aside = step * np.eye(dimension)[axis]
        slope = (shapes(POINTS[dimension] + aside) - shapes(POINTS[dimension] - aside)) / (2 * step)
        # central differences of a quadratic are exact but for rounding: 1e-16 / 1e-5
        assert np.allclose(computed[:, :, axis], slope, atol=1e-10)


def test_mid_edge_nodes_lie_on_their_edges():
    for nodes, edges in ((TET_NODES, TET_EDGES), (FACE_NODES, FACE_EDGES)):
        first = nodes.shape[1] + 1
        for k, (a, b) in enumerate(edges):
            assert np.array_equal(nodes[first + k], (nodes[a] + nodes[b]) / 2)
    mesh = ring(100.0, 200.0, 50.0, (24, 2, 1))
    for k, (a, b) in enumerate(TET_EDGES):
        ends, mid = mesh.points[mesh.tets[:, [a, b]]], mesh.points[mesh.tets[:, 4 + k]]
        off = np.linalg.norm(mid - ends.mean(axis=1), axis=1)
        edge = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1)
        # sagitta of a 24th of a circle on its chord: 3.3 %, more for slanting edges
        assert (off < 0.1 * edge).all()


def monomial(powers):
    """Exact integral over the unit simplex: product of factorials over (sum + dimension)!"""
    top = np.prod([factorial(p) for p in powers])
    return top / factorial(sum(powers) + len(powers))


@pytest.mark.parametrize(
    ("rule", "degree", "dimension"),
    [
        (tetrahedron4(), 2, 3),
        (tetrahedron14(), 5, 3),
        (triangle(2), 3, 2),
        (triangle(5), 9, 2),
    ],
)
def test_quadrature_is_exact_to_its_degree_and_not_beyond(rule, degree, dimension):
    points, weights = rule
    powers = [p for p in np.ndindex(*(degree + 2,) * dimension) if sum(p) <= degree + 1]
    wrong = {p: abs(weights @ np.prod(points ** np.array(p), axis=1) - monomial(p)) for p in powers}
    assert max(error for p, error in wrong.items() if sum(p) <= degree) < 1e-15
    assert max(error for p, error in wrong.items() if sum(p) == degree + 1) > 1e-8
