"""Figures as printed: amount, window, remarks, and every step of how they came about."""

from __future__ import annotations

from typing import Literal

from weld_packets.model.trade import WarningStage
from weld_packets.packet.records.plain import Plain


class Amount(Plain):
    """A number as printed, with its unit, first in the order's system and then in the other one.

    ``second`` and ``second_unit`` are empty where the two systems agree.
    """

    value: str
    unit: str
    second: str = ""
    second_unit: str = ""


class Span(Plain):
    """An allowed window; an open end is an empty text. In the unit of the amount that it belongs to."""

    low: str = ""
    high: str = ""
    second_low: str = ""
    second_high: str = ""
    origin: str = ""


class Remark(Plain):
    """A note or a warning with its authority; ``reader`` is who acts on it, on the operation's page or behind it.

    ``do`` and ``stage`` say of a warning what is done about it, and when; empty where nothing is.
    """

    weight: Literal["note", "warning"]
    text: str
    source: str = ""
    reader: Literal["setter", "auditor"] = "auditor"
    do: str = ""
    stage: WarningStage | Literal[""] = ""

    @property
    def setter_heeds(self) -> bool:
        """Whether it stands on the operation's page; a warning always does."""
        return self.weight == "warning" or self.reader == "setter"


class PutIn(Plain):
    """One number put into a formula, in the unit that the printed form takes."""

    symbol: str
    name: str
    amount: Amount


class TracePoint(Plain):
    """One step of how a figure came about.

    ``given``: ``label`` is what, ``origin`` where it stands. ``lookup``: table, revision, source, column, rows, values,
    fraction. ``formula``: ``expression`` over symbols, ``numbers`` (symbol, name, amount) put in, ``clause``,
    ``validity``, ``standing``. ``rounded``: ``label`` is the machine, ``origin`` the step.
    """

    form: Literal["given", "lookup", "formula", "rounded"]
    label: str
    result: Amount
    symbol: str = ""
    origin: str = ""
    table: str = ""
    revision: str = ""
    source: str = ""
    column: str = ""
    at: str = ""
    rows: tuple[str, ...] = ()
    values: tuple[str, ...] = ()
    fraction: str = ""
    expression: str = ""
    numbers: tuple[PutIn, ...] = ()
    clause: str = ""
    validity: str = ""
    standing: str = ""


class Value(Plain):
    """One figure: what is set or what follows, its window, step and whole trace.

    ``anchor`` is its place on the operation's calculation page. ``amount`` is None where ``outside`` says why.
    """

    key: str
    label: str
    symbol: str
    anchor: str
    amount: Amount | None
    outside: str = ""
    window: Span | None = None
    step: Amount | None = None
    remarks: tuple[Remark, ...] = ()
    trace: tuple[TracePoint, ...] = ()
