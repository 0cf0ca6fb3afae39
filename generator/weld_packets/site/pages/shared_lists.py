"""Lists of steps that several cells share, for paper: one list with a box a cell, and what differs named by cell.

Cells of one process follow the same steps at other values. A sheet that says them once is read; five sheets that say
them five times are not. Only lists that agree in every sentence of what is done, in order, are put together.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from weld_packets.grouping import grouped
from weld_packets.packet.records.forms import RequiredResult, Stage
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import CellStart, InspectionLine, Packet
from weld_packets.packet.records.steps import Action, Procedure, Task, TaskStage
from weld_packets.wording.changeover import cell_heading, cell_of_heading
from weld_packets.wording.inspection import inspection_and_what, is_from_memory

_PROVED = ("coupon", "first-off")
"""Stages of inspection that belong to the prove-out and not to the run."""


@dataclass(frozen=True)
class SharedText:
    """One text of all places, or one each: ``by_place`` names places with their text where they differ."""

    text: str
    by_place: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class SharedTask:
    """One task of all places: ``first`` is that of the first of them, and each of its texts may differ by place."""

    first: Task | Action
    value: SharedText
    see: SharedText
    notes: SharedText
    callouts: tuple[str, ...]


@dataclass(frozen=True)
class SharedStage:
    """A stage of all places: ``first`` is that of the first of them."""

    first: TaskStage
    callouts: tuple[str, ...]
    tasks: tuple[SharedTask, ...]


@dataclass(frozen=True)
class SharedList:
    """A list that the cells ``places`` share, each with its title; a list of no cell has one empty place."""

    places: tuple[str, ...]
    titles: tuple[str, ...]
    stages: tuple[SharedStage, ...]


@dataclass(frozen=True)
class _Placed:
    place: str
    title: str
    stages: tuple[TaskStage, ...]


@dataclass(frozen=True)
class SharedProcedure:
    """Procedures with the same steps: their titles, and where and when each is called for."""

    titles: tuple[str, ...]
    where: tuple[str, ...]
    when: SharedText
    steps: tuple[SharedTask, ...]


@dataclass(frozen=True)
class SharedInspection:
    """An inspection of the run that several operations share, with what each of them accepts."""

    first: InspectionLine
    operations: tuple[str, ...]
    accept: SharedText

    @property
    def is_from_memory(self) -> bool:
        """Whether what it accepts was written from memory."""
        return is_from_memory(self.first.source)


def shared_inspections(packet: Packet) -> tuple[SharedInspection, ...]:
    """Return the inspections during and at the end of the run, once for all operations that share them."""
    found = grouped(
        ((line.stage, line.what, line.how, line.every, line.sample, line.source), line)
        for line in packet.inspections
        if line.stage not in _PROVED
    )
    shared = []
    for same in found.values():
        names = tuple(line.operation_name for line in same)
        shared.append(SharedInspection(same[0], names, _text(names, [line.accept for line in same])))
    return tuple(shared)


def steps_beside_inspections(packet: Packet) -> tuple[Action, ...]:
    """Return the steps during the run without those that only say when an inspection of the run is made, and how."""
    inspected = {line.how for line in packet.inspections if line.stage not in _PROVED}
    return tuple(step for step in packet.run_steps if step.see not in inspected)


def shared_starts(packet: Packet) -> tuple[SharedList, ...]:
    """Return the lists that start the cells of ``packet``, once for all cells that share their steps.

    Each cell is started by itself, so that cells which are not neighbours may share a list.
    """
    operations = {operation.key: operation for operation in packet.operations}
    placed = (_started(operations[start.operation], start) for start in packet.starts)
    return tuple(_shared_list(same) for same in grouped((_same_steps(each), each) for each in placed).values())


def _started(operation: OperationSheet, start: CellStart) -> _Placed:
    return _Placed(operation.cell, cell_heading(operation.cell, [operation.name]), start.stages)


def shared_changeover(packet: Packet) -> tuple[SharedList, ...]:
    """Return the steps of the changeover in their order, once for neighbouring cells that share them."""
    stages = packet.changeover.stages if packet.changeover else ()
    cells = [
        _Placed(cell_of_heading(place), place, tuple(each))
        for place, each in groupby(stages, key=lambda stage: stage.place)
    ]
    return tuple(_shared_list(list(same)) for _, same in groupby(cells, key=_same_steps))


def shared_procedures(procedures: Iterable[Procedure]) -> tuple[SharedProcedure, ...]:
    """Return ``procedures`` in their order, those with the same steps put together."""
    found = grouped((tuple(_same_step(step) for step in each.steps), each) for each in procedures)
    return tuple(_procedure(same) for same in found.values())


def _shared_list(same: Sequence[_Placed]) -> SharedList:
    places = tuple(placed.place for placed in same)
    stages = zip(*(placed.stages for placed in same), strict=True)
    return SharedList(places, tuple(placed.title for placed in same), tuple(_stage(places, each) for each in stages))


def _same_steps(placed: _Placed) -> Hashable:
    return tuple(_same_stage(stage) for stage in placed.stages)


def _same_stage(stage: TaskStage) -> Hashable:
    tasks = tuple((task.do, task.hold, task.enter, task.lead) for task in stage.tasks)
    return (stage.title, stage.mode, stage.gate, stage.lock, stage.has_key, tasks)


def _same_step(step: Action) -> Hashable:
    return (step.do, step.hold, step.stage, step.lead)


def _stage(places: Sequence[str], stages: Sequence[TaskStage]) -> SharedStage:
    tasks = zip(*(stage.tasks for stage in stages), strict=True)
    return SharedStage(
        stages[0], _all(stage.callouts for stage in stages), tuple(_task(places, each) for each in tasks)
    )


def _task(places: Sequence[str], tasks: Sequence[Task]) -> SharedTask:
    return SharedTask(
        tasks[0],
        _text(places, [task.value for task in tasks]),
        _text(places, [task.see for task in tasks]),
        _text(places, [" ".join(task.notes) for task in tasks]),
        _all(task.callouts for task in tasks),
    )


def _procedure(same: Sequence[Procedure]) -> SharedProcedure:
    where = tuple(procedure.where for procedure in same)
    return SharedProcedure(
        tuple(dict.fromkeys(procedure.title for procedure in same)),
        where,
        _text(where, [procedure.when for procedure in same]),
        tuple(
            SharedTask(
                steps[0],
                _text(where, [step.value for step in steps]),
                _text(where, [step.see for step in steps]),
                SharedText(""),
                _all(step.callouts for step in steps),
            )
            for steps in zip(*(procedure.steps for procedure in same), strict=True)
        ),
    )


def _text(places: Sequence[str], texts: Sequence[str]) -> SharedText:
    """Return the text once where all agree; else by place, those that agree together and none that is empty."""
    if len(set(texts)) == 1:
        return SharedText(texts[0])
    found = grouped(zip(texts, places, strict=True))
    return SharedText("", tuple((", ".join(same), text) for text, same in found.items() if text))


def _all(keys: Iterable[Iterable[str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(key for each in keys for key in each))


# ---------------------------------------------------------------- results with one limit


@dataclass(frozen=True)
class ResultLine:
    """All results with one limit: each has its own place in the form."""

    results: tuple[RequiredResult, ...]

    @property
    def first(self) -> RequiredResult:
        """The first of them; limit, unit, welds and source of all are equal."""
        return self.results[0]

    @property
    def title(self) -> str:
        """The inspection that it belongs to; empty for a result that is one by itself."""
        return inspection_and_what(self.first.what)[0]

    @property
    def what(self) -> str:
        """What is measured or judged, without the inspection."""
        return inspection_and_what(self.first.what)[1]

    @property
    def is_from_memory(self) -> bool:
        """Whether the limit was written from memory, which a form must not hide."""
        return is_from_memory(self.first.source)

    def at(self, stage: Stage) -> tuple[RequiredResult, ...]:
        """Return the results that have a place at ``stage``."""
        return tuple(result for result in self.results if result.stage == stage)


def judged_by_eye(results: Sequence[RequiredResult]) -> dict[str, tuple[str, ...]]:
    """Return the keys of the results that one look at a part judges by eye, by the key of the last of them.

    They are those of a check and of what lies under its key.
    """
    by_eye = [each for each in results if not each.unit and not each.choices]
    found: dict[str, tuple[str, ...]] = {}
    for check in by_eye:
        under = [each for each in by_eye if each.key.startswith(f"{check.key}/")]
        if under:
            found[under[-1].key] = tuple(each.key for each in (check, *under))
    return found


def result_lines(results: Iterable[RequiredResult]) -> tuple[ResultLine, ...]:
    """Return the lines of a form for ``results``, in the order in which each limit comes first."""
    found = grouped((each.model_copy(update={"key": "", "robot": "", "stage": "coupon"}), each) for each in results)
    return tuple(ResultLine(tuple(same)) for same in found.values())
