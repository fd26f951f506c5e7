"""Rules across the sections `found_cracks:` and `cracks:`: a crack that fits its section, toughness that the data
hold, days in order. The section of a crack at a hub or boss follows from the geometry.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from params.schema.arm import Arm, Bore
from params.schema.cracks import Cracks, CrackSection, FoundCrack, OldArm, Toughness
from params.schema.units import System, show
from params.steps.problems import Fault, Key

DEEP = ("surface", "corner", "edge")  # shapes that have a depth
AT_HOLE = ("corner", "hole-through")
# Ranges of the solutions, as Newman and Raju (1981) state them and `analysis.fracture.bodies` cites them.
DEEPEST = {"surface": 0.8, "corner": 0.8, "edge": 0.5}  # depth over wall
# Charpy energies in J that each method holds for, as in `analysis.fracture.toughness`: BS 7910 Annex J; Barsom and Rolfe, twice.
ENERGY = {"lower bound": (3.0, 400.0), "transition": (4.0, 82.0), "upper shelf": (21.0, 123.0)}
FROM_T0 = 50.0  # K, ASTM E1921
REACH, MIDDLE = 0.4, 0.5  # hole's radius and crack over width; length of a surface crack over width
ASPECT = {"surface": (0.0, 1.0), "corner": (0.2, 2.0)}  # depth over length on the face


def cracking(listed: Sequence[FoundCrack], cracks: Cracks | None, arm: Arm) -> Iterator[Fault]:
    """Every rule that the two sections break."""
    if listed and cracks is None:
        limit, mend = "which holds the material's toughness", "add it"
        yield Fault(("found_cracks",), "", "needs the section cracks as well", limit, mend)
    names = [crack.name for crack in listed]
    for index, crack in enumerate(listed):
        key: Key = ("found_cracks", index)
        if names.index(crack.name) != index:
            yield Fault((*key, "name"), crack.name, "is used twice", "a name of its own", "change one")
        yield from _crack(crack, key, arm)
    if cracks:
        yield from _toughness(cracks.toughness, ("cracks", "toughness"), cracks.coldest, arm.units)
    if cracks and cracks.old_arm:
        old, key = cracks.old_arm, ("cracks", "old_arm")
        yield from _toughness(old.toughness, (*key, "toughness"), cracks.coldest, arm.units)
        yield from _past(old, key, min((crack.found.year for crack in listed), default=None))


def _past(old: OldArm, key: Key, found: int | None) -> Iterator[Fault]:
    """Years of the old arm in their order: into service, its history, the finding."""
    if old.in_service is not None and found is not None and old.in_service >= found:
        limit = f"before {found}, when the crack was found"
        yield Fault((*key, "in_service"), f"{old.in_service}", "is not before the finding", limit, "check it")
    if old.history and old.in_service is None:
        limit = "a history needs the year in which it began"
        yield Fault((*key, "in_service"), "", "is missing", limit, "add in_service: 1960")
        return
    before = old.in_service
    for index, spell in enumerate(old.history):
        if before is not None and spell.from_year < before + (index > 0):
            limit = f"{'after' if index else 'not before'} {before}"
            yield Fault(
                (*key, "history", index, "from_year"),
                f"{spell.from_year}",
                "is not in the order of time",
                limit,
                "earliest first",
            )
        if found is not None and spell.from_year > found:
            value, limit = f"{spell.from_year}", f"at most {found}, when the crack was found"
            yield Fault(
                (*key, "history", index, "from_year"), value, "is after the finding", limit, "remove it"
            )
        before = spell.from_year


def bore_of(region: str, arm: Arm) -> Bore | None:
    """The hub or boss that a region belongs to; None for `outside`."""
    return getattr(arm.geometry, region.split("_", maxsplit=1)[0], None)


def section_of(crack: FoundCrack, arm: Arm) -> CrackSection | None:
    """Wall and width that the crack runs in; None where only the file could say and does not.

    A crack in the bore's wall runs outward into the ligament, across the hub's width. A corner or through crack at
    the bore, and one in the hub's face, runs through the hub's width, across the hub's diameter.
    """
    bore = bore_of(crack.region, arm)
    if crack.section or bore is None:
        return crack.section
    ligament = (bore.outside - bore.bore) / 2.0
    if crack.shape in AT_HOLE or (crack.region.endswith("_faces") and crack.shape != "edge"):
        width = bore.outside if crack.shape in AT_HOLE else ligament
        return CrackSection.model_construct(thickness=bore.width, width=width)
    return CrackSection.model_construct(thickness=ligament, width=bore.width)


def _crack(crack: FoundCrack, key: Key, arm: Arm) -> Iterator[Fault]:
    if crack.shape in DEEP and crack.depth is None:
        limit = f"a {crack.shape} crack has one"
        yield Fault((*key, "depth"), "", "is missing", limit, "add depth, measured by ultrasonics or assumed")
        return
    if crack.shape not in DEEP and crack.depth is not None:
        value, limit = show(crack.depth, "length", arm.units), f"a {crack.shape} crack goes through"
        yield Fault((*key, "depth"), value, f"is not used with shape {crack.shape}", limit, "remove it")
    bore = bore_of(crack.region, arm)
    if crack.angle is not None and bore is None:
        value, limit = show(crack.angle, "angle", arm.units), "a bore or its faces"
        yield Fault((*key, "angle"), value, "is measured about a bore, and there is none", limit, "remove it")
    if crack.shape in AT_HOLE and bore is None:
        limit = "a bore or its faces"
        yield Fault(
            (*key, "region"),
            crack.region,
            f"has no bore, which shape {crack.shape} needs",
            limit,
            "change one of the two",
        )
        return
    section = section_of(crack, arm)
    if section is None:
        mend = "add section: {thickness: ..., width: ...}"
        yield Fault((*key, "section"), "", "is missing", f"the plate of a crack on {crack.region}", mend)
        return
    yield from _larger(crack, section, bore, key, arm.units)


def _larger(
    crack: FoundCrack, section: CrackSection, bore: Bore | None, key: Key, units: System
) -> Iterator[Fault]:
    """The crack against the wall and the width that are there, then against the range of its solution."""
    hole = bore.bore if bore and crack.shape in AT_HOLE else 0.0
    across = (section.width - hole) / 2.0 if hole else section.width
    if across <= 0.0:  # a bore as large as its hub is reported there
        return
    wall, larger = section.thickness, "is larger than the section"
    deep = crack.depth is not None and crack.depth >= wall
    long = crack.shape != "edge" and crack.length >= across
    if crack.depth is not None and deep:
        limit = f"below {show(wall, 'length', units)}, the wall there"
        value = show(crack.depth, "length", units)
        yield Fault((*key, "depth"), value, larger, limit, "check it, or write a through crack")
    if long:
        limit = f"below {show(across, 'length', units)}, the width there"
        value = show(crack.length, "length", units)
        yield Fault((*key, "length"), value, larger, limit, "check it and the section")
    if not deep and not long:
        yield from _beyond(crack, section, hole, key, units)


def _beyond(
    crack: FoundCrack, section: CrackSection, hole: float, key: Key, units: System
) -> Iterator[Fault]:
    """The crack against the range of its solution, as `analysis.fracture.bodies` and `bodies_profile` hold it."""
    wrong, mend = "is outside the range of its solution", "measure it again, or write another shape"
    depth = crack.depth if crack.shape in DEEP else None
    if crack.shape == "through":
        limit = "surface, corner, edge or hole-through"
        yield Fault(
            (*key, "shape"),
            crack.shape,
            "has no solution for the stress of the 3D model",
            limit,
            "write one of them",
        )
    if depth is not None and depth > (share := DEEPEST[crack.shape]) * section.thickness:
        limit = f"at most {show(share * section.thickness, 'length', units)}, {share:g} of the wall there"
        yield Fault((*key, "depth"), show(depth, "length", units), wrong, limit, mend)
    reach = REACH * section.width - hole / 2.0 if hole else MIDDLE * section.width
    if crack.shape in ("corner", "hole-through", "surface") and crack.length > reach:
        limit = f"at most {show(max(reach, 0.0), 'length', units)} in a section {show(section.width, 'length', units)} wide"
        yield Fault((*key, "length"), show(crack.length, "length", units), wrong, limit, mend)
    if depth is not None and crack.shape != "edge":
        least, most = ASPECT[crack.shape]
        if not least * crack.length <= depth <= most * crack.length:
            ends = " to ".join(show(part * crack.length, "length", units) for part in (least, most))
            limit = f"{ends} deep at this length"
            yield Fault((*key, "depth"), show(depth, "length", units), wrong, limit, mend)


def _toughness(said: Toughness, place: Key, coldest: float, units: System) -> Iterator[Fault]:
    key: Key = (*place, "charpy")
    at = [point.temperature for point in said.charpy]
    for index in range(1, len(at)):
        if at[index] <= at[index - 1]:
            value = show(at[index], "temperature", units)
            yield Fault(
                (*key, index, "temperature"),
                value,
                "is not warmer than the one before",
                "coldest first",
                "sort them",
            )
            return
    for index, point in enumerate(said.charpy):
        if point.lowest is not None and point.lowest > point.energy:
            value, limit = (
                show(point.lowest, "energy", units),
                f"at most {show(point.energy, 'energy', units)}, the mean",
            )
            yield Fault((*key, index, "lowest"), value, "is more than the mean", limit, "check the two")
    if said.reference_temperature is not None:
        yield from _master_curve(
            coldest, said.reference_temperature, (*place, "reference_temperature"), units
        )
        return  # it stands in for the Charpy data
    warmest = float("inf") if said.held_when_warmer else at[-1]
    if not at[0] <= coldest <= warmest:
        ends = " to ".join(show(t, "temperature", units) for t in (at[0], at[-1]))
        wrong, mend = "is outside the Charpy data", "test at that temperature; nothing is extrapolated"
        if place != ("cracks", "toughness"):
            wrong = "is outside the Charpy data of the old arm"
        if coldest > at[-1]:
            mend = "test there, or write held_when_warmer: true for a specified minimum"
        yield Fault(("cracks", "coldest"), show(coldest, "temperature", units), wrong, ends, mend)
        return
    energy = float(np.interp(coldest, at, said.counted))
    least, most = ENERGY[said.method]
    if not least <= energy <= most:
        limit = f"{show(least, 'energy', units)} to {show(most, 'energy', units)} for method {said.method}"
        wrong, mend = "is outside what the method holds for", "choose another method"
        yield Fault(key, show(energy, "energy", units), wrong, limit, mend)


def _master_curve(coldest: float, t0: float, key: Key, units: System) -> Iterator[Fault]:
    """ASTM E1921 holds within 50 K of T0."""
    if abs(coldest - t0) > FROM_T0:
        ends = " to ".join(show(coldest + side, "temperature", units) for side in (-FROM_T0, FROM_T0))
        wrong, mend = "is too far from the coldest temperature", "give Charpy energies in its place"
        yield Fault(key, show(t0, "temperature", units), wrong, f"{ends} (ASTM E1921)", mend)
