"""Figures of the bores again, from files alone: `python tests/proof/outside_bores.py results/ARM/as-written`.

Imports nothing of the project: meshio and numpy. The pivot bore's peak from the nodal stress of stress.vtu, fitted by a quadratic
over a patch of 0.3 diameters; the pressures of contact.csv from contact-field.csv and the faces of contact.msh; the load factor of
a found crack without residual stress from Kr and Lr alone, by the line of BS 7910 Option 1 (from memory); the band of the peak
outside from convergence.csv.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import meshio
import numpy as np

FEWEST = 12  # nodes of a fit
PATCH = 0.3  # bore diameters: side of the patch, and distance from the rim at which pressure is read


def table(path):
    return list(csv.DictReader(path.open()))


def mises(s):
    x, y, z, xy, yz, zx = s.T
    return np.sqrt(((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2.0 + 3.0 * (xy**2 + yz**2 + zx**2))


def bore_peak(folder):
    """Largest equivalent stress of the fit on the pivot bore, MPa."""
    mesh = meshio.read(folder / "stress.vtu")
    r = np.hypot(*mesh.points[:, :2].T)
    sizes, often = np.unique(np.round(r[r < 1.03 * r.min()], 4), return_counts=True)
    radius = sizes[np.argmax(often)]  # nodes of a coarse mesh at the rim may lie within
    bore = np.flatnonzero(r < radius * (1.0 + 1e-5))
    points = mesh.points[bore]
    half, low, high = PATCH * radius, points[:, 2].min(), points[:, 2].max()
    angle, best = np.arctan2(points[:, 1], points[:, 0]), 0.0
    names = [one for one in mesh.point_data if one.startswith("stress:") and "at its least" not in one]
    fields = [np.asarray(mesh.point_data[one], float)[bore] for one in names]
    for k in range(len(bore)):
        if max(mises(one[k : k + 1])[0] for one in fields) < 0.9 * best:
            continue
        arc = ((angle - angle[k] + np.pi) % (2.0 * np.pi) - np.pi) * radius
        middle = np.clip(points[k, 2], low + half, high - half)
        near = np.flatnonzero((abs(arc) <= half) & (abs(points[:, 2] - middle) <= half))
        if len(near) < FEWEST:  # of a coarse mesh the nearest count
            near = np.argsort(np.linalg.norm(points - points[k], axis=1), kind="stable")[:FEWEST]
        x, y = arc[near] / half, (points[near, 2] - points[k, 2]) / half
        terms = np.column_stack([x**0, x, y, x * x, x * y, y * y])
        for one in fields:  # each neighbour's tensor in its own radial axes, as matrices
            turned = []
            for n in near:
                c, s = np.cos(angle[n]), np.sin(angle[n])
                q = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
                a, b, d, ab, bd, da = one[n]
                t = q @ np.array([[a, ab, da], [ab, b, bd], [da, bd, d]]) @ q.T
                turned.append([t[0, 0], t[1, 1], t[2, 2], t[0, 1], t[1, 2], t[0, 2]])
            fit = np.linalg.lstsq(terms, np.array(turned), rcond=None)[0][0]
            best = max(best, float(mises(fit[None])[0]))
    return best


def pressures(folder):
    """Peak away from the rim and mean at it, MPa, of the pivot's case in contact-field.csv, with the row of contact.csv."""
    rows = [one for one in table(folder / "bores" / "contact-field.csv") if one["fits"] == "fit"]
    at = np.array([[float(one[name]) for name in ("angle_deg", "z_mm", "pressure_MPa")] for one in rows])
    mesh = meshio.read(folder / "bores" / "contact.msh")
    faces = mesh.cells_dict["triangle6"]
    r = np.hypot(*mesh.points[:, :2].T)
    faces = faces[(r[faces] < r.min() * (1.0 + 1e-5)).all(axis=1)]
    radius, z = r.min(), mesh.points[:, 2]
    half = np.abs(z[faces]).max()
    place = np.column_stack([np.degrees(np.arctan2(mesh.points[:, 1], mesh.points[:, 0])), z])
    number = {}
    for n in np.unique(faces[:, 3:]):
        turn = (at[:, 0] - place[n, 0] + 180.0) % 360.0 - 180.0
        number[n] = int(np.argmin((np.radians(turn) * radius) ** 2 + (at[:, 1] - z[n]) ** 2))
    a, b, c = (mesh.points[faces[:, k]] for k in range(3))
    size = np.linalg.norm(np.cross(b - a, c - a), axis=1) / 2.0
    area = np.zeros(len(at))
    peak, length = 0.0, 2.0 * PATCH * radius
    length = min(length, 0.75 * half)
    for face, one in zip(faces[:, 3:], size, strict=True):
        mine = [number[n] for n in face]
        area[mine] += one / 3.0
        if np.abs(z[face]).max() <= half - length + 1e-6:
            peak = max(peak, float(at[mine, 2].mean()))
    edge = 0.0
    for side in (1.0, -1.0):
        for k in range(len(at)):
            away, share = half - side * at[:, 1], np.sqrt(area)
            arc = np.abs((at[:, 0] - at[k, 0] + 180.0) % 360.0 - 180.0) * np.pi / 180.0 * radius
            if away[k] > length + share[k]:
                continue
            along = np.clip((length - away) / share + 0.5, 0.0, 1.0)
            round_ = np.clip((length / 2.0 - arc) / share + 0.5, 0.0, 1.0)
            weight = along * round_ * area
            edge = max(edge, float((weight * at[:, 2]).sum() / weight.sum()))
    listed = next(
        one
        for one in table(folder / "bores" / "contact.csv")
        if (one["fits"], one["bore"], one["load_case"]) == ("fit", "pivot_bore", rows[0]["load_case"])
    )
    return peak, edge, listed


