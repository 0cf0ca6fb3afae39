"""A cited formula: its printed form, which is what is computed, its source, and how sure the source is."""

from __future__ import annotations

import ast
import inspect
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType
from typing import Annotated, Any, get_args, get_type_hints

from weld_packets.units import Kind, Quantity, kinds, magnitude, quantity

FUNCTIONS: Mapping[str, Callable[..., float]] = MappingProxyType(
    {"sqrt": math.sqrt, "tanh": math.tanh, "min": min, "max": max, "ceil": math.ceil, "floor": math.floor}
)
"""What an expression may call."""
CONSTANTS: Mapping[str, float] = MappingProxyType({"pi": math.pi})
"""Numbers that an expression may name."""
_OPERATORS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow, ast.USub)


class Standing(Enum):
    """How far a source can be trusted; everything but PUBLISHED warns and never blocks."""

    PUBLISHED = "published"
    FROM_MEMORY = "from memory"
    COMMON_PRACTICE = "common practice, no source"
    GEOMETRY = "geometry"


@dataclass(frozen=True)
class Source:
    """Where a formula or limit comes from."""

    document: str
    clause: str = ""
    standing: Standing = Standing.PUBLISHED

    def __str__(self) -> str:
        """Return document, clause and, where it is not published, the standing."""
        words = [self.document, self.clause] if self.clause else [self.document]
        if self.standing in (Standing.FROM_MEMORY, Standing.COMMON_PRACTICE):
            words.append(self.standing.value)
        return ", ".join(words)


SUMMED = Source("sum of times", standing=Standing.GEOMETRY)


@dataclass(frozen=True)
class Input:
    """One input of a formula: its symbol, its name in the trade, and the unit that the printed form takes."""

    symbol: str
    name: str
    kind: Kind


@dataclass(frozen=True)
class Formula:
    """A printed form that computes; calling it gives the result, ``work`` also keeps what was put in.

    ``expression`` is plain arithmetic over the symbols, on magnitudes in the units of ``inputs`` and ``result``
    (``FUNCTIONS`` says what it may call). ``name`` is the trade's name of the result.
    """

    name: str
    symbol: str
    expression: str
    inputs: tuple[Input, ...]
    result: Kind
    source: Source
    compute: Callable[..., Quantity] = field(repr=False)
    validity: str = ""

    def __call__(self, **quantities: Quantity) -> Quantity:
        """Return the result."""
        return self.compute(**quantities)

    def work(self, **quantities: Quantity) -> Worked:
        """Return the result together with the formula and its inputs."""
        return Worked(self, dict(quantities), self.compute(**quantities))


@dataclass(frozen=True)
class Worked:
    """A formula applied: the numbers put in, by argument name, and the result."""

    formula: Formula
    given: Mapping[str, Quantity]
    result: Quantity


def formula(
    expression: str,
    *,
    symbol: str,
    source: Source,
    validity: str = "",
    body: str = "",
    **symbols: str,
) -> Callable[[Callable[..., Quantity]], Formula]:
    """Turn the head of a keyword-only function into a Formula; ``symbols`` maps a printed symbol to an argument.

    The unit of each input and of the result is the one of its annotation, such as ``Voltage`` below. The head has no
    body, since the expression is what is computed; ``body`` says why a function has one that is used instead.
    Raises ValueError where the symbols are not those of the expression and of the arguments, and where the expression
    is more than plain arithmetic.
    """

    def decorate(function: Callable[..., Quantity]) -> Formula:
        hints = get_type_hints(function, include_extras=True)
        arguments = {name: printed for printed, name in symbols.items()}
        missing = set(inspect.signature(function).parameters) ^ set(arguments)
        if missing:
            raise ValueError(f"{function.__name__}: symbols and arguments differ: {sorted(missing)}")
        inputs = tuple(Input(arguments[name], name, _kind(hints[name])) for name in arguments)
        result = _kind(hints["return"])
        computed = _computed(expression, inputs, result)
        name = function.__name__.replace("_", " ")
        return Formula(name, symbol, expression, inputs, result, source, function if body else computed, validity)

    return decorate


