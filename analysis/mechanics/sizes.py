"""The sizes a sweep may change, as arrays over D designs; everything else stays as the arm's file says."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from params.rules.buildable import unbuildable
from params.rules.sweep import SWEPT
from params.schema.arm import Arm
from params.steps.arrays import Floats

__all__ = ["NAMES", "SWEPT", "Sizes", "unbuildable"]

NAMES = (*SWEPT[:-1], "fillet", SWEPT[-1])


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
