"""Stress along the arm in both flanges, station by station: its mean over the thickness, and its bending through the thickness.

By hand N/A -+ M y/I and what a web shear that varies along the arm adds (`mechanics/warping`). What is allowed beyond:

- the mesh: a mean of stress over a volume is a linear functional of the solution, its error the product of two errors in the
  energy norm, its own and that of the problem that has it as its load (Galerkin orthogonality): their square;
- the theory: bending theory leaves out the square of the flange's slope against the arm's line, and the next change of the
  warping, (length/span)^2;
- at hub and boss the stress arrives in another way than it leaves, by a stress that balances itself. In the mean it is at most that
  of a web which carries no M and of an N wholly in the flanges or wholly beside them. A section held plane bends the flange by
  (E/G) V g/length. The metal of hub and boss relieves the outer face by at most all of its stress: only downward;
- from there it fades: what was found at the edge may be found at a distance x as exp(-4.2 x/h), the slowest decay in a strip of
  depth h (Fadle 1941; Horgan and Knowles 1983).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from analysis.contracts.elastic import Cut, Flange
from analysis.contracts.hand import Station
from analysis.mechanics.sections import section
from analysis.mechanics.warping import Warping, skin, warping
from analysis.proof.rows import Allowed, Row, Theory, in_units
from params.schema.arm import Arm
from params.schema.material import Material
from params.schema.units import outside, shown_unit

QUANTITIES = {
    "mean": "flange stress, mean over its thickness",
    "outer": "flange bending through its thickness",
}
SMALL = 0.2  # a hand value below this share of the largest of its kind is compared with that share instead
DECAY = 4.2  # of a self-balanced stress in a strip of depth h: exp(-4.2 x/h)
MEAN = "mesh, slope of the flange, next change of the warping; at hub and boss the share of the web, and what fades of it"
BENDING = "as for the mean, in shares of the outer face; at hub and boss a held section, and metal that relieves the face"
SIDES = {"plus": 1.0, "minus": -1.0}


def flanges(
    arm: Arm, material: Material, case: str, limb: str, hand: Sequence[Station], mesh: Sequence[Cut]
) -> Iterator[Row]:
    """Both quantities of both flanges at every station of one arm in one load case."""
    places = [Along(arm, material, *both) for both in zip(hand, mesh, strict=True)]
    added = by_shear(places, material)
    most = {
        name: max(abs(at.stress(name, side)) for at in places for side in SIDES.values())
        for name in QUANTITIES
    }
    left = {k: disturbed(places[k], added[k]) for k in (0, -1)}
    unit = shown_unit("length", arm.units)
    for k, at in enumerate(places):
        place = f"{limb} arm, {outside(at.station.s, unit, 'length'):.4g} {unit} from the pivot"
        base = 100.0 * (at.cut.error**2 + slope(hand) ** 2 + (at.warp.length / (hand[-1].s - hand[0].s)) ** 2)
        for which, side in SIDES.items():
            scale = {name: max(abs(at.stress(name, side)), SMALL * most[name]) for name in QUANTITIES}
            if k in (0, len(places) - 1):
                mean, above, below = at.end(), at.held(material), abs(at.stress("outer", side))
            else:
                mean = max(left[end] * fading(places[end], at) for end in left)
                above, below = mean, 0.0
            bounds = {
                "mean": Allowed(base + 100.0 * mean / scale["mean"], MEAN),
                "outer": Allowed(
                    base + 100.0 * above / scale["outer"],
                    BENDING,
                    base + 100.0 * (above + below) / scale["outer"],
                ),
            }
            for name, (hand_value, by_mesh) in compared(at, side, added[k]).items():
                quantity = f"{QUANTITIES[name]}, {which} flange"
                yield in_units(
                    quantity, place, case, hand_value, by_mesh, "stress", arm.units, bounds[name], scale[name]
                )


def compared(at: Along, side: float, added: dict[str, float]) -> dict[str, tuple[Theory, float | None]]:
    """By hand and by mesh: mean over a flange's thickness, and its bending, positive where that adds to the outer face."""
    found, sign = at.flange(side), float(np.sign(at.stress("outer", side)))
    mean, outer = at.stress("mean", side), at.stress("outer", side)
    bent = sign * side * (added["outer"] - added["mean"])
    return {
        "mean": (Theory(mean, {"varying_shear": side * added["mean"]}), found and found.mean),
        "outer": (
            Theory(sign * (outer - mean), {"varying_shear": bent}),
            found and sign * (found.outer - found.mean),
        ),
    }


