"""What fretting takes from fatigue strength where a fit rubs.

The ends of an interference fit slip by micrometres under alternating load. Shigley's Mechanical Engineering
Design, 9th ed. (2011), Sec. 6-9, puts the factor on the endurance limit between 0.24 and 0.90 by the
materials that rub (from memory). It is a parameter, never a result: tests on the real pair decide.
"""

from __future__ import annotations

from collections.abc import Mapping

from analysis.fatigue.curve import Curve

PUBLISHED_RANGE = (0.24, 0.90)


def fretted(curve: Curve, factor: float) -> Curve:
    """The curve with its ranges times the fretting factor; a factor outside the published range is
    refused.
    """
    least, most = PUBLISHED_RANGE
    if not least <= factor <= most:
        raise ValueError(f"fretting factor {factor:g}: published values lie between {least:g} and {most:g}")
    return curve.weakened(factor, "fretting")


def span(curve: Curve, least: float, used: float, most: float) -> Mapping[str, Curve]:
    """The curve at the worst, the chosen and the mildest factor, to show what the choice does."""
    return {
        name: fretted(curve, factor) for name, factor in (("least", least), ("used", used), ("most", most))
    }
