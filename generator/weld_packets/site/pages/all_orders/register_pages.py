"""The pages over all orders that are made together: register, tables that were used, qualification, instruments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from weld_packets.grouping import grouped
from weld_packets.packet.program_use import ProgramClash
from weld_packets.revisions.queries.table_history import known_revisions
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.effectivity import start_text
from weld_packets.revisions.records.record import Answered
from weld_packets.revisions.register.entries import (
    ApprovalEntry,
    FiledEntry,
    NonconformityEntry,
    ProposalEntry,
    ProposalWithdrawalEntry,
    RegisterEntry,
    RunEntry,
    SetAsideEntry,
    SetUpEntry,
)
from weld_packets.revisions.register.forks import counts
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.status.status import control_of, days_in_force, in_force, unchanged_days, zone_of
from weld_packets.site.pages.all_orders.instrument_page import KeptInstruments, instrument_context
from weld_packets.site.pages.all_orders.qualification_page import KeptRecord, QualifiedOperations, operation_rows
from weld_packets.site.pages.all_orders.table_pages import page_of_table
from weld_packets.site.pages.templating import render


@dataclass(frozen=True)
class Listed:
    """One record as these pages show it: its place in the register, its revision's status, where its pages are.

    ``order`` is the number of its order, or the folder where the order's site is not built.
    ``effective`` is from when it takes effect, in the time zone of the page: records from before the plant named one
    have days of UTC.
    ``pages`` is the folder of the revision's pages, empty where its site is not built. ``in_force`` are the first and
    the last day of its times in force, as the page's script reads them; a withdrawal has none.
    """

    number: int
    entry: RegisterEntry
    order: str
    status: str
    site: str
    pages: str
    in_force: str
    effective: str


def register_pages(
    register: Register,
    built: Mapping[str, str],
    day: date,
    qualified: QualifiedOperations | None = None,
    kept: Sequence[KeptRecord] | None = (),
    *,
    clashes: Sequence[ClashLine] = (),
    instruments: KeptInstruments | None = None,
) -> dict[str, str]:
    """Return the register, the tables, the qualification and the instruments, with statuses at the end of ``day``.

    ``built`` has the numbers of the orders whose sites are built, by folder: the pages lead there. ``qualified`` says
    how the operations of all sites are, ``kept`` are the qualification records of the plant, None where they cannot be
    read, ``clashes`` the programs that two orders use otherwise, ``instruments`` what the plant measures and calculates
    with.
    """
    records = [_listed(register, entry, built, day, zone_of(register.entries)) for entry in register.entries]
    shared = {
        "records": records,
        "set_ups": list(_set_ups(register, built)),
        "others": list(_others(register, built)),
        "total": len(register.listed),
        "register_state": register_state_text(register),
        "register_digest": register.state.register_digest,
        "day": str(day),
        "zone": zone_of(register.entries),
        "until": _until(register, day),
        "short": short,
    }
    measured = instrument_context(instruments or KeptInstruments(), register)
    return {
        "instruments.html": render("all_orders/instruments.html", **measured, **shared),
        "register.html": render("all_orders/register.html", clashes=clashes, **shared),
        "tables.html": render(
            "all_orders/tables.html",
            tables=_tables(records),
            whole=tuple(known_revisions(register)),
            page_of_table=page_of_table,
            **shared,
        ),
        "qualification.html": render(
            "all_orders/qualification.html",
            operation_rows=operation_rows,
            **(qualified or QualifiedOperations()).under(kept),
            **shared,
        ),
    }


@dataclass(frozen=True)
class ClashLine:
    """A program that two orders use otherwise: folder and number of both, what is wrong, what to do."""

    site: str
    order: str
    other_site: str
    other: str
    program: str
    text: str
    remedy: str


def clash_line(clash: ProgramClash, numbers: Mapping[str, str]) -> ClashLine:
    """Return a clash for the page; ``numbers`` are those of the orders by folder."""
    order, other, found = numbers[clash.order], numbers[clash.other], clash.problem
    return ClashLine(clash.order, order, clash.other, other, found.value, found.message, found.remedy)


@dataclass(frozen=True)
class OtherEntry:
    """An entry that is neither record nor set-up: its place in the register, what it is and of what, who made it.

    ``tables`` is of how many tables it is, 0 where it is of an order.
    """

    number: int
    kind: str
    of: str
    at: str
    author: str
    approver: str
    reason: str
    tables: int = 0


def _number(folder: str, built: Mapping[str, str]) -> str:
    """Return the number of an order, or its folder where its site is not built: the register has no number."""
    return built.get(folder, folder)


def _others(register: Register, built: Mapping[str, str]) -> Iterator[OtherEntry]:
    for number, entry in enumerate(register.listed, 1):
        kind, of, tables = str(entry.kind), _number(entry.order, built), 0
        match entry:
            case SetAsideEntry():
                of += f", record {', '.join(map(short, entry.record_digests))}"
            case ApprovalEntry():
                of = ", ".join(f"{each.table} revision {each.revision}" for each in entry.tables)
                tables = len(entry.tables)
            case ProposalEntry():
                of += f", packet {short(entry.packet_digest)}, from {entry.effective}"
            case ProposalWithdrawalEntry():
                pass
            case NonconformityEntry():
                of += f", revision {entry.revision}, number {entry.nonconformity.number}"
                kind += " closed" if entry.closed else ""
            case _:
                continue
        approver = entry.approver if isinstance(entry, Answered) else ""
        yield OtherEntry(number, kind, of, entry.at, entry.author, approver, entry.reason, tables)


@dataclass(frozen=True)
class ListedSetUp:
    """One record from the cells: its place in the register, its line, its order, the order's pages if built.

    ``note`` says that it is set aside.
    """

    number: int
    entry: FiledEntry
    order: str
    site: str
    note: str


def _set_ups(register: Register, built: Mapping[str, str]) -> Iterator[ListedSetUp]:
    for number, entry in enumerate(register.listed, 1):
        if isinstance(entry, SetUpEntry | RunEntry):
            note = "" if counts(entry, register.set_aside) else "set aside"
            site = entry.order if entry.order in built else ""
            yield ListedSetUp(number, entry, _number(entry.order, built), site, note)


def _listed(register: Register, entry: RegisterEntry, built: Mapping[str, str], day: date, zone: str) -> Listed:
    number, effective = register.places[entry.path] + 1, start_text(entry.effective, zone)
    order = _number(entry.order, built)
    if entry.order in register.forks:
        return Listed(
            number, entry, order, "none: two branches each made a record of this order", "", "", "", effective
        )
    of_order = register.of(entry.order)
    current = in_force(of_order, day)
    own = current is not None and current.revision == entry.revision
    folder = entry.order if own else f"{entry.order}/rev-{entry.revision.lower()}"
    control = control_of(of_order, entry.revision, day)
    shown = entry.order in built
    by = f" by {control.superseded_by}" if control.superseded_by else ""
    return Listed(
        number,
        entry,
        order,
        control.status + by,
        site=entry.order if shown else "",
        pages=folder if shown else "",
        in_force=_times_in_force(entry, of_order),
        effective=effective,
    )


def _times_in_force(entry: RegisterEntry, of_order: Sequence[RegisterEntry]) -> str:
    if entry.kind != "release":
        return ""
    return " ".join("/".join(days) for days in days_in_force(of_order).get(entry.revision, ()))


def _tables(records: Sequence[Listed]) -> list[tuple[str, str, list[Listed]]]:
    """Return each revision of each table with the releases that drew on it, newest first."""
    found = grouped((table, listed) for listed in reversed(records) for table in listed.entry.tables)
    return [(*table, found[table]) for table in sorted(found)]


def _until(register: Register, day: date) -> str:
    """Return the last day on which all statuses are as they are on ``day``, empty where none is due to change."""
    return min(
        (last for of_order in register.by_order.values() if (last := unchanged_days(of_order, day)[1])), default=""
    )
