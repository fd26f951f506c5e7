"""What is read from a mesh, on stress fields given in closed form in place of a mesh."""

import numpy as np
import pytest

from analysis.proof.cuts import normal
from analysis.proof.measures import pivot_section
from tests.arms import changed, demo

BENCH = demo("bench-lever")


def uniaxial(size, direction):
    """Stress (..., 1, 6) of a given size (...) along a direction (2,) of the plane: one load case."""
    c, s = direction
    return np.asarray(size)[..., None, None] * np.array([c * c, s * s, 0.0, c * s, 0.0, 0.0])


@pytest.mark.parametrize("angle", [0.0, 30.0, 75.0, 150.0])
def test_normal_stress_turns_as_a_tensor_does(angle):
    # Uniaxial stress s: s cos^2 of the angle between (Timoshenko and Goodier, Theory of Elasticity, art. 9).
    turn = np.radians(angle)
    stress = uniaxial(100.0, (np.cos(turn), np.sin(turn)))
    assert normal(stress, np.array([1.0, 0.0]))[0] == pytest.approx(100.0 * np.cos(turn) ** 2, abs=1e-10)


@pytest.mark.parametrize("angle", [110.0, 165.0, 180.0])
def test_moment_over_the_pivot_section_is_that_of_plane_bending(angle):
    arm = changed(BENCH, geometry__included_angle=np.radians(angle))
    hub, half = arm.geometry.pivot, np.radians(angle) / 2.0
    across, out = np.array([np.cos(half), np.sin(half)]), np.array([-np.sin(half), np.cos(half)])

    def sample(points):
        r = points[:, :2] @ across
        stress = uniaxial(2.0 * r, out)
        stress[np.abs(r) > hub.outside / 2.0] = np.nan
        return stress

    section = pivot_section(arm, sample)[0]
    second = hub.width * (hub.outside**3 - hub.bore**3) / 12.0
    # Stress grows by 2 MPa a mm; cells cut by the outside are one in forty of the wall, where the arm is longest.
    assert pytest.approx(-2.0 * second, rel=0.03) == section.M3
    middle = (hub.outside + hub.bore) / 4.0
    assert section.mean_inner == pytest.approx(2.0 * middle, rel=0.02)
    assert section.mean_outer == pytest.approx(-2.0 * middle, rel=0.02)
