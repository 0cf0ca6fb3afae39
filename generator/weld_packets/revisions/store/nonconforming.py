"""Record nonconformities: open one, add to it, close it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from weld_packets.errors import PacketError, Problem, located, refuse, unplaced
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.also_in import also_in, concerned_in
from weld_packets.revisions.queries.archive import packet_of
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.records.nonconformity import Nonconformity
from weld_packets.revisions.register.entries import NonconformityEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.register.signing import Signer, name_of, signed_by
from weld_packets.revisions.set_ups.record import read_form
from weld_packets.revisions.set_ups.run_record import Run, parts_counted
from weld_packets.revisions.status.nonconformities import (
    Reported,
    closing_problems,
    corrected_problems,
    late_problems,
    nonconformities_of,
    nonconformity_problems,
    numbered,
    settling_problems,
    stated_text_problems,
)
from weld_packets.revisions.status.people import OF_NONCONFORMITY
from weld_packets.revisions.status.release_rules import Signatures, clock_problems, people_problems
from weld_packets.revisions.store.disk import Disk
from weld_packets.revisions.store.files import archive_for, commit, load_file, writing


@dataclass(frozen=True)
class NonconformityChange:
    """What is to be recorded of a nonconformity of ``order``, or that it is closed; ``revision`` is the one at fault.

    Empty, it stays the revision that is known. ``corrected_by`` are the revisions that the closing names.
    """

    order: str
    reported: Reported
    by: Signatures
    revision: str = ""
    closed: bool = False
    corrected_by: tuple[str, ...] = ()


def record_nonconformity(
    instructions: Path, wanted: NonconformityChange, signer: Signer | None = None
) -> tuple[NonconformityEntry, Register]:
    """Record a nonconformity, what more is known of it, or that it is closed; return the entry and the register then.

    Raises PacketError with every reason against it.
    """
    at, by = Disk(), wanted.by
    with located(file=str(instructions / wanted.order)), writing(instructions, at) as register:
        known = nonconformities_of(register, wanted.order)
        before = numbered(known, wanted.reported.number)
        who = people_problems(by, OF_NONCONFORMITY, name_of(signer))
        problems = [*who, *clock_problems(by, register.last_at)]
        if wanted.closed:
            problems += closing_problems(wanted.reported.number, known)
            problems += corrected_problems(wanted.corrected_by, before, _released(register, wanted.order))
        else:
            problems += settling_problems(wanted.reported, wanted.revision, before)
            problems += late_problems(wanted.reported, wanted.revision, before)
        revision = wanted.revision or (before.revision if before else "")
        refuse([*problems, *_revision_problems(register, wanted.order, revision)])
        if before and (wanted.closed or before.closed):
            found = _with_texts(before.known, wanted.reported)
            refuse(list(stated_text_problems(found)))
        else:
            found = _stated(instructions, register, wanted.order, revision, wanted.reported)
        entry = NonconformityEntry(
            order=wanted.order,
            revision=revision,
            nonconformity=found,
            closed=wanted.closed or bool(before and before.closed),
            corrected_by=tuple(dict.fromkeys(wanted.corrected_by)),
            **by.answered,
        )
        entry = signed_by(signer, entry)
        return entry, commit(instructions, register, entry, {}, at)


def stated(
    instructions: Path, register: Register, order: str, revision: str, reported: Reported | None
) -> Nonconformity | None:
    """Return what a withdrawal of ``revision`` states of its nonconformity, compared with all other revisions.

    Raises PacketError with everything in it that cannot be so.
    """
    if reported is None:
        return None
    before = numbered(nonconformities_of(register, order), reported.number)
    refuse([*settling_problems(reported, revision, before), *late_problems(reported, revision, before)])
    return _stated(instructions, register, order, revision, reported)


def uncorrected_problems(instructions: Path, register: Register, packet: Packet) -> Iterator[Problem]:
    """Yield a problem for each open nonconformity of which ``packet``, which is to be released, corrects nothing.

    It holds all that is named as concerned, or is the packet of the revision at fault.
    """
    order, digest = packet.head.slug, packet_digest(packet)
    archive = archive_for(register, instructions)
    releases = {entry.revision: entry for entry in register.of(order) if entry.kind == "release"}
    for state in nonconformities_of(register, order):
        at_fault, concerned = releases.get(state.revision), state.known.concerned
        if state.closed is not None or at_fault is None:  # the release of one branch may have been set aside
            continue
        if at_fault.packet_digest == digest:
            held = "all"
        elif concerned and also_in(packet_of(archive, at_fault), concerned, {"": packet})[0].same == concerned:
            held = "; ".join(map(str, concerned))
        else:
            continue
        message = f"is open, and the packet still holds what revision {state.revision} has at fault: {held}"
        remedy = "correct what is at fault, or close it first: packets nonconformity close"
        yield unplaced("nonconformity", state.number, message, remedy)


def _stated(instructions: Path, register: Register, order: str, revision: str, reported: Reported) -> Nonconformity:
    known = nonconformities_of(register, order)
    before = numbered(known, reported.number)
    archive = archive_for(register, instructions)
    packets = {entry.revision: packet_of(archive, entry) for entry in register.of(order) if entry.kind == "release"}
    packet = packets.pop(revision)
    problems: list[Problem] = []
    concerned = before.known.concerned if before and before.revision == revision else ()
    try:
        concerned = concerned if reported.concerned is None else concerned_in(packet, reported.concerned)
    except PacketError as error:
        problems += error.problems
    so_far = before.known if before else Nonconformity.model_construct(number=reported.number)
    wanted = _with_texts(so_far, reported).model_copy(
        update={
            "parts": so_far.parts if reported.parts is None else reported.parts,
            "number": reported.number,  # judged below, with everything else
            "concerned": concerned,
            "also_in": also_in(packet, concerned, packets),
        }
    )
    counted = _counted(instructions, register, order, revision)
    refuse([*problems, *nonconformity_problems(wanted, quantity=packet.head.quantity, counted=counted)])
    return wanted


def _with_texts(known: Nonconformity, reported: Reported) -> Nonconformity:
    """Return what is known with the texts that are stated."""
    given = {name: getattr(reported, name) for name in ("containment", "cause", "corrective_action")}
    return known.model_copy(update={name: said for name, said in given.items() if said is not None})


def _revision_problems(register: Register, order: str, revision: str) -> Sequence[Problem]:
    released = _released(register, order)
    if revision in released:
        return ()
    message = f"order {order} has no such released revision; there are: {', '.join(released) or 'none'}"
    return (unplaced("revision", revision, message, "name the revision at fault: --revision B"),)


def _released(register: Register, order: str) -> list[str]:
    return [entry.revision for entry in register.of(order) if entry.kind == "release"]


def _counted(instructions: Path, register: Register, order: str, revision: str) -> int:
    files = ((entry, load_file(instructions, entry.path, entry.file_digest)) for entry in register.runs.get(order, ()))
    return parts_counted((read_form(Run, data, entry.path) for entry, data in files if data is not None), revision)
