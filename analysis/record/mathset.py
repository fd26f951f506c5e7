"""Lines of arithmetic in mathematical type: in symbols, and with the printed numbers in their place."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Mapping

from analysis.contracts.workings import Number, Working
from analysis.record.typeset import quoted

GREEK = ("sigma", "tau", "phi", "gamma", "delta", "mu", "alpha", "beta")
SPECIAL = {
    "slenderness": "lambda",
    "splus": 'sigma_"+"',
    "sminus": 'sigma_"\u2212"',
    "factor": 'n_"peak"',
    "turns": '"turns"',
    "relief": 'p_"relief"',
    "room": 'delta_"room"',
    "limit": 'lambda_"limit"',
    "step": "t",
    "sign": '"sign"',
    "way": '"way"',
}
WORDS = ("share", "ratio", "tilt", "demand", "capacity", "margin", "warp")
SUM, PRODUCT, POWER, ATOM = 1, 2, 4, 5
Atoms = Callable[[str], tuple[str, int]]  # a name as text and how tightly it holds together


def symbol(name: str) -> str:
    """A name in mathematical type: first letter, the rest as an index."""
    if name in SPECIAL:
        return SPECIAL[name]
    if name in GREEK:
        return name
    if name in WORDS:
        return f'"{name}"'
    return name if len(name) == 1 else f'{name[0]}_"{name[1:]}"'


def unit(name: str) -> str:
    """A unit, upright, its power raised."""
    if name in ("", "-"):
        return ""
    if name == "deg":
        return '"°"'
    match = re.fullmatch(r"(1/)?(mm|in|\(.*\))(\d)", name)
    if not match:
        return f' "{name}"'
    power = f"-{match[3]}" if match[1] else match[3]
    return f' space.thin "{match[2]}"^({power})'


def value(entry: Number, with_unit: bool = True) -> str:
    """A printed number with its power of ten and unit."""
    power = f" times 10^({entry.power})" if entry.power else ""
    mantissa = entry.printed.replace("-", "\u2212")
    return f"{mantissa}{power}{unit(entry.unit) if with_unit else ''}"


def in_symbols(expression: str) -> str:
    return spoken(expression, lambda name: (symbol(name), ATOM))


def in_numbers(expression: str, entries: Mapping[str, Number]) -> str:
    """The expression with the printed numbers and units of its symbols."""

    def atom(name: str) -> tuple[str, int]:
        entry = entries[name]
        bare = entry.unit in ("", "-") and not entry.power
        if entry.printed.startswith("-"):
            return f"({value(entry)})", ATOM
        return value(entry), ATOM if bare else PRODUCT

    return spoken(expression, atom)


def spoken(expression: str, atom: Atoms) -> str:
    source = expression.replace("^", "**")
    return _set(ast.parse(source, mode="eval").body, source, atom)[0]


def _set(node: ast.expr, source: str, atom: Atoms) -> tuple[str, int]:
    """Text of a node and its precedence."""
    match node:
        case ast.Constant():
            return ast.get_source_segment(source, node) or "", ATOM
        case ast.Name(id="pi"):
            return "pi", ATOM
        case ast.Name(id=name):
            return atom(name)
        case ast.UnaryOp(operand=operand):
            return f"\u2212{_held(operand, source, atom, PRODUCT)}", SUM
        case ast.Call(func=ast.Name(id=name), args=inputs):
            return f"{name}({', '.join(_set(one, source, atom)[0] for one in inputs)})", ATOM
        case ast.BinOp(left=left, op=op, right=right):
            return _binary(left, op, right, source, atom)
    raise ValueError(f"cannot set {source}")


def _binary(left: ast.expr, op: ast.operator, right: ast.expr, source: str, atom: Atoms) -> tuple[str, int]:
    whole = lambda node: _set(node, source, atom)[0]  # noqa: E731
    held = lambda node, least: _held(node, source, atom, least)  # noqa: E731
    match op:
        case ast.Add():
            return f"{held(left, SUM)} + {held(right, PRODUCT)}", SUM
        case ast.Sub():
            return f"{held(left, SUM)} \u2212 {held(right, PRODUCT)}", SUM
        case ast.Mult():
            return f"{held(left, PRODUCT)} dot {held(right, PRODUCT)}", PRODUCT
        case ast.Div():
            return f"({whole(left)})/({whole(right)})", PRODUCT
        case ast.Pow():
            return f"{held(left, ATOM)}^({whole(right)})", POWER
    raise ValueError(f"cannot set {source}")


def _held(node: ast.expr, source: str, atom: Atoms, least: int) -> str:
    """A part in brackets where it holds together less tightly than it must."""
    text, tight = _set(node, source, atom)
    return text if tight >= least else f"({text})"


def given(working: Working) -> str:
    """The given numbers with their meaning."""
    cells = ",\n  ".join(
        f"(${symbol(one.symbol)}$, ${value(one)}$, {quoted(one.meaning)})" for one in working.given
    )
    return f"#given((\n  {cells},\n))" if cells else ""


def lines(working: Working) -> str:
    """Every line: symbol, equation in symbols, the same in numbers, result."""
    entries = {one.symbol: one for one in (*working.given, *working.lines)}
    rows = []
    for one in working.lines:
        in_words, in_figures = in_symbols(one.expression), in_numbers(one.expression, entries)
        meaning = "" if one.meaning == one.symbol else one.meaning
        rows.append(
            f"#calc((${symbol(one.symbol)}$, ${in_words}$, ${in_figures}$, ${value(one)}$), {quoted(meaning)})"
        )
    return "\n".join(rows) + "\n"
