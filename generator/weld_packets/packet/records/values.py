"""Values as printed: amount, allowed range, remarks, and every step of their calculation."""

from __future__ import annotations

from typing import Literal

from weld_packets.model.trade import WarningStage
from weld_packets.units import Amount, Plain, Span
from weld_packets.units.amounts import Direction
from weld_packets.wording.english import joined


class Fact(Plain):
    """A name and what it is, to confirm or to look up."""

    name: str
    value: str
    note: str = ""


class Remark(Plain):
    """A note or a warning with its authority; ``reader`` is who acts on it, in a step or behind the values.

    ``do`` and ``stage`` say of a warning what is done about it, and when; empty where nothing is.
    """

    weight: Literal["note", "warning"]
    text: str
    source: str = ""
    reader: Literal["setter", "auditor"] = "auditor"
    do: str = ""
    stage: WarningStage | Literal[""] = ""


class PutIn(Plain):
    """One number put into a formula, in the unit that the printed form takes."""

    symbol: str
    name: str
    amount: Amount


class TracePoint(Plain):
    """One step of how a figure came about.

    ``given``: ``label``, and the ``origin`` of the value. ``lookup``: table, revision, source, column, rows, values,
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
    """One figure: what is set or what follows, its allowed range (``window``), step and whole trace.

    ``key`` is unique in its group; ``figure`` is what is set or follows, such as ``weld_length``, whatever it is for.
    ``anchor`` is its place on the operation's calculation page. ``amount`` is None where ``outside`` says why.
    """

    key: str
    figure: str
    label: str
    symbol: str
    anchor: str
    amount: Amount | None
    outside: str = ""
    window: Span | None = None
    step: Amount | None = None
    remarks: tuple[Remark, ...] = ()
    trace: tuple[TracePoint, ...] = ()

    @property
    def text(self) -> str:
        """The amount in one line, or why there is none."""
        return self.outside if self.amount is None else self.amount.text

    @property
    def direction(self) -> str:
        """Push or drag of a travel angle, which its number does not say; empty of any other figure."""
        return self.notes if self.figure == "travel_angle" else ""

    @property
    def with_direction(self) -> str:
        """The amount in one line, with its direction."""
        return joined((self.text, self.direction), " ")

    @property
    def further_remarks(self) -> tuple[Remark, ...]:
        """The remarks without the direction, which is beside the amount."""
        return tuple(each for each in self.remarks if each.text != self.direction)

    @property
    def first_text(self) -> str:
        """The first number with its unit; empty where there is none."""
        return "" if self.amount is None else self.amount.first_text

    @property
    def allowed(self) -> str:
        """The allowed range in one line, in both systems; empty where there is none."""
        return "" if self.window is None or self.amount is None else self.window.text(self.amount)

    @property
    def step_text(self) -> str:
        """The machine's step; empty where the value is not dialled."""
        return "" if self.step is None else self.step.text

    @property
    def notes(self) -> str:
        """The setter's notes; warnings are read beside the figure, not in a step."""
        return joined(each.text for each in self.remarks if each.weight == "note" and each.reader == "setter")

    def end_text(self, direction: Direction) -> str:
        """Return one end of the allowed range, in both systems; empty where it is open."""
        if self.window is None or self.amount is None:
            return ""
        return self.window.end_text(direction, self.amount)


class TableUse(Plain):
    """One table that the packet drew on: its identity and the rows that were read.

    ``document`` is the issue of its source and where a copy is kept, ``reliability`` how far the source is known; both
    are empty where the table states nothing of it, and in records from before they were kept.
    """

    table: str
    title: str
    revision: str
    source: str
    approved_by: str
    approved_on: str
    rows: tuple[str, ...]
    notes: tuple[str, ...]
    document: str = ""
    reliability: str = ""
