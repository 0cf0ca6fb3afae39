"""The whole packet of an order, from computed operations and plan."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Rounded
from weld_packets.drawing.signs import SIGNS
from weld_packets.errors import Gathering, OutOfRangeError, Problem, refusal
from weld_packets.model.order import Order
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.safety import Hazard
from weld_packets.packet.changeover.sheet import Previous, changeover
from weld_packets.packet.citations import formulas_used, tables_used, trace_points
from weld_packets.packet.operation.inspections import LIMIT_KEYS, inspection_lines, inspections_at
from weld_packets.packet.operation.sheet import operation_sheet
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import OrderHead, Packet
from weld_packets.packet.run.run import run_plan
from weld_packets.packet.safety.conditions import shade_row
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.run.run import run_lists
from weld_packets.packet.steps.run.start import cell_start
from weld_packets.planning.records import OrderPlan
from weld_packets.processes.family import family_of
from weld_packets.units import exact, plain
from weld_packets.wording.phrases import call_words, risk_assessment_words

PROVING = ("coupon", "first-off")
"""Stages at which every operation must be looked at before the run."""


@dataclass(frozen=True)
class Earlier:
    """The order that ran before: as its sources have it, and its last released packet with its revision."""

    order: Order
    results: tuple[OperationResult, ...]
    released: tuple[str, Packet] | None = None


def build_packet(slug: str, views: tuple[OperationView, ...], plan: OrderPlan, previous: Earlier | None) -> Packet:
    """Return the packet of an order without its pictures; ``previous`` is the order that ran before.

    Raises OutOfRangeError with everything that no page may leave out: see ``check_complete``.
    """
    order, approved = views[0].order, views[0].approved
    check_complete(views)
    safety = messages(views)
    run = run_plan(plan, views)
    watching, lists = run_lists(views, run.first_due, safety.at("run"))
    return Packet(
        head=_head(slug, order, approved),
        operations=tuple(operation_sheet(view, safety, plan, _last(view, views)) for view in views),
        changeover=None if previous is None else changeover(views, _previous(previous, approved), safety),
        callouts=safety.callouts,
        cautions=approved.plant.cautions,
        start=(),
        run=run,
        run_steps=watching,
        inspections=inspection_lines(views),
        tables=tables_used(views, run, safety),
        formulas=formulas_used(trace_points(views, run)),
        starts=tuple(cell_start(view, safety.at("start", view.key)) for view in views),
        procedures=lists,
        stop_if=approved.plant.stop_when,
        emergency_if=approved.plant.emergency_stop_when,
    )


def _last(view: OperationView, views: Sequence[OperationView]) -> OperationView | None:
    """Return the operation that the order has before another one in its cell, if any."""
    before = (each for each in reversed(views[: view.number - 1]) if each.cell.id == view.cell.id)
    return next(before, None)


def operation_views(
    order: Order, results: tuple[OperationResult, ...], approved: ApprovedTables
) -> tuple[OperationView, ...]:
    """Return the operations of an order with everything looked up, numbered from 1."""
    return tuple(OperationView(number, order, result, approved) for number, result in enumerate(results, 1))


def _previous(earlier: Earlier, approved: ApprovedTables) -> Previous:
    """Return the order that ran before, with what was dialled and accepted, but not where that came from.

    Of how a limit was rounded its last step stays: each unit rounds once, from the number before that.
    """
    results = tuple(_as_run(result) for result in earlier.results)
    return Previous(earlier.order, operation_views(earlier.order, results, approved), earlier.released)


def _as_run(result: OperationResult) -> OperationResult:
    kept = {*LIMIT_KEYS, *family_of(result.operation.process).shown_at_welding}
    return replace(result, settings=tuple(_untraced(each, kept) for each in result.settings))


def _untraced(settings: WeldSettings, kept: Collection[str]) -> WeldSettings:
    dialled = tuple(replace(figure, trace=()) for figure in settings.dialled)
    derived = tuple(
        replace(figure, trace=tuple(step for step in figure.trace[-1:] if isinstance(step, Rounded)))
        for figure in settings.derived
        if figure.key in kept
    )
    return replace(settings, dialled=dialled, derived=derived, verdicts=())


def _head(slug: str, order: Order, approved: ApprovedTables) -> OrderHead:
    return OrderHead(
        slug=slug,
        number=order.order,
        title=order.title,
        part_number=order.part.number,
        part_name=order.part.name,
        quantity=order.quantity,
        due=order.due.isoformat(),
        revision_intent=order.revision_intent,
        previous_order=order.previous_order or "",
        plant=approved.plant.name,
        show_first=order.show_first,
        supervisor=call_words(approved.plant.supervisor),
        shift_hours="" if approved.plant.shift_length is None else plain(exact(approved.plant.shift_length, "h")),
        time_zone=approved.plant.time_zone or "",
        copy_days=str(approved.plant.copies_good_for_days or ""),
        risk_assessment=risk_assessment_words(approved.plant.risk_assessment),
    )


# ---------------------------------------------------------------- what no packet may leave out


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
