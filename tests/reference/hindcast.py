"""Why a crack is there, by hand: imports nothing of the project. MPa, mm, years.

Fatigue: Shigley, 9th ed., chapter 6 (machined surface, reliability 0.99, size factor), a fretting factor on the whole curve,
Goodman's line, Palmgren-Miner; in free corrosion a third of the cycles and one slope without a limit (BS 7608:2014). Growth: a
through crack in a wide plate, Paris's line, dK = S sqrt(pi a).
"""

from __future__ import annotations

import math


def years_to_first_crack(tensile, size, fretting, cycles, residual, strength, corrodes):
    """Years of one kind of place; `cycles` (least, most, a year)."""
    ke = 1.0 - 0.08 * 2.3263478740408408
    limit = min(1.0, 4.51 * tensile**-0.265) * size * ke * 0.5 * tensile
    slope = 3.0 / math.log10(0.9 * tensile / limit)
    knee, damage, most = 2.0 * limit * fretting, 0.0, 0.0
    for low, high, often in cycles:
        half, mean = 0.5 * (high - low), 0.5 * (high + low) + min(residual, max(strength - high, 0.0))
        wide = 2.0 * half / (1.0 - mean / tensile)
        most = max(most, wide)
        flat = slope if wide >= knee or corrodes else 2.0 * slope - 1.0
        damage += often / (1e6 * (knee / wide) ** flat)
    if not corrodes and most < knee:
        return math.inf
    return 1.0 / damage / (3.0 if corrodes else 1.0)


def paris_years(start, end, stress, a_year, constant, exponent):
    """Years in which a crack of half length `start` grows to `end` under a range of stress, far from any edge."""
    power = 1.0 - exponent / 2.0
    per = constant * (stress * math.sqrt(math.pi)) ** exponent * a_year
    return (end**power - start**power) / power / per


if __name__ == "__main__":
    lifts = [(38.5, 67.1, 10950.0), (38.5, 75.7, 50.0)]
    for corrodes, residual in ((False, 0.0), (False, 150.0), (True, 150.0)):
        print(years_to_first_crack(450.0, 0.7, 0.24, lifts, residual, 240.0, corrodes))
    print(
        paris_years(3.0, 10.0, 60.0, 10950.0, 5.21e-13, 3.0),
        paris_years(3.0, 10.0, 60.0, 10950.0, 2.3e-12, 3.0),
    )
