"""Sizes of the elements: small at the bores, on thin plates, on narrow faces and round fillets, growing away from them."""

from __future__ import annotations

from typing import Any

import gmsh
import numpy as np

from geometry.ladder import Job, Spot

STRETCH = 2.5  # largest element edge on a plate over the plate's thickness
NARROW = 5.0  # largest element edge on a face that is a strip over the strip's width
ROUND = (6, 12)  # least and most elements on the full circle of a fillet or blend
FINER = 0.4  # edge wanted where an attempt failed over the edge that it had there
GENTLE = 0.5  # largest growth of size per mm of distance from there: by a steeper one the elements around would stay as they are
TURN = 2.0  # elements on the full circle of a rounded corner for each on a quarter bore: where stress outside the bores is largest
HALF = 0.99 * np.pi  # rad: bores are of halves or whole circles, a rounded corner turns by less
SAMPLES = 40  # points on an edge that distances from it are measured to
STEP = 1.3  # widths of strips that differ by less than this factor share a field


def grade(named: dict[str, Any], job: Job, pins: bool) -> None:
    """Element size: `count` to a quarter of each bore at its surface, growing away from it up to the largest.

    Plates are held to `STRETCH` times their thickness, for an element through a plate stretched further than about 3:1
    bends badly and slows the solver; faces as narrow as a chamfer to NARROW times their width; fillets get a number of elements
    on their full circle; rounded corners of pockets and blends one that goes with `count`, so that they are refined as the bores
    are; spots where an earlier attempt failed are finer.
    """
    fields = [bore_field(named["bores"], job, pins), *plate_fields(named, job.step.shrink)]
    fields += narrow_fields(job) + [step_field(bore, job) for bore in named["bores"].values()]
    fields += corner_fields(job) + [spot_field(spot, job.growth) for spot in job.spots]
    least = gmsh.model.mesh.field.add("Min")
    gmsh.model.mesh.field.setNumbers(least, "FieldsList", fields)
    gmsh.model.mesh.field.setAsBackgroundMesh(least)
    for option in ("MeshSizeExtendFromBoundary", "MeshSizeFromPoints"):
        gmsh.option.setNumber(f"Mesh.{option}", 0)
    gmsh.option.setNumber("Mesh.MeshSizeFromCurvature", min(max(job.count, ROUND[0]), ROUND[1]))
    gmsh.option.setNumber("Mesh.MeshSizeMax", job.step.shrink * job.largest)


def step_field(bore: dict[str, Any], job: Job) -> int:
    """Size at the step from the arm's face up a hub or boss that stands proud of it: as on a strip of the step's height."""
    (x, y), least = bore["centre_mm"], job.step.shrink * NARROW * bore["proud_mm"]
    off = f"(Sqrt((x-({x:.9g}))^2+(y-({y:.9g}))^2)-{bore['outside_mm']:.9g})"
    away = f"Sqrt({off}^2+(Fabs(z)-{bore['arm_mm']:.9g})^2)"
    field = gmsh.model.mesh.field.add("MathEval")
    gmsh.model.mesh.field.setString(field, "F", f"{least:.9g}+{job.growth - 1.0:.9g}*{away}")
    return field


def corner_fields(job: Job) -> list[int]:
    """Size at the arcs that round a corner of the elevation: TURN `count` elements to their full circle."""
    groups: dict[int, list[tuple[float, list[int]]]] = {}
    for _, curve in gmsh.model.getEntities(1):
        size = 2.0 * np.pi * turned(curve) / (TURN * job.count)
        if 0.0 < size < job.largest:
            groups.setdefault(int(np.log(size) / np.log(STEP)), []).append((size, [curve]))
    return [near_curves(found, job) for _, found in sorted(groups.items())]


def turned(curve: int) -> float:
    """Radius in mm of an arc square to z of less than half a circle; 0 of other curves, those of bores among them."""
    box = gmsh.model.occ.getBoundingBox(1, curve)
    if gmsh.model.getType(1, curve) != "Circle" or box[5] - box[2] > 1e-3:
        return 0.0
    (low,), (high,) = gmsh.model.getParametrizationBounds(1, curve)
    radius = gmsh.model.occ.getMass(1, curve) / (high - low)
    return radius if high - low < HALF else 0.0


