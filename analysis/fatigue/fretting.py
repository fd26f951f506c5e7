"""What fretting takes from fatigue strength where a fit rubs.

The ends of an interference fit slip by micrometres under alternating load. Shigley's Mechanical Engineering
Design, 9th ed. (2011), Sec. 6-9, puts the factor on the endurance limit between 0.24 and 0.90 by the
materials that rub (from memory). It is a parameter, never a result: tests on the real pair decide.
"""

from __future__ import annotations

from analysis.fatigue.curve import Curve
from params.schema.bores import Fretting

PUBLISHED_RANGE = (0.24, 0.90)


def fretted(curve: Curve, factor: float) -> Curve:
    """The curve with its ranges times the fretting factor; a factor outside the published range is
    refused.
    """
    least, most = PUBLISHED_RANGE
    if factor == 1.0:
        return curve
    if not least <= factor <= most:
        raise ValueError(f"fretting factor {factor:g}: published values lie between {least:g} and {most:g}")
    return curve.weakened(factor, "fretting")


def factors(said: Fretting | None, tight: bool) -> tuple[float, float, float]:
    """Factors at least, as used and at most in a bore: an interference fit rubs, and so does a pin with play, at whose edge of
    contact the surfaces slip as well (fatigue of lugs, common practice, no source). A file without them: the worst published.
    """
    if said is None:
        worst, _ = PUBLISHED_RANGE
        return worst, worst, worst
    used = said.used if tight or said.clearance is None else said.clearance
    return min(said.least, used), used, max(said.most, used)
