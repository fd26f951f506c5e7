"""Hand calculation beside mesh: `python -m analysis.verify DIR` reads hand.json, elastic.json and faces.json, writes verify.csv.

A difference is a share of the hand value; where that is small beside the largest of its kind in the same load case, of a
fifth of that. A row beyond its allowance gets the verdict `explain`.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from analysis.tables import read_json, write_csv
from params.arm import Arm
from params.read import read_arm
from params.units import System, outside, shown_unit

COLUMNS = [
    "quantity",
    "place",
    "load_case",
    "hand",
    "mesh",
    "unit",
    "difference_percent",
    "allowed_percent",
    "verdict",
    "note",
]
SMALL = 0.2  # a hand value below this share of the largest of its kind is compared with that share instead
Row = dict[str, Any]

# Allowed difference in percent, and why it is allowed.
MASS = (2.0, "the hand mass leaves out blends and fillets")
PLACE = (1.0, "of the distance between the pins; as for the mass")
FORCE = (0.1, "the same force is applied; the integration over the faces is made exact")
PIVOT_FORCE = (1.0, "the mesh's own weight takes the place of the hand calculation's")
DEFLECTION = (15.0, "the hub by a simple beam of its own; bosses taken as stiff, loads enter over the bores")
MIDDLE = (
    6.0,
    "middle third: 1 to 2 % where the arm is longer than twice its depth, 5 % seen on shorter ones",
)
NEAR_HUB = (12.0, "near the hub: the flanges feel its stiffness and the blends")
NEAR_BOSS = (12.0, "near the boss: 5 to 11 % seen; the pin's force spreads from the boss into the flanges")
END = (
    75.0,
    "at the edge of hub or boss the section is stiffened by it and the stress passes inside: the mesh is low there",
)
NET = (5.0, "equilibrium of one half of the arm; the stress is read at 98 points")
WALL = (
    25.0,
    "mean over the hub's walls, half the difference of both sides: plane sections by hand, a ring under its pin by mesh",
)
PEAK = (
    35.0,
    "peak by a stress concentration factor for a pin in a plate end; bending of the ring is added by hand",
)
ZERO = (0.01, "supports and sum of all forces must vanish against the largest pin force")
ENERGY = (15.0, "estimated error of the mesh in the energy norm, all of the arm")
BAND = (10.0, "error band of the bore's peak from the mesh series")


def row(
    quantity: str,
    place: str,
    case: str,
    hand: float,
    mesh: float,
    unit: str,
    allowed: tuple[float, str],
    scale: float | None = None,
) -> Row:
    """One comparison; `scale` is what the difference is a share of (the hand value where left out)."""
    base = abs(hand) if scale is None else scale
    sign = -1.0 if hand < 0.0 else 1.0  # positive: the mesh is larger in size
    difference = 100.0 * sign * (mesh - hand) / base if base else 100.0 * mesh
    verdict = "agrees" if abs(difference) <= allowed[0] else "explain"
    return dict(
        zip(
            COLUMNS,
            (quantity, place, case, hand, mesh, unit, difference, allowed[0], verdict, allowed[1]),
            strict=True,
        )
    )


def in_units(
    quantity: str,
    place: str,
    case: str,
    hand: float,
    mesh: float,
    kind: str,
    units: System,
    allowed: tuple[float, str],
    scale: float | None = None,
) -> Row:
    """A comparison of quantities with a unit, shown in the arm's units."""
    unit = shown_unit(kind, units)
    made = row(quantity, place, case, hand, mesh, unit.replace("*", " "), allowed, scale)
    return made | {"hand": outside(hand, unit, kind), "mesh": outside(mesh, unit, kind)}


def whole(arm: Arm, hand: Row, mesh: Row) -> Iterator[Row]:
    """Mass and centre of gravity."""
    yield in_units("mass", "arm", "any", hand["mass_kg"], mesh["mass_kg"], "mass", arm.units, MASS)
    span = arm.geometry.input_arm + arm.geometry.output_arm
    for axis, a, b in zip("xy", hand["cg_mm"], mesh["cg_mm"], strict=False):
        yield in_units(f"centre of gravity {axis}", "arm", "any", a, b, "length", arm.units, PLACE, span)


