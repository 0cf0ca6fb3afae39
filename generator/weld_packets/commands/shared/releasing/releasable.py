"""The packet of an order as it can be proposed or released, and what the plant's files say beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from weld_packets.commands.shared.releasing.responsible import Responsible
from weld_packets.errors import Problem, SourceError
from weld_packets.packet.programs import program_uses
from weld_packets.packet.records.order import Packet
from weld_packets.plant.approvals import changed_tables, table_contents
from weld_packets.plant.drafts import draft
from weld_packets.plant.people import listed_people
from weld_packets.plant.programs import program_findings
from weld_packets.revisions.records.record import SourceFile
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.people import People
from weld_packets.revisions.status.release_rules import Release, Signatures
from weld_packets.revisions.store.files import load_register
from weld_packets.sources.digests import file_digests
from weld_packets.sources.folders import INSTRUCTIONS, order_path
from weld_packets.sources.tables.tables import Workspace, load_workspace


@dataclass(frozen=True)
class Releasable:
    """A packet with the files that it was computed from; the register and the plant's list of people at that time."""

    packet: Packet
    sources: tuple[SourceFile, ...]
    workspace: Workspace
    register: Register
    people: People | None

    def wanted(self, who: Responsible, approved: str) -> Release:
        """Return the release that is wanted; ``approved`` is the packet digest that somebody saw."""
        plant = self.workspace.approved.plant
        return Release(
            self.packet,
            self.sources,
            who.signatures(plant, self.people),
            approved,
            table_contents(self.workspace),
            in_two_steps=plant.releases == "in two steps",
            seen=self.register.state,
        )


def releasable(root: Path, slug: str) -> Releasable:
    """Return the packet of ``slug`` as its files have it; raise SourceError with what keeps it from a release."""
    read_before = file_digests(root, slug)
    workspace = load_workspace(root)
    packet = draft(workspace, slug)
    register = load_register(root / INSTRUCTIONS)
    listed = listed_people(workspace, register)
    faults = [
        *listed.problems,
        *changed_tables(workspace, register, [use.table for use in packet.cited]),
    ]
    if faults:
        raise SourceError(faults)
    sources = file_digests(root, slug)
    if sources != read_before:
        message, remedy = "its sources changed while the packet was computed", "run the command again"
        raise SourceError([Problem(order_path(slug), 0, "", "", message, remedy)])
    files = tuple(SourceFile(path=path, sha256=digest) for path, digest in sources.items())
    return Releasable(packet, files, workspace, register, listed.people)


def compared_programs(found: Releasable, by: Signatures) -> Sequence[str]:
    """Return what to note of the programs of a packet that is to be released as ``by`` says.

    Raises SourceError where another order's revision that is in force then uses one of them otherwise.
    """
    since = by.effective.start if by.effective.kind == "date" else str(by.day)
    uses = program_uses(found.packet)
    programs = program_findings(found.workspace, [(found.packet.head.slug, uses)], since)
    if programs.problems:
        raise SourceError(programs.problems)
    return programs.notes.get(found.packet.head.slug, ())
