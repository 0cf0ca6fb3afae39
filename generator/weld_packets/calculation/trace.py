"""A computed figure and everything that it came from; a detail that is stated beside it."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import ROUND_HALF_EVEN, Decimal
from enum import Enum
from typing import Any, Literal, NamedTuple

from weld_packets.calculation.formula import Source, Worked
from weld_packets.model.trade import WarningStage
from weld_packets.units import Kind, Quantity


@dataclass(frozen=True)
class Given:
    """A value as the order, a table entry or a rating plate states it."""

    label: str
    value: Quantity
    unit: str
    origin: str


@dataclass(frozen=True)
class Lookup:
    """A value read from a chart: the rows used and, between two points, the fraction of the interval.

    ``rows`` and ``values`` are as printed: one each in a band or on a point, two each when interpolated.
    """

    table: str
    revision: str
    source: str
    column: str
    at: Quantity
    rows: tuple[str, ...]
    values: tuple[str, ...]
    fraction: Decimal | None
    result: Quantity


@dataclass(frozen=True)
class Rounded:
    """A value set to a whole number of machine steps."""

    before: Quantity
    after: Decimal
    unit: str
    step: Decimal
    machine: str


Step = Given | Lookup | Worked | Rounded


@dataclass(frozen=True)
class AllowedRange:
    """What is allowed: both ends inclusive; an open end is None."""

    low: Quantity | None
    high: Quantity | None
    origin: str


class Weight(Enum):
    """How much a remark matters."""

    NOTE = "note"
    WARNING = "warning"


@dataclass(frozen=True)
class Countermeasure:
    """What is done about a warning, as sentences of which the first begins with a verb, and at which stage."""

    do: str | Words
    stage: WarningStage


@dataclass(frozen=True)
class Remark:
    """Something that the reader of a figure must know; ``source`` says on what authority.

    A warning that can be acted on says in ``countermeasure`` how. ``reader`` is whom a note concerns: a setter at the
    machine, or an auditor who asks where a value is from; a warning concerns both.
    """

    weight: Weight
    said: str | Words
    source: Source | None = None
    countermeasure: Countermeasure | None = None
    reader: Literal["setter", "auditor"] = "setter"

    @property
    def text(self) -> str:
        """What must be known, in metric units."""
        return metric_text(self.said)


@dataclass(frozen=True)
class Name:
    """How a figure is called: key in records, label for the setter, symbol in formulas, kind of quantity."""

    key: str
    label: str
    symbol: str
    kind: Kind

    def figure(
        self,
        unit: str,
        value: Quantity | None,
        text: Decimal | None,
        allowed_range: AllowedRange | None = None,
        **more: Any,
    ) -> Figure:
        """Return a figure of this name; ``more`` is what else it has, such as its trace."""
        return Figure(self.key, self.label, self.symbol, self.kind, unit, value, text, allowed_range, **more)


@dataclass(frozen=True)
class Figure:
    """One computed result with its allowed range, machine step and trace.

    Attributes:
        key: the figure's name in code and records, such as ``weld_current``.
        label: what a setter calls it.
        symbol: as in formulas.
        kind: kind of quantity, for showing it in both systems of units.
        unit: the unit that the machine or the reader uses.
        value: the value after rounding to the step, for further calculation.
        text: its digits as set or shown, exact.
        allowed_range: what is allowed, None where nothing limits it.
        step: the machine's step in ``unit``, None where it is not dialled.
        trace: how it came about, in order.
        remarks: notes and warnings.
        outside: why its method gives no number; then ``value`` and ``text`` are None.
        spread: to what the value is known, in ``unit``; None where step, allowed range or its own digits say it.
        minimum: whether it is a size that a weld must reach; calculated or converted it is rounded up, never too small.
        rounding: how its number is rounded in the other unit: up where it must be reached, down where it must not be
            passed.

    """

    key: str
    label: str
    symbol: str
    kind: Kind
    unit: str
    value: Quantity | None
    text: Decimal | None
    allowed_range: AllowedRange | None = None
    step: Decimal | None = None
    trace: tuple[Step, ...] = ()
    remarks: tuple[Remark, ...] = field(default=())
    outside: str | Words = ""
    spread: float | None = None
    minimum: bool = False
    rounding: str = ROUND_HALF_EVEN

    @property
    def warnings(self) -> tuple[Remark, ...]:
        """Those of its remarks that warn."""
        return tuple(remark for remark in self.remarks if remark.weight is Weight.WARNING)


class Measured(NamedTuple):
    """A measured length in mm, as it reads, and the unit of its last digit there."""

    millimetres: float
    text: str
    last: Decimal = Decimal("0.01")


class InBoth(NamedTuple):
    """A stated number as it reads where metric units come first, and where US customary ones do."""

    metric: str
    customary: str


Words = tuple[str | Measured | InBoth, ...]
"""A sentence in parts: what is a number stays one, so that it can be given in either system of units."""


def in_words(said: str | Words) -> Words:
    """Return a sentence in parts."""
    return (said,) if isinstance(said, str) else said


def metric_text(said: str | Words) -> str:
    """Return a sentence as it reads where metric units come first."""
    return "".join(_metric_part(part) for part in in_words(said))


def _metric_part(part: str | Measured | InBoth) -> str:
    match part:
        case Measured():
            return part.text
        case InBoth():
            return part.metric
    return part


@dataclass(frozen=True)
class Verdict:
    """One check of something against a limit, passed or noted: what, found, limit, on what authority.

    ``passed`` None means not checked, and ``said`` says why; with ``warns`` it was checked, and is outside what its
    source requires without being refused. ``countermeasure`` says what is done about it.
    """

    key: str
    subject: str
    said: str | Words
    passed: bool | None
    source: str
    warns: bool = False
    countermeasure: Countermeasure | None = None

    @property
    def text(self) -> str:
        """What was found, in metric units."""
        return metric_text(self.said)


def warned(key: str, subject: str, said: str | Words, source: str, act: Countermeasure) -> Verdict:
    """Return a verdict on what is outside what its source requires and not refused; ``act`` is done about it."""
    return Verdict(key, subject, said, passed=None, source=source, warns=True, countermeasure=act)


class Said(NamedTuple):
    """A quantity inside a sentence, to be printed in both systems of units; ``rounding`` is that of a temperature."""

    value: Quantity
    kind: Kind
    rounding: str = ROUND_HALF_EVEN


@dataclass(frozen=True)
class Detail:
    """One line: what it is about, what holds, and on what authority.

    ``words`` are texts, quantities and figures in their order; a figure reads as everywhere else. ``stated`` is no
    where no table and no order says it, so that whoever welds must ask; the words then say who would state it.
    """

    key: str
    label: str
    words: tuple[str | Said | Figure, ...]
    source: str = ""
    stated: bool = True


def not_stated(key: str, label: str, where: str) -> Detail:
    """Return the line of something that no table and no order says; ``where`` is the place that could."""
    return Detail(key, label, (f"not stated by {where}",), stated=False)
