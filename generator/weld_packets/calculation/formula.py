"""A cited formula: one small function, its printed form, its source, and how sure the source is."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Annotated, Any, get_args, get_type_hints

from weld_packets.units import Kind, Quantity, kinds


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


@dataclass(frozen=True)
class Input:
    """One input of a formula: its symbol, its name in the trade, and the unit that the printed form takes."""

    symbol: str
    name: str
    kind: Kind


@dataclass(frozen=True)
class Formula:
    """A function with its printed form; calling it computes, ``work`` also keeps what was put in.

    ``expression`` is plain arithmetic over the symbols (+ - * / **, sqrt, tanh, pi, min, max, ceil, floor), valid on
    magnitudes in the units of ``inputs`` and ``result``; a test evaluates it against the function.
    """

    function: Callable[..., Quantity] = field(repr=False)
    symbol: str
    expression: str
    inputs: tuple[Input, ...]
    result: Kind
    source: Source
    validity: str = ""

    @property
    def name(self) -> str:
        """The trade's name of the result."""
        return self.function.__name__.replace("_", " ")

    def __call__(self, **quantities: Quantity) -> Quantity:
        """Return the result."""
        return self.function(**quantities)

    def work(self, **quantities: Quantity) -> Worked:
        """Return the result together with the formula and its inputs."""
        return Worked(self, dict(quantities), self.function(**quantities))


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
    **symbols: str,
) -> Callable[[Callable[..., Quantity]], Formula]:
    """Turn a keyword-only function into a Formula; ``symbols`` maps a printed symbol to an argument.

    The unit of each input and of the result is the one of its annotation, such as ``Voltage`` below.
    """

    def decorate(function: Callable[..., Quantity]) -> Formula:
        hints = get_type_hints(function, include_extras=True)
        arguments = {name: printed for printed, name in symbols.items()}
        missing = set(inspect.signature(function).parameters) ^ set(arguments)
        if missing:
            raise TypeError(f"{function.__name__}: symbols and arguments differ: {sorted(missing)}")
        inputs = tuple(Input(arguments[name], name, _kind(hints[name])) for name in arguments)
        return Formula(function, symbol, expression, inputs, _kind(hints["return"]), source, validity)

    return decorate


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
Angle = Annotated[Quantity, kinds.ANGLE]
