"""What a survey writes: parameters.csv, correlation.csv, bores.csv, deviation.csv, losses.csv, shape.csv, survey.json, map.npz."""

from __future__ import annotations

from dataclasses import asdict
from math import degrees
from pathlib import Path
from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from analysis.survey import sizes as named
from analysis.survey.covariance import REACH
from analysis.survey.found import Found
from analysis.survey.standard import beside
from analysis.tables.files import write_cautioned, write_csv, write_json
from geometry.datums import BORES
from params.schema.units import MM_PER_IN
from params.steps.caution import CAUTION

PARAMETERS = (
    "size",
    "value",
    "unit",
    "uncertainty",
    "band_95",
    "noise",
    "neighbours",
    "coverage",
    "instrument",
    "determined",
    "points",
    "bound_to",
    "correlation",
    "standard",
    "standard_name",
    "from",
)
BORE_COLUMNS = (
    "bore",
    "points",
    "seen_percent",
    "diameter",
    "u_diameter",
    "taper",
    "u_taper",
    "two_lobes",
    "u_two_lobes",
    "two_lobes_at_deg",
    "three_lobes",
    "u_three_lobes",
    "three_lobes_at_deg",
    "roundness",
    "u_roundness",
    "worn_most",
    "worn_most_at_deg",
    "distance_to_pivot",
    "u_distance",
    "out_of_parallel",
    "u_out_of_parallel",
    "unit",
)
DEVIATION = (
    "what",
    "face",
    "place",
    "along_arm",
    "x",
    "y",
    "z",
    "length",
    "width",
    "area",
    "mean_depth",
    "largest_depth",
    "u_mean",
    "points",
    "unit",
)


def unit(units: str) -> tuple[str, float]:
    """Unit of lengths in tables and mm in it."""
    return ("mm", 1.0) if units == "si" else ("in", MM_PER_IN)


def write(found: Found, folder: Path) -> None:
    """All tables, the summary and the points of the map."""
    folder.mkdir(parents=True, exist_ok=True)
    write_cautioned(folder / "parameters.csv", PARAMETERS, parameters(found))
    order = found.certainty.order
    matrix = [
        {"size": one, **dict(zip(order, row, strict=True))}
        for one, row in zip(order, found.certainty.correlation, strict=True)
    ]
    write_csv(folder / "correlation.csv", ("size", *order), matrix)
    write_cautioned(folder / "bores.csv", BORE_COLUMNS, bores(found))
    name, mm = unit(found.survey.units)
    write_csv(
        folder / "profile.csv",
        ("bore", "angle_deg", "deviation", "points", "unit"),
        (
            {
                "bore": one.name,
                "angle_deg": degrees(angle),
                "deviation": far / mm,
                "points": int(count),
                "unit": name,
            }
            for one in found.bores
            for angle, far, count in one.profile
        ),
    )
    write_cautioned(folder / "deviation.csv", DEVIATION, areas(found))
    lost = ("arm", "along_arm", "section_lost", "share", "depth_lost_flanges", "depth_lost_sides", "unit")
    write_cautioned(
        folder / "losses.csv",
        lost,
        (
            {
                "arm": one.arm,
                "along_arm": one.s / mm,
                "section_lost": one.lost / mm**2,
                "share": one.share,
                "depth_lost_flanges": one.flange / mm,
                "depth_lost_sides": one.web / mm,
                "unit": name,
            }
            for one in found.losses
        ),
    )
    bent = ("arm", "slope_deg", "u_slope_deg", "sag", "u_sag", "twist_deg", "u_twist_deg", "points", "unit")
    write_cautioned(
        folder / "shape.csv",
        bent,
        (
            {
                "arm": one.arm,
                "slope_deg": degrees(one.slope),
                "u_slope_deg": degrees(one.u_slope),
                "sag": one.sag / mm,
                "u_sag": one.u_sag / mm,
                "twist_deg": degrees(one.twist),
                "u_twist_deg": degrees(one.u_twist),
                "points": one.points,
                "unit": name,
            }
            for one in found.shapes
        ),
    )
    write_json(folder / "survey.json", summary(found))
    points, far = quiet(found)
    np.savez_compressed(folder / "map.npz", points=points.astype(np.float32), far=far.astype(np.float32))


