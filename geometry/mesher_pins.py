"""The pins' part of the mesher: cylinders in the bores that share faces with the arm, and the names of their surfaces."""

from __future__ import annotations

import gmsh
import numpy as np

from geometry.pins import PinShape
from geometry.refused import MeshRefused, Place


def fitted_pins(arm: list[tuple[int, int]], pins: dict[str, PinShape]) -> dict[str, list[int]]:
    """Pins of the bores' sizes as cylinders in three lengths, sharing faces with the arm, which stays as it is."""
    if not pins:
        return {}
    made = {name: [(3, length) for length in cylinders(pin)] for name, pin in pins.items()}
    tools = [solid for parts in made.values() for solid in parts]
    _, map_of = gmsh.model.occ.fragment(arm, tools)
    if map_of[0] != arm:
        raise MeshRefused("a pin cuts into the arm", middle(*arm[0]))
    kept = iter(map_of[1:])
    return {name: [tag for _ in parts for _, tag in next(kept)] for name, parts in made.items()}


def cylinders(pin: PinShape) -> list[int]:
    """The pin's length between the plates and one in each of them, hollow where the pin is."""
    (x, y), found = pin.centre, []
    for low, high in zip(pin.cuts[:-1], pin.cuts[1:], strict=True):
        tag = gmsh.model.occ.addCylinder(x, y, low, 0.0, 0.0, high - low, pin.radius)
        if pin.inside:
            hole = gmsh.model.occ.addCylinder(x, y, low, 0.0, 0.0, high - low, pin.inside)
            gmsh.model.occ.cut([(3, tag)], [(3, hole)])
        found.append(tag)
    return found


def pin_groups(pins: dict[str, PinShape], solids: dict[str, list[int]]) -> None:
    """Physical groups of the pins: a face at the pin's radius is in the plates, in the bore or between them by its height.

    They take the place of the arm's groups."""
    for pair in gmsh.model.getPhysicalGroups():
        gmsh.model.removePhysicalName(gmsh.model.getPhysicalName(*pair))
    gmsh.model.removePhysicalGroups()
    for name, pin in pins.items():
        outside = gmsh.model.getBoundary([(3, tag) for tag in solids[name]], combined=True, oriented=False)
        parts: dict[str, list[int]] = {"seat": [], "low_plate": [], "high_plate": [], "free": []}
        for _, tag in outside:
            parts[pin.part(gmsh.model.occ.getBoundingBox(2, tag))].append(tag)
        for part, tags in parts.items():
            gmsh.model.addPhysicalGroup(2, tags, name=f"{name}_{part}")
        gmsh.model.addPhysicalGroup(3, solids[name], name=f"{name}_pin")


def middle(dimension: int, tag: int) -> Place:
    """Middle of the box about an entity."""
    box = np.array(gmsh.model.getBoundingBox(dimension, tag)).reshape(2, 3).mean(axis=0)
    return float(box[0]), float(box[1]), float(box[2])
