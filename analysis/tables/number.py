"""Numbers and shares as text for people, with a true minus sign."""

from __future__ import annotations

from typing import Any

MINUS = "\u2212"
RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def number(value: Any, digits: int = 4) -> str:
    """A number at sensible digits, sign included; other text as it is; nothing for nothing.

    >>> number("20106.193"), number(0.000123456), number("")
    ('20110', '0.0001235', '')
    """
    if value is None or value == "":
        return ""
    try:
        size = float(value)
    except (TypeError, ValueError):
        return str(value)
    if size == 0.0 or abs(size) < 1e-30:
        return "0"
    shown = f"{size:.{digits}g}"
    if "e" not in shown:
        return shown.replace("-", "\u2212")
    if 1.0 <= abs(size) < 1e9:
        return f"{float(shown):.0f}".replace("-", "\u2212")
    mantissa, _, power = shown.partition("e")
    return f"{mantissa}×10{str(int(power)).translate(RAISED)}".replace("-", "\u2212")


def figure(value: float) -> str:
    """Four significant digits with thousands apart; very small or large ones with a power of ten.

    >>> figure(12345.678), figure(-0.0412345), figure(7.0), figure(3.2e-12), figure(0.0)
    ('12,350', '\u22120.04123', '7', '3.2e\u221212', '0')
    """
    size = abs(value)
    if value == 0.0:
        text = "0"
    elif size < 1e-4 or size >= 1e7:
        text = f"{value:.3g}"
    else:
        text = f"{float(f'{value:.4g}'):,.10g}" if size < 1e6 else f"{float(f'{value:.4g}'):,.0f}"
    return text.replace("-", "\u2212")


def percent(share: float | str | None, digits: int = 0, none: str = "\u2013", minus: str = MINUS) -> str:
    """A share as signed percent; `none` where there is none.

    >>> percent(0.226), percent(-0.5), percent(None), percent("0.0561", 1), percent("", none="")
    ('+23 %', '\u221250 %', '\u2013', '+5.6 %', '')
    """
    return none if share in ("", None) else f"{100.0 * float(share):+.{digits}f} %".replace("-", minus)  # type: ignore[arg-type]
