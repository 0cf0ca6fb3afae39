"""When a release or a withdrawal is refused. Nothing here reads a file or the clock."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import as_person, mixed_scripts
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.qualification import Qualification
from weld_packets.packet.records.values import TableUse
from weld_packets.revisions.records.canonical import agrees, packet_digest, short
from weld_packets.revisions.records.effectivity import Effective, effectivity_problems
from weld_packets.revisions.records.record import Code, RegisterState, SourceFile, moment_text, read_moment
from weld_packets.revisions.records.texts import text_problems
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.status.nonconformities import Reported
from weld_packets.revisions.status.people import (
    OF_RELEASE,
    OF_WITHDRAWAL,
    Duties,
    People,
    Permission,
    key_problems,
    listing_problems,
)
from weld_packets.revisions.status.table_contents import TableContent
from weld_packets.units.zones import day_at

CLOCK_ALLOWANCE = timedelta(days=400)
"""How far the clock may be ahead where the plant says nothing: more than a year without any record is seldom."""
CLOCK_BEHIND_REMEDY = (
    "set the clock or SOURCE_DATE_EPOCH; if that record was made under a wrong clock, withdraw a revision, its "
    "own or a superseded one: time goes on from there"
)
_CLOCK_REMEDY = "set the clock or SOURCE_DATE_EPOCH; if it is right, raise 'clock allowance' in the table of plant"


@dataclass(frozen=True)
class Signatures:
    """Who answers for a record, why, from when, and when it is made.

    ``one_person`` is the plant's setting that lets one person write and approve; ``code`` is this program. A record may
    be as much as ``clock_allowance`` after the last one, and after ``machine_clock``, where that is known.
    ``people`` is the plant's list of who may do what, None where it has none; ``must_sign`` whether it requires
    signatures.
    """

    author: str
    approver: str
    reason: str
    effective: Effective
    recorded: datetime
    code: Code
    one_person: bool = False
    clock_allowance: timedelta = CLOCK_ALLOWANCE
    machine_clock: datetime | None = None
    people: People | None = None
    must_sign: bool = False

    @property
    def day(self) -> date:
        """Return the day on which the record is made, in the plant's time zone."""
        return day_at(self.recorded, self.effective.zone)

    @property
    def written(self) -> dict[str, Any]:
        """What a record of its author alone says: the fields of ``Written``."""
        return {
            "author": self.author.strip(),
            "reason": self.reason.strip(),
            "recorded_at": moment_text(self.recorded),
            "code": self.code,
        }

    @property
    def answered(self) -> dict[str, Any]:
        """What a record says that another person approved: the fields of ``Answered``."""
        return {**self.written, "approver": self.approver.strip()}


@dataclass(frozen=True)
class Release:
    """A packet to be released as the next revision.

    ``approved`` is the packet digest that the approver saw, whole or short; empty leaves the release unbound.
    ``contents`` is what the plant's tables hold, by their names; ``in_two_steps`` whether a proposal must come before.
    ``corrects`` are nonconformities of the order. ``seen`` is the register with which the packet was compared, None
    where it was with none.
    """

    packet: Packet
    sources: tuple[SourceFile, ...]
    by: Signatures
    approved: str = ""
    contents: Mapping[str, TableContent] = field(default_factory=dict)
    in_two_steps: bool = False
    corrects: tuple[str, ...] = ()
    seen: RegisterState | None = None


@dataclass(frozen=True)
class Withdrawal:
    """A released revision to be withdrawn, and what is stated of its nonconformity, where one is."""

    order: str
    revision: str
    by: Signatures
    reported: Reported | None = None


def release_problems(
    wanted: Release, entries: Sequence[RegisterEntry], orders: Collection[str], last: str = "", key: str = ""
) -> list[Problem]:
    """Return every reason against ``wanted`` after ``entries``.

    ``orders`` are the known order names, ``last`` is the moment of the last record of the register, ``key`` the name of
    the key that signs.
    """
    return [*people_problems(wanted.by, OF_RELEASE, key), *packet_problems(wanted, entries, orders, last)]


