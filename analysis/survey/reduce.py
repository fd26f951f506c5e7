"""Fewer points, evenly spread: one point of each cell of a raster, as it was measured, so that its noise stays what it was."""

from __future__ import annotations

import numpy as np

from geometry.datums import Floats

GUESSED = 200_000  # points from which the size of the cells is guessed
CHUNK = 2_000_000
DENSE = 4  # points to a cell from which a cell with one point is stray


def thinned(points: Floats, most: int) -> np.ndarray:
    """Rows of about `most` of the points (n, 3), or of all where they are fewer; the first of each cell.

    Where cells hold several points, those that hold one are left out: stray points have no neighbours.
    """
    if len(points) <= most:
        return np.arange(len(points))
    low, high = np.percentile(points[:: max(1, len(points) // GUESSED)], [0.5, 99.5], axis=0)
    cell, least = float(np.max(high - low)) / np.sqrt(most), 2 if len(points) > DENSE * most else 1
    rows = np.arange(len(points))
    for _ in range(12):
        rows = firsts(points, low, cell, least)
        if 0.7 * most <= len(rows) <= most:
            break
        cell *= float(np.clip(np.sqrt(max(len(rows), 1) / (0.85 * most)), 0.5, 2.0))
    if len(rows) > most:  # scattered so widely that no cell holds two
        rows = rows[np.linspace(0, len(rows) - 1, most).astype(int)]
    return rows


def firsts(points: Floats, low: Floats, cell: float, least: int) -> np.ndarray:
    """Rows, in order, of the first point of each cell with `least` points; in chunks, so that little memory is taken."""
    keys, rows, counts = (np.zeros(0, dtype=np.int64) for _ in range(3))
    for start in range(0, len(points), CHUNK):
        part = np.clip(np.floor((points[start : start + CHUNK] - low) / cell), -(2**19), 2**19 - 1).astype(
            np.int64
        )
        key = ((part[:, 0] + 2**19) << 42) | ((part[:, 1] + 2**19) << 21) | (part[:, 2] + 2**19)
        own, first, count = np.unique(key, return_index=True, return_counts=True)
        keys, kept, where = np.unique(np.concatenate([keys, own]), return_index=True, return_inverse=True)
        counts = np.bincount(where, np.concatenate([counts, count])).astype(np.int64)
        rows = np.concatenate([rows, first + start])[kept]
    return np.sort(rows[counts >= least])
