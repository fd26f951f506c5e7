"""Where the linkage stands and what acts on the arm, position by position of the swing, in the world frame (y up)."""

from __future__ import annotations

from typing import Any

import numpy as np

from analysis.contracts.linkage import LinkageFile
from analysis.mechanics.mass import mass
from analysis.mechanics.sizes import Sizes
from analysis.mechanics.statics import statics
from analysis.tables.files import plain
from geometry.datums import ARMS, arm_datum, bore
from params.rules.linkage import poses
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.units import outside, shown_unit
from params.steps.arrays import Floats

PINS = ("input", "output", "pivot")


def linkage(arm: Arm, material: Material, stroke: list[dict[str, str]]) -> LinkageFile:
    """Pins (mm) and forces on the arm at the positions of stroke.csv, load case by load case."""
    fractions = {
        case: [float(row["fraction"]) for row in stroke if row["load_case"] == case]
        for case in arm.load_cases
    }
    grid = np.array(list(fractions.values()))
    sizes = Sizes.from_arm(arm)
    acting = statics(arm, mass(arm, sizes, material.density), grid)
    vectors = {name: getattr(acting, name)[:2, 0] for name in PINS}
    vectors["weight"] = np.broadcast_to(acting.weight[:2, 0], vectors["pivot"].shape)
    unit, centre = shown_unit("force", arm.units), mass(arm, sizes, material.density).cg[0]
    cases = {
        case: {
            "phi": acting.phi[c],
            **places(arm, grid[c]),
            "weight_at": turned(centre[:, None], acting.phi[c]).T,
            "forces": {
                name: outside(turned(vector[:, c], acting.phi[c]).T, unit, "force")
                for name, vector in vectors.items()
            },
        }
        for c, case in enumerate(fractions)
    }
    largest = max(
        float(np.hypot(*one).max()) for one in (outside(vector, unit, "force") for vector in vectors.values())
    )
    longest = 0.45 * max(arm.geometry.input_arm, arm.geometry.output_arm)
    fixed = anchors(arm)
    whole = {
        "unit": unit,
        "cases": cases,
        "body": body(arm),
        "anchors": fixed,
        "largest": largest,
        "longest": longest,
        "extent": extent(cases, fixed, largest / longest, arm.geometry.pivot.outside),
    }
    return LinkageFile.model_validate(plain(whole))


def extent(cases: dict[str, Any], fixed: dict[str, Any], scale: float, around: float) -> list[float]:
    """Least and largest x and y of all that is drawn at any position: pins, anchors and the heads of the arrows, mm."""
    points = [np.array([fixed["cylinder"], fixed["link"] or fixed["cylinder"]])]
    for case in cases.values():
        for name, force in case["forces"].items():
            start = {"pivot": np.zeros(2), "weight": case["weight_at"]}.get(name, case.get(name))
            points += [np.atleast_2d(start), start + force / scale]
    every = np.concatenate(points)
    return [*(every.min(axis=0) - 0.8 * around), *(every.max(axis=0) + 0.8 * around)]


def turned(vector: Floats, phi: Floats) -> Floats:
    """Arm-frame components (2, P) or (2, 1) in the world frame, (2, P)."""
    c, s = np.cos(phi), np.sin(phi)
    return np.stack([c * vector[0] - s * vector[1], s * vector[0] + c * vector[1]])


def places(arm: Arm, fraction: Floats) -> dict[str, Floats]:
    pose = poses(arm, fraction)
    return {"input": pose.input_pin, "output": pose.output_pin}


def anchors(arm: Arm) -> dict[str, Any]:
    """Fixed ends of cylinder and link (where the load has one), and the sizes that draw the cylinder, mm."""
    drive, far = arm.drive, arm.driven.anchor
    return {
        "cylinder": [drive.anchor.x, drive.anchor.y],
        "closed_length": drive.closed_length,
        "bore": drive.cylinder_bore,
        "rod": drive.rod,
        "link": None if far is None else [far.x, far.y],
    }


def body(arm: Arm) -> dict[str, Any]:
    """Outline in the arm's frame: corners of both tapered arms, and hub, input and output boss with their bores as [x, y, radius
    outside, radius of the bore], mm."""
    g = arm.geometry
    limbs, circles = [], [[0.0, 0.0, g.pivot.outside / 2.0, g.pivot.bore / 2.0]]
    for name in ARMS:
        datum, boss = arm_datum(arm, name), bore(arm, name)
        s = np.array([0.0, datum.hub_edge, datum.length])
        half = datum.depth(s) / 2.0
        limbs.append([*datum.point(s, half), *datum.point(s, -half)[::-1]])
        circles.append([*datum.pin, boss.outside / 2.0, boss.bore / 2.0])
    return {"limbs": limbs, "circles": circles}
