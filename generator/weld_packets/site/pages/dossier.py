"""All that an order's site shows of its revisions, read from the released records alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from weld_packets.packet.records import Control, Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.queries.history import HistoryRow, history
from weld_packets.revisions.queries.looking_back import Archive, packet_of
from weld_packets.revisions.queries.verification import point_text
from weld_packets.revisions.register.register import Entry
from weld_packets.revisions.status.phases import Phase, phases, steady_days
from weld_packets.revisions.status.status import as_of, control_of, draft_control


@dataclass(frozen=True)
class Edition:
    """One revision as it is printed: ``folder`` is where its pages stand inside the site, empty for the main pages.

    ``changes`` are against the revision ``compared_with``; ``covers`` names the parts that it holds for where it shares
    the order with another revision.
    """

    packet: Packet
    control: Control
    folder: str = ""
    changes: tuple[Change, ...] = ()
    compared_with: str = ""
    covers: str = ""

    @property
    def mark(self) -> str:
        """Return the revision letter, or ``draft``."""
        return self.control.revision or self.control.status


@dataclass(frozen=True)
class Dossier:
    """An order with releases: what the main pages show (None where nothing is in force), and all other revisions.

    ``others`` are newest first. ``built`` is the day whose standing the pages print, ``steady`` the first and last day
    on which it stays so (empty: open), ``register`` the point of the register.
    """

    slug: str
    main: Edition | None
    others: tuple[Edition, ...]
    history: tuple[HistoryRow, ...]
    phases: tuple[Phase, ...]
    register: str
    built: date
    steady: tuple[str, str]

    @property
    def editions(self) -> tuple[Edition, ...]:
        """Return every edition, the main pages first."""
        return ((self.main,) if self.main else ()) + self.others

    @property
    def newest(self) -> Edition:
        """Return the edition whose words name the order: the main one, or else the newest."""
        return self.editions[0]

    @property
    def in_force(self) -> Edition | None:
        """Return the newest edition in force."""
        return next((edition for edition in self.editions if edition.control.status == "in force"), None)


def open_dossier(archive: Archive, slug: str, day: date) -> Dossier | None:
    """Return the dossier of ``slug`` as its revisions stand at the end of ``day``, None before its first release.

    Raises PacketError where a record is missing or altered.
    """
    chain = archive.register.of(slug)
    packets = {entry.revision: packet_of(archive, entry) for entry in chain if entry.kind == "release"}
    if not packets:
        return None
    operations = history(chain, day, lambda entry: packets[entry.revision])
    editions = _editions(chain, slug, day, packets, operations)
    current = next((edition for edition in editions if edition.control.status == "in force"), None)
    return Dossier(
        slug=slug,
        main=replace(current, folder="") if current else None,
        others=tuple(edition for edition in editions if edition is not current),
        history=operations,
        phases=phases(chain, slug),
        register=point_text(archive.register.point),
        built=day,
        steady=steady_days(chain, day),
    )


def with_draft(dossier: Dossier, packet: Packet) -> Dossier:
    """Return the dossier with the draft on its main pages, compared with the newest release."""
    released = sorted(_in_folders(dossier), key=lambda edition: _age(dossier, edition))
    before = released[0]
    changes = diff(before.packet, packet)
    draft = Edition(packet, draft_control(packet), changes=changes, compared_with=before.mark)
    return replace(dossier, main=draft, others=tuple(released))


def _in_folders(dossier: Dossier) -> list[Edition]:
    return [replace(edition, folder=_folder(edition.mark)) for edition in dossier.editions]


def _age(dossier: Dossier, edition: Edition) -> int:
    """Return 0 for the newest release, more for older ones."""
    marks = [operation.revision for operation in dossier.history if operation.kind == "release"]
    return marks[::-1].index(edition.mark)


def _editions(
    chain: Sequence[Entry], slug: str, day: date, packets: dict[str, Packet], operations: Sequence[HistoryRow]
) -> list[Edition]:
    """Return an edition for each release, newest first, each in its own folder."""
    covers = {found.revision: found.covers for found in as_of(chain, slug, day).in_force}
    releases = [operation for operation in operations if operation.kind == "release"]
    return [
        Edition(
            packet=packets[operation.revision],
            control=control_of(chain, operation.revision, day),
            folder=_folder(operation.revision),
            changes=operation.changes,
            compared_with=operation.compared_with,
            covers=covers.get(operation.revision, ""),
        )
        for operation in reversed(releases)
    ]


def _folder(mark: str) -> str:
    return f"rev-{mark.lower()}"
