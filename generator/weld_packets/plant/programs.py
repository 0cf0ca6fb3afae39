"""The programs of orders against those of all other orders: of their released revisions, and of their files."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

from weld_packets.calculation.results import OperationResult
from weld_packets.errors import PacketError, Problem
from weld_packets.grouping import grouped
from weld_packets.model.order import Operation, Order
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.program_use import ProgramClash, ProgramUse
from weld_packets.packet.programs import operation_uses, part_uses, used_by_revision
from weld_packets.plant.orders import compute_operation
from weld_packets.plant.shared_numbers import KnownPrograms, Uses, first_of_each, has_equal_use
from weld_packets.revisions.queries.archive import Archive, packet_of
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.status import day_of, days_ahead, periods
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE, order_path
from weld_packets.sources.orders.order_folders import order_names
from weld_packets.sources.orders.orders import load_order
from weld_packets.sources.reading.files import TEXT_LIMIT, read_bytes
from weld_packets.sources.tables.tables import Workspace

_Pairs = frozenset[tuple[str, str]]
"""Robots, each with a program."""
_Place = tuple[str, str, str]
"""An order, a key in it, and another order."""


@dataclass(frozen=True)
class ProgramFindings:
    """What the programs of orders clash with in other orders.

    ``problems`` keep an order from its release: somebody works, or is to work, by a revision of another order that uses
    the program otherwise. ``notes`` do not, lines by the order that they are of: the other order's files alone differ,
    or the revision that differs is to be replaced by files that agree, or ends.
    """

    problems: tuple[Problem, ...]
    notes: Mapping[str, Sequence[str]]


def program_findings(workspace: Workspace, orders: Sequence[Uses], since: str = "") -> ProgramFindings:
    """Return what the programs of ``orders`` clash with: released revisions of other orders, their files, each other's.

    ``orders`` are as their files have them, to be released with effect from ``since``, empty where that is not known.
    Another order with wrong sources is passed over; they are reported when that order is checked.
    """
    others = _Others(workspace.root, _pairs_of(use for _, uses in orders for use in uses), workspace)
    released, drafts = KnownPrograms(), KnownPrograms(_draft_of)
    in_files = dict(orders)
    for slug in others.slugs:
        released.add(slug, others.released(slug))
        if slug not in in_files:
            in_files[slug] = others.in_files(slug)
            drafts.clashes(slug, in_files[slug])
    found = _Found(workspace)
    for slug, uses in orders:
        for clash in released.against(slug, [replace(use, days=(since, "")) for use in uses]):
            found.take(clash, *_with_released(clash, in_files.get(clash.other, ()), since))
    for slug, uses in orders:
        is_over = others.is_over(slug)  # its next revision may be being written: it is compared, but keeps no program
        for clash in drafts.against(slug, uses) if is_over else drafts.clashes(slug, uses):
            if not found.has(clash):
                found.take(clash, clash.problem, passes=True)
    return ProgramFindings(tuple(found.problems.values()), found.lines())


@dataclass(frozen=True)
class _Found:
    """What is found, once for each key of an order and other order; what refuses it goes before what does not."""

    workspace: Workspace
    problems: dict[_Place, Problem] = field(default_factory=dict)
    notes: dict[_Place, Problem] = field(default_factory=dict)
    pairs: set[tuple[frozenset[str], str, str]] = field(default_factory=set)

    def take(self, clash: ProgramClash, problem: Problem, passes: bool) -> None:
        """Take a clash with what to do, and whether a release may pass it by."""
        self.pairs.add(_pair(clash))
        place = (clash.order, clash.here.place, clash.other)
        if passes:
            self.notes.setdefault(place, problem)
        else:
            self.problems.setdefault(place, load_order(self.workspace, clash.order).placed(problem))

    def has(self, clash: ProgramClash) -> bool:
        """Return whether the program is known to be used otherwise in the two orders, whichever was looked at first."""
        return _pair(clash) in self.pairs

    def lines(self) -> dict[str, list[str]]:
        """Return what refuses nothing in lines by its order."""
        notes = ((place[0], note) for place, note in self.notes.items() if place not in self.problems)
        return grouped((slug, _line(slug, load_order(self.workspace, slug).placed(note))) for slug, note in notes)


def _pair(clash: ProgramClash) -> tuple[frozenset[str], str, str]:
    return frozenset((clash.order, clash.other)), clash.here.robot, clash.here.program


def _draft_of(slug: str) -> str:
    return f"the draft of {order_path(slug)}"


def _with_released(clash: ProgramClash, files: Sequence[ProgramUse], since: str) -> tuple[Problem, bool]:
    """Return a clash with a released revision with what to do, and whether a release may pass it by.

    ``files`` is what the other order's files use programs for: where they agree, a program that both share is being
    corrected, and one of the two has to be released first.
    """
    last = clash.there.days[1]
    if last:
        remedy = f"it is in force until {last}: release this order with effect from a later day"
        return replace(clash.problem, remedy=remedy), not since
    if has_equal_use(clash.here, files):
        other = order_path(clash.other)
        remedy = f"its files agree: release {other} anew too, or withdraw its revision {clash.there.revision}"
        return replace(clash.problem, remedy=remedy), True
    return clash.problem, False


def _line(slug: str, note: Problem) -> str:
    return f"{slug}: {note.place}: {note.key} = {note.value!r}: {note.message}; {note.remedy}"


def clashes_with_released(root: Path, slug: str, uses: Sequence[ProgramUse]) -> list[ProgramClash]:
    """Return what ``uses`` of an order clash with in the revisions of others that are in force, or will be.

    Each key of the order is named once for each other order, which is called by its folder.
    """
    others = _Released(root, _pairs_of(uses))
    known = KnownPrograms(str)
    for other in others.slugs:
        known.add(other, others.released(other))
    return list(first_of_each(list(known.against(slug, uses))))


def _pairs_of(uses: Iterable[ProgramUse]) -> _Pairs:
    return frozenset((use.robot, use.program) for use in uses)


@dataclass(frozen=True)
class _Released:
    """The released revisions of a plant, and the programs that are sought in them."""

    root: Path
    wanted: _Pairs

    @property
    def slugs(self) -> list[str]:
        """The orders of the plant, also one of which only the records are left."""
        return sorted({*order_names(self.root), *self._archive.register.by_order})

    def released(self, slug: str) -> list[ProgramUse]:
        """Return what the revisions of an order that are in force, or will be, use the wanted programs for.

        A record that is altered is passed over: that order is refused itself, and `verify` names it.
        """
        try:
            entries = self._archive.register.of(slug)
            days = days_ahead(periods(entries), day_of(entries, moment_now())) if entries else {}
            return [use for entry in entries if entry.kind == "release" for use in self._in_record(entry, days)]
        except PacketError:
            return []

    def _in_record(self, entry: RegisterEntry, days: Mapping[str, tuple[str, str]]) -> list[ProgramUse]:
        if entry.revision not in days:
            return []
        content = self._archive.read(entry.path, entry.record_digest) or b""
        if not any(json.dumps(program, ensure_ascii=False).encode() in content for _, program in self.wanted):
            return []
        uses = used_by_revision(packet_of(self._archive, entry), entry.revision, days[entry.revision])
        return [use for use in uses if (use.robot, use.program) in self.wanted]

    def is_over(self, slug: str) -> bool:
        """Return whether an order was released, and no revision of it is in force or will be.

        Of an order of which two branches made a record that is not known.
        """
        entries = self._archive.register.by_order.get(slug, ())
        return bool(entries) and not days_ahead(periods(entries), day_of(entries, moment_now()))

    @cached_property
    def _archive(self) -> Archive:
        return open_archive(self.root / INSTRUCTIONS)


@dataclass(frozen=True)
class _Others(_Released):
    """The same, and what the files of orders say now."""

    workspace: Workspace

    def in_files(self, slug: str) -> tuple[ProgramUse, ...]:
        """Return what an order uses the wanted programs for; whether it names one is seen from the bytes of its source.

        So a thousand orders need not be read for one. A number that is written with an escape shows by its backslash.
        """
        try:
            source = read_bytes(self.root / INSTRUCTIONS / slug / ORDER_FILE, ORDER_FILE, TEXT_LIMIT)
            if b"\\" not in source and not any(program.encode() in source for _, program in self.wanted):
                return ()
            order = load_order(self.workspace, slug).order
            operations = enumerate(order.operations, 1)
            found = [use for number, operation in operations for use in self._in(number, operation, order)]
            kept = tuple(use for use in found if (use.robot, use.program) in self.wanted)
            return () if kept and self.is_over(slug) else kept
        except PacketError:
            return ()

    def _in(self, number: int, operation: Operation, order: Order) -> tuple[ProgramUse, ...]:
        robots = operation.robots
        coupons = {(robot, program) for robot in robots for _, program in operation.coupon_programs_of(robot)}
        if self.wanted.isdisjoint({*operation.programs.items(), *coupons}):
            return ()
        approved = self.workspace.approved
        if coupons & self.wanted:
            return operation_uses(OperationView(number, order, compute_operation(operation, approved), approved))
        return part_uses(OperationView(number, order, OperationResult(operation, (), ()), approved))
