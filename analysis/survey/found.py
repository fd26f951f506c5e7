"""A whole survey: from the files of a folder to the fitted arm, its uncertainty, bores, and deviations."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from analysis.survey import deviation
from analysis.survey import sizes as named
from analysis.survey.arm import Guess, NotFound, find
from analysis.survey.bores import BoreFound
from analysis.survey.bores import found as bore_found
from analysis.survey.covariance import Covariance, covariance
from analysis.survey.fit import Expected, Fitted, Observation, fit, spread_of
from analysis.survey.normals import crowded
from analysis.survey.pose import Pose
from analysis.survey.reading import UNITS, Setup, setups
from analysis.survey.reduce import thinned
from analysis.survey.register import joined
from analysis.survey.surface import surface
from geometry.datums import BORES, Floats
from params.schema.survey import Survey
from params.schema.units import factor
from params.steps.problems import ParameterError, Problem

LOOKED = 80_000  # points in which the arm is looked for
FEW = 400_000  # points up to which each one's neighbours are counted to leave stray ones out
FITTED, QUICK = 24_000, 5_000  # points of the fit, and of one that only compares
MAPPED = 120_000  # points of the deviation
START = 0.015  # gate of the first fit over the arms' lengths
ABSURD = 0.2  # a tape's reading and the scan's size differ by no more than this share
UNIT_FITS = 0.03


@dataclass
class Found:
    """What a survey found."""

    survey: Survey
    state: Fitted
    certainty: Covariance
    bores: list[BoreFound]
    areas: list[deviation.Area]
    shapes: list[deviation.Shape]
    losses: list[deviation.Loss]
    map_points: Floats  # (m, 3) arm's axes
    map_far: Floats
    map_labels: np.ndarray
    read: int
    dropped: int
    up: Floats | None
    nominal: dict[str, float] | None = None


def found(folder: Path, survey: Survey, nominal: tuple[str, dict[str, float]] | None = None) -> Found:
    """Survey the files of a folder; with a `nominal` kind and sizes the map is that against these.

    Raises
    ------
    ParameterError
        where a file is at fault, or no arm is in it.
    """
    read = [setup for file in survey.files for setup in setups(folder, file)]
    shown = named.ALL if survey.section in ("by fit", "i") else named.names("solid")  # a box hides its plates
    known = {one.size: one.value for one in survey.tape if one.size in shown}
    try:
        poses = joined(read, survey.longer_arm, known, survey.joined)
        guess = find(together(read, poses), survey.longer_arm, known)
    except NotFound as answer:
        raise told(folder, "files", str(answer), "scan all of it, or check unit and file") from None
    agrees(folder, survey, guess)
    poses = [guess.pose.after(pose) for pose in poses]
    expected = expectation(survey)
    state = fitted(read, poses, guess, survey, expected)
    certainty = covariance(state)
    instrument = {name: certainty.of(f"{name}.bore").instrument for name in BORES}
    points = dense(read, state)
    close = closer(state, points)
    bores = [one for name in BORES if (one := bore_found(close, name, instrument[name])) is not None]
    body, far, labels = mapped(points, state, nominal)
    sigma = float(np.median([row.uncertainty for row in certainty.rows if row.determined] or [0.0])) / 2.0
    areas = deviation.areas(body, points, far, labels, sigma, survey.least_depth)
    shapes = [one for name in ("input", "output") if (one := deviation.shape(state, name)) is not None]
    return Found(
        survey,
        state,
        certainty,
        bores,
        areas,
        shapes,
        deviation.losses(body, areas),
        points,
        far,
        labels,
        sum(len(one.points) for one in read),
        sum(one.dropped for one in read),
        upward(survey, state),
        None if nominal is None else nominal[1],
    )


def told(folder: Path, field: str, wrong: str, mend: str) -> ParameterError:
    return ParameterError([Problem(str(folder / "survey.yaml"), 1, field, "", wrong, "", mend)])


def together(read: list[Setup], poses: list[Pose]) -> Floats:
    """Points of all setups in the axes of the first, stray ones left out, thinned."""
    parts = []
    for setup, pose in zip(read, poses, strict=True):
        points = setup.points
        if len(points) <= FEW:
            points = points[crowded(points)]
        parts.append(pose(points[thinned(points, max(LOOKED // len(read), 20_000))]))
    points = np.vstack(parts)
    return points[thinned(points, LOOKED)] if len(points) > LOOKED else points


def agrees(folder: Path, survey: Survey, guess: Guess) -> None:
    """Refuse a scan whose size is far from what the tape says, with the unit that would fit."""
    ratios = [
        guess_size / one.value
        for one in survey.tape
        if one.size.endswith(("_arm", "outside"))
        and one.value > 0.0
        and (guess_size := guess.sizes.get(one.size, 0.0)) > 0.0
    ]
    if not ratios or abs(np.median(ratios) - 1.0) < ABSURD:
        return
    ratio = float(np.median(ratios))
    unit = survey.files[0].unit or "m"
    fits = [
        name
        for name in UNITS
        if abs(factor(name, "length")[0] / factor(unit, "length")[0] * ratio - 1.0) < UNIT_FITS
    ]
    mend = f"the unit is {fits[0]}" if fits else "check the unit, and which arm is the longer one"
    raise told(folder, "files.0.unit", f"makes the arm {ratio:.3g} times as large as the tape says", mend)


def expectation(survey: Survey) -> Expected:
    tool = survey.instrument
    return Expected(
        tool.scale_ppm * 1e-6,
        tool.offset,
        tuple(Observation(one.size, one.value, max(one.spread, 1e-6)) for one in survey.tape),
        max(1e-3, 0.2 * tool.noise),
        survey.joined_within,
    )


def fitted(read: list[Setup], poses: list[Pose], guess: Guess, survey: Survey, expected: Expected) -> Fitted:
    """The fit of the kind that explains most points, or of the kind that is told."""
    gate = START * (guess.sizes["input_arm"] + guess.sizes["output_arm"])
    kinds = {"by fit": [guess.kind], "i": ["i"]}.get(survey.section, ["solid"])
    if kinds == ["i"] and guess.kind != "i":
        depth, width = guess.sizes["section.depth_at_pins"], guess.sizes["section.width"]
        guess.sizes |= {
            "section.flange_thickness": 0.12 * depth,
            "section.web_thickness": 0.3 * width,
            "section.fillet": 0.1 * width,
        }
    points = [
        near(setup.points, pose, guess.sizes, FITTED // len(read))
        for setup, pose in zip(read, poses, strict=True)
    ]
    sizes = {name: guess.sizes[name] for name in named.names(kinds[0])}
    return fit(points, kinds[0], sizes, poses, expected, gate)


def near(points: Floats, pose: Pose, sizes: dict[str, float], most: int) -> Floats:
    """Points about the arm, thinned."""
    reach = 0.5 * max(sizes[f"{name}.width"] for name in BORES) * 1.3
    body = surface({**sizes}, "solid")
    rows = []
    for start in range(0, len(points), 1_000_000):
        local = pose(points[start : start + 1_000_000])
        low = np.array([*(body.centres.min(axis=0) - sizes["pivot.outside"]), -reach])
        high = np.array([*(body.centres.max(axis=0) + sizes["pivot.outside"]), reach])
        rows.append(start + np.flatnonzero(((local > low) & (local < high)).all(axis=1)))
    own = points[np.concatenate(rows)]
    own = own[thinned(own, 8 * most)]
    far, _ = body.nearest(pose(own))
    own = own[np.abs(far) < 0.6 * sizes["section.depth_at_hub"]]
    return own[thinned(own, most)]


def dense(read: list[Setup], state: Fitted) -> Floats:
    """Points about the fitted arm in its axes, for the map."""
    parts = [
        pose(near(setup.points, pose, state.sizes, MAPPED // len(read)), state.scale)
        for setup, pose in zip(read, state.poses, strict=True)
    ]
    points = np.vstack(parts)
    far, _ = state.surface.nearest(points)
    reach = 0.03 * (state.sizes["input_arm"] + state.sizes["output_arm"])
    return points[np.abs(far) < reach]


def closer(state: Fitted, points: Floats) -> Fitted:
    """The fit with all points about the arm in place of the fewer that were fitted: a bore has few of these."""
    far, labels = state.surface.nearest(points)
    return replace(state, points=points, labels=labels, residual=far - state.offset)


def mapped(points: Floats, state: Fitted, nominal: tuple[str, dict[str, float]] | None):
    """The surface that the map is against, the distance of every point from it, and its face."""
    if nominal is None:
        far, labels = state.surface.nearest(points)
        return state.surface, far - state.offset, labels
    kind, sizes = nominal
    start = max(6.0 * spread_of(state.residual[state.sure]), 0.005 * sizes["output_arm"])
    held = fit([points[thinned(points, QUICK)]], kind, sizes, [Pose()], Expected(), start, held=True)
    body = surface(sizes, kind)
    moved = held.poses[0](points)
    far, labels = body.nearest(moved)
    return body, far, labels


def upward(survey: Survey, state: Fitted) -> Floats | None:
    """The direction (3,) that pointed up at the scan, in the arm's axes."""
    if survey.up is None:
        return None
    way = np.eye(3)["xyz".index(survey.up[-1])] * (-1.0 if survey.up.startswith("-") else 1.0)
    return state.poses[0].turn.apply(way)