def load_factor(kr, lr, modulus=205000.0, strength=None):
    mu = 0.6 if strength is None else min(0.001 * modulus / strength, 0.6)
    low, high = 0.0, 1000.0
    for _ in range(80):
        middle = 0.5 * (low + high)
        line = (1.0 + 0.5 * (middle * lr) ** 2) ** -0.5
        line *= 0.3 + 0.7 * np.exp(-mu * (middle * lr) ** 6)
        low, high = (low, middle) if middle * kr >= line else (middle, high)
    return low


def outside_band(rows):
    """Percent: Roache's two-mesh band or three times the range, whichever is wider, of a series without an order."""
    peaks, sizes = ([float(one[name]) for one in rows[-3:]] for name in ("peak_MPa", "element_mm"))
    scatter = 3.0 * (max(peaks) - min(peaks)) / peaks[-1]
    ratio = sizes[-2] / sizes[-1]
    two = 3.0 * abs(peaks[-1] - peaks[-2]) / peaks[-1] / (ratio**2 - 1.0) if ratio > 1.0 else np.inf
    alike = min(sizes[-2] / sizes[-1], sizes[-3] / sizes[-2]) < 1.1
    return 100.0 * (scatter if alike else max(two, scatter))


def found(folder):
    """Pairs (listed, again) of the load factor of found cracks without residual stress, where they have settled."""
    rows = table(folder / "bores" / "cracks.csv") if (folder / "bores" / "cracks.csv").exists() else []
    rows = [
        one for one in rows if one["residual"] == "none" and one["load_factor"] and one["Kr"] and one["Lr"]
    ]
    return [(float(one["load_factor"]), load_factor(float(one["Kr"]), float(one["Lr"]))) for one in rows]


def main(folder):
    """Triples: what, as listed, again."""
    results = [("load factor", *pair) for pair in found(folder)]
    listed = [one for one in table(folder / "convergence.csv") if one["place"] == "pivot_bore"][-1]
    results.append(("peak of the pivot bore", float(listed["peak_MPa"]), bore_peak(folder)))
    peak, edge, row = pressures(folder)
    results.append(("peak pressure", float(row["peak_pressure_MPa"]), peak))
    results.append(("mean pressure at the rim", float(row["edge_mean_MPa"]), edge))
    series = [one for one in table(folder / "convergence.csv") if one["place"] == "outside"]
    if len(series) > 2 and not series[-1]["order"]:  # a coarse run has one mesh and no band
        results.append(("band outside", float(series[-1]["band_percent"]), outside_band(series)))
    for what, one, again in results:
        print(f"{folder}: {what}: {one:.6g} as listed, {again:.6g} again")
    return results


def faults(folder):
    """A line for each difference beyond 0.2 %: stress in the file has single precision, chords stand for arcs in the areas."""
    return [
        f"{folder}: {what} is {one:.6g}, again {again:.6g}"
        for what, one, again in main(folder)
        if abs(again - one) > 2e-3 * abs(one)
    ]


if __name__ == "__main__":
    sys.exit(len(faults(Path(sys.argv[1]))))