def proposal_problems(
    wanted: Release, entries: Sequence[RegisterEntry], orders: Collection[str], last: str = "", key: str = ""
) -> list[Problem]:
    """Return every reason against proposing ``wanted``, whose approver nobody knows yet."""
    return [*author_problems(wanted.by, OF_RELEASE, key), *packet_problems(wanted, entries, orders, last)]


def packet_problems(
    wanted: Release, entries: Sequence[RegisterEntry], orders: Collection[str], last: str = ""
) -> list[Problem]:
    """Return every reason against a packet that is to be released, whoever answers for it."""
    return [
        *clock_problems(wanted.by, last),
        *approval_problems(wanted.packet, wanted.by.day),
        *qualification_problems(wanted.packet, wanted.by.day),
        *_digest_problems(wanted),
        *_sameness_problems(wanted.packet, entries),
        *_previous_order_problems(wanted.packet, orders),
        *_far_problems(wanted.by),
        *effectivity_problems(
            wanted.by.effective, wanted.by.recorded, wanted.packet.head.quantity, _last_effective(entries)
        ),
    ]


def withdrawal_problems(wanted: Withdrawal, entries: Sequence[RegisterEntry], key: str = "") -> list[Problem]:
    """Return every reason against ``wanted`` after ``entries``; ``key`` is the name of the key that signs."""
    return [
        *people_problems(wanted.by, OF_WITHDRAWAL, key),
        *_target_problems(wanted, entries),
        *_withdrawal_effectivity_problems(wanted.by, entries),
    ]


def people_problems(by: Signatures, duties: Duties, key: str = "") -> Iterator[Problem]:
    """Yield every reason against who made a record, and why.

    ``duties`` is what the plant's list must allow each of them, ``key`` names the key that the approver signs with.
    """
    yield from _named_problems(by, "author", by.author, duties.author, stops=duties.stops)
    yield from _named_problems(by, "approver", by.approver, duties.approver, stops=duties.stops)
    yield from text_problems("reason", by.reason)
    yield from key_problems(by.people, by.approver, key, required=by.must_sign and not duties.stops)
    if as_person(by.author) == as_person(by.approver) != "" and not by.one_person:
        message = "author and approver are the same person"
        remedy = "let another person approve, or allow one person in the table of plant ('one person may release')"
        yield unplaced("approver", by.approver, message, remedy)


def author_problems(by: Signatures, duties: Duties, key: str = "") -> Iterator[Problem]:
    """Yield every reason against what one person writes alone, and signs with their own key."""
    yield from _named_problems(by, "author", by.author, duties.author, stops=duties.stops)
    yield from text_problems("reason", by.reason)
    yield from key_problems(by.people, by.author, key, required=by.must_sign and not duties.stops)


def _named_problems(
    by: Signatures, key: str, name: str, acts: tuple[Permission, ...], *, stops: bool
) -> Iterator[Problem]:
    wrong = list(text_problems(key, name))
    if not wrong and (word := mixed_scripts(name)):
        remedy = "type it anew, in letters of one script"
        wrong.append(unplaced(key, ascii(word), "holds letters of two scripts that look the same", remedy))
    yield from wrong
    if by.people and not wrong:
        yield from listing_problems(by.people, key, name, acts, by.day, stops=stops)


