"""Text on the page can be read: contrast of its inks."""

import re

import pytest

from analysis.page.embed import PARTS


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb, WCAG 2.1 definition."""
    parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(ink: str, paper: str) -> float:
    light, dark = sorted((luminance(ink), luminance(paper)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_inks_of_text_have_contrast_enough():
    assert contrast("#777777", "#ffffff") == pytest.approx(
        4.48, abs=0.005
    )  # often quoted example that just misses 4.5:1
    inks = dict(re.findall(r"--(\w+): (#\w{6})", (PARTS / "page.css").read_text()))
    for name in ("ink", "soft", "blue", "red", "ochre", "green"):
        assert contrast(inks[name], inks["pale"]) >= 4.5  # WCAG 2.1, 1.4.3, level AA