def quiet(found: Found) -> tuple[np.ndarray, np.ndarray]:
    """Points of the map and the median distance of each one's nearest seven, in which single stray points vanish."""
    step = max(1, len(found.map_points) // 60_000)
    points, far = found.map_points[::step], found.map_far[::step]
    _, near = cKDTree(points).query(points, k=min(7, len(points)))
    return points, np.median(far[near], axis=1)


def fine(value: float) -> str:
    """Nine digits: a length of metres is known to hundredths of a millimetre, which a table's usual six would cut."""
    return f"{value:.9g}"


def parameters(found: Found) -> list[dict[str, Any]]:
    name, mm = unit(found.survey.units)
    taped = {one.size for one in found.survey.tape}
    made = []
    for row in found.certainty.rows:
        told, size = ("deg", np.pi / 180.0) if row.name == named.ANGLE else (name, mm)
        near, near_name = beside(row.name, row.value, found.survey.units)
        sure = given(found, row.name)
        made.append(
            {
                "size": row.name,
                "value": fine(row.value / size) if sure else "",
                "unit": told,
                "uncertainty": row.uncertainty / size,
                "band_95": REACH * row.uncertainty / size,
                "noise": row.noise / size,
                "neighbours": row.neighbours / size,
                "coverage": row.coverage / size,
                "instrument": row.instrument / size,
                "determined": sure,
                "points": row.points,
                "bound_to": row.other,
                "correlation": row.correlation,
                "standard": None if near is None else near / size,
                "standard_name": near_name,
                "from": "scan and tape" if row.name in taped else "scan" if sure else "to be given",
            }
        )
    order = found.certainty.order
    for one in found.survey.tape:
        if one.size not in order:
            made.append(
                {
                    "size": one.size,
                    "value": one.value / mm,
                    "unit": name,
                    "uncertainty": one.spread / mm,
                    "band_95": REACH * one.spread / mm,
                    "determined": True,
                    "points": 0,
                    "from": "tape",
                }
            )
    return made


def given(found: Found, name: str) -> bool:
    """Whether a size's value may be used: determined by points or tape, and not told to be hidden."""
    taped = {one.size for one in found.survey.tape}
    return name in taped or (found.certainty.of(name).determined and name not in found.survey.hidden)


def bores(found: Found) -> list[dict[str, Any]]:
    name, mm = unit(found.survey.units)
    pivot = next((one for one in found.bores if one.name == "pivot"), None)
    made = []
    for one in found.bores:
        row: dict[str, Any] = {
            "bore": one.name,
            "points": one.points,
            "seen_percent": 100.0 * one.cover,
            "diameter": fine(one.diameter / mm),
            "u_diameter": one.u_diameter / mm,
            "taper": one.taper / mm,
            "u_taper": one.u_taper / mm,
            "two_lobes": one.two_lobes / mm,
            "u_two_lobes": one.u_two_lobes / mm,
            "two_lobes_at_deg": degrees(one.two_lobes_at),
            "three_lobes": one.three_lobes / mm,
            "u_three_lobes": one.u_three_lobes / mm,
            "three_lobes_at_deg": degrees(one.three_lobes_at),
            "roundness": one.roundness / mm,
            "u_roundness": one.u_roundness / mm,
            "worn_most": one.deepest / mm,
            "worn_most_at_deg": degrees(one.deepest_at),
            "unit": name,
        }
        if pivot is not None and one is not pivot:
            length = found.certainty.of(f"{one.name}_arm")
            width = found.state.sizes[f"{one.name}.width"]
            row |= {
                "distance_to_pivot": fine(float(np.hypot(one.x - pivot.x, one.y - pivot.y)) / mm),
                "u_distance": length.uncertainty / mm,
                "out_of_parallel": float(np.hypot(one.tilt_x - pivot.tilt_x, one.tilt_y - pivot.tilt_y))
                * width
                / mm,
                "u_out_of_parallel": float(np.hypot(one.u_tilt, pivot.u_tilt)) * width / mm,
            }
        made.append(row)
    return made


def areas(found: Found) -> list[dict[str, Any]]:
    name, mm = unit(found.survey.units)
    return [
        {
            "what": one.what,
            "face": one.face,
            "place": one.arm,
            "along_arm": one.s / mm,
            "x": one.x / mm,
            "y": one.y / mm,
            "z": one.z / mm,
            "length": one.length / mm,
            "width": one.width / mm,
            "area": one.square / mm**2,
            "mean_depth": one.mean / mm,
            "largest_depth": one.largest / mm,
            "u_mean": one.sigma / mm,
            "points": one.points,
            "unit": name,
        }
        for one in found.areas
    ]


def summary(found: Found) -> dict[str, Any]:
    """What people and later steps ask first."""
    state = found.state
    open_ = [row.name for row in found.certainty.rows if not given(found, row.name)]
    up = found.up
    return {
        "name": found.survey.name,
        "title": found.survey.title,
        "date": str(found.survey.date),
        "units": found.survey.units,
        "instrument": asdict_plain(found.survey.instrument),
        "by": found.survey.by,
        "owner_caution": found.survey.caution,
        "caution": CAUTION,
        "kind": state.kind if state.kind == "i" else closed(found),
        "points_read": found.read,
        "points_no_numbers": found.dropped,
        "points_fitted": int(state.sure.sum()),
        "points_offered": len(state.sure),
        "setups": len(state.poses),
        "noise_mm": float(np.median(state.spread[state.sure])),
        "neighbours_factor": found.certainty.inflation,
        "rounds": state.rounds,
        "settled": state.settled,
        "to_be_given": open_,
        "areas": len(found.areas),
        "scale": state.scale,
        "offset_mm": state.offset,
        "output_arm_above_level_deg": None if up is None else degrees(np.arcsin(np.clip(up[0], -1.0, 1.0))),
        "sizes": {name: float(value) for name, value in state.sizes.items()},
        "section": state.kind,
        "centres": {name: state.surface.centres[k] for k, name in enumerate(BORES)},
        "poses": [{"turn": pose.turn.as_matrix(), "shift": pose.shift} for pose in state.poses],
        "nominal": found.survey.drawing_of,
    }


def asdict_plain(model: Any) -> dict[str, Any]:
    return model.model_dump() if hasattr(model, "model_dump") else asdict(model)


def closed(found: Found) -> str:
    """A closed section's kind: as told, a box where plates were measured, else not known."""
    if found.survey.section in ("box", "solid"):
        return found.survey.section
    return (
        "box"
        if any(one.size.endswith(("flange_thickness", "web_thickness")) for one in found.survey.tape)
        else "box or solid"
    )
