"""Weight against least margin: the swept designs, the front, the meshed ones, the arm as written and the recommended one."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure

from analysis.tables import read_csv, read_json
from analysis.view import LINE, MARK, letter, save
from params.read import read_arm
from params.units import outside, shown_unit

TOP = 1.5  # largest margin drawn: beyond it no one chooses


def columns(rows: list[dict[str, str]], *names: str) -> list[np.ndarray]:
    return [np.array([float(row[name] or "nan") for row in rows]) for name in names]


def front(folder: Path, path: Path) -> None:
    arm = read_arm(folder / "as-written" / "arm.yaml")
    written = read_json(folder / "as-written" / "summary.json")
    best = read_json(folder / "sweep" / "recommended.json")
    unit = shown_unit("mass", arm.units)
    figure = Figure(figsize=(11.0, 7.0), dpi=120)
    axes = figure.add_axes((0.08, 0.14, 0.88, 0.72))
    designs = [row for row in read_csv(folder / "sweep" / "designs.csv") if row["min_margin"]]
    kept = designs[:: max(1, len(designs) // 20_000)]
    mass, margin = columns(kept, "mass_kg", "min_margin")
    axes.plot(
        outside(mass, unit, "mass"),
        margin,
        ".",
        ms=1.5,
        color="#c3c8cd",
        rasterized=True,
        label="swept designs, by hand",
    )
    rows = read_csv(folder / "sweep" / "front.csv")
    meshed = np.append(columns(rows, "mesh_margin")[0] if rows else [], 0.0)
    if rows:
        draw_front(axes, rows, unit)
    draw_written(axes, written, unit)
    if best["id"]:
        point = outside(best["mass_kg"], unit, "mass"), min(best["hand_margin"], best["mesh_margin"])
        axes.plot(
            *point, "*", ms=18, mfc=MARK, mec="white", label="recommended (lesser of hand and mesh margin)"
        )
    axes.axhline(0.0, color=LINE, lw=1.0)
    top = max(
        float(np.nanmax(margin)), written["mesh_margin"], written["hand_margin"], float(np.nanmax(meshed))
    )
    axes.set_ylim(max(-1.0, float(np.nanmin(margin)) - 0.05), min(TOP, top + 0.1))
    axes.set_xlabel(f"mass, {unit}")
    axes.set_ylabel("least margin (capacity / demand - 1); negative fails")
    axes.grid(color="#e9ecee")
    axes.legend(frameon=False, loc="lower right", fontsize=9)
    letter(
        figure, f"{arm.name}, revision {arm.revision}: weight against margin", subtitle(written, best, unit)
    )
    save(figure, path)


def draw_front(axes, rows: list[dict[str, str]], unit: str) -> None:
    mass, hand, mesh = columns(rows, "mass_kg", "hand_margin", "mesh_margin")
    axes.plot(
        outside(mass, unit, "mass"), hand, "-", lw=1.8, color="#1f4e79", label="front, by hand (all clauses)"
    )
    meshed = ~np.isnan(mesh)
    style = {
        "ms": 7,
        "mfc": "none",
        "mec": "#b3561e",
        "mew": 1.6,
        "label": "confirmed by mesh (stress checks)",
    }
    axes.plot(outside(mass[meshed], unit, "mass"), mesh[meshed], "s", **style)


def draw_written(axes, written: dict, unit: str) -> None:
    mass = outside(written["mass_kg"], unit, "mass")
    axes.plot(
        mass,
        min(written["hand_margin"], TOP - 0.03),
        "D",
        ms=9,
        mfc="none",
        mec=LINE,
        mew=1.6,
        label="as written, by hand",
    )
    axes.plot(
        mass,
        min(written["mesh_margin"], TOP - 0.03),
        "D",
        ms=9,
        mfc=LINE,
        mec=LINE,
        label="as written, by mesh",
    )


def subtitle(written: dict, best: dict, unit: str) -> str:
    if not best["id"]:
        return best["reason"]
    old, new = outside(written["mass_kg"], unit, "mass"), outside(best["mass_kg"], unit, "mass")
    return (
        f"As written {old:,.0f} {unit}; recommended {new:,.0f} {unit}, {best['saved_percent']:.0f} % lighter"
    )


if __name__ == "__main__":
    main_folder = Path(sys.argv[1])
    front(main_folder, main_folder / "sweep" / "front.png")
