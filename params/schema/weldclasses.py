"""Detail categories of EN 1993-1-9:2005 and what they are for, MPa at two million cycles."""

from __future__ import annotations

CATEGORIES = (160, 140, 125, 112, 100, 90, 80, 71, 63, 56, 50, 45, 40, 36)  # Fig. 7.1, direct stress
SHEAR_CATEGORIES = (100, 80)  # Fig. 7.2, shear stress

# What an arm may have, by a short name for the parameter file. All from memory but the transverse butt welds.
DETAILS: dict[str, tuple[int, str]] = {
    "rolled": (160, "plates and flats as rolled, Table 8.1 detail 1"),
    "gas-cut-dressed": (140, "sheared or machine gas cut, dressed, Table 8.1 detail 4"),
    "gas-cut": (125, "machine gas cut with shallow regular drag lines, Table 8.1 detail 5"),
    "longitudinal-automatic": (
        125,
        "continuous automatic longitudinal weld from both sides, no stop or start, Table 8.2",
    ),
    "longitudinal-automatic-stops": (112, "the same with stop and start positions, Table 8.2"),
    "longitudinal-manual": (100, "manual longitudinal fillet or butt weld, Table 8.2"),
    "butt-ground": (112, "transverse butt weld ground flush, both sides, tested, Table 8.3 details 1-4"),
    "butt-low": (90, "transverse butt weld, convexity to 10 %, both sides, tested, Table 8.3 details 5-7"),
    "butt": (80, "transverse butt weld, convexity to 20 %, not ground, Table 8.3 details 9-11"),
    "attachment-50": (80, "longitudinal attachment to 50 mm long, Table 8.4 detail 1"),
    "attachment-80": (71, "longitudinal attachment over 50 to 80 mm long, Table 8.4 detail 1"),
    "attachment-100": (63, "longitudinal attachment over 80 to 100 mm long, Table 8.4 detail 1"),
    "attachment-long": (56, "longitudinal attachment over 100 mm long, Table 8.4 detail 1"),
    "stiffener-50": (80, "transverse attachment or stiffener to 50 mm, Table 8.4 details 6-8"),
    "stiffener-80": (71, "transverse attachment or stiffener over 50 to 80 mm, Table 8.4 details 6-8"),
    "gusset-radius": (90, "gusset with smooth radius, r/l at least 1/3 or r over 150 mm, Table 8.4 detail 4"),
    "partial-root": (36, "root failure of a partial-penetration cruciform or tee joint, Table 8.5 detail 3"),
}
# Details whose class falls with thickness over 25 mm (Table 8.3, size effect).
