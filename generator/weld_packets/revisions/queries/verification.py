"""Say what is not as it was released: records, chains, register, signatures, emitted sites."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from weld_packets.errors import PacketError, Problem
from weld_packets.revisions.records.canonical import SHORT, agrees, sha256, short
from weld_packets.revisions.records.manifest import MANIFEST, compare_manifest
from weld_packets.revisions.records.record import RegisterPoint
from weld_packets.revisions.register.chain import Finding, chain_findings
from weld_packets.revisions.register.merkle import EMPTY
from weld_packets.revisions.register.register import REGISTER, Register
from weld_packets.revisions.register.signing import can_sign
from weld_packets.revisions.register.store import listed_files, load_file, load_register, released_files

_FIRST_PAGE = "index.html"
_POINT = re.compile(r"\s*([0-9]{1,9})\s*:\s*([0-9A-Fa-f\s-]+)")


@dataclass(frozen=True)
class Verification:
    """What was compared, what differs (nothing, where all is well), and what could not be looked at."""

    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    register: RegisterPoint
    orders: int
    sites: int


def verify(instructions: Path, sites: Path | None = None, known: Sequence[str] = ()) -> Verification:
    """Compare everything below ``instructions``, and the sites below ``sites``, with what was released.

    ``known`` are points of the register that were written down earlier, as ``point_text`` prints them: they show that
    the newest records were removed or replaced together with the register.
    Raises PacketError for a known point that cannot be read.
    """
    points = [read_point(text) for text in known]
    emitted = _emitted(sites) if sites else []
    on_pages = [finding for site in emitted for finding in site_findings(site)]
    on_pages += list_findings(sites) if sites else []
    try:
        register = load_register(instructions)
    except PacketError as error:
        broken = [Finding(_line(problem), problem.message) for problem in error.problems]
        return Verification((*broken, *on_pages), (), Register().point, 0, len(emitted))
    findings = [*_record_findings(instructions, register), *_point_findings(register, points), *on_pages]
    notes = tuple(_notes(register))
    return Verification(tuple(findings), notes, register.point, len(register.chains), len(emitted))


def site_findings(site: Path) -> list[Finding]:
    """Return what differs between the files of an emitted site and its manifest."""
    files = (path for path in site.rglob("*") if path.is_file())
    found = {path.relative_to(site).as_posix(): sha256(path.read_bytes()) for path in files}
    if found.pop(MANIFEST, None) is None:
        return [Finding(f"{site.name}/{MANIFEST}", "is missing")]
    listed = compare_manifest((site / MANIFEST).read_bytes(), found)
    return [Finding(f"{site.name}/{name}", message) for name, message in listed]


def list_findings(sites: Path) -> list[Finding]:
    """Return what differs between the pages over all orders and their manifest; hidden files are no pages."""
    manifest = sites / MANIFEST
    if not manifest.is_file():
        return [Finding(MANIFEST, "is missing")] if (sites / _FIRST_PAGE).is_file() else []
    files = (path for path in sites.glob("[!.]*") if path.is_file() and path != manifest)
    found = {path.name: sha256(path.read_bytes()) for path in files}
    return [Finding(name, message) for name, message in compare_manifest(manifest.read_bytes(), found)]


def _emitted(sites: Path) -> list[Path]:
    return sorted({path.parent for name in (MANIFEST, _FIRST_PAGE) for path in sites.glob(f"[!.]*/{name}")})


def point_text(point: RegisterPoint) -> str:
    """Return a point of the register for writing down: how many records, and the head over them."""
    return f"{point.records}:{short(point.head)}"


def read_point(text: str) -> tuple[int, str]:
    """Return number of records and head in a text that ``point_text`` printed, or with the whole head."""
    found = _POINT.fullmatch(text)
    head = re.sub(r"[\s-]", "", found[2]).lower() if found else ""
    if found is None or len(head) < SHORT:
        message = "this is not a point of the register"
        remedy = "write it as 'packets register' prints it, such as 12:1a2b 3c4d 5e6f"
        raise PacketError([Problem("", 0, "head", text, message, remedy)])
    return int(found[1]), head


def _record_findings(instructions: Path, register: Register) -> Iterator[Finding]:
    for order in register.chains:
        yield from chain_findings(register, order, lambda name, digest: load_file(instructions, name, digest))
    for name in sorted(released_files(instructions) - listed_files(register).keys()):
        yield Finding(name, "is not in the register")


def _point_findings(register: Register, points: Sequence[tuple[int, str]]) -> Iterator[Finding]:
    for records, head in points:
        if records > len(register.lines):
            yield Finding(REGISTER, f"held {records} records when its head was noted, now {len(register.lines)}")
        elif not agrees(head, register.heads[records - 1] if records else EMPTY):
            yield Finding(REGISTER, f"its first {records} records are not those whose head was noted as {short(head)}")


def _notes(register: Register) -> Iterator[str]:
    if not can_sign() and any(entry.signing for entry in register.entries):
        yield "signatures were not checked: pip install 'weld-cell-packets[sign]'"


def _line(problem: Problem) -> str:
    return f"{problem.file}:{problem.line}"
