"""What no packet may leave out: filter shades, drawings of signs, and checks that prove an operation."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.drawing.signs import SIGNS
from weld_packets.errors import Gathering, OutOfRangeError, Problem, refusal
from weld_packets.model.tables import Hazard
from weld_packets.packet.operation.inspections import inspections_at
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.safety.shades import shade_row

PROVING = ("coupon", "first-off")
"""Stages at which every operation must be looked at before the run."""


def check_complete(views: Sequence[OperationView]) -> None:
    """Refuse a current without a filter shade, an operation that nothing proves, and a sign that cannot be drawn.

    Raises OutOfRangeError with all of them.
    """
    gathering = Gathering()
    for view in views:
        with gathering.step():
            shade_row(view)
        for stage in PROVING:
            with gathering.step():
                _proved(view, stage)
    for hazard in views[0].approved.hazards:
        for code in hazard.signs:
            with gathering.step():
                _drawn(hazard, code, views[0])
    gathering.finish(OutOfRangeError)


def _proved(view: OperationView, stage: str) -> None:
    if not inspections_at(view, stage):
        raise refusal(
            f"no inspection table has a check at stage {stage} for process {view.process}; the operation is not proved",
            f"add an entry with 'stage: {stage}' for this process, and for the operation's quality level",
            key=f"operations[{view.number - 1}].process",
            value=view.operation.process,
        )


def _drawn(hazard: Hazard, code: str, view: OperationView) -> None:
    if code not in SIGNS:
        where = f"table {view.approved.owner('hazards').table}"
        message = f"hazard {hazard.id} shows sign {code}, which is not drawn here"
        remedy = f"use one of {', '.join(SIGNS)}, or leave the sign out"
        raise OutOfRangeError([Problem(where, 0, f"entries[{hazard.id}].signs", code, message, remedy)])