def of_case(arm: Arm, case: str, hand: Row, mesh: Row) -> Iterator[Row]:
    """Every quantity of one load case."""
    for bore, force in hand["pin_force"].items():
        allowed = PIVOT_FORCE if bore == "pivot_bore" else FORCE
        yield in_units(
            "pin force", words(bore), case, force, mesh["pin_force"][bore], "force", arm.units, allowed
        )
    for limb, moved in hand["deflection"].items():
        yield in_units(
            "deflection in the plane",
            f"{limb} pin",
            case,
            moved["in_plane"],
            mesh["deflection"][limb]["in_plane"],
            "length",
            arm.units,
            DEFLECTION,
        )
    for limb in hand["stations"]:
        yield from fibres(arm, case, limb, hand["stations"][limb], mesh["stations"][limb])
    for limb, net in hand["net_section"].items():
        found = mesh["pivot_section"][limb]
        place = f"hub, square to the {limb} arm"
        yield in_units(
            "moment over the section at the pivot",
            place,
            case,
            net["M3"],
            found["M3"],
            "moment",
            arm.units,
            NET,
        )
        by_hand = 0.5 * wall_share(arm) * (net["sigma_plus"] - net["sigma_minus"])
        by_mesh = 0.5 * (found["mean_plus"] - found["mean_minus"])
        what = "net section at the pivot, bending part of the wall stress"
        yield in_units(what, place, case, by_hand, by_mesh, "stress", arm.units, WALL)
    for bore, peak in hand["bore_peak"].items():
        yield in_units(
            "bore peak", words(bore), case, peak, mesh["peaks"][bore]["equivalent"], "stress", arm.units, PEAK
        )
    yield row("support reactions", "arm", case, 0.0, mesh["reaction"], "share of the load", ZERO)
    yield row(
        "sum of all forces",
        "arm",
        case,
        0.0,
        mesh["imbalance"] / max(hand["pin_force"].values()),
        "share of the load",
        ZERO,
    )
    yield row("discretisation error, energy norm", "arm", case, 0.0, mesh["energy_error"], "share", ENERGY)


def wall_share(arm: Arm) -> float:
    """Mean over a wall of a stress that grows with the distance from the axis, over its value at the outside."""
    return 0.5 * (1.0 + arm.geometry.pivot.bore / arm.geometry.pivot.outside)


def fibres(arm: Arm, case: str, limb: str, hand: list[Row], mesh: list[Row]) -> Iterator[Row]:
    """Normal stress at the middles of both flanges, station by station."""
    largest = max(abs(one[f"sigma_{side}"]) for one in hand for side in ("plus", "minus"))
    start, end = hand[0]["s"], hand[-1]["s"]
    for a, b in zip(hand, mesh, strict=True):
        share = (a["s"] - start) / (end - start)
        unit = shown_unit("length", arm.units)
        place = f"{limb} arm, {outside(a['s'], unit, 'length'):.4g} {unit} from the pivot"
        for side in ("plus", "minus"):
            value = a[f"sigma_{side}"]
            scale = max(abs(value), SMALL * largest)
            yield in_units(
                f"bending stress, {side} flange",
                place,
                case,
                value,
                b[f"sigma_{side}"],
                "stress",
                arm.units,
                allowance(share),
                scale,
            )


def allowance(share: float) -> tuple[float, str]:
    """Allowed difference of a fibre stress at this share of the way from hub edge to boss edge."""
    if share < 0.1 or share > 0.9:
        return END
    if share < 1.0 / 3.0:
        return NEAR_HUB
    return MIDDLE if share <= 2.0 / 3.0 else NEAR_BOSS


def words(name: str) -> str:
    return name.replace("_", " ")


def bands(mesh: Row) -> Iterator[Row]:
    """Error band of each bore's peak; a single mesh has none."""
    for place, percent in mesh["bands_percent"].items():
        if percent is not None and place != "outside":
            yield row("error band of the peak", words(place), "any", 0.0, percent / 100.0, "share", BAND)


def main(folder: Path) -> None:
    arm = read_arm(folder / "arm.yaml")
    hand, mesh = read_json(folder / "hand.json"), read_json(folder / "elastic.json")
    rows = list(whole(arm, hand, mesh))
    for case in hand["cases"]:
        rows += of_case(arm, case, hand["cases"][case], mesh["cases"][case])
    rows += bands(mesh)
    write_csv(folder / "verify.csv", COLUMNS, rows)
    beyond = sum(one["verdict"] == "explain" for one in rows)
    print(f"hand beside mesh: {len(rows)} rows, {beyond} to explain")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
