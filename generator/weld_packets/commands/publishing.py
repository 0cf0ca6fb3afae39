"""Release, withdraw, make keys: the sources are computed, the record is written, nothing else is touched."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from weld_packets.commands.drafting import draft
from weld_packets.commands.places import INSTRUCTIONS
from weld_packets.commands.programs import program_problems
from weld_packets.errors import SourceError
from weld_packets.packet.programs import program_uses
from weld_packets.revisions.queries.verification import point_text
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.records.effectivity import read_effective
from weld_packets.revisions.records.record import SourceFile
from weld_packets.revisions.register.keys import load_signer, make_key
from weld_packets.revisions.register.signing import Signer
from weld_packets.revisions.status.clock import moment_now
from weld_packets.revisions.status.publishing import Published
from weld_packets.revisions.status.publishing import release as publish
from weld_packets.revisions.status.publishing import withdraw as retract
from weld_packets.revisions.status.rules import Release, Signatures, Withdrawal
from weld_packets.sources.digests import file_digests
from weld_packets.sources.tables.tables import load_workspace


@dataclass(frozen=True)
class Responsible:
    """Who answers for a record, why, from when; and the key to sign with, where one is named."""

    author: str
    approver: str
    reason: str
    effective: str
    key: str = ""
    private: Path | None = None


def release(root: Path, slug: str, who: Responsible, approved: str) -> list[str]:
    """Freeze the packet of ``slug`` as its next revision and return what to tell; raise PacketError against it."""
    workspace = load_workspace(root)
    packet = draft(workspace, slug)
    clashes = program_problems(workspace, [(slug, program_uses(packet))])
    if clashes:
        raise SourceError(clashes)
    sources = tuple(SourceFile(path=path, sha256=digest) for path, digest in file_digests(root, slug).items())
    by = _signatures(who, one_person=workspace.approved.plant.one_person_may_release)
    wanted = Release(packet, sources, by, approved)
    return _told(publish(root / INSTRUCTIONS, wanted, _signer(root, who)))


def withdraw(root: Path, slug: str, revision: str, who: Responsible) -> list[str]:
    """Record that ``revision`` must no longer be used and return what to tell; raise PacketError against it."""
    one_person = load_workspace(root).approved.plant.one_person_may_release
    wanted = Withdrawal(slug, revision, _signatures(who, one_person=one_person))
    return _told(retract(root / INSTRUCTIONS, wanted, _signer(root, who)))


def make_key_pair(root: Path, name: str, private: Path) -> Path:
    """Make a key pair; return the file of the public key."""
    return make_key(root / INSTRUCTIONS, name, private)


def _told(published: Published) -> list[str]:
    entry = published.entry
    what = "released" if entry.kind == "release" else "withdrawn"
    return [
        f"{entry.order} revision {entry.revision} {what}: {entry.path}, record {short(entry.sha256)}",
        f"write down: register {point_text(published.register)}",
    ]


def _signatures(who: Responsible, *, one_person: bool) -> Signatures:
    return Signatures(
        author=who.author,
        approver=who.approver,
        reason=who.reason,
        effective=read_effective(who.effective),
        recorded=moment_now(),
        generator=version("weld-cell-packets"),
        one_person=one_person,
    )


def _signer(root: Path, who: Responsible) -> Signer | None:
    return load_signer(root / INSTRUCTIONS, who.key, who.private) if who.private else None
