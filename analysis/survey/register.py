"""Setups brought into common axes: by targets, by their overlap, or by the arm that each of them shows.

A rough join is enough: `fit` then finds the pose of every setup together with the sizes. Nearest points and the plane-to-point
method are small-gicp's, the fit of targets scipy's.
"""

from __future__ import annotations

import numpy as np
from scipy.spatial import cKDTree
from scipy.spatial.transform import Rotation

from analysis.survey.arm import Guess, find
from analysis.survey.pose import Pose, onto
from analysis.survey.reading import Setup
from analysis.survey.reduce import thinned
from geometry.datums import Floats
from params.steps.problems import ParameterError, Problem

COARSE = 25_000  # points of a setup with which it is joined
OVERLAP = 0.15  # share of a setup's points near those of others, from which the setups are taken as standing about right
APART = 0.02  # share of the scan's extent within which targets must agree
MIRRORED = 4  # targets from which a mirrored axis shows


def joined(setups: list[Setup], longer: str, known: dict[str, float], already: bool = False) -> list[Pose]:
    """Pose of each setup into the axes of the first.

    Raises
    ------
    ParameterError
        where targets do not agree, or show mirrored axes.
    NotFound
        where setups neither have targets nor overlap, and one of them does not show the arm.
    """
    if len(setups) == 1 or already:
        return [Pose() for _ in setups]
    coarse = [setup.points[thinned(setup.points, COARSE)] for setup in setups]
    if all(len(common(setups[0], setup)) >= 3 for setup in setups[1:]):
        return [Pose(), *(by_targets(setups[0], setup) for setup in setups[1:])]
    if min(overlaps(coarse)) >= OVERLAP:
        return by_overlap(coarse)
    found = [find(points, longer, known) for points in coarse]
    return by_arm(found)


def common(one: Setup, other: Setup) -> list[str]:
    return sorted(set(one.targets) & set(other.targets))


def by_targets(first: Setup, setup: Setup) -> Pose:
    """Least squares of the targets that both setups name."""
    names = common(first, setup)
    aim, from_ = (np.array([one.targets[name] for name in names]) for one in (first, setup))
    pose = onto(from_, aim)
    off = residual(pose, from_, aim)
    size = float(np.linalg.norm(np.ptp(aim, axis=0)))
    if off > APART * size:
        turned = from_ * np.array([1.0, 1.0, -1.0])
        if len(names) >= MIRRORED and residual(onto(turned, aim), turned, aim) < 0.3 * off:
            raise fault(
                setup,
                "is mirrored against the first: one of its axes points the other way",
                "export it right-handed",
            )
        wrong = f"has targets that are {off:.1f} mm off those of the first"
        raise fault(setup, wrong, "check their names, or the unit", f"at most {APART * size:.1f} mm")
    return pose


def residual(pose: Pose, points: Floats, aim: Floats) -> float:
    return float(np.sqrt(np.mean(np.sum((pose(points) - aim) ** 2, axis=1))))


def fault(setup: Setup, wrong: str, mend: str, limit: str = "") -> ParameterError:
    return ParameterError([Problem(setup.name, 1, "targets", "", wrong, limit, mend)])


def overlaps(setups: list[Floats]) -> list[float]:
    """Share of each setup's points that lie near points of the others, as the files have them."""
    made = []
    for k, points in enumerate(setups):
        rest = np.vstack([other for m, other in enumerate(setups) if m != k])
        near, _ = cKDTree(points).query(points[::20], k=2)
        reach = 3.0 * float(np.median(near[:, 1]))
        far, _ = cKDTree(rest).query(points[::5], distance_upper_bound=reach)
        made.append(float(np.mean(np.isfinite(far))))
    return made


def by_overlap(setups: list[Floats]) -> list[Pose]:
    """Each setup onto those before it, points to planes."""
    import small_gicp

    poses, stock = [Pose()], setups[0]
    for points in setups[1:]:
        near, _ = cKDTree(stock).query(stock[::20], k=2)
        reach = 5.0 * float(np.median(near[:, 1]))
        found = small_gicp.align(
            stock,
            points,
            registration_type="PLANE_ICP",
            downsampling_resolution=reach / 5.0,
            max_correspondence_distance=reach,
            num_threads=1,
            max_iterations=30,
        )
        matrix = np.array(found.T_target_source)
        moved = Pose(Rotation.from_matrix(matrix[:3, :3]), matrix[:3, 3])
        if np.linalg.norm(moved(points) - points, axis=1).mean() > 10.0 * reach:
            moved = Pose()  # it ran away: as the files have it
        poses.append(moved)
        stock = np.vstack([stock, moved(points)])
    return poses


def by_arm(found: list[Guess]) -> list[Pose]:
    """Each setup's arm onto the first's; a scan of one side may be turned over, which its own guess cannot tell."""
    return [found[0].pose.inverse().after(guess.pose) for guess in found]
