"""Whether an operation lies inside what its qualification records proved, as printed."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.values import TableUse
from weld_packets.units import Plain
from weld_packets.wording.card import NOT_RECORDED, card_words

Outcome = Literal["inside", "cannot decide", "outside"]


class VariableLine(Plain):
    """One variable of some welds against one record.

    ``has`` is what the order has, ``proved`` what was tested, ``covers`` what the record covers, ``missing`` by what
    the order is not covered or why nothing can be decided; empty where it is inside. ``rule`` names standard, edition,
    level and clause, or the plant's own table; ``certainty`` says how far that is known, and ``source`` from where.
    """

    variable: str
    outcome: Outcome
    has: str
    proved: str
    covers: str
    missing: str = ""
    rule: str = ""
    certainty: str = ""
    source: str = ""


class RecordLine(Plain):
    """One record that was looked at for some welds, in a line: what keeps it from covering them, if anything."""

    record: str
    outcome: Outcome
    text: str


class WeldQualification(Plain):
    """Welds that are equal in every variable: their verdict, the nearest record with every variable, the others.

    ``record`` is empty where there is none of the process. ``text`` says the verdict in a sentence.
    """

    welds: tuple[str, ...]
    title: str
    outcome: Outcome
    record: str
    text: str
    variables: tuple[VariableLine, ...] = ()
    others: tuple[RecordLine, ...] = ()


class RecordHead(Plain):
    """A record that an operation rests on, or is nearest to: what identifies it, its test and its results.

    ``filler_make`` and ``machine`` are those of the test, empty where the record does not state them.
    """

    record: str
    revision: str
    title: str
    standard: str
    examiner: str
    date: str
    welded: str
    valid_until: str = ""
    last_used: str = ""
    results: tuple[str, ...] = ()
    filler_make: str = ""
    machine: str = ""


class Qualification(Plain):
    """What an operation rests on.

    ``wps`` is the number of its procedure, empty where the order states none. ``required`` is what the plant's table
    requires where it is not inside. ``outcome`` is None where the plant keeps no record, or does not use them for this
    order; ``text`` says so. ``tables`` are the records and rules of the plant that were read.
    """

    wps: str
    required: Literal["forbid release", "warn", "not used"]
    outcome: Outcome | None
    text: str
    records: tuple[RecordHead, ...] = ()
    welds: tuple[WeldQualification, ...] = ()
    tables: tuple[TableUse, ...] = ()

    @property
    def hinders(self) -> bool:
        """Whether the plant forbids the release of an order that has it."""
        return self.required == "forbid release" and self.outcome in ("cannot decide", "outside")

    @property
    def numbers(self) -> tuple[str, ...]:
        """The numbers of the records that the welds rest on or are nearest to, each once."""
        return tuple(dict.fromkeys(each.record for each in self.welds if each.record))


def qualification_words(found: Qualification | None) -> str:
    """Return procedure, records and verdict of an operation in a line."""
    if found is None:
        return NOT_RECORDED
    return card_words(found.wps, found.numbers, found.outcome, found.text)
