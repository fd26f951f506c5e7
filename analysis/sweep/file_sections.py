"""What a route changes in the sections on bores and cracks: finish of faces that stay as made, welds, toughness, examinations.

Toughness of a route's steel: the file's own where it is the arm's or the old arm's steel, else the specified minimum Charpy where
that holds at the coldest temperature, else what is asked for at purchase. Where nothing is known, flaws are not checked, and a
note says so; a toughness that has to be asked for has a note too.
"""

from __future__ import annotations

from typing import Any

from analysis.fracture.toughness_data import toughness_data
from geometry.datums import ARMS, arm_datum
from params.schema.arm import Arm
from params.schema.bores import Bores
from params.schema.cracks import Cracks, Examination
from params.schema.material import Material
from params.schema.route import Route
from params.schema.units import show

MACHINED = ("ground", "machined")
CHECKED = {"assessment": "damage tolerant", "consequence": "high"}  # of welds: cracks are looked for
METHODS = {"ultrasonic": "ultrasonics"}  # as the sections of an arm call it


def finished(bores: Bores | None, route: Route) -> Bores | None:
    """Surfaces that are not machined have the route's finish."""
    if bores is None:
        return None
    surfaces = tuple(
        one if one.finish in MACHINED else one.model_copy(update={"finish": route.finish})
        for one in bores.surfaces
    )
    return bores.model_copy(update={"surfaces": surfaces})


def cracks_of(arm: Arm, route: Route, material: Material) -> tuple[Cracks | None, str]:
    """The section on cracks for the route's steel and examinations, and a note; none where its toughness is not known."""
    cracks = arm.cracks
    if cracks is None:
        return None, ""
    tough, _ = toughness_data(arm, material)
    if tough is None:
        return None, f"flaws not checked: no toughness of {material.name} is known at the coldest temperature"
    inspection, seen = cracks.inspection, examinations(route)
    if inspection and seen:
        inspection = inspection.model_copy(update={"examinations": seen})
    return cracks.model_copy(update={"toughness": tough, "inspection": inspection}), asked(arm, material)


def asked(arm: Arm, material: Material) -> str:
    """A note where the toughness is none of the specification's, but the buyer's to ask for."""
    extra, cracks = material.supplementary, arm.cracks
    files = {arm.material, cracks.old_arm.material if cracks and cracks.old_arm else ""}
    if (
        cracks is None
        or extra is None
        or material.name in files
        or material.charpy_for(cracks.coldest) != extra
    ):
        return ""
    energy = show(extra.energy, "energy", arm.units)
    cold = show(extra.temperature, "temperature", arm.units)
    return f"ask for the Charpy energy of {material.name} at purchase: {energy} at {cold}"


def examinations(route: Route) -> tuple[Examination, ...]:
    """The route's examinations whose depth is known."""
    return tuple(
        Examination.model_construct(
            method=METHODS.get(one.method, one.method),
            depth=one.depth,
            length=one.length,
            source=f"route {route.name}",
        )
        for one in route.examination
        if one.depth is not None
    )


def put_in(data: dict[str, Any], arm: Arm, route: Route) -> None:
    """The same changes in the data of a parameter file; what was found on the old arm is not the new one's."""
    data.pop("found_cracks", None)
    if arm.bores is not None:
        for surface, one in zip(data["bores"]["surfaces"], arm.bores.surfaces, strict=True):
            surface["finish"] = one.finish
        data["bores"].pop("welds", None)
        if route_welds := welds(arm, route):
            data["bores"]["welds"] = route_welds
    if arm.cracks is None:
        data.pop("cracks", None)
        return
    tough, section = arm.cracks.toughness, data["cracks"]
    section.pop("old_arm", None)
    points = [
        {"temperature": f"{one.temperature:.6g} degC", "energy": f"{one.energy:.6g} J"}
        | ({} if one.lowest is None else {"lowest": f"{one.lowest:.6g} J"})
        for one in tough.charpy
    ]
    section["toughness"] = {
        "charpy": points,
        "held_when_warmer": tough.held_when_warmer,
        "method": tough.method,
    }
    if tough.reference_temperature is not None:
        section["toughness"]["reference_temperature"] = f"{tough.reference_temperature:.6g} degC"
    if arm.cracks.inspection:
        section["inspection"]["examinations"] = [
            {
                "method": one.method,
                "depth": f"{one.depth:.6g} mm",
                "length": f"{one.length:.6g} mm",
                "source": one.source,
            }
            for one in arm.cracks.inspection.examinations
        ]


def welds(arm: Arm, route: Route) -> list[dict[str, Any]]:
    """The route's welds at hub and bosses of both arms, as a parameter file has them; nominal stress is largest there.

    Joints of pieces lie where their plan puts them and are judged there; a repair may lie anywhere and is not here.
    """
    rows = []
    for name in ARMS:
        datum = arm_datum(arm, name)
        at = {"arm_to_hub": datum.hub_edge, "flange_to_web": datum.hub_edge, "arm_to_boss": datum.boss_edge}
        rows += [
            {
                "region": "outside",
                "arm": name,
                "station": f"{at[weld.place]:.7g} mm",
                "category": weld.category,
                **CHECKED,
            }
            for weld in route.welds
            if weld.place in at
        ]
    return rows
