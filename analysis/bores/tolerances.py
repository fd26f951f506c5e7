"""Standard tolerances and fundamental deviations in micrometres, nominal sizes up to 500 mm.

Source: ISO 286-1:2010, Table 1 (standard tolerances), Tables 4 and 5 (fundamental deviations of shafts), from
memory; tests hold them against the rules from which the standard's values were rounded (annex of ISO
286-1:1988) and against published limits of size.
"""

from __future__ import annotations

from bisect import bisect_left

# Upper ends of the ranges of nominal size, mm ("over 3 up to and including 6" and so on).
RANGES = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
# The finer ranges that the deviations r, s, t and u use.
FINE = (
    3,
    6,
    10,
    18,
    24,
    30,
    40,
    50,
    65,
    80,
    100,
    120,
    140,
    160,
    180,
    200,
    225,
    250,
    280,
    315,
    355,
    400,
    450,
    500,
)

# IT4 serves only the rule of the holes (Delta at grade 5).
IT: dict[int, tuple[int, ...]] = {
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20),
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
    12: (100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630),
}

# Upper deviation es of shafts that lie below the nominal size.
UPPER: dict[str, tuple[int, ...]] = {
    "d": (-20, -30, -40, -50, -65, -80, -100, -120, -145, -170, -190, -210, -230),
    "e": (-14, -20, -25, -32, -40, -50, -60, -72, -85, -100, -110, -125, -135),
    "f": (-6, -10, -13, -16, -20, -25, -30, -36, -43, -50, -56, -62, -68),
    "g": (-2, -4, -5, -6, -7, -9, -10, -12, -14, -15, -17, -18, -20),
    "h": (0,) * 13,
}

# Lower deviation ei of shafts that lie above it; k holds for grades 4 to 7 (others: 0).
LOWER: dict[str, tuple[int, ...]] = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}

# Lower deviation ei on the finer ranges; the standard gives no t up to 24 mm (params.schema.fitclass.gap refuses
# it).
LOWER_FINE: dict[str, tuple[int, ...]] = {
    "r": (10, 15, 19, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132),
    "s": (
        14,
        19,
        23,
        28,
        35,
        35,
        43,
        43,
        53,
        59,
        71,
        79,
        92,
        100,
        108,
        122,
        130,
        140,
        158,
        170,
        190,
        208,
        232,
        252,
    ),
    "t": (
        *(0, 0, 0, 0, 0, 41, 48, 54, 66, 75, 91, 104),
        *(122, 134, 146, 166, 180, 196, 218, 240, 268, 294, 330, 360),
    ),
    "u": (
        *(18, 23, 28, 33, 41, 48, 60, 70, 87, 102, 124, 144),
        *(170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490, 540),
    ),
}


def place(nominal: float, ranges: tuple[int, ...] = RANGES) -> int:
    """Which range of nominal size (mm) this one lies in; raises ValueError outside 0 to 500 mm."""
    if not 0.0 < nominal <= ranges[-1]:
        raise ValueError(
            f"nominal size {nominal:g} mm: limits and fits are held for sizes over 0 up to 500 mm"
        )
    return bisect_left(ranges, nominal)


def standard_tolerance(grade: int, nominal: float) -> int:
    """Width of the tolerance interval, micrometres (ISO 286-1:2010 Table 1).

    >>> standard_tolerance(7, 320.0)
    57
    """
    if grade not in IT:
        raise ValueError(f"grade IT{grade}: tolerances are held for IT{min(IT)} to IT{max(IT)}")
    return IT[grade][place(nominal)]
