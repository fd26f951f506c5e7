"""One fit of one bore from its limits to figures: pressure, stress, friction grip, assembly.

Every figure stands at the least, mean and most interference that sizes, smoothing and service temperature
allow. The hub is taken as a ring of its outside diameter (the arms that run into it stiffen it a little), the
ends as no different from the middle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from analysis.bores import holding
from analysis.bores.limits_fits import Fit, fit, measured
from analysis.bores.ring import Ring, closing_in, interface_pressures, movement, stress
from params.schema.bores import BoreFit, Sizes, Solid
from params.schema.geometry import Bore
from params.schema.material import Material
from params.steps.arrays import Floats


@dataclass(frozen=True)
class Figure:
    """A quantity at least, mean and most interference, in the internal unit of its kind; a capacity where it
    has one.
    """

    quantity: str
    kind: str  # a kind of params.schema.units, or "-"
    least: float
    mean: float
    most: float
    capacity: float | None = None
    note: str = ""

    @property
    def status(self) -> str:
        """ok or fails where there is a capacity, else empty."""
        if self.capacity is None:
            return ""
        return "ok" if max(self.least, self.mean, self.most) <= self.capacity else "fails"


@dataclass(frozen=True)
class Assembled:
    """The rings of a bore and, for least, mean and most (3,), interference, mm, and pressure, MPa, at each
    interface.
    """

    rings: tuple[Ring, ...]
    interference: Floats  # (3, interfaces)
    pressure: Floats
    length: float


def limits_of(sizes: Sizes, nominal: float) -> Fit:
    """The fit that the file names at a nominal size in mm, or the measured one."""
    if sizes.measured is not None:
        return measured(sizes.measured.bore, sizes.measured.shaft, sizes.measured.uncertainty)
    if sizes.fit is None:
        raise ValueError("the sizes of a bore give neither a fit nor measured diameters; give one of them")
    return fit(sizes.fit, nominal)


def assemble(wanted: BoreFit, sizes: Sizes, bore: Bore, material: Material) -> Assembled:
    """Pressures of shaft, bush and hub with the fit `sizes` between the shaft and what it turns or sits
    in.
    """
    seat = wanted.bush.inside if wanted.bush else bore.bore
    solids: list[Solid] = [wanted.shaft]
    fits = [limits_of(sizes, seat)]
    edges = (
        [wanted.shaft.inside, seat, bore.bore, bore.outside]
        if wanted.bush
        else [wanted.shaft.inside, seat, bore.outside]
    )
    if wanted.bush:
        solids.append(wanted.bush)
        fits.append(limits_of(wanted.bush.fit, bore.bore))
    elastic = [(one.elastic_modulus, one.poisson_ratio) for one in solids]
    elastic.append((material.elastic_modulus, material.poisson_ratio))
    rings = tuple(Ring(a, b, *e) for a, b, e in zip(edges[:-1], edges[1:], elastic, strict=True))
    expansions = [one.expansion for one in solids] + [wanted.hub_expansion]
    columns = [
        _in_service(limits, wanted, diameter, outer, inner)
        for limits, diameter, inner, outer in zip(
            fits, edges[1:-1], expansions[:-1], expansions[1:], strict=True
        )
    ]
    interference = np.column_stack(columns)
    pressure = interface_pressures(rings, interference)
    return Assembled(rings, interference, pressure, bore.width - 2.0 * bore.chamfer)


def _in_service(limits: Fit, wanted: BoreFit, diameter: float, outer: float, inner: float) -> list[float]:
    """Least, mean and most interference, mm: roughness peaks smoothed for the least and the mean, at
    the service temperature that is worst for each.
    """
    rise = np.array([temperature - wanted.assembly.room for temperature in wanted.service])
    rough = (wanted.roughness_bore, wanted.roughness_shaft)
    least, mean = (holding.after_smoothing(value, *rough) for value in (limits.least, limits.mean))
    by_heat = holding.warmed(0.0, diameter, outer, inner, rise)
    return [float(least + by_heat.min()), float(mean), float(limits.most + by_heat.max())]


def figures(wanted: BoreFit, sizes: Sizes, bore: Bore, material: Material) -> list[Figure]:
    """Every figure of a fit, in the order of a table; strengths for review, not for release."""
    assembled = assemble(wanted, sizes, bore, material)
    shown = ["shaft in bush", "bush in hub"] if wanted.bush else ["shaft in hub"]
    table: list[Figure] = []
    for i, name in enumerate(shown):
        table += [
            _three(f"interference of {name} (negative: clearance)", "length", assembled.interference[:, i]),
            _three(f"pressure of {name}", "stress", assembled.pressure[:, i]),
            *_held(name, assembled, i, wanted),
        ]
    table += _strains(assembled, wanted, material)
    seat = assembled.rings[0].outside
    table.append(
        _three(
            "force that lifts the shaft off",
            "force",
            holding.lift_off_force(assembled.pressure[:, 0], seat, assembled.length),
        )
    )
    return table + _assembly(limits_of(sizes, seat), wanted, seat)


def _three(quantity: str, kind: str, values: Floats, capacity: float | None = None, note: str = "") -> Figure:
    least, mean, most = (float(value) for value in values)
    return Figure(quantity, kind, least, mean, most, capacity, note)


def _held(name: str, assembled: Assembled, i: int, wanted: BoreFit) -> list[Figure]:
    """Moment and force that friction holds, with its least coefficient, and the force of pressing in, with its largest."""
    p, d, low, high = (
        assembled.pressure[:, i],
        assembled.rings[i].outside,
        wanted.friction.least,
        wanted.friction.most,
    )
    return [
        _three(
            f"slip moment of {name}",
            "moment",
            holding.slip_moment(p, d, assembled.length, low),
            note=f"friction {low:g}",
        ),
        _three(
            f"axial hold of {name}",
            "force",
            holding.axial_hold(p, d, assembled.length, low),
            note=f"friction {low:g}",
        ),
        _three(
            f"pressing in of {name}",
            "force",
            holding.axial_hold(p, d, assembled.length, high),
            note=f"friction {high:g}",
        ),
    ]


def _strains(assembled: Assembled, wanted: BoreFit, material: Material) -> list[Figure]:
    """Stresses at the bores of hub and bush, and the closing in of the bush's bore."""
    hub, p = assembled.rings[-1], assembled.pressure[:, -1]
    at = stress(hub, p, 0.0, hub.inside / 2.0)
    fy = material.yield_strength
    strains = [
        _three("hoop stress at the hub's bore", "stress", at.hoop),
        _three("equivalent stress at the hub's bore", "stress", at.mises, fy, "von Mises against yield"),
        _three("growth of the hub's outside", "length", 2.0 * movement(hub, p, 0.0, hub.outside / 2.0)),
    ]
    if wanted.bush:
        bush, inner = assembled.rings[1], assembled.pressure[:, 0]
        worst = stress(bush, inner, p, bush.inside / 2.0)
        strains += [
            _three(
                "closing in of the bush's bore, no shaft in it",
                "length",
                closing_in(bush, _bush_alone(assembled)),
            ),
            _three(
                "equivalent stress at the bush's bore",
                "stress",
                worst.mises,
                wanted.bush.yield_strength,
                "von Mises",
            ),
        ]
    return strains


def _bush_alone(assembled: Assembled) -> Floats:
    """Pressure of bush in hub before the shaft is there, MPa."""
    return interface_pressures(assembled.rings[1:], assembled.interference[:, 1:])[:, 0]


def _assembly(limits: Fit, wanted: BoreFit, diameter: float) -> list[Figure]:
    """Temperature of the outer part at which the shaft drops in, cooled or not, for the unsmoothed sizes."""
    plan, shaft = wanted.assembly, wanted.shaft
    cold = plan.room if plan.cooled_shaft is None else plan.cooled_shaft
    gain = holding.shrinkage(diameter, shaft.expansion, plan.room, cold)
    outer = wanted.bush.expansion if wanted.bush else wanted.hub_expansion
    warm = [
        plan.room + holding.heating(value, plan.clearance, diameter, outer, gain)
        for value in (limits.least, limits.mean, limits.most)
    ]
    note = f"shaft at {cold:g} C" if plan.cooled_shaft is not None else "shaft not cooled"
    return [
        _three(
            "temperature of the outer part for assembly", "temperature", np.array(warm), plan.hub_limit, note
        )
    ]
