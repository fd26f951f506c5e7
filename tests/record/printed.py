"""What stands on the record's pages, read back: the lines `#calc((symbol, in symbols, in numbers, result), ...)` of its source.

Written apart from the program that prints them: mathematical type to arithmetic by text, arithmetic by Python's own parser.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Iterator

UNIT = re.compile(r'\s*(space\.thin)?\s*"[^"]*"(\^\((-?\d+)\))?')
NUMBER = re.compile(r"\d+\.?\d*")
KNOWN = {
    "sqrt": math.sqrt,
    "abs": abs,
    "min": min,
    "max": max,
    "ln": math.log,
    "cos": lambda angle: math.cos(math.radians(angle)),
    "sin": lambda angle: math.sin(math.radians(angle)),
}
ALLOWED = (
    ast.Expression,
    ast.BinOp,
    ast.UnaryOp,
    ast.Call,
    ast.Constant,
    ast.Name,
    ast.Load,
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.Pow,
    ast.USub,
)


def calculations(source: str) -> Iterator[tuple[str, str, str, str]]:
    """Symbol, in symbols, in numbers, result of every line."""
    for line in source.splitlines():
        if line.startswith("#calc("):
            yield re.fullmatch(r"#calc\(\(\$(.*?)\$, \$(.*?)\$, \$(.*?)\$, \$(.*?)\$\), .*\)", line).groups()


def plain(typed: str) -> str:
    """Mathematical type without its units, as arithmetic."""
    bare = UNIT.sub("", typed)
    for mark, sign in (("\u2212", "-"), (" dot ", "*"), (" times ", "*"), ("^", "**")):
        bare = bare.replace(mark, sign)
    return bare


def calculator(typed: str) -> float:
    """What a pocket calculator gives for a substitution."""
    tree = ast.parse(plain(typed).strip(), mode="eval")
    for node in ast.walk(tree):
        assert isinstance(node, ALLOWED), typed
        assert not isinstance(node, ast.Name) or node.id in (*KNOWN, "pi"), typed
    return float(eval(compile(tree, "record", "eval"), {"__builtins__": {}}, KNOWN | {"pi": math.pi}))


def result(typed: str) -> tuple[float, float]:
    """A printed result and half a unit of its last digit."""
    bare = plain(typed).strip()
    mantissa, _, power = bare.partition("*10**")
    scale = 10.0 ** int(power.strip("()") or 0)
    decimals = len(mantissa.partition(".")[2])
    return float(mantissa) * scale, 0.5 * 10.0**-decimals * scale
