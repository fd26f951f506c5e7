"""Which clause applies where: every check of D designs, each array with the axes (D, C, P, S)."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from analysis.clauses import aisc360, bth1, en1993, hub, member, peaks, service, slenderness, stability
from analysis.clauses.applied import Checked, apply
from analysis.hand.fatigue_and_flaws import fatigue_checks, rim_flaws
from analysis.hand.places import PLACES
from analysis.mechanics.axes import lift
from analysis.mechanics.hub_forces import across_bisector, at_pivot
from analysis.mechanics.response import Limb, Response
from analysis.mechanics.spans import bores
from params.rules.derived import cylinder_areas
from params.schema.bores import Region
from params.steps.arrays import Floats


def station(limb: Limb, index: NDArray[np.intp]) -> Floats:
    """s of the stations (D, C, P) that an extreme chose."""
    return np.take_along_axis(limb.s[:, None, None, :], index[..., None], axis=-1)


def design_factor(response: Response) -> float | Floats:
    """N_d: one number, or (1, C, 1, 1) where load cases have factors of their own."""
    factors = response.arm.design_factors
    return np.array(factors).reshape(1, -1, 1, 1) if len(set(factors)) > 1 else factors[0]


def checks(response: Response) -> Iterator[Checked]:
    """Every check."""
    for limb in response.limbs:
        yield from of_member(response, limb)
        yield from of_plates(response, limb)
        yield from of_stability(response, limb)
        yield from of_hub_side(response, limb)
    for surface in PLACES:
        yield from of_pin(response, surface)
    peak = list(of_peaks(response))
    yield from peak
    yield from rim_flaws(response, peak)
    yield from fatigue_checks(response)
    yield cylinder(response)


def of_member(response: Response, limb: Limb) -> Iterator[Checked]:
    strength = {"Fy": response.material.yield_strength, "Nd": design_factor(response)}
    place = f"{limb.name} arm"
    worst = limb.worst
    yield apply(
        member.combined_stress,
        place,
        station(limb, worst.station),
        sigma=lift(worst.normal),
        tau=lift(worst.shear),
        fcr=lift(worst.equivalent),
        **strength,
    )
    sizes = response.sizes
    web = sizes.web_thickness[:, None] if sizes.kind != "solid" else sizes.width[:, None]
    clear = limb.part.depth - 2.0 * sizes.flange_thickness[:, None]
    yield apply(
        member.section_shear,
        place,
        station(limb, worst.drag_station),
        V=lift(worst.drag),
        q=lift(worst.flow),
        slenderness=lift((clear / web).max(axis=1)),
        E=response.material.elastic_modulus,
        **strength,
    )
    moved = [lift(move) for move in limb.movement]
    yield apply(
        service.deflection,
        place,
        d2=moved[0],
        d3=moved[1],
        L=limb.length,
        ratio=response.arm.criteria.deflection_ratio,
    )


def of_plates(response: Response, limb: Limb) -> Iterator[Checked]:
    sizes, place = response.sizes, f"{limb.name} arm"
    if sizes.kind == "solid":
        return
    strength = {"Fy": response.material.yield_strength, "E": response.material.elastic_modulus}
    width, flange, web = (lift(size) for size in (sizes.width, sizes.flange_thickness, sizes.web_thickness))
    clear = lift(limb.part.depth[:, 0]) - 2.0 * flange
    yield apply(slenderness.web_depth, place, h=clear, tw=web, **strength)
    if sizes.kind == "i":
        yield apply(slenderness.flange_outstand, place, b=width, tf=flange, h=clear, tw=web, **strength)
    else:
        yield apply(slenderness.flange_between_webs, place, b=width - 2.0 * web, tf=flange, **strength)


def of_stability(response: Response, limb: Limb) -> Iterator[Checked]:
    """Least section constants of the arm with the forces at the hub edge."""
    material, part, place = response.material, limb.part, f"{limb.name} arm"
    E, G = material.elastic_modulus, material.elastic_modulus / (2.0 * (1.0 + material.poisson_ratio))
    strength = {"Fy": material.yield_strength, "Nd": design_factor(response)}
    least = {name: lift(getattr(part, name).min(axis=1)) for name in ("i2", "i3", "j", "cw", "area")}
    root = {name: lift(getattr(part, name)[:, 0]) for name in ("s3", "s2", "area")}
    N, M3, M2 = (getattr(limb.root, name) for name in ("n", "m3", "m2"))
    buckling = apply(
        stability.lateral_torsional,
        place,
        M3=M3,
        S3=root["s3"],
        I2=least["i2"],
        J=least["j"],
        Cw=least["cw"],
        L=limb.length,
        E=E,
        G=G,
        **strength,
    )
    yield buckling
    gyration = np.sqrt(np.minimum(least["i2"], least["i3"]) / least["area"])
    yield apply(
        stability.interaction,
        place,
        N=N,
        fa=np.abs(N) / root["area"],
        f3=buckling.outcome.demand,
        f2=np.abs(M2) / root["s2"],
        Fb=buckling.outcome.symbols["Fb"],
        slenderness=2.0 * limb.length / gyration,
        E=E,
        **strength,
    )


def of_hub_side(response: Response, limb: Limb) -> Iterator[Checked]:
    pivot, place = response.arm.geometry.pivot, f"hub, {limb.name} side"
    hub_size, yield_strength = lift(response.sizes.hub), response.material.yield_strength
    carried = at_pivot(response, limb)
    nd, factor = design_factor(response), response.arm.criteria.peak_factor
    yield apply(
        hub.net_section, place, **carried, D=hub_size, d=pivot.bore, w=pivot.width, Fy=yield_strength, Nd=nd
    )
    root = {name.upper(): getattr(limb.root, name) for name in ("n", "m3", "m2")}
    size = {name: lift(getattr(limb.part, name.lower())[:, 0]) for name in ("S3", "S2")}
    yield apply(
        peaks.blend,
        f"{limb.name} arm at hub",
        **root,
        **size,
        A=lift(limb.part.area[:, 0]),
        D=hub_size,
        h=lift(response.sizes.depth_at_hub),
        r=response.arm.geometry.blend_radius,
        Fy=yield_strength,
        factor=factor,
    )


def pin_force(response: Response, surface: str) -> Floats:
    """In-plane resultant at a bore, (D, C, P, 1)."""
    force = getattr(response.statics, surface.removesuffix("_bore"))
    return lift(np.hypot(force[0], force[1]))


def of_pin(response: Response, surface: Region) -> Iterator[Checked]:
    """The pin connection after the code that the file names; walls are the least about the bore, whichever way the force points."""
    bore = bores(response.arm)[surface]
    outside = lift(response.sizes.hub) if surface == "pivot_bore" else np.array(bore.outside)
    wall = (outside - bore.bore) / 2.0
    load = pin_force(response, surface)
    code = response.arm.criteria.pin_code
    if code != "bth1":  # which takes the design factor
        load = response.arm.criteria.pin_factor * load
    offset = np.abs(response.statics.eccentricity[0])[..., None] * (surface != "pivot_bore")
    share = 0.5 + offset / (bore.width + 2.0 * bore.pin.gap + bore.pin.side_plate)
    connection = {"bth1": pin_by_bth1, "en1993": pin_by_en1993, "aisc360": pin_by_aisc360}[code]
    yield from connection(response, surface, load, share, outside, wall)


def pin_by_bth1(
    response: Response, surface: Region, P: Floats, share: Floats, outside: Floats, wall: Floats
) -> Iterator[Checked]:
    bore, material, place = bores(response.arm)[surface], response.material, PLACES[surface]
    pin, Nd = bore.pin, design_factor(response)
    t = bore.width - 2.0 * bore.chamfer
    holes = {"Dh": bore.bore, "Dp": pin.diameter, "Nd": Nd, "t": t, "P": P}
    Fu, Fy = material.tensile_strength, material.yield_strength
    yield apply(bth1.tension, place, Fy=Fy, Fu=Fu, be=wall, **holes)
    yield apply(bth1.fracture, place, Fu=Fu, R=outside / 2.0, be=wall, **holes)
    yield apply(bth1.double_shear, place, Fu=Fu, R=outside / 2.0, **holes)
    turns = response.arm.criteria.pins_rotate
    yield apply(
        bth1.bearing, place, P=P, Fy=min(Fy, pin.yield_strength), Nd=Nd, t=t, Dp=pin.diameter, turns=turns
    )
    yield apply(bth1.pin_shear, place, P=P, share=share, d=pin.diameter, Fy=pin.yield_strength, Nd=Nd)
    spread = {"b": bore.width, "c": pin.gap, "a": pin.side_plate}
    yield apply(bth1.pin_bending, place, P=P, **spread, d=pin.diameter, Fy=pin.yield_strength, Nd=Nd)


def pin_by_en1993(
    response: Response, surface: Region, P: Floats, share: Floats, outside: Floats, wall: Floats
) -> Iterator[Checked]:
    bore, place, criteria = bores(response.arm)[surface], PLACES[surface], response.arm.criteria
    pin, t = bore.pin, bore.width - 2.0 * bore.chamfer
    F, fy = criteria.limit_state_factor * P, min(response.material.yield_strength, bore.pin.yield_strength)
    round_pin = {"d": pin.diameter, "fyp": pin.yield_strength}
    spread = {"b": bore.width, "c": pin.gap, "a": pin.side_plate}
    yield apply(en1993.pin_shear, place, F=F, share=share, d=pin.diameter, fup=pin.tensile_strength)
    yield apply(en1993.bearing, place, F=F, t=t, d=pin.diameter, fy=fy)
    yield apply(en1993.pin_bending, place, F=F, **spread, **round_pin)
    yield apply(en1993.pin_combined, place, F=F, share=share, fup=pin.tensile_strength, **spread, **round_pin)
    if criteria.pins_rotate:
        yield apply(en1993.bearing_service, place, Fser=P, t=t, d=pin.diameter, fy=fy)
        yield apply(en1993.pin_bending_service, place, Fser=P, **spread, **round_pin)
    yield apply(
        en1993.plate_geometry,
        place,
        F=F,
        t=t,
        fy=response.material.yield_strength,
        d0=bore.bore,
        a=wall,
        c=wall,
    )


def pin_by_aisc360(
    response: Response, surface: Region, P: Floats, share: Floats, outside: Floats, wall: Floats
) -> Iterator[Checked]:
    bore, material, place = bores(response.arm)[surface], response.material, PLACES[surface]
    pin, t = bore.pin, bore.width - 2.0 * bore.chamfer
    holes = {"t": t, "d": pin.diameter, "dh": bore.bore}
    yield apply(aisc360.tension, place, Pa=P, Fu=material.tensile_strength, w=outside, a=wall, **holes)
    yield apply(aisc360.shear, place, Pa=P, Fu=material.tensile_strength, a=wall, **holes)
    yield apply(
        aisc360.bearing, place, Pa=P, Fy=min(material.yield_strength, pin.yield_strength), t=t, d=pin.diameter
    )
    yield apply(aisc360.gross_yield, place, Pa=P, Fy=material.yield_strength, t=t, w=outside)
    yield apply(aisc360.pin_shear, place, Pa=P, share=share, d=pin.diameter, Fy=pin.yield_strength)
    spread = {"b": bore.width, "c": pin.gap, "a": pin.side_plate}
    yield apply(aisc360.pin_bending, place, Pa=P, **spread, d=pin.diameter, Fy=pin.yield_strength)


def of_peaks(response: Response) -> Iterator[Checked]:
    limit = {"Fy": response.material.yield_strength, "factor": response.arm.criteria.peak_factor}
    for limb in response.limbs:
        surface: Region = "input_bore" if limb.name == "input" else "output_bore"
        bore = bores(response.arm)[surface]
        yield apply(
            peaks.boss,
            PLACES[surface],
            Fs=lift(limb.pin.s),
            Ft=lift(limb.pin.eta),
            D=np.array(bore.outside),
            d=bore.bore,
            t=bore.width,
            e=lift(limb.pin.offset),
            **limit,
        )
    pivot, moment = response.arm.geometry.pivot, response.statics.pivot_moment
    carried = [at_pivot(response, limb) for limb in response.limbs]
    R, D = pin_force(response, "pivot_bore"), lift(response.sizes.hub)
    M = np.maximum(*(np.abs(side["M3"]) for side in carried))
    N = np.abs(across_bisector(response, carried))
    size = {"D": D, "d": pivot.bore, "w": pivot.width}
    yield apply(
        peaks.hub,
        PLACES["pivot_bore"],
        R=R,
        M=M,
        N=N,
        Mt=lift(np.hypot(moment[0], moment[1])),
        **size,
        **limit,
    )
    yield apply(peaks.ring, "hub", R=R, **size, **limit)


def cylinder(response: Response) -> Checked:
    """Pressure of the cases that are not at relief pressure by definition."""
    bore, annulus = cylinder_areas(response.arm)
    free = np.array([case.kind != "blocked" for case in response.arm.load_cases.values()])[:, None]
    force = np.where(free, response.statics.cylinder, 0.0)
    return apply(
        service.pressure,
        "cylinder",
        F=lift(force),
        Abore=bore,
        Aannulus=annulus,
        relief=response.arm.drive.relief_pressure,
    )
