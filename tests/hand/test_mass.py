"""Mass and centre of gravity against an outline drawn with another library, and scaling."""

import numpy as np
import pytest
from shapely import Polygon
from shapely.affinity import rotate
from shapely.geometry import Point
from shapely.ops import unary_union

from analysis.mechanics.mass import gusset, mass, ring
from analysis.mechanics.sizes import Sizes
from tests.arms import changed, demo

DEMOS = ("linkspan-rocker", "sluice-crank", "bench-lever")


def tapered(s, depth, less):
    """Outline of an arm along +x, each edge moved inward by `less`."""
    upper = [(a, h / 2.0 - less) for a, h in zip(s, depth, strict=True)]
    return Polygon([*upper, *((x, -y) for x, y in reversed(upper))])


def layers(arm):
    """Outline pieces with their thickness along z, by shapely: hub and bosses; arms outside them, less the pockets."""
    g = arm.geometry
    section = g.section
    pivot, tips = Point(0.0, 0.0), {"output": 0.0, "input": np.degrees(g.included_angle)}
    circles = [(pivot.buffer(g.pivot.outside / 2.0, 256), g.pivot)]
    arms, hollows = [], []
    for name, turn in tips.items():
        boss, length = getattr(g, name), getattr(g, f"{name}_arm")
        h = [section.depth_at_hub, section.depth_at_hub, section.depth_at_pins]
        s = [0.0, g.pivot.outside / 2.0, length]
        arms.append(rotate(tapered(s, h, 0.0), turn, origin=(0.0, 0.0)))
        hollows.append(rotate(tapered(s, h, section.flange_thickness), turn, origin=(0.0, 0.0)))
        circles.append(
            (rotate(Point(length, 0.0), turn, origin=(0.0, 0.0)).buffer(boss.outside / 2.0, 256), boss)
        )
    discs = unary_union([circle for circle, _ in circles])
    webs = section.web_thickness * (2.0 if section.kind == "box" else 1.0)
    outline, hollow = unary_union(arms).difference(discs), unary_union(hollows).difference(discs)
    yield outline.difference(hollow), section.width
    yield outline.intersection(hollow), webs
    for circle, bore in circles:
        yield circle.difference(circle.centroid.buffer(bore.bore / 2.0, 256)), bore.width


@pytest.mark.parametrize("name", DEMOS)
def test_mass_is_that_of_the_drawn_outline(name):
    arm = changed(
        demo(name),
        geometry__section__fillet=0.0,
        geometry__pivot__chamfer=0.0,
        geometry__input__chamfer=0.0,
        geometry__output__chamfer=0.0,
    )
    computed = mass(arm, Sizes.from_arm(arm), 7.85e-6)
    parts = list(layers(arm))
    volume = sum(shape.area * width for shape, width in parts)
    first = sum(np.array([shape.centroid.x, shape.centroid.y]) * shape.area * width for shape, width in parts)
    # Left out: what both arms share beside a bent hub (none at 165 degrees), counted twice here; circles of 1024 sides.
    assert computed.total[0] == pytest.approx(7.85e-6 * volume, rel=0.01)
    assert computed.cg[0] == pytest.approx(first / volume, abs=0.01 * arm.geometry.output_arm)


def test_area_between_circle_and_tangent():
    strip = Polygon([(-1, -40), (-1, 40), (100, 40), (100, -40)])
    corner = Polygon([(0, -40), (0, 40), (100, 40), (100, -40)]).difference(Point(0, 0).buffer(100, 512))
    area, away = gusset(np.array(80.0), np.array(100.0))
    assert strip.area > float(area)
    assert float(area) == pytest.approx(corner.area, rel=1e-3)  # 2048 sides
    assert float(away) == pytest.approx(100.0 - corner.centroid.x, rel=1e-2)


def test_ring_with_chamfers():
    """A cylinder less its bore less two 45 degree cones' rims, by the frustum's volume (any handbook)."""
    bore = demo("linkspan-rocker").geometry.pivot
    r, c = bore.bore / 2.0, bore.chamfer
    frustum = np.pi * c / 3.0 * (r**2 + r * (r + c) + (r + c) ** 2) - np.pi * r**2 * c
    expected = np.pi * (350.0**2 - r**2) * bore.width - 2.0 * frustum
    assert float(ring(bore, np.array(700.0))) == pytest.approx(expected, rel=1e-12)


def scaled(arm, k):
    g = arm.geometry
    fields = {
        f"geometry__{name}": k * getattr(g, name) for name in ("input_arm", "output_arm", "blend_radius")
    }
    for bore in ("pivot", "input", "output"):
        fields |= {
            f"geometry__{bore}__{name}": k * getattr(getattr(g, bore), name)
            for name in ("bore", "outside", "width", "chamfer")
        }
    fields |= {
        f"geometry__section__{name}": k * getattr(g.section, name)
        for name in ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "fillet")
    }
    return changed(arm, **fields)


@pytest.mark.parametrize("name", DEMOS)
def test_mass_goes_with_the_cube_of_the_scale(name):
    arm = demo(name)
    small, large = (mass(a, Sizes.from_arm(a), 7.85e-6) for a in (arm, scaled(arm, 1.7)))
    assert large.total == pytest.approx(small.total * 1.7**3, rel=1e-12)
    assert large.cg == pytest.approx(small.cg * 1.7, rel=1e-12)