def clock_problems(by: Signatures, last: str) -> Iterator[Problem]:
    """Yield what speaks against the moment of a record after one of the moment ``last``, empty where there is none.

    A withdrawal is not asked this: what is dangerous can be withdrawn whatever the clock says. The time of the register
    goes on from the withdrawal then, so that a record of a wrong clock does not bar all others.
    """
    recorded = by.recorded.replace(microsecond=0)
    days = by.clock_allowance.days
    if last and recorded < read_moment(last):
        message = f"the clock is before the last record of the register, {last}"
        yield unplaced("released on", by.recorded.isoformat(), message, CLOCK_BEHIND_REMEDY)
    if last and recorded > read_moment(last) + by.clock_allowance:
        message = f"the clock is more than {days} days after the last record of the register, {last}"
        yield unplaced("released on", by.recorded.isoformat(), message, _CLOCK_REMEDY)
    yield from ahead_problems("released on", recorded, by.machine_clock, by.clock_allowance)


def ahead_problems(key: str, at: datetime, machine_clock: datetime | None, allowance: timedelta) -> Iterator[Problem]:
    """Yield a problem where a moment is further after the clock of this computer than the plant allows."""
    if machine_clock and at > machine_clock + allowance:
        message = f"is more than {allowance.days} days after the clock of this computer, {machine_clock:%Y-%m-%d}"
        yield unplaced(key, at.isoformat(), message, _CLOCK_REMEDY)


def _far_problems(by: Signatures, entries: Sequence[RegisterEntry] = ()) -> Iterator[Problem]:
    """Yield a day of effect that is further off than the plant's clock may run ahead: a slip of a digit in the year.

    It is counted from the newest of ``entries`` where the clock of the computer is before that.
    """
    recorded = (day_at(read_moment(entry.recorded_at), by.effective.zone) for entry in entries[-1:])
    latest = max([by.day, *recorded]) + by.clock_allowance
    if by.effective.kind == "date" and by.effective.start > latest.isoformat():
        message = f"is more than {by.clock_allowance.days} days off"
        remedy = "check the year; if it is right, raise 'clock allowance' in the table of plant"
        yield unplaced("effective from", by.effective.start, message, remedy)


def approval_problems(packet: Packet, day: date) -> Iterator[Problem]:
    """Yield a problem for the tables of the packet that nobody has approved, and each approved after ``day``."""
    open_tables = [use for use in packet.cited if not (use.approved_by and use.approved_on)]
    names = ", ".join(use.table for use in open_tables)
    if len(open_tables) > 1:
        message = f"{len(open_tables)} tables are not approved: {names}"
        yield unplaced("tables", "", message, "have them approved: packets approve --all")
    elif open_tables:
        message = f"{_table(open_tables[0])} is not approved"
        yield unplaced("tables", names, message, f"have it approved: packets approve {names}")
    for use in packet.cited:
        if use.approved_by and use.approved_on > day.isoformat():
            message = f"{_table(use)} is approved on {use.approved_on}, a day that has not come"
            yield unplaced("tables", use.table, message, "set the date of its approval right, or wait for it")


def _table(use: TableUse) -> str:
    return f"table {use.table}, revision {use.revision},"


def qualification_problems(packet: Packet, day: date) -> Iterator[Problem]:
    """Yield what the plant's rule on qualification records holds against the release of a packet on a day."""
    for operation in packet.operations:
        found = operation.qualification
        if found is not None and found.hinders:
            message = (
                f"operation {operation.number}, {operation.name}, is not inside a qualification record: {found.text}"
            )
            remedy = "see its page 'Procedure and qualification', or change 'qualification' in the table of plant"
            yield unplaced("qualification", found.outcome or "", message, remedy)
        if found is not None and found.required == "forbid release":
            yield from _expired(operation, found, day)


def expired_lines(packet: Packet, day: date) -> Iterator[str]:
    """Yield in lines what has expired by a day: records of procedures, qualifications of people."""
    yield from (f"qualification: {problem.message}" for problem in expired_records(packet, day))
    yield from (f"people: {problem.message}" for problem in unqualified_people(packet, day))


def expired_records(packet: Packet, day: date) -> Iterator[Problem]:
    """Yield a problem for each qualification record that an operation rests on and that has expired before a day."""
    for operation in packet.operations:
        if operation.qualification is not None and operation.qualification.required != "not used":
            yield from _expired(operation, operation.qualification, day)


