"""The inspection plan of each row."""

from __future__ import annotations

from collections.abc import Iterable

from weld_packets.model.tables import Inspection
from weld_packets.packet.acceptance import figures_of
from weld_packets.packet.operation_view import OperationView
from weld_packets.packet.records import InspectionLine
from weld_packets.packet.wording import joined
from weld_packets.planning.running import applies

STAGES = ("coupon", "first-off", "in process", "last-off")


def inspections_of(view: OperationView) -> tuple[Inspection, ...]:
    """Return the checks for the operation's process, level and joints, in the order of the stages."""
    holding = (check for check in view.approved.inspections if applies(check, view.operation))
    return tuple(sorted(holding, key=lambda check: STAGES.index(check.stage)))


def inspections_at(view: OperationView, stage: str) -> tuple[Inspection, ...]:
    """Return the checks of one stage."""
    return tuple(check for check in inspections_of(view) if check.stage == stage)


def inspection_lines(views: Iterable[OperationView]) -> tuple[InspectionLine, ...]:
    """Return the plan of all operations; what is accepted carries the figures of the settings."""
    return tuple(_line(view, check) for view in views for check in inspections_of(view))


def _line(view: OperationView, check: Inspection) -> InspectionLine:
    return InspectionLine(
        operation=view.key,
        operation_name=view.operation.name,
        stage=check.stage,
        what=check.what,
        how=check.how,
        accept=joined((check.accept, *figures_of(check, view.groups))),
        every=check.every,
        source=check.source,
        limits=view.limit_lines(check.limits),
    )
