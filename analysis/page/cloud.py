"""The swept designs thinned for a chart: the heaviest population of points keeps one design in each cell of a fine net."""

from __future__ import annotations

import numpy as np

CELLS = (70, 44)  # of mass and margin; a chart's dot is about as large
TOP = 1.5  # largest margin drawn: beyond it no one chooses
Row = dict[str, str]


def cloud(designs: list[Row]) -> list[Row]:
    """The first design of each cell, in the order of the table; designs that cannot be built have no place on the chart."""
    rows = [row for row in designs if row["min_margin"] and float(row["min_margin"]) <= TOP]
    if not rows:
        return []
    places = np.array([(float(row["mass_kg"]), float(row["min_margin"])) for row in rows])
    low, high = places.min(axis=0), places.max(axis=0)
    cell = np.floor((places - low) / np.maximum(high - low, 1e-12) * np.array(CELLS)).astype(int)
    first = np.unique(cell, axis=0, return_index=True)[1]
    return [rows[index] for index in np.sort(first)]
