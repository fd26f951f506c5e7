"""What is changed in the smallest arm's file against a rule across its fields, and what is said of the line that was changed."""

# ruff: noqa: E501 (the lines as they are printed)
from __future__ import annotations

OUTSIDE = ("    outside: 90 mm", "    outside: 48 mm")
MATERIALS = "a148-80-50, a27-65-35, a572-50, a709-hps-70w, er100s-1, er110s-1, er80s-d2"

RULES = [
    (
        *OUTSIDE,
        "geometry.pivot.outside: 48.0 mm, leaves a wall of 4.0 mm beside the bore of 40.0 mm, at least 6.7 mm (one sixth of the bore), make it at least 53.3 mm or the bore smaller",
    ),
    (
        *OUTSIDE,
        "geometry.pivot.outside: 48.0 mm, is too small for the arms' depth of 76.0 mm at the hub, at least 77.5 mm (2 % more than the depth), make it at least 77.5 mm or the arms less deep",
    ),
    (
        "chamfer: 2 mm",
        "chamfer: 14 mm",
        "geometry.pivot.chamfer: 14.0 mm, is too large for the wall or the width, at most 12.5 mm (half the wall, a quarter of the width), make it smaller",
    ),
    (
        "diameter: 39.9 mm",
        "diameter: 41 mm",
        "geometry.pivot.pin.diameter: 41.0 mm, is larger than the bore, at most 40.0 mm, or 0.3 % more for a shrunk fit, check pin and bore",
    ),
    (
        "diameter: 39.9 mm",
        "diameter: 20 mm",
        "geometry.pivot.pin.diameter: 20.0 mm, is far smaller than the bore, at least 32.0 mm (0.8 of the bore), check pin and bore",
    ),
    (
        "tensile_strength: 700 MPa",
        "tensile_strength: 70 ksi",
        "geometry.pivot.pin.tensile_strength: 482.6 MPa, is below the yield strength, at least 500.0 MPa, check both",
    ),
    (
        "    width: 50 mm",
        "    width: 30 mm",
        "geometry.pivot.width: 30.0 mm, does not stand proud of the section's width, at least 36.7 mm (2 % more than the section), widen it or narrow the section",
    ),
    (
        "flange_thickness: 9 mm",
        "flange_thickness: 17 mm",
        "geometry.section.flange_thickness: 17.0 mm, leaves no web between flanges and fillets at the pins, less than 16.0 mm, thin the flanges or deepen the arm at the pins",
    ),
    (
        "web_thickness: 9 mm",
        "web_thickness: 33 mm",
        "geometry.section.web_thickness: 33.0 mm, leaves no room beside the web within the width, less than 32.4 mm, thin the web or widen the section",
    ),
    (
        "input_arm: 150 mm",
        "input_arm: 80 mm",
        "geometry.input_arm: 80.0 mm, leaves no arm between hub and boss, at least 87.0 mm (radii of hub and boss and half the depth at the pins), lengthen the arm or make hub and boss smaller",
    ),
    (
        "    outside: 44 mm",
        "    outside: 30 mm",
        "geometry.input.outside: 30.0 mm, is smaller than the depth of the arm there, at least 40.0 mm (the depth), enlarge the boss or taper the arm more",
    ),
    (
        "largest: 20 mm",
        "largest: 1 mm",
        "mesh.largest: 1.0 mm, would fill the arm with about 8e+06 elements, at least 1.2 mm, make it larger",
    ),
    (
        "rod: 25 mm",
        "rod: 40 mm",
        "drive.rod: 40.0 mm, is not smaller than the cylinder's bore, less than 40.0 mm, check both on the name plate",
    ),
    (
        "stroke: 120 mm",
        "stroke: 220 mm",
        "drive.stroke: 220.0 mm, does not fit into the closed cylinder, less than the closed length of 190.0 mm, check both on the drawing",
    ),
    # Law of cosines: r = 150, R = hypot(120, 300) = 323.11; 199.8 at 138 deg, 254.7 at 162 deg; 220 at phi = -2.28 deg.
    (
        "stroke: 120 mm",
        "stroke: 30 mm",
        "drive.stroke: 30.0 mm, does not cover the swing: it needs 199.8 mm to 254.7 mm pin to pin, the cylinder has 190.0 mm to 220.0 mm, it reaches -12.0 to -2.3 deg of the swing; change cylinder, anchor or swing",
    ),
    ("closed_length: 190 mm", "closed_length: 400 mm", None),
    (
        "raised: 12 deg",
        "raised: -12 deg",
        "drive.raised: -12.0 deg, is almost the same as lowered, at least 0.5 deg apart, give both ends of the swing",
    ),
    (
        "raised: 12 deg",
        "raised: 200 deg",
        "drive.raised: 200.0 deg, makes a swing of 212.0 deg, at most 180.0 deg, check the signs of both angles",
    ),
    (
        "direction: -90 deg",
        "direction: 5 deg",
        "driven.direction: the load's line crosses or nears dead centre inside the swing, at 5.0 deg, moment arm at least 0.05 of the arm, always on the same side, turn the direction or shorten the swing",
    ),
    (
        "{at: 1, force: 10 kN}",
        "{at: 1, moment: 1 kN*m}",
        "driven.load.1: needs either force or moment, exactly one, the same in every point, keep one of the two",
    ),
    (
        "{at: 1, force: 10 kN}",
        "{at: 1, force: 10 kN, moment: 1 kN*m}",
        "driven.load.1: needs either force or moment, exactly one, the same in every point, keep one of the two",
    ),
    (
        "kind: blocked, push: extend",
        "kind: blocked",
        "load_cases.jam-extend.push: is missing, a blocked case needs extend or retract, add push: extend",
    ),
    (
        "kind: lower,",
        "kind: lower, push: extend,",
        "load_cases.lower.push: extend, is not used with kind lower, only blocked cases have it, remove it",
    ),
    (
        "push: extend,",
        "push: extend, load_factor: 2,",
        "load_cases.jam-extend.load_factor: 2, is not used with kind blocked, the load follows from the relief pressure, remove it",
    ),
    (
        "push: extend,",
        "push: extend, shock_factor: 1.2,",
        "load_cases.jam-extend.shock_factor: 1.2, is not used with kind blocked, pressure above relief is overshoot_factor, remove it",
    ),
    (
        "kind: lower,",
        "kind: lower, overshoot_factor: 1.2,",
        "load_cases.lower.overshoot_factor: 1.2, is not used with kind lower, only blocked cases stand at relief pressure, remove it",
    ),
    (
        "push: extend,",
        "push: extend, friction: 0.1,",
        "load_cases.jam-extend.friction: 0.1, is not used with kind blocked, only 0, the arm stands still, remove it",
    ),
    (
        "eccentricity: 1 mm",
        "eccentricity: 30 mm",
        "load_cases.raise.eccentricity: 30.0 mm, lies outside the boss, at most 20.0 mm (half the width), check it",
    ),
    (
        "from_case: unloaded",
        "from_case: lowered",
        "duty.pairs.0.from_case: lowered, is not a load case of this file, one of raise, lower, jam-extend, unloaded, name one of them or add the case",
    ),
    (
        "to_case: raise",
        "to_case: unloaded",
        "duty.pairs.0.to_case: unloaded, is the case the cycle starts from, two different cases, name the other end of the cycle",
    ),
    (
        "material: a572-50",
        "material: a572",
        f"material: a572, is not the name of a material file, one of {MATERIALS}, write one of them or add a file",
    ),
    (
        "name: bench-lever",
        "name: bench",
        "name: bench, differs from the file's name bench-lever, name the file bench.yaml or write name: bench-lever",
    ),
    (
        "least: 60 mm",
        "least: 90 mm",
        "sweep.depth_at_hub.least: 90.0 mm, is more than the largest size of this range, at most 84.0 mm, swap or correct the two",
    ),
    (
        "steps: 5",
        "steps: 1",
        "sweep.depth_at_hub.steps: 1, leaves out one end of the range, 2 or more, or least the same as most, raise it",
    ),
]
