"""Lines of arithmetic a reader can follow with a pocket calculator: symbols, the same in numbers, and the result.

A line is text, `name = expression` or `name = expression if condition`, in arithmetic of symbols: + - * / ^, sqrt, abs, min,
max, ln, and sin and cos of degrees. Numbers are in one coherent system, N mm MPa or kip in ksi, so that no factor hides
between the units. Each line is worked from the numbers printed above it, and those carry as many digits as it takes for every
result to be the program's own.
"""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from analysis.contracts.workings import Number, Step, Working
from params.schema.units import KG_PER_LB, MM_PER_IN, N_PER_KIP, System, outside

SHOWN = 4  # significant digits of a result
MOST = 13  # significant digits beyond which no rounding is left to blame
EXACT = 7  # a number that has no more digits than this is printed as it is
ROUND_OFF = 1e-9  # of the sizes that a line adds up: less than this is zero
Values = Mapping[str, float]
Kinds = Mapping[str, tuple[str, str]]  # symbol: meaning, kind of quantity or unit

CALCULATED = {  # kind: unit of calculation in SI and in US, as params.schema.units and as the record name it
    "length": (("mm", "mm"), ("in", "in")),
    "force": (("N", "N"), ("kip", "kip")),
    "moment": (("N*mm", "N mm"), ("kip*in", "kip in")),
    "stress": (("MPa", "MPa"), ("ksi", "ksi")),
    "area": (("mm^2", "mm2"), ("in^2", "in2")),
    "mass": (("kg", "kg"), ("lb", "lb")),
    "angle": (("deg", "deg"), ("deg", "deg")),
}
FUNCTIONS = {
    "sqrt": math.sqrt,
    "abs": abs,
    "min": min,
    "max": max,
    "ln": math.log,
    "sin": lambda degrees: round(math.sin(math.radians(degrees)), 15),  # as a calculator: sin 180 is zero
    "cos": lambda degrees: round(math.cos(math.radians(degrees)), 15),
}
OPERATORS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
}
SIZES = OPERATORS | {ast.Sub: operator.add}
SIZE_OF = FUNCTIONS | {
    "sin": lambda degrees: 1.0,
    "cos": lambda degrees: 1.0,
    "ln": lambda value: abs(math.log(value)),
}


class WorkingError(ValueError):
    """A working that does not give the number it explains: a fault of this program, not of its input."""


@dataclass(frozen=True)
class Line:
    """One line: what it gives, how, and when it applies."""

    symbol: str
    expression: str
    when: str = ""

    @classmethod
    def of(cls, text: str) -> Line:
        symbol, _, rest = text.partition(" = ")
        expression, _, when = rest.partition(" if ")
        return cls(symbol.strip(), expression.strip(), when.strip())


def tree(expression: str) -> ast.expr:
    return ast.parse(expression.replace("^", "**"), mode="eval").body


def names(expression: str) -> list[str]:
    """Symbols of an expression in their order, each once."""
    symbols = [node for node in ast.walk(tree(expression)) if isinstance(node, ast.Name)]
    symbols.sort(key=lambda node: node.col_offset)
    return [
        name for name in dict.fromkeys(node.id for node in symbols) if name != "pi" and name not in FUNCTIONS
    ]


def evaluate(expression: str, values: Values) -> float:
    """The value of an expression; `pi` is known."""
    return _value(tree(expression), values)


def size(expression: str, values: Values) -> float:
    """What the value would be if every difference were a sum: beside it, a result may be nothing but round-off."""
    return _value(tree(expression), {name: abs(value) for name, value in values.items()}, SIZES, SIZE_OF)


