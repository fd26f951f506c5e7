"""Pressure at the edge of a contact: read away from it, and at the rim as a mean over a stated length.

The pressure under the end of a flat rigid stamp grows as 1/sqrt(distance) (Johnson, Contact Mechanics, 1985, Sec. 2.8); its mean
over a length L from the end is 2/sqrt(L), whatever the mesh.
"""

from types import SimpleNamespace

import numpy as np
import pytest

from analysis.contact.measures import Seat, measured

RADIUS, HALF, P0, GROWS = 80.0, 120.0, 30.0, 60.0  # mm, mm, MPa, MPa mm^0.5


def cylinder(count):
    """A bore of `count` elements about and square ones along: two triangles each, contact at the middles of their edges."""
    arc = 2.0 * np.pi / count
    rows = round(2.0 * HALF / (arc * RADIUS))
    step = 2.0 * HALF / rows
    angle, z, area, number, faces = [], [], [], {}, []

    def node(i, k):  # on a grid of half elements
        key = (i % (2 * count), k)
        if key not in number:
            number[key] = len(angle)
            angle.append((key[0] * arc / 2.0 + np.pi) % (2.0 * np.pi) - np.pi)
            z.append(k * step / 2.0 - HALF)
            area.append(0.0)
        return number[key]

    for i in range(0, 2 * count, 2):
        for k in range(0, 2 * rows, 2):
            for corners in (
                ((i + 1, k), (i + 2, k + 1), (i + 1, k + 1)),
                ((i, k + 1), (i + 1, k + 1), (i + 1, k + 2)),
            ):
                face = [node(*corner) for corner in corners]
                faces.append(face)
                for one in face:
                    area[one] += arc * RADIUS * step / 2.0 / 3.0
    angle, z = np.array(angle), np.array(z)
    normal = np.column_stack([np.cos(angle), np.sin(angle), np.zeros_like(angle)])
    pairs = SimpleNamespace(normal=normal, area=np.array(area))
    return Seat(pairs, angle, z, np.array(faces), RADIUS, HALF)  # type: ignore[arg-type]


def read(per_quarter):
    """Pressure over 120 degrees as cos^2, even along the bore but for its singular ends. Contact forces are in balance, so a node
    has the mean over its share of the length: a sixth of an element at the rim, then two thirds and a third by turns."""
    at = cylinder(4 * per_quarter)
    step = 2.0 * HALF / round(2.0 * HALF / (2.0 * np.pi * RADIUS / (4 * per_quarter)))
    place = np.round((HALF - np.abs(at.z)) / (step / 2.0)).astype(int)  # rows from the rim
    low = (
        np.where(place == 0, 0.0, np.where(place % 2, place / 2.0 - 1.0 / 3.0, place / 2.0 - 1.0 / 6.0))
        * step
    )
    high = np.where(place % 2, place / 2.0 + 1.0 / 3.0, place / 2.0 + 1.0 / 6.0) * step
    end = 2.0 * (np.sqrt(high) - np.sqrt(low)) / (high - low)
    around = np.where(np.abs(at.angle) < np.pi / 3.0, np.cos(1.5 * at.angle) ** 2, 0.0)
    pressure = around * (P0 + GROWS * end)
    gap = np.where(pressure > 0.0, -1e-5, 0.05)
    return measured(at, pressure, gap, None, 205000.0), pressure


def test_the_largest_node_grows_with_the_mesh_and_what_is_read_does_not():
    (coarse, first), (fine, second) = read(8), read(11)
    assert second.max() / first.max() > 1.06
    for name in ("peak_pressure_MPa", "edge_mean_MPa"):
        assert fine[name] == pytest.approx(coarse[name], rel=0.03)


def test_the_peak_is_read_at_its_distance_from_the_rim():
    """0.3 bore diameters: 48 mm; there the pressure is P0 + GROWS/sqrt(48), a face's mean up to 3 % less by the arc."""
    row, _ = read(11)
    assert row["read_from_edge_mm"] == pytest.approx(0.3 * 2.0 * RADIUS)
    assert abs(row["peak_z_mm"]) < HALF - 48.0
    assert row["peak_pressure_MPa"] == pytest.approx(P0 + GROWS / np.sqrt(48.0), rel=0.03)


def test_the_mean_at_the_rim_is_that_of_the_closed_form():
    """Over 48 mm along: P0 + 2 GROWS/sqrt(48); over 48 mm of arc about the middle: cos^2(1.5 a) has the mean 1/2 + sin(3 b)/(6 b)
    with b = 24/80. A node is in the square or not: 3 %."""
    row, _ = read(11)
    b = 24.0 / RADIUS
    around = 0.5 + np.sin(3.0 * b) / (6.0 * b)
    assert row["edge_mean_MPa"] == pytest.approx(around * (P0 + 2.0 * GROWS / np.sqrt(48.0)), rel=0.03)
