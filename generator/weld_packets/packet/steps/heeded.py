"""Warnings that must be acted on, as steps of the stage at which that is done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.model.trade import WarningStage
from weld_packets.packet.records import OperationWarning
from weld_packets.processes.cell.drafts import Draft
from weld_packets.wording.english import joined


def heeded(warnings: Iterable[OperationWarning], stage: WarningStage) -> Iterator[Draft]:
    """Yield what some warnings ask for at a stage, with what each is about."""
    for warning in warnings:
        if warning.do and warning.stage == stage:
            yield Draft(warning.do, see=joined((warning.sentence, warning.place), " "))
