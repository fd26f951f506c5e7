"""A row of resultants.csv and of verify.csv again, from stress.vtu alone: `python tests/proof/outside.py results/ARM/as-written`.

Imports nothing of the project: meshio and numpy. Section forces by another way than the project's: the free body of the part
beyond the section, its nodal forces summed from the displacements with a four-point rule of its own; flange stresses by the mean of
random points in the flange, each read from the element that holds it by brute force.
"""

from __future__ import annotations

import csv
import json
import sys
from pathlib import Path

import meshio
import numpy as np

EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
POINTS = 400
MODULUS, POISSON = 205000.0, 0.3  # of all steels of the demo arms


def shapes(share):
    """Quadratic shape functions of barycentric coordinates (p, 4): (p, 10)."""
    return np.column_stack(
        [share * (2.0 * share - 1.0), *(4.0 * share[:, a] * share[:, b] for a, b in EDGES)]
    )


def slopes(share):
    """Their gradients in the last three barycentric coordinates: (10, 3)."""
    base = np.vstack([-np.ones(3), np.eye(3)])
    corner = (4.0 * share - 1.0)[:, None] * base
    return np.vstack([corner, [4.0 * (share[a] * base[b] + share[b] * base[a]) for a, b in EDGES]])


def end_force(points, tets, moved, beyond, modulus, poisson):
    """Force and moment about the origin of all nodal forces on nodes that only elements beyond have: the loads on that part."""
    near = (5.0 + 3.0 * np.sqrt(5.0)) / 20.0
    rule = np.full((4, 4), (1.0 - near) / 3.0) + np.eye(4) * (near - (1.0 - near) / 3.0)
    mu = modulus / 2.0 / (1.0 + poisson)
    lame = modulus * poisson / (1.0 + poisson) / (1.0 - 2.0 * poisson)
    mine = np.zeros(len(points), bool)
    mine[tets[~beyond]] = True
    total = np.zeros(6)
    for tet in tets[beyond & mine[tets].any(axis=1)]:
        force = np.zeros((10, 3))
        for share in rule:
            turned = points[tet].T @ slopes(share)
            grad = slopes(share) @ np.linalg.inv(turned)
            strain = moved[tet].T @ grad
            stress = mu * (strain + strain.T) + lame * np.trace(strain) * np.eye(3)
            force += np.linalg.det(turned) / 24.0 * grad @ stress
        shared = mine[tet]
        total[:3] -= force[shared].sum(axis=0)
        total[3:] -= np.cross(points[tet[shared]], force[shared]).sum(axis=0)
    return total


def read_at(points, tets, field, place):
    """A nodal field at a place, by the straight element that holds it; None outside."""
    corners = points[tets[:, :4]]
    near = np.argsort(((corners.mean(axis=1) - place) ** 2).sum(axis=1))[:200]
    for number in near:
        edges = (corners[number, 1:] - corners[number, 0]).T
        inner = np.linalg.solve(edges, place - corners[number, 0])
        share = np.array([1.0 - inner.sum(), *inner])
        if share.min() > -1e-9:
            return shapes(share[None])[0] @ field[tets[number]]
    return None


def row_of(folder, table, quantity, start):
    """The row of the output arm near the middle of its span."""
    rows = [r for r in csv.DictReader((folder / table).open()) if r["quantity"] == quantity]
    rows = [r for r in rows if r["place"].startswith(start) and "wall" not in r["place"]]
    cases = {r["load_case"] for r in rows}
    rows = [r for r in rows if r["load_case"] == min(cases)]
    return rows[len(rows) // 2]


def main(folder):
    """Differences in percent: M3 by nodes against the table, mean stress of the plus flange against the table."""
    hand = json.loads((folder / "hand.json").read_text())
    sizes = json.loads((folder / "summary.json").read_text())["sizes_mm"]
    mesh = meshio.read(folder / "stress.vtu")
    points, tets = mesh.points, mesh.cells_dict["tetra10"]
    forces = row_of(folder, "resultants.csv", "M3", "output arm")
    case = forces["load_case"]
    stations = hand["cases"][case]["stations"]["output"]
    station = stations[len(stations) // 2]
    s, us = station["s"], forces["unit"] != "kN m"
    moved = np.asarray(mesh.point_data[f"displacement:{case}"], float)
    # The output arm lies along +x, its sideways axis is y: M3 is the moment about z at (s, 0, 0).
    beyond = points[tets[:, :4]].mean(axis=1)[:, 0] > s
    passed = end_force(points, tets, moved, beyond, MODULUS, POISSON)
    moment = passed[5] - s * passed[1]
    listed = float(forces["by_nodes"]) * (1355817.95 if us else 1e6)  # kip ft, kN m in N mm
    first = 100.0 * (moment / listed - 1.0)

    stresses = row_of(
        folder, "verify.csv", "flange stress, mean over its thickness, plus flange", "output arm"
    )
    field = np.asarray(mesh.point_data[f"stress:{stresses['load_case']}"], float)[:, 0]
    draw = np.random.default_rng(1)
    values = []
    while len(values) < POINTS:
        y = station["depth"] / 2.0 - sizes["flange_thickness"] * draw.uniform(0.0, 1.0)
        value = read_at(points, tets, field, np.array([s, y, sizes["width"] * draw.uniform(-0.5, 0.5)]))
        if value is not None:
            values.append(value)
    listed = float(stresses["mesh"]) * (6.894757 if stresses["unit"] == "ksi" else 1.0)
    second = 100.0 * (np.mean(values) / listed - 1.0)
    print(f"{folder}: M3 at {s:.1f} mm, {case}: {first:+.4f} % from the table")
    print(f"{folder}: mean stress of the flange there: {second:+.2f} % from the table")
    return first, second


def faults(folder):
    """A line for each difference beyond 0.1 % of the moment (single precision of the file), 3 % of the mean (400 random points)."""
    moment, mean = main(folder)
    lines = [f"{folder}: M3 differs by {moment:.3f} %"] if abs(moment) > 0.1 else []
    return [*lines, *([f"{folder}: mean stress differs by {mean:.2f} %"] if abs(mean) > 3.0 else [])]


if __name__ == "__main__":
    sys.exit(len(faults(Path(sys.argv[1]))))