def unqualified_people(packet: Packet, day: date) -> Iterator[Problem]:
    """Yield a problem for each duty of an operation that nobody of the plant's table may do on a day."""
    for operation in packet.operations:
        found = operation.people
        for duty in ("setter", "operator") if found is not None and found.kept else ():
            if found is not None and not found.valid_on(day.isoformat(), duty):
                message = f"operation {operation.number}, {operation.name}: no {duty} holds {found.needs} on {day}"
                yield unplaced("people", duty, message, "have a qualification confirmed or made, and enter it")


def _expired(operation: OperationSheet, found: Qualification, day: date) -> Iterator[Problem]:
    for record in found.records:
        if record.valid_until and record.valid_until < day.isoformat():
            of = f"operation {operation.number}, {operation.name}"
            message = f"record {record.record} of {of}, expired on {record.valid_until}"
            yield unplaced("qualification", record.record, message, "have it renewed, or name another record")


def _digest_problems(wanted: Release) -> Iterator[Problem]:
    found = packet_digest(wanted.packet)
    if wanted.approved and not agrees(wanted.approved, found):
        message = f"the packet is now {short(found)}: this is not what was approved, or the digest is incomplete"
        remedy = "look at 'packets check' and the pages again, then give the digest that they show"
        yield unplaced("digest", wanted.approved, message, remedy)


def _sameness_problems(packet: Packet, entries: Sequence[RegisterEntry]) -> Iterator[Problem]:
    last = next((entry for entry in reversed(entries) if entry.kind == "release"), None)
    if last is None or last.revision in withdrawn_revisions(entries):
        return
    if last.packet_digest == packet_digest(packet):
        message = f"nothing has changed since revision {last.revision}"
        yield unplaced("order", packet.head.slug, message, "there is nothing to release")


def _previous_order_problems(packet: Packet, orders: Collection[str]) -> Iterator[Problem]:
    previous = packet.head.previous_order
    if previous and previous not in orders:
        message = "there is no such order to change over from"
        yield unplaced("previous order", previous, message, "name a folder of instructions/, or leave it out")


def _last_effective(entries: Sequence[RegisterEntry]) -> Effective | None:
    valid = releases_not_withdrawn(entries)
    return valid[-1].effective if valid else None


def _target_problems(wanted: Withdrawal, entries: Sequence[RegisterEntry]) -> Iterator[Problem]:
    released = [entry.revision for entry in entries if entry.kind == "release"]
    if wanted.revision not in released:
        known = ", ".join(released) or "none"
        message = f"order {wanted.order} has no such released revision; there are: {known}"
        yield unplaced("revision", wanted.revision, message, "name one of them")
    elif wanted.revision in withdrawn_revisions(entries):
        yield unplaced("revision", wanted.revision, "is withdrawn already", "there is nothing to withdraw")


def releases_not_withdrawn(entries: Sequence[RegisterEntry]) -> list[RegisterEntry]:
    """Return the releases of ``entries`` that it does not withdraw."""
    withdrawn = withdrawn_revisions(entries)
    return [entry for entry in entries if entry.kind == "release" and entry.revision not in withdrawn]


def withdrawn_revisions(entries: Sequence[RegisterEntry]) -> frozenset[str]:
    """Return the revisions that ``entries`` withdraws, from whatever date."""
    return frozenset(entry.revision for entry in entries if entry.kind == "withdrawal")


def _withdrawal_effectivity_problems(by: Signatures, entries: Sequence[RegisterEntry]) -> Iterator[Problem]:
    if by.effective.kind != "date":
        message = "a withdrawal takes effect on a date"
        yield unplaced("effective from", str(by.effective), message, "write a date")
    else:
        yield from _far_problems(by, entries)
        yield from effectivity_problems(by.effective, by.recorded, 0, None)
