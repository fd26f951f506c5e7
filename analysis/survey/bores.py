"""Each bore looked at closely: diameter, taper, roundness with lobes, axis against the pivot's, all with uncertainty.

The wall's radius is taken as r + taper s + tilt + sum of lobes cos(k phi), sin(k phi), linear in all unknowns about the fit's
own cylinder; robust weights, and a covariance widened by how neighbours share their errors.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np

from analysis.survey.covariance import patches, psi
from analysis.survey.fit import TUKEY, Fitted, spread_of
from analysis.survey.surface import BORE, FACTOR
from geometry.datums import BORES, Floats

LOBES = (2, 3)
FEWEST = 40
SECTORS = 36


@dataclass(frozen=True)
class BoreFound:
    """One bore; lengths in mm, angles in rad from the output arm, counter-clockwise. `u_` standard uncertainties."""

    name: str
    points: int
    cover: float  # share of the turn seen
    diameter: float
    u_diameter: float
    taper: float  # growth of the diameter from z = -half to +half of the width
    u_taper: float
    two_lobes: float  # amplitude of the radius
    u_two_lobes: float
    two_lobes_at: float
    three_lobes: float
    u_three_lobes: float
    three_lobes_at: float
    roundness: float  # largest less smallest radius of the smooth profile of round, two and three lobes
    u_roundness: float
    x: float  # axis at z = 0, arm's frame
    y: float
    tilt_x: float  # slopes of the axis against the arm's z
    tilt_y: float
    u_tilt: float
    deepest: float  # largest median depth of a sector below the bore of the fit, which leans on most points and all faces
    deepest_at: float
    noise: float
    profile: Floats  # (k, 3): angle rad, median deviation of the wall's radius from the round bore, points; by sector


def found(state: Fitted, name: str, instrument: float) -> BoreFound | None:
    """One bore's details; None where too few points lie on its wall. `instrument` is the standard uncertainty of a diameter."""
    k = BORES.index(name)
    rows = np.flatnonzero((state.labels == BORE * FACTOR + k) & (np.abs(state.residual) < bound(state)))
    width = state.sizes[f"{name}.width"]
    if len(rows) < FEWEST:
        return None
    points = state.points[rows]
    away = points[:, :2] - state.surface.centres[k]
    phi, s = np.arctan2(away[:, 1], away[:, 0]), points[:, 2] / width
    deep = -(state.residual[rows])  # the wall's radius less the fit's
    A = np.column_stack(
        [
            np.ones(len(s)),
            s,
            np.cos(phi),
            np.sin(phi),
            s * np.cos(phi),
            s * np.sin(phi),
            *(wave(lobe * phi) for lobe in LOBES for wave in (np.cos, np.sin)),
        ]
    )
    x, weight, noise = robust(A, deep)
    cov = widened(A, deep - A @ x, weight, noise, points)
    u = np.sqrt(np.diag(cov))
    two, three = (float(np.hypot(*x[i : i + 2])) for i in (6, 8))
    cells = np.floor((phi + np.pi) / (2.0 * np.pi) * SECTORS).astype(int) % SECTORS
    # Below the fit's own cylinder: one of free centre takes wear on one side for a wider bore set aside, above all where a part
    # of the turn was not seen.
    worst, at = sector(cells, deep)
    profile = np.linspace(0.0, 2.0 * np.pi, 720)
    wavy = (
        x[6] * np.cos(2 * profile)
        + x[7] * np.sin(2 * profile)
        + x[8] * np.cos(3 * profile)
        + x[9] * np.sin(3 * profile)
    )
    return BoreFound(
        name,
        len(rows),
        len(np.unique(cells)) / SECTORS,
        state.sizes[f"{name}.bore"] + 2.0 * float(x[0]),
        float(np.hypot(2.0 * u[0], instrument)),
        2.0 * float(x[1]),
        2.0 * float(u[1]),
        two,
        float(u[6:8].max()),
        float(np.arctan2(x[7], x[6]) / 2.0),
        three,
        float(u[8:10].max()),
        float(np.arctan2(x[9], x[8]) / 3.0),
        float(np.ptp(wavy)),
        float(2.0 * np.hypot(u[6:8].max(), u[8:10].max())),
        float(state.surface.centres[k, 0] + x[2]),
        float(state.surface.centres[k, 1] + x[3]),
        float(x[4] / width),
        float(x[5] / width),
        float(u[4:6].max() / width),
        worst,
        at,
        noise,
        sectors(cells, deep - x[0]),
    )


def bound(state: Fitted) -> float:
    """How far wear may go: points beyond are something else, such as a pin left in its bore."""
    return max(state.gate, 0.02 * min(state.sizes[f"{name}.bore"] for name in BORES))


def robust(A: Floats, b: Floats) -> tuple[Floats, Floats, float]:
    """Unknowns, weights (n,) and noise of A x = b with Tukey's weights."""
    weight = np.ones(len(b))
    x, noise = np.zeros(A.shape[1]), 1.0
    for _ in range(20):
        x = cast(Floats, np.linalg.lstsq(A * np.sqrt(weight)[:, None], b * np.sqrt(weight), rcond=1e-10)[0])
        off = b - A @ x
        noise = max(1e-6, spread_of(off))
        weight = np.clip(1.0 - (off / (TUKEY * noise)) ** 2, 0.0, None) ** 2
    return x, weight, noise


def widened(A: Floats, off: Floats, weight: Floats, noise: float, points: Floats) -> Floats:
    """Covariance of the unknowns; neighbours that share their error count for fewer."""
    share = 1.0
    value = psi(off / noise)
    for size in (4, 16, 64):
        patch = patches(points, np.zeros(len(points), dtype=int), size)
        if patch.max() >= 11:
            share = max(share, float(np.sum(np.bincount(patch, value) ** 2) / np.sum(value**2)))
    return cast(Floats, np.linalg.pinv(A.T @ (weight[:, None] * A))) * noise**2 * share


def sector(cells: np.ndarray, deep: Floats) -> tuple[float, float]:
    """Largest median depth of a sector and the middle of it, rad."""
    best, at = 0.0, 0.0
    for cell in np.unique(cells):
        own = deep[cells == cell]
        if len(own) >= 5 and np.median(own) > best:
            best, at = float(np.median(own)), (cell + 0.5) / SECTORS * 2.0 * np.pi - np.pi
    return best, at


def sectors(cells: np.ndarray, deep: Floats) -> Floats:
    """Middle (rad), median and points of each sector with points."""
    return np.array(
        [
            [
                (cell + 0.5) / SECTORS * 2.0 * np.pi - np.pi,
                np.median(deep[cells == cell]),
                np.sum(cells == cell),
            ]
            for cell in np.unique(cells)
            if np.sum(cells == cell) >= 3
        ]
    ).reshape(-1, 3)
