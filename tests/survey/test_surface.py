"""The surface as formulas against the CAD kernel's solid: its corners and the points of its facets lie on it."""

from __future__ import annotations

import numpy as np
import pytest

from analysis.survey import sizes as named
from analysis.survey.surface import named as face_name
from analysis.survey.surface import surface
from geometry.solid import solid
from tests.arms import changed, demo

ARMS = [
    demo("bench-lever"),
    demo("sluice-crank"),  # a knee between the arms; bosses that the edges meet too flat for a blend
    demo("linkspan-rocker"),
    changed(demo("bench-lever"), geometry__section__fillet=3.0, geometry__included_angle=np.radians(100.0)),
    changed(
        demo("bench-lever"),
        geometry__section__kind="solid",
        geometry__section__flange_thickness=None,
        geometry__section__web_thickness=None,
        geometry__section__fillet=None,
        geometry__included_angle=np.pi,
    ),
]


def of(arm):
    kind = "i" if arm.geometry.section.kind == "i" else "solid"
    return surface(named.of(arm.geometry, kind), kind)


@pytest.mark.parametrize("arm", ARMS, ids=["i", "box", "large i", "i with fillets, 100 deg", "bar, in line"])
def test_points_of_the_solid_lie_on_the_surface(arm):
    """The kernel puts every point of a facet on the face itself, so 1e-6 mm is its own precision and some rounding."""
    vertices, _ = solid(arm).tessellate(0.5, 0.25)
    points = np.array([vertex.toTuple() for vertex in vertices])
    far, _ = of(arm).nearest(points)
    inside = (
        far < -1.0 if arm.geometry.section.kind == "box" else np.zeros(len(far), dtype=bool)
    )  # the closed cavity
    assert inside.mean() < 0.4
    assert np.abs(far[~inside]).max() < 1e-6


def test_the_distance_grows_by_what_a_point_is_moved_along_the_normal():
    arm = demo("bench-lever")
    body = of(arm)
    vertices, _ = solid(arm).tessellate(0.5, 0.25)
    points = np.array([vertex.toTuple() for vertex in vertices])
    _, labels = body.nearest(points)
    normal = body.normals(points, labels)
    np.testing.assert_allclose(np.linalg.norm(normal, axis=1), 1.0, atol=1e-6)
    moved = body.distance(points + 0.01 * normal, labels) - body.distance(points, labels)
    np.testing.assert_allclose(moved, 0.01, atol=1e-5)


def test_every_face_of_an_i_is_told_by_name():
    arm = demo("bench-lever")
    vertices, _ = solid(arm).tessellate(0.5, 0.25)
    _, labels = of(arm).nearest(np.array([vertex.toTuple() for vertex in vertices]))
    seen = {face_name(label) for label in np.unique(labels)}
    assert {
        "pivot bore",
        "input bore",
        "output bore",
        "side face",
        "output pocket wall",
        "pivot outside",
    } <= seen