def _value(
    node: ast.expr,
    values: Values,
    operators: dict[Any, Any] = OPERATORS,
    functions: dict[str, Any] = FUNCTIONS,
) -> Any:
    def of(part: ast.expr) -> Any:
        return _value(part, values, operators, functions)

    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name):
            return math.pi if name == "pi" else values[name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return operators[ast.Sub](0.0, of(operand))
        case ast.BinOp(left=left, op=op, right=right):
            return operators[type(op)](of(left), of(right))
        case ast.Compare(left=left, ops=[op], comparators=[right]):
            return operators[type(op)](of(left), of(right))
        case ast.BoolOp(op=op, values=parts):
            return (all if isinstance(op, ast.And) else any)(of(part) for part in parts)
        case ast.Call(func=ast.Name(id=name), args=inputs) if name in functions:
            return functions[name](*map(of, inputs))
    raise WorkingError(f"a working may not hold {ast.unparse(node)}")


def calculated(value: float, kind: str, units: System) -> tuple[float, str]:
    """A number in internal units, in the unit of calculation; kinds such as mm3 and 1/mm2 follow the length."""
    us = units == "us"
    if kind in CALCULATED:
        unit, name = CALCULATED[kind][us]
        return float(outside(value, unit, kind)), name
    if kind == "moment2":
        moment, name = calculated(1.0, "moment", units)
        return value * moment**2, f"({name})2"
    if kind == "toughness":  # MPa and mm inside
        stress, _ = calculated(value, "stress", units)
        return (stress / MM_PER_IN**0.5, "ksi root in") if us else (value, "MPa root mm")
    if kind == "gravity":  # N for each kg, kip for each lb
        return (value / N_PER_KIP * KG_PER_LB, "kip/lb") if us else (value, "N/kg")
    if kind == "mass moment":
        return (value / KG_PER_LB / MM_PER_IN, "lb in") if us else (value, "kg mm")
    if "mm" in kind:
        power = int(kind.rpartition("mm")[2]) * (-1 if kind.startswith("1/") else 1)
        return (value / MM_PER_IN**power, kind.replace("mm", "in")) if us else (value, kind)
    return value, "" if kind == "-" else kind


@dataclass(frozen=True)
class Printed:
    """A number as it stands on paper: mantissa times a power of ten that is a multiple of three."""

    mantissa: str
    power: int

    @property
    def value(self) -> float:
        return float(f"{self.mantissa}e{self.power}")


def printed(value: float, digits: int, trim: bool) -> Printed:
    """So many significant digits; `trim` leaves out zeros behind the decimal point, for numbers that are given."""
    if value == 0.0:
        return Printed("0", 0)
    exponent = int(f"{value:.{digits - 1}e}".partition("e")[2])
    power = 0 if -4 <= exponent <= 4 else 3 * (exponent // 3)
    decimals = max(digits - 1 - (exponent - power), 0)
    text = f"{value / 10.0**power:.{decimals}f}"
    return Printed(text.rstrip("0").rstrip(".") if trim and "." in text else text, power)


def is_exact(value: float) -> bool:
    return abs(float(f"{value:.{EXACT}g}") - value) <= 1e-12 * abs(value)


def working(
    lines: Sequence[str], values: Values, kinds: Kinds, units: System, known: Values | None = None
) -> Working:
    """Given numbers and lines, ready to print.

    Parameters
    ----------
    values
        the symbols that are given, in internal units.
    kinds
        meaning and kind of every symbol.
    known
        what lines must give, in internal units, as the program computed it, independently of the lines.

    Raises
    ------
    WorkingError
        where a line does not give the known value.
    """
    exact = {name: calculated(value, kinds[name][1], units)[0] for name, value in values.items()}
    used: list[str] = []
    applied: list[Line] = []
    for line in map(Line.of, lines):
        if line.when and not evaluate(line.when, exact):
            continue
        applied.append(line)
        used += [name for name in names(line.expression) if name not in used]
        exact[line.symbol] = evaluate(line.expression, exact)
    for name, value in (known or {}).items():
        wanted = calculated(value, kinds[name][1], units)[0]
        if abs(exact[name] - wanted) > 1e-6 * max(abs(wanted), 1e-9):
            raise WorkingError(
                f"{name} is {exact[name]:.9g} by the lines of its working, but the program computed {wanted:.9g}"
            )
    derived = {line.symbol for line in applied}
    paper = settle(applied, exact)
    unit = {name: calculated(0.0, kinds[name][1], units)[1] for name in exact if name in kinds}

    def number(name: str) -> Number:
        return Number(
            symbol=name,
            meaning=kinds[name][0],
            printed=paper[name].mantissa,
            power=paper[name].power,
            unit=unit[name],
        )

    given = tuple(number(name) for name in used if name not in derived)
    steps = (
        Step(**dict(number(line.symbol)), expression=line.expression, when=line.when) for line in applied
    )
    return Working(given=given, lines=tuple(steps))


def settle(lines: Sequence[Line], exact: Values) -> dict[str, Printed]:
    """Every number as printed: each line is worked from the numbers printed above it, as a reader would.

    Numbers that later lines use carry as many digits as it takes for every line to agree with the program to `SHOWN` digits.
    """
    used = {name for line in lines for name in names(line.expression)}
    derived = {line.symbol for line in lines}
    for carried in range(SHOWN + 1, MOST + 1):
        paper = {
            name: printed(value, EXACT if is_exact(value) else carried, trim=True)
            for name, value in exact.items()
            if name not in derived
        }
        if all(follow(line, paper, carried if line.symbol in used else SHOWN, exact) for line in lines):
            return paper
    raise WorkingError(
        f"no number of printed digits makes the lines of {', '.join(line.symbol for line in lines)} agree"
    )


def follow(line: Line, paper: dict[str, Printed], digits: int, exact: Values) -> bool:
    """Work one line from the paper, write its result there, and say whether it agrees with the program's."""
    put = {name: paper[name].value for name in names(line.expression)}
    got = evaluate(line.expression, put)
    nothing = ROUND_OFF * size(line.expression, put)
    got = 0.0 if abs(got) < nothing else got
    paper[line.symbol] = printed(got, digits, trim=not put)  # a bare constant shows no zeros
    wanted = exact[line.symbol]
    return (
        printed(got, SHOWN, trim=False) == printed(wanted, SHOWN, trim=False) or abs(got - wanted) < nothing
    )
