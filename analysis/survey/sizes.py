"""The sizes of the arm that a survey can find: their names, order, bounds, and the arm's geometry as a vector of them."""

from __future__ import annotations

from typing import Any

import numpy as np

from geometry.datums import BORES, ArmDatum
from params.schema.arm import Geometry

ARM_SIZES = ("input_arm", "output_arm", "included_angle", "blend_radius")
BORE_SIZES = ("bore", "outside", "width", "chamfer")
SECTION_SIZES = ("depth_at_hub", "depth_at_pins", "width")
PLATE_SIZES = (
    "flange_thickness",
    "web_thickness",
    "fillet",
)  # i and box only; seen from outside on an i only
ANGLE = "included_angle"
ALL = (
    *ARM_SIZES,
    *(f"{bore}.{size}" for bore in BORES for size in BORE_SIZES),
    *(f"section.{size}" for size in (*SECTION_SIZES, *PLATE_SIZES)),
)


def names(kind: str) -> tuple[str, ...]:
    """The sizes that the outside of an arm with this section shows."""
    return ALL if kind == "i" else tuple(name for name in ALL if name.split(".")[-1] not in PLATE_SIZES)


def of(geometry: Geometry | Any, kind: str) -> dict[str, float]:
    """The sizes of a geometry by name."""
    return {name: float(_get(geometry, name)) for name in names(kind)}


def _get(geometry: Any, name: str) -> float:
    for part in name.split("."):
        geometry = getattr(geometry, part)
    return geometry


def datums(sizes: dict[str, float]) -> dict[str, ArmDatum]:
    """Both arms' datums from sizes alone."""
    made = {}
    for name, angle in (("input", sizes["included_angle"]), ("output", 0.0)):
        along = np.array([np.cos(angle), np.sin(angle)])
        length = sizes[f"{name}_arm"]
        made[name] = ArmDatum(
            name=name,
            length=length,
            along=along,
            across=np.array([-along[1], along[0]]),
            hub_edge=sizes["pivot.outside"] / 2.0,
            boss_edge=length - sizes[f"{name}.outside"] / 2.0,
            depth_at_hub=sizes["section.depth_at_hub"],
            depth_at_pin=sizes["section.depth_at_pins"],
        )
    return made
