"""The near-net solid: stock nowhere negative, its size where the route gives it, for every kind and the demo arms."""

import cadquery as cq
import numpy as np
import pytest

from geometry.datums import BORES, bore, centre
from geometry.nearnet import nearnet
from geometry.solid import solid
from geometry.stock import near_net
from params.files.readroute import read_route
from tests.arms import ARMS, changed, demo

SAMPLED = 100
ROUTES = ARMS.parent / "routes"
KINDS = {"i": {}, "box": {}, "solid": dict.fromkeys(("flange_thickness", "web_thickness", "fillet"))}


def bench(kind="i", angle=150.0, **fields):
    plates = {f"geometry__section__{name}": value for name, value in KINDS[kind].items()}
    arm = changed(demo("bench-lever"), geometry__section__kind=kind, **plates)
    return changed(arm, geometry__included_angle=np.radians(angle), **fields)


def route(name="deposited", machining=1.5, near_net=0.6, bead=3.0):
    """A demo route with stock in proportion to the bench lever."""
    read = read_route(ROUTES / f"{name}.yaml")
    stock = read.stock.model_copy(update={"machining": machining, "near_net": near_net})
    limits = read.limits.model_copy(update={"bead_width": bead, "inside_radius": 1.0})
    return read.model_copy(update={"stock": stock, "limits": limits})


def depths(finished, made):
    """Distance of points spread over the finished faces from the near-net surface, negative outside it; and the points."""
    points = np.array(
        [point.toTuple() for face in finished.Faces() for point in face.tessellate(2.0, 0.5)[0]]
    )
    points = np.unique(points.round(6), axis=0)
    points = points[:: max(1, len(points) // SAMPLED)]  # the kernel takes some 0.1 s for a distance
    (shell,) = made.Shells()
    away = np.array([cq.Vertex.makeVertex(*point).distance(shell) for point in points])
    inside = np.array([made.isInside(cq.Vector(*point), 1e-6) for point in points])
    return np.where(inside, away, -away), points


@pytest.mark.parametrize("kind", ["i", "box", "solid"])
@pytest.mark.parametrize("angle", [90.0, 150.0, 180.0])
def test_stock_is_nowhere_negative(kind, angle):
    arm = bench(kind, angle)
    finished, made = solid(arm), nearnet(arm, route())
    assert made.isValid()
    assert finished.cut(made).Volume() == pytest.approx(0.0, abs=1e-3)  # mm3 of 5e5: rounding of the kernel


def test_stock_on_faces_that_stay_as_made():
    """Half the allowance of 0.6 mm is left even in corners, where the radii of both solids differ."""
    arm = bench()
    depth, points = depths(solid(arm), nearnet(arm, route()))
    assert len(points) >= SAMPLED
    assert depth.min() > 0.3


def test_machined_faces_have_the_machining_stock():
    """Bores 3 mm smaller across, hub and boss faces 1.5 mm proud on each side, outsides 0.6 mm, web and flange 1.2 mm thicker."""
    arm, given = bench(), route()
    made = nearnet(arm, given)
    for name in BORES:
        x, y = centre(arm, name)
        size, here = bore(arm, name), made
        for radius, z, is_in in (
            (size.bore / 2.0 - 1.4, 0.0, True),
            (size.bore / 2.0 - 1.6, 0.0, False),
            (size.outside / 2.0 - 3.0, size.width / 2.0 + 1.4, True),
            (size.outside / 2.0 - 3.0, size.width / 2.0 + 1.6, False),
        ):
            assert here.isInside(cq.Vector(x + radius, y, z), 1e-6) == is_in, (name, radius, z)
    x, y = 0.5 * (45.0 + 178.0), 0.0  # in the output arm's pocket, on its web
    half = arm.geometry.section.web_thickness / 2.0
    assert made.isInside(cq.Vector(x, y, half + 0.55), 1e-6)
    assert not made.isInside(cq.Vector(x, y, half + 0.65), 1e-6)


def test_hub_width_follows_the_closed_form():
    """A bar: the hub's excess beyond the section is a cylinder, so its volume follows from its sizes."""
    arm, given = bench("solid", 180.0, geometry__blend_radius=0.0), route(near_net=0.0, machining=2.0)
    more = nearnet(arm, given).Volume() - solid(arm).Volume()
    wanted = 0.0
    for name in BORES:
        size = bore(arm, name)
        r, c = size.bore / 2.0, size.chamfer
        cones = 2.0 * (np.pi * c / 3.0 * (r**2 + r * (r + c) + (r + c) ** 2) - np.pi * r**2 * c)
        ends = np.pi / 4.0 * (size.outside**2 - (size.bore - 4.0) ** 2) * 4.0
        wanted += ends + np.pi * (r**2 - (r - 2.0) ** 2) * size.width + cones
    assert more == pytest.approx(wanted, rel=1e-6)  # kernel's own tolerance


def test_no_wall_is_thinner_than_a_bead():
    arm = bench()
    section = near_net(arm, route(near_net=0.0, bead=9.0)).geometry.section
    assert (section.flange_thickness, section.web_thickness) == (9.0, 9.0)
    hub = near_net(arm, route(bead=30.0)).geometry.pivot
    assert hub.bore == 0.0  # 37 mm is under two beads: filled and drilled
    assert nearnet(arm, route(bead=8.0, machining=8.5)).isValid()  # bosses full, hub with its hole


@pytest.mark.parametrize(
    ("name", "way"), [("linkspan-rocker", "deposited"), ("sluice-crank", "cast"), ("sluice-crank", "welded")]
)
def test_demo_arms_by_every_route(name, way):
    finished, made = solid(demo(name)), nearnet(demo(name), read_route(ROUTES / f"{way}.yaml"))
    assert finished.cut(made).Volume() == pytest.approx(0.0, abs=1.0)  # mm3 of 2e8: rounding of the kernel
    assert made.Volume() > finished.Volume()
