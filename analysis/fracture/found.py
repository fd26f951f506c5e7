"""From the file's words on cracks to the formulas: bodies, sizes, toughness, scatter, methods.

The stress comes from elsewhere: membrane and bending stress, or a profile along the crack's path from the mesh.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from analysis.fracture import bodies, bodies_profile, survival, toughness
from analysis.fracture.bodies import Body
from analysis.fracture.inspection import Method
from analysis.fracture.weight_function import Profile
from params.rules.cracks import bore_of, section_of
from params.schema.arm import Arm
from params.schema.cracks import Cracks, CrackSection, Examination, FoundCrack, Scatter, Shape, Toughness
from params.schema.material import Material

Floats = NDArray[np.float64]


def body_of(shape: Shape, section: CrackSection, radius: float = 0.0, profile: Profile | None = None) -> Body:
    """The cracked body of this shape; with a profile the stress along the path instead of membrane and bending.

    At a hole a profile runs along the face from the hole's edge; for surface and edge cracks along the depth.
    """
    wall, width = section.thickness, section.width
    if shape in ("corner", "hole-through"):
        hole = (bodies.HoleCorner if shape == "corner" else bodies.HoleThrough)(radius, wall, width)
        return hole if profile is None else bodies_profile.ProfileHole(profile, hole)
    if profile is not None:
        return _along(shape, wall, width, profile)
    plain = {
        "surface": bodies.Surface(wall, width),
        "edge": bodies.Edge(wall),
        "through": bodies.Through(width),
    }
    return plain[shape]


def _along(shape: Shape, wall: float, width: float, profile: Profile) -> Body:
    if shape == "surface":
        return bodies_profile.ProfileSurface(profile, wall, width)
    if shape == "edge":
        return bodies_profile.ProfileEdge(profile, wall)
    raise ValueError(f"{shape} crack: no solution for a stress profile; give membrane and bending stress")


def found_body(crack: FoundCrack, arm: Arm, profile: Profile | None = None) -> Body:
    """The body of a found crack in this arm."""
    section, bore = section_of(crack, arm), bore_of(crack.region, arm)
    if section is None:
        raise ValueError(f"crack {crack.name}: its section is missing")
    return body_of(crack.shape, section, bore.bore / 2.0 if bore else 0.0, profile)


def sizes_of(shape: Shape, length: float, depth: float | None) -> Floats:
    """Sizes (P,) as the body of this shape counts them, from length on the face and depth, mm."""
    by_shape: dict[str, list[float]] = {
        "surface": [depth or 0.0, length / 2.0],
        "corner": [depth or 0.0, length],
        "edge": [depth or 0.0],
        "through": [length / 2.0],
        "hole-through": [length],
    }
    return np.array(by_shape[shape])


def toughness_of(cracks: Cracks, material: Material, thickness: float) -> float:
    """Toughness at the coldest temperature for a wall of this thickness, N/mm^1.5; refused outside the data.

    The master curve, where T0 is given, at the share of Scatter.fractile, or 5 % without scatter.
    """
    said = cracks.toughness
    if said.reference_temperature is not None:
        share = cracks.scatter.fractile if cracks.scatter else 0.05
        return float(toughness.master_curve(cracks.coldest, said.reference_temperature, thickness, share))
    return toughness.from_charpy(
        said.method,
        charpy_data(said).at(cracks.coldest),
        yield_strength=material.yield_strength,
        elastic_modulus=material.elastic_modulus,
        thickness=thickness,
    )


def charpy_data(said: Toughness) -> toughness.CharpyData:
    """The file's Charpy points as the formulas take them."""
    return toughness.CharpyData(
        tuple(point.temperature for point in said.charpy),
        tuple(said.counted),
        said.held_when_warmer,
    )


def scatter_of(said: Scatter) -> survival.Scatter:
    """The file's scatter as the sampling takes it."""
    return survival.Scatter(**said.model_dump())


def method_of(said: Examination, shape: Shape) -> Method:
    """The smallest flaw an examination finds, as sizes of this shape."""
    if shape == "through":
        return Method(said.method, said.length / 2.0, 0.0)
    if shape == "hole-through":
        return Method(said.method, said.length, 0.0)
    return Method(said.method, said.depth, said.length / (2.0 if shape == "surface" else 1.0))
