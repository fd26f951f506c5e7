"""The arm's elevation drawn a second time, with polygons of a general-purpose library, to check the solid against.

Circles are 512-gons (area low by 2.5e-5; finer ones upset the library's offsets). Closing a figure (grow, then shrink)
by r rounds its re-entrant corners with radius r; opening it (shrink, then grow) rounds the others.
"""

import numpy as np
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

FINE = 128  # segments to a quarter circle


def bores(geometry):
    """Name, centre, and sizes of hub and bosses, from the parameter file alone."""
    angle = geometry.included_angle
    far = {"pivot": (0.0, 0.0), "output": (geometry.output_arm, 0.0)}
    far["input"] = (geometry.input_arm * np.cos(angle), geometry.input_arm * np.sin(angle))
    return {name: (far[name], getattr(geometry, name)) for name in far}


def circle(centre, diameter):
    return Point(*centre).buffer(diameter / 2.0, quad_segs=FINE)


def bar(geometry, name):
    """One arm from the pivot centre to its pin: parallel within the hub, then tapered."""
    length, radius = getattr(geometry, f"{name}_arm"), geometry.pivot.outside / 2.0
    h, p = geometry.section.depth_at_hub / 2.0, geometry.section.depth_at_pins / 2.0
    s = np.array([0.0, radius, length, length, radius, 0.0])
    eta = np.array([-h, -h, -p, p, h, h])
    angle = geometry.included_angle if name == "input" else 0.0
    c, sine = np.cos(angle), np.sin(angle)
    return Polygon(np.column_stack([c * s - sine * eta, sine * s + c * eta]))


def elevation(geometry):
    """Hub, bosses and both arms, re-entrant corners rounded with the blend radius, each blend meeting a circle at 15 degrees.

    Such a blend touches a smaller circle about the same centre; by the law of cosines with the angle of both radii, 165
    degrees where they meet. A circle that the arms' edges meet at less than 25 degrees has no blends.
    """
    r, whole = geometry.blend_radius, [bar(geometry, "input"), bar(geometry, "output")]
    for centre, size in bores(geometry).values():
        depth = geometry.section.depth_at_hub if centre == (0.0, 0.0) else geometry.section.depth_at_pins
        if np.degrees(np.arccos(depth / size.outside)) > 25.0:
            radius = size.outside / 2.0
            third = np.sqrt(radius**2 + r**2 - 2.0 * radius * r * np.cos(np.radians(165.0)))
            whole.append(circle(centre, 2.0 * (third - r)))
    whole = unary_union(whole)
    whole = whole.buffer(r, quad_segs=FINE).buffer(-r, quad_segs=FINE) if r else whole
    return unary_union([whole, *(circle(centre, size.outside) for centre, size in bores(geometry).values())])


def field(geometry, name, corner):
    """The clear field of one arm between flanges, hub, boss and the rib between the arms, corners rounded."""
    flange = geometry.section.flange_thickness
    placed = bores(geometry)
    clear = bar(geometry, name).buffer(-flange, join_style="mitre", mitre_limit=10.0)
    for other in ("pivot", name):
        centre, size = placed[other]
        # Rounded corners meet the circle at 30 degrees: they touch a smaller one, by the law of cosines.
        radius = size.outside / 2.0
        third = np.sqrt(radius**2 + corner**2 - 2.0 * radius * corner * np.cos(np.radians(150.0)))
        clear = clear.difference(circle(centre, 2.0 * (third - corner)))
    half = geometry.included_angle / 2.0
    turn = half + (np.pi / 2.0 if name == "input" else -np.pi / 2.0)  # toward this arm
    line, out = np.array([np.cos(half), np.sin(half)]), np.array([np.cos(turn), np.sin(turn)])
    far = 10.0 * (geometry.input_arm + geometry.output_arm)
    edge = flange / 2.0 * out
    side = Polygon(
        [edge - far * line, edge + far * line, edge + far * line + far * out, edge - far * line + far * out]
    )
    clear = clear.intersection(side)
    clear = max(getattr(clear, "geoms", [clear]), key=lambda part: part.area)
    clear = clear.buffer(-corner, quad_segs=FINE).buffer(corner, quad_segs=FINE) if corner else clear
    return clear.difference(unary_union([circle(*placed_at(placed, other)) for other in ("pivot", name)]))


def placed_at(placed, name):
    centre, size = placed[name]
    return centre, size.outside


def volume(geometry, corner):
    """Volume of the part by plane figures, cylinders and cones; `corner` is the plan radius of the pockets' corners."""
    section = geometry.section
    whole = elevation(geometry).area * section.width
    for _, size in bores(geometry).values():
        whole += np.pi / 4.0 * size.outside**2 * (size.width - section.width)
        c, r = size.chamfer, size.bore / 2.0
        cone = np.pi * c / 3.0 * (r**2 + r * (r + c) + (r + c) ** 2) - np.pi * r**2 * c
        whole -= np.pi * r**2 * size.width + 2.0 * cone
    if section.kind == "solid":
        return whole
    fields = [field(geometry, name, corner) for name in ("input", "output")]
    if section.kind == "box":
        return whole - sum(clear.area for clear in fields) * (section.width - 2.0 * section.web_thickness)
    return whole - 2.0 * sum(pocket_volume(clear, section) for clear in fields)


def pocket_volume(clear, section):
    """One pocket of an I: straight walls, and above its floor a fillet, at whose height h the walls stand inward.

    The offset at h is r - sqrt(r^2 - (r - h)^2); integrated by 8 Gauss points in the fillet's angle.
    """
    depth, r = (section.width - section.web_thickness) / 2.0, section.fillet
    at, weights = np.polynomial.legendre.leggauss(8)
    angle = np.pi / 4.0 * (at + 1.0)
    rounded = sum(
        w * np.pi / 4.0 * r * np.sin(t) * clear.buffer(-r * (1.0 - np.sin(t)), quad_segs=FINE).area
        for t, w in zip(angle, weights, strict=True)
    )
    return clear.area * (depth - r) + rounded
