"""What sea water takes from a life: fewer cycles, and where steel corrodes freely no limit and no flatter line.

BS 7608:2014 and EN ISO 19902 count a third of the cycles in air for joints that corrode freely, on one slope without a limit;
with cathodic protection the latter counts a cycle less by 2.5 above the knee and as in air below it. From memory; made for
welded joints, taken for other surfaces as common practice: corrosion pits of their own are a reason to look, not a figure.
"""

from __future__ import annotations

from dataclasses import replace

from analysis.fatigue.curve import Curve
from params.schema.cracks import Environment

FREE, PROTECTED = 1.0 / 3.0, 1.0 / 2.5  # share of the cycles in air


def curve_in(environment: Environment, curve: Curve) -> Curve:
    """The curve in an environment."""
    if environment == "air":
        return curve
    title = f"{curve.title}, {environment}"
    if environment == "marine":
        free = replace(curve, title=title, limit=0.0, cut_off=0.0, slope_beyond=curve.slope)
        return free.shortened(FREE)
    if curve.slope_beyond == curve.slope:
        return replace(curve.shortened(PROTECTED), title=title)
    # The flatter line of air goes on upward until it meets the line of fewer cycles: for slopes 3 and 5 and a knee at 1e7
    # cycles at 1e6, as the standard's own curve does.
    share = PROTECTED ** (1.0 / (curve.slope - curve.slope_beyond))
    met = curve.cycles_at_knee * share**-curve.slope_beyond
    return replace(curve, title=title, knee=share * curve.knee, cycles_at_knee=met)
