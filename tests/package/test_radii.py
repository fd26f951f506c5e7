"""Every round of the part stands on its drawing: radii read from the solid itself, not from the drawing's data."""

from __future__ import annotations

import re

import cadquery as cq
import pytest

from analysis.drawing.ink import Measure, Text
from analysis.drawing.sheet import flat
from geometry.solid import solid
from tests.arms import demo
from tests.package.made import sheet

ARMS = [
    "bench-lever",
    pytest.param("linkspan-rocker", marks=pytest.mark.slow),
    pytest.param("sluice-crank", marks=pytest.mark.slow),
]
NUMBER = re.compile(r"(?:(\d+)× )?([ØR])(\d+(?:\.\d+)?)")


def upright(body: cq.Solid) -> set[float]:
    """Radii (mm) of the cylinders whose axes run along the pins: all that an elevation shows as an arc or a circle."""
    found = set()
    for face in body.Faces():
        if face.geomType() == "CYLINDER":
            cylinder = face._geomAdaptor().Cylinder()  # the axis has no public name in the library
            if abs(cylinder.Axis().Direction().Z()) > 0.999:
                found.add(round(cylinder.Radius(), 2))
    return found


def written(name: str) -> dict[float, str]:
    """Radii that the sheet gives, in mm, each with its text."""
    result, inch = {}, demo(name).units == "us"
    drawn = sheet(name)
    texts = [one.text for one in flat(drawn.items) if isinstance(one, Text)]
    texts += [one.text for one in drawn.items if isinstance(one, Measure)]
    for text in texts:
        if match := NUMBER.match(text):
            size = float(match[3]) * (25.4 if inch else 1.0)
            result[round(size / 2.0 if match[2] == "Ø" else size, 1)] = text
    return result


@pytest.mark.parametrize("name", ARMS)
def test_each_radius_of_the_solid_is_on_the_sheet(name: str) -> None:
    given = written(name)
    missing = [
        radius for radius in upright(solid(demo(name))) if not any(abs(radius - one) < 0.06 for one in given)
    ]
    assert missing == []


@pytest.mark.slow
def test_corners_and_bends_with_their_number() -> None:
    """Two arms, two edges each: 4 bends of half the depth of 600 mm. The pockets' corners: 1.2 times the fillet of 20 mm."""
    given = written("linkspan-rocker")
    assert given[300.0] == "4× R300"
    assert re.fullmatch(r"\d+× R24", given[24.0])