def by_shear(places: Sequence[Along], material: Material) -> list[dict[str, float]]:
    """(E/G) d(V g)/ds at every station on the side of positive eta, MPa."""
    s = np.array([at.station.s for at in places])
    change = {}
    for name in QUANTITIES:
        flow = np.array([at.station.web * getattr(at.warp, name) for at in places])
        change[name] = 2.0 * (1.0 + material.poisson_ratio) * np.gradient(flow, s, edge_order=2)
    return [{name: float(values[k]) for name, values in change.items()} for k in range(len(places))]


def disturbed(at: Along, added: dict[str, float]) -> float:
    """Largest difference between mesh and theory that an arm's edge shows in its flanges, MPa."""
    most = 0.0
    for side in SIDES.values():
        found = at.flange(side)
        for name in QUANTITIES:
            if found:
                most = max(most, abs(getattr(found, name) - at.stress(name, side) - side * added[name]))
    return most


def fading(end: Along, here: Along) -> float:
    """What may be left at a station of a self-balanced stress at an arm's edge."""
    depth = 0.5 * (end.station.depth + here.station.depth)
    return float(np.exp(-DECAY * abs(end.station.s - here.station.s) / depth))


def slope(hand: Sequence[Station]) -> float:
    """Slope of each flange against the arm's line."""
    return abs(hand[0].depth - hand[-1].depth) / 2.0 / (hand[-1].s - hand[0].s)


class Along:
    """One station: its section and its stresses, by hand and by mesh."""

    def __init__(self, arm: Arm, material: Material, station: Station, cut: Cut) -> None:
        shape = arm.geometry.section
        plates = (shape.width, shape.flange_thickness or 0.0, shape.web_thickness or 0.0)
        self.station, self.cut, self.width = station, cut, shape.width
        self.part = section(shape.kind, station.depth, *plates, shape.fillet or 0.0)
        self.thick = skin(shape.kind, station.depth, plates[1])
        self.warp: Warping = warping(shape.kind, station.depth, *plates, material.poisson_ratio)

    def flange(self, side: float) -> Flange | None:
        """Of the mesh."""
        return self.cut.plus if side > 0.0 else self.cut.minus

    def stress(self, name: str, side: float) -> float:
        """N/A - M y/I as mean over a flange or at its outer face, MPa."""
        y = side * (self.station.depth - (self.thick if name == "mean" else 0.0)) / 2.0
        return float(self.station.N / self.part.area - self.station.M3 * y / self.part.i3)

    def end(self) -> float:
        """By how much the mean stress of a flange may differ at an arm's edge, MPa: the web carries none of M, and N passes wholly
        through the flanges or wholly beside them."""
        area, lever = self.width * self.thick, self.station.depth - self.thick
        bending = abs(self.station.M3) * (1.0 / (area * lever) - lever / 2.0 / self.part.i3)
        axial = abs(self.station.N) * max(1.0 / self.part.area, 1.0 / (2.0 * area) - 1.0 / self.part.area)
        return float(max(bending, 0.0) + axial)

    def held(self, material: Material) -> float:
        """Bending of a flange where a section is held plane, MPa."""
        bent = self.station.web * (self.warp.outer - self.warp.mean) / self.warp.length
        return 2.0 * (1.0 + material.poisson_ratio) * abs(float(bent))
