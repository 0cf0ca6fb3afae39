"""The procedure specification of an operation, item by item, as it hangs at the cell."""

from __future__ import annotations

from weld_packets.packet.records.settings import Picture
from weld_packets.units import Plain


class ProcedureLine(Plain):
    """What is stated of an item; ``of`` names the welds where not all are equal."""

    text: str
    of: str = ""


class ProcedureItemLine(Plain):
    """One item: clause, label, what is stated; no lines where order and tables say nothing."""

    clause: str
    label: str
    lines: tuple[ProcedureLine, ...]


class TestPiece(Plain):
    """What would have to be welded and tested to qualify welds that no record covers."""

    welds: tuple[str, ...]
    title: str
    weld: tuple[str, ...]
    tests: str


class ProcedureSheet(Plain):
    """A procedure specification by the list of a standard.

    It is preliminary while a weld of the operation is not inside a record; ``test_pieces`` would qualify those welds.
    """

    standard: str
    source: str
    preliminary: bool
    items: tuple[ProcedureItemLine, ...]
    pictures: tuple[Picture, ...] = ()
    test_pieces: tuple[TestPiece, ...] = ()
