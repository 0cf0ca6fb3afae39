"""What the record of a run can hold, from the packet alone: the lists that start the cells, and what falls due."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256

from weld_packets.packet.asked import task_digest
from weld_packets.packet.records import CellStart, Packet, RunEvent, RunRule
from weld_packets.packet.records.asked import AskedEvent, AskedRule, AskedRun, AskedStart, AskedTick
from weld_packets.packet.steps.stages import behind
from weld_packets.wording.english import inside

_KEY_LENGTH = 12


def asked_of_run(packet: Packet) -> AskedRun:
    """Return the start lists and what falls due by part count."""
    return AskedRun(
        quantity=packet.head.quantity,
        starts=tuple(_start(packet, number, start) for number, start in enumerate(packet.starts, 1)),
        events=tuple(asked for _, asked in _events(packet)),
        rules=tuple(asked for _, asked in _rules(packet)),
    )


def _start(packet: Packet, number: int, start: CellStart) -> AskedStart:
    operation = next(each for each in packet.operations if each.key == start.operation)
    ticks = (
        AskedTick(key=task.key, digest=task_digest(task, behind(task, start.steps)))
        for stage in start.stages
        for task in stage.tasks
    )
    return AskedStart(list=f"start-{number}", operation=operation.number, cell=operation.cell, ticks=tuple(ticks))


def due_of_run(packet: Packet) -> dict[str, RunEvent | RunRule]:
    """Return what each key of an event of a run means."""
    events = {asked.key: event for event, asked in _events(packet)}
    return events | {asked.key: rule for rule, asked in _rules(packet)}


def _events(packet: Packet) -> Iterator[tuple[RunEvent, AskedEvent]]:
    for event in packet.run.events:
        if event.part_number:  # what is due before the first part is done in the prove-out
            robot = f", {event.robot}" if event.robot else ""
            what = f"{event.operation_name}{robot}: {inside(event.what)}"
            key = _key(what, event.part_number)
            yield event, AskedEvent(key=key, cell=event.cell, at=event.part_number, when=event.when, what=what)


def _rules(packet: Packet) -> Iterator[tuple[RunRule, AskedRule]]:
    for rule in packet.run.rules:
        what = f"{rule.operation_name}, {rule.what}"
        turns = tuple(turn for turn in rule.turns if turn)
        yield rule, AskedRule(key=_key(what), cell=rule.cell, what=what, every=rule.every, turns=turns)


def _key(*parts: object) -> str:
    return sha256("\n".join(map(str, parts)).encode()).hexdigest()[:_KEY_LENGTH]
