"""List which orders rest on which qualification record (WPQR).

Each record is listed with its dates and every operation that rests on it, in force, to come, or as a draft that says
otherwise, to show what its withdrawal or expiry would affect. Then follow the operations that no record covers, and the
test piece that would bring welds of the most drafts inside. RECORD lists that record alone.

Example: packets wpqr WPQR-17
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from weld_packets.calculation.qualification.rules import Proof, lines_of
from weld_packets.calculation.qualification.test_piece import Open, Piece, most_covering
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.errors import PacketError, Problem, refusal
from weld_packets.grouping import grouped
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.qualification import QualificationRecord
from weld_packets.packet.operation.variable_amounts import amounts_in
from weld_packets.packet.records.order import Packet
from weld_packets.plant.archive import today_of
from weld_packets.plant.assembled import Assembling
from weld_packets.plant.orders import Orders, open_workspace
from weld_packets.processes.family import family_of
from weld_packets.revisions.queries.archive import packet_of, releases_in_force_or_due
from weld_packets.revisions.queries.qualified import Resting, resting
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.wording.english import counted, some
from weld_packets.wording.qualification import person_words, piece_words, record_dates, record_end, standard_words


@click.command(help=__doc__)
@click.argument("record", metavar="[RECORD]", default="")
@in_plant
def command(root: Path, record: str) -> None:
    report = Report.of(root)
    print_lines(report.record_lines(record) if record else report.lines())
    if report.problems:
        raise PacketError(report.problems)


@dataclass(frozen=True)
class Used:
    """An operation of an order in some state, such as ``LK-2041 D, in force from 2026-11-29``."""

    order: str
    state: str
    how: Resting
    due: str

    @property
    def operation(self) -> tuple[object, ...]:
        """What is known of the operation in whatever state."""
        return self.order, self.how.verdict, self.due

    @property
    def place(self) -> str:
        """Order, state and operation in a line."""
        return f"{self.order} {self.state}, operation {self.how.number}, {self.how.name}"


@dataclass(frozen=True)
class Report:
    """Everything that is known of the qualification of all orders on a day; ``problems`` are those of bad drafts."""

    approved: ApprovedTables
    day: date
    used: tuple[Used, ...]
    pieces: tuple[Piece, ...]
    problems: tuple[Problem, ...]

    @classmethod
    def of(cls, root: Path) -> Report:
        """Return the report of a plant's folder."""
        workspace, archive = open_workspace(root), open_archive(root / INSTRUCTIONS)
        day = today_of(archive.register.entries, archive.register)
        used: list[Used] = []
        for entry, _ in releases_in_force_or_due(archive, day):
            used += _used(packet_of(archive, entry), f"{entry.revision}, effective from {entry.effective}")
        released = {each.operation for each in used}
        drafts, orders, problems = Assembling(workspace, archive), Orders(workspace, archive), list[Problem]()
        drafted: dict[str, tuple[Used, ...]] = {}
        for slug in order_names(root):
            try:
                drafted[slug] = tuple(_used(drafts.assembled(slug).packet, "draft"))
                used += (each for each in drafted[slug] if each.operation not in released)
            except PacketError as error:
                problems += error.problems
        pieces = tuple(_pieces(orders, drafted, workspace.approved))
        return cls(workspace.approved, day, tuple(used), pieces, tuple(problems))

    def lines(self) -> Iterator[str]:
        """Yield the whole report."""
        for record in self.approved.records:
            yield from self.record_lines(record.table)
        if not self.approved.records:
            yield "no qualification record is kept here"
        uncovered = [each for each in self.used if each.how.outcome != "inside"]
        yield f"{counted(len(uncovered), 'operation')} not inside a record"
        for each in uncovered:
            yield f"  {each.place}: {each.how.text}"
            yield from (f"    {some(welds.welds)}: {welds.text}" for welds in each.how.open_welds)
        for entry in self.approved.people.entries if self.approved.people else ():
            yield person_words(entry, self.day)
        amounts = amounts_in(self.approved.plant.show_first)
        for piece in self.pieces:
            yield piece_words(piece, amounts)
            yield from (f"  {other.name}" for other in piece.covers)

    def record_lines(self, number: str) -> Iterator[str]:
        """Yield a record with every operation that rests on it. Raises SourceError for one that nobody keeps."""
        record = _record(self.approved.records, number)
        yield f"{record.table} ({standard_words(record)}): {record_dates(record, self.day)}"
        users = [each for each in self.used if number in each.how.rests_on]
        end = record_end(record)
        for each in users:
            yield f"  {each.place}, due {each.due}{', after the record ends' if end and each.due > end else ''}"
        if not users:
            yield "  no order rests on it"


def _record(records: Sequence[QualificationRecord], number: str) -> QualificationRecord:
    found = next((record for record in records if record.table == number), None)
    if found is None:
        known = ", ".join(record.table for record in records) or "none is kept here"
        raise refusal("there is no qualification record of this number", f"name one of: {known}", value=number)
    return found


def _used(packet: Packet, state: str) -> Iterator[Used]:
    return (Used(packet.head.number, state, how, packet.head.due) for how in resting(packet))


def _pieces(orders: Orders, drafted: Mapping[str, Sequence[Used]], approved: ApprovedTables) -> Iterator[Piece]:
    """Yield for each standard the test piece that would bring open welds of the most drafts inside."""
    uncovered = {
        (each.order, each.how.number, weld)
        for used in drafted.values()
        for each in used
        for welds in each.how.open_welds
        for weld in welds.welds
    }
    cases: list[tuple[Proof, Open]] = []
    for slug in drafted:
        computed = orders.computed(slug)
        for number, result in enumerate(computed.results, 1):
            family = family_of(result.operation.process)
            for case in family.qualified(result, approved):
                if (computed.order.order, number, case.welds[0]) in uncovered:
                    order = computed.order.order
                    name = f"{order}, operation {number}: {some(case.welds)}"
                    cases.append((family.procedure.proof, Open(order, name, case)))
    for proof, found in grouped(cases).items():
        piece = most_covering(found, lines_of(proof, approved.rules))
        if piece is not None:
            yield piece
