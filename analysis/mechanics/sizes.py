"""The sizes a sweep may change, as arrays over D designs; everything else stays as the arm's file says."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from params.rules.build import LEAST_BOSS, LEAST_LIGAMENT, PROUD
from params.schema.arm import Arm

Floats = NDArray[np.float64]
NAMES = ("depth_at_hub", "depth_at_pins", "width", "flange_thickness", "web_thickness", "fillet", "hub")
FIELDS = (
    "depth_at_hub",
    "depth_at_pins",
    "width",
    "flange_thickness",
    "web_thickness",
    "hub",
)  # what a sweep may range over


@dataclass(frozen=True)
class Sizes:
    """Section and hub sizes of D designs in mm, each (D,); flange, web and fillet are 0 in a solid bar."""

    kind: str
    depth_at_hub: Floats
    depth_at_pins: Floats
    width: Floats
    flange_thickness: Floats
    web_thickness: Floats
    fillet: Floats
    hub: Floats

    @classmethod
    def from_arm(cls, arm: Arm, **changed: ArrayLike) -> Sizes:
        """The arm as written (D = 1), with any of the sizes replaced by arrays (D,) in mm.

        Raises
        ------
        TypeError
            when a name is no size of the sweep.
        """
        if unknown := set(changed) - set(NAMES):
            raise TypeError(f"no such size: {', '.join(sorted(unknown))}; the sizes are {', '.join(NAMES)}")
        section = arm.geometry.section
        base = {name: getattr(section, name) or 0.0 for name in NAMES[:-1]} | {
            "hub": arm.geometry.pivot.outside
        }
        values = [np.atleast_1d(np.asarray(changed.get(name, base[name]), dtype=float)) for name in NAMES]
        return cls(section.kind, *np.broadcast_arrays(*values))

    def __len__(self) -> int:
        return len(self.width)

    def __getitem__(self, part: slice) -> Sizes:
        return Sizes(self.kind, *(getattr(self, name)[part] for name in NAMES))

    def with_lead(self, count: int) -> Sizes:
        """The same sizes with `count` further axes behind the design axis, to broadcast over arms and stations."""
        return Sizes(self.kind, *(getattr(self, name).reshape(-1, *[1] * count) for name in NAMES))


def unbuildable(arm: Arm, sizes: Sizes) -> NDArray[np.str_]:
    """Why each design cannot be built, (D,); empty text where it can. The limits are those of `params.rules`."""
    faults = _of_outline(arm, sizes) + ([] if sizes.kind == "solid" else _of_plates(sizes))
    reason = np.full(len(sizes), "", dtype="<U60")
    for fault, told in faults:
        reason[fault & (reason == "")] = told
    return reason


def _of_outline(arm: Arm, sizes: Sizes) -> list[tuple[NDArray[np.bool_], str]]:
    geometry = arm.geometry
    bosses = ((geometry.input_arm, geometry.input.outside), (geometry.output_arm, geometry.output.outside))
    room = min(length - 0.5 * boss for length, boss in bosses)
    widest = min(geometry.pivot.width, geometry.input.width, geometry.output.width)
    return [
        (sizes.depth_at_pins > sizes.depth_at_hub, "deeper at the pins than at the hub"),
        (sizes.hub < 1.02 * sizes.depth_at_hub, "section deeper at the hub than the hub circle"),
        (
            LEAST_BOSS * sizes.depth_at_pins > min(boss for _, boss in bosses),
            "section deeper at the pins than the boss",
        ),
        (
            0.5 * (sizes.hub - geometry.pivot.bore) < LEAST_LIGAMENT * geometry.pivot.bore,
            "hub wall under a sixth of the bore",
        ),
        (
            geometry.pivot.chamfer > 0.25 * (sizes.hub - geometry.pivot.bore),
            "chamfer too large for the hub wall",
        ),
        (0.5 * (sizes.hub + sizes.depth_at_pins) > room, "no arm between hub and boss"),
        (PROUD * sizes.width > widest, "hub or boss does not stand proud of the section"),
    ]


def _of_plates(sizes: Sizes) -> list[tuple[NDArray[np.bool_], str]]:
    clear = sizes.depth_at_pins - 2.0 * sizes.flange_thickness
    room = sizes.width - sizes.web_thickness * (2.0 if sizes.kind == "box" else 1.0)
    return [
        (
            (clear <= 2.0 * sizes.fillet) | (clear < 0.2 * sizes.depth_at_pins),
            "no web between the flanges at the pins",
        ),
        (
            (room <= 2.0 * sizes.fillet) | (room <= 0.1 * sizes.width),
            "no room beside the web within the width",
        ),
    ]