def spot_field(spot: Spot, growth: float) -> int:
    """Elements of FINER times the size that failed there, as far as that element reached, and growing slowly beyond."""
    x, y, z, size = spot
    field = gmsh.model.mesh.field.add("MathEval")
    away = f"(Sqrt((x-({x:.9g}))^2+(y-({y:.9g}))^2+(z-({z:.9g}))^2)-{size:.9g})"
    beyond = f"0.5*({away}+Fabs({away}))"
    gmsh.model.mesh.field.setString(
        field, "F", f"{FINER * size:.9g}+{min(growth - 1.0, GENTLE):.9g}*{beyond}"
    )
    return field


def bore_field(bores: dict[str, Any], job: Job, pins: bool) -> int:
    """Size by the distance from each bore's cylinder; with pins, which go on outside, by that along the axis too."""
    near = []
    for bore in bores.values():
        (x, y), radius = bore["centre_mm"], bore["radius_mm"]
        fine = job.step.shrink * np.pi / 2.0 * radius / job.count
        away = f"Fabs(Sqrt((x-({x:.9g}))^2+(y-({y:.9g}))^2)-{radius:.9g})"
        if pins:
            beyond = f"Fabs(z)-{bore['height_mm'] / 2.0:.9g}"
            away = f"Sqrt({away}^2+(0.5*(({beyond})+Fabs({beyond})))^2)"
        near.append(f"{fine:.9g}+{job.growth - 1.0:.9g}*{away}")
    field = gmsh.model.mesh.field.add("MathEval")
    gmsh.model.mesh.field.setString(field, "F", f"Min(Min({near[0]},{near[1]}),{near[2]})")
    return field


def plate_fields(named: dict[str, Any], shrink: float) -> list[int]:
    """Size on the outside faces: those square to z belong to webs, the others to flanges (hub and bosses with them)."""
    webs, flanges = [], []
    for tag in surfaces("outside"):
        box = gmsh.model.occ.getBoundingBox(2, tag)
        (webs if box[5] - box[2] < 1e-3 else flanges).append(tag)
    fields = []
    for thickness, tags in ((named["web_mm"], webs), (named["flange_mm"], flanges)):
        if thickness and tags:
            field = gmsh.model.mesh.field.add("Constant")
            gmsh.model.mesh.field.setNumber(field, "VIn", shrink * STRETCH * thickness)
            gmsh.model.mesh.field.setNumber(field, "VOut", 1e22)
            gmsh.model.mesh.field.setNumbers(field, "SurfacesList", tags)
            fields.append(field)
    return fields


def narrow_fields(job: Job) -> list[int]:
    """Size near the faces that are narrower than the largest element allows, growing with the distance from their edges."""
    groups: dict[int, list[tuple[float, list[int]]]] = {}
    for _, tag in gmsh.model.getEntities(2):
        curves = [curve for _, curve in gmsh.model.getBoundary([(2, tag)], combined=False, oriented=False)]
        size = NARROW * strip(tag, curves)
        if size < job.largest:
            groups.setdefault(int(np.log(size) / np.log(STEP)), []).append((size, curves))
    return [near_curves(found, job) for _, found in sorted(groups.items())]


def strip(tag: int, curves: list[int]) -> float:
    """Width of a face taken as a strip: twice its area over the length of its edges."""
    around = sum(gmsh.model.occ.getMass(1, curve) for curve in curves)
    return 2.0 * gmsh.model.occ.getMass(2, tag) / max(around, 1e-9)


def near_curves(found: list[tuple[float, list[int]]], job: Job) -> int:
    """A field of the least of these sizes at these curves."""
    distance = gmsh.model.mesh.field.add("Distance")
    curves = sorted({curve for _, some in found for curve in some})
    gmsh.model.mesh.field.setNumbers(distance, "CurvesList", curves)
    gmsh.model.mesh.field.setNumber(distance, "Sampling", SAMPLES)
    field = gmsh.model.mesh.field.add("MathEval")
    least = job.step.shrink * min(size for size, _ in found)
    gmsh.model.mesh.field.setString(field, "F", f"{least:.9g}+{job.growth - 1.0:.9g}*F{distance}")
    return field


def surfaces(name: str) -> list[int]:
    """Faces of a physical group."""
    group = next(
        pair for pair in gmsh.model.getPhysicalGroups(2) if gmsh.model.getPhysicalName(*pair) == name
    )
    return [int(tag) for tag in gmsh.model.getEntitiesForPhysicalGroup(*group)]