def _computed(expression: str, inputs: tuple[Input, ...], result: Kind) -> Callable[..., Quantity]:
    """Return an expression over magnitudes as a function of quantities."""
    arithmetic = compiled(expression, [entry.symbol for entry in inputs])
    units = tuple((entry.name, entry.kind.unit) for entry in inputs)

    def compute(**quantities: Quantity) -> Quantity:
        return quantity(arithmetic(*[magnitude(quantities[name], unit) for name, unit in units]), result.unit)

    return compute


def _kind(annotation: Any) -> Kind:
    return next(part for part in get_args(annotation) if isinstance(part, Kind))


Length = Annotated[Quantity, kinds.LENGTH]
Area = Annotated[Quantity, kinds.AREA]
Time = Annotated[Quantity, kinds.TIME]
Duration = Annotated[Quantity, kinds.DURATION]
Current = Annotated[Quantity, kinds.CURRENT]
SpotCurrent = Annotated[Quantity, kinds.SPOT_CURRENT]
Voltage = Annotated[Quantity, kinds.VOLTAGE]
Force = Annotated[Quantity, kinds.FORCE]
Speed = Annotated[Quantity, kinds.TRAVEL_SPEED]
WireFeed = Annotated[Quantity, kinds.WIRE_FEED]
HeatPerLength = Annotated[Quantity, kinds.HEAT]
GasFlow = Annotated[Quantity, kinds.GAS_FLOW]
Volume = Annotated[Quantity, kinds.VOLUME]
Mass = Annotated[Quantity, kinds.MASS]
MassRate = Annotated[Quantity, kinds.MASS_RATE]
LinearMass = Annotated[Quantity, kinds.LINEAR_MASS]
Density = Annotated[Quantity, kinds.DENSITY]
Temperature = Annotated[Quantity, kinds.TEMPERATURE]
Stress = Annotated[Quantity, kinds.STRESS]
Hydrogen = Annotated[Quantity, kinds.HYDROGEN]
Share = Annotated[Quantity, kinds.SHARE]
Number = Annotated[Quantity, kinds.NUMBER]
JouleIntegral = Annotated[Quantity, kinds.JOULE_INTEGRAL]
Rate = Annotated[Quantity, kinds.RATE]


# ---------------------------------------------------------------- the printed expression


def compiled(expression: str, symbols: Sequence[str]) -> Callable[..., float]:
    """Return an expression as a function of its symbols, in their order.

    Raises ValueError for anything but numbers, the symbols, + - * / ** and what may be called or named, and where the
    symbols that it uses are not the given ones.
    """
    tree = ast.parse(expression, mode="eval").body
    used = set(_names(tree))
    if used != set(symbols):
        raise ValueError(f"{expression}: symbols differ: {sorted(used ^ set(symbols))}")
    names = {"__builtins__": {}, **FUNCTIONS, **CONSTANTS}
    # Only what _names let pass is evaluated, and no text of a user comes here.
    function: Callable[..., float] = eval(f"lambda {', '.join(symbols)}: {ast.unparse(tree)}", names)  # noqa: S307
    return function


def _names(node: ast.expr) -> Iterator[str]:
    """Yield the symbols of an expression; raise ValueError where it is more than plain arithmetic."""
    match node:
        case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
            return
        case ast.Name(id=name):
            if name not in CONSTANTS:
                yield name
        case ast.BinOp(left=left, op=op, right=right) if isinstance(op, _OPERATORS):
            yield from _names(left)
            yield from _names(right)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            yield from _names(operand)
        case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]) if name in FUNCTIONS:
            for argument in arguments:
                yield from _names(argument)
        case _:
            raise ValueError(f"{ast.unparse(node)} is not plain arithmetic")
