"""What no packet may leave out: filter shades, drawings of signs, and checks that prove a row."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.drawing.signs import SIGNS
from weld_packets.errors import Gathering, OutOfRangeError, Problem, refusal
from weld_packets.model.tables import Hazard
from weld_packets.packet.inspections import inspections_at
from weld_packets.packet.operation_view import RowView
from weld_packets.packet.shades import shade_row

PROVING = ("coupon", "first-off")
"""Stages at which every row must be looked at before the run."""


def check_told(views: Sequence[RowView]) -> None:
    """Refuse a current without a filter shade, a row that nothing proves, and a sign that cannot be drawn.

    Raises OutOfRangeError with all of them.
    """
    gathering = Gathering()
    for view in views:
        with gathering.step():
            shade_row(view)
        for stage in PROVING:
            with gathering.step():
                _proved(view, stage)
    for hazard in views[0].shop.hazards:
        for code in hazard.signs:
            with gathering.step():
                _drawn(hazard, code, views[0])
    gathering.finish(OutOfRangeError)


def _proved(view: RowView, stage: str) -> None:
    if not inspections_at(view, stage):
        raise refusal(
            f"no inspection table has a check at stage {stage} for process {view.process}: nothing proves this row",
            f"add an entry with 'stage: {stage}' for this process, and for the row's quality level",
            key=f"rows[{view.number - 1}].process",
            value=view.row.process,
        )


def _drawn(hazard: Hazard, code: str, view: RowView) -> None:
    if code not in SIGNS:
        where = f"table {view.shop.owner('hazards').table}"
        message = f"hazard {hazard.id} shows sign {code}, which is not drawn here"
        remedy = f"use one of {', '.join(SIGNS)}, or leave the sign out"
        raise OutOfRangeError([Problem(where, 0, f"entries[{hazard.id}].signs", code, message, remedy)])
