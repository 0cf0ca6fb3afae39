"""One operation's whole sheet, in the order in which the setter needs it."""

from __future__ import annotations

from weld_packets.calculation.qualification.people import holders, needed_for
from weld_packets.model.tables.people import PersonQualification
from weld_packets.packet.operation.card import setters_card
from weld_packets.packet.operation.faults import fault_lines
from weld_packets.packet.operation.pair import pair_sheet
from weld_packets.packet.operation.procedure import procedure_sheet
from weld_packets.packet.operation.qualification import qualification
from weld_packets.packet.operation.results import required_results, size_lines, supply_counters
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import component_outlines, geometry, weld_columns, weld_lines
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records.operation import NOT_STATED, Holder, MachineLine, OperationSheet, People, Program
from weld_packets.packet.records.settings import ComponentLine
from weld_packets.packet.run.events import due_at_first, due_soon
from weld_packets.packet.run.run import operation_checks, operation_times, warned_consumables
from weld_packets.packet.safety.messages import Messages
from weld_packets.packet.settings.checks import warnings_among
from weld_packets.packet.settings.details import weld_details
from weld_packets.packet.settings.values import check_of
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import SET_UP, Before, prove_drafts
from weld_packets.packet.steps.set_up import confirm_drafts, operation_set_up, set_up_steps
from weld_packets.packet.steps.stages import stages
from weld_packets.planning.records import OrderPlan
from weld_packets.processes.cell.state import AS_FOUND
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.qualification import PEOPLE_STANDARD, needs_words, test_words


def operation_sheet(
    view: OperationView, safety: Messages, plan: OrderPlan, last: OperationView | None = None
) -> OperationSheet:
    """Return the sheet of an operation with the safety messages of its order and the times that are planned for it.

    ``last`` is the operation that the order has before it in its cell.
    """
    operation, cell = view.operation, view.cell
    times = operation_times(plan, view)
    checks = (*(check_of(verdict, view.showing) for verdict in view.result.verdicts), *operation_checks(plan, view))
    warnings = warnings_among(view.groups, (*times, *warned_consumables(plan, view)), checks)
    pair = pair_sheet(plan, view)
    details, qualified = weld_details(view.result.settings, view.showing), qualification(view)
    confirming, setting_up = tuple(confirm_drafts(view)), tuple(operation_set_up(view, warnings, last))
    proving = tuple(prove_drafts(view, Before(due_at_first(plan, view), warnings, pair)))
    confirm = printed_steps(confirming, safety.at("confirm", view.key), AS_FOUND)
    set_up = set_up_steps(setting_up, safety.at("set up", view.key), last)
    prove = printed_steps(proving, safety.at("prove", view.key), SET_UP)
    return OperationSheet(
        key=view.key,
        number=view.number,
        name=operation.name,
        cell=cell.id,
        cell_name=cell.name,
        robots=(view.robots[0].id, view.robots[1].id),
        process=operation.process,
        process_name=view.process_name,
        fixture=operation.fixture,
        datum=operation.datum,
        components=_components(view),
        confirm=confirm,
        programs=_programs(view),
        groups=view.groups,
        weld_columns=weld_columns(view),
        welds=weld_lines(view),
        geometry=geometry(view),
        set_up=set_up,
        prove=prove,
        faults=fault_lines(view),
        checks=checks,
        callouts=safety.of_operation[view.key],
        times=times,
        notes=operation.notes,
        outlines=component_outlines(view),
        coupon_programs=coupon_programs(view),
        warnings=warnings,
        limits=view.limits,
        machines=machine_lines(view),
        details=details,
        pair=pair,
        results=required_results(view),
        set_up_stages=stages("set-up", (*confirming, *setting_up), (*confirm, *set_up), safety.callouts, AS_FOUND),
        prove_stages=stages("prove-out", proving, prove, safety.callouts, SET_UP),
        card=setters_card(view, safety.of(view.key)),
        counters=supply_counters(plan, view),
        qualification=qualified,
        procedure=procedure_sheet(view, details, qualified),
        sizes=size_lines(view),
        due_soon=due_soon(plan, view),
        people=people(view),
    )


def _components(view: OperationView) -> tuple[ComponentLine, ...]:
    return tuple(
        ComponentLine(
            key=component.id,
            name=component.name,
            material=view.material(component).designation,
            coating=view.material(component).coating,
            thickness=sheet_amount(component.thickness, view.order.show_first),
        )
        for component in view.operation.components
    )


def _programs(view: OperationView) -> tuple[Program, ...]:
    numbers = view.operation.programs
    return tuple(
        Program(robot=robot.id, side=robot.side, number=numbers[robot.id], code=numbers[robot.id])
        for robot in view.robots
    )


def machine_lines(view: OperationView) -> tuple[MachineLine, ...]:
    """Return what is stated of both machines, such as drive and stepper of guns; nothing where nothing is stated."""
    return tuple(
        MachineLine(name=name, values=(first or NOT_STATED, second or NOT_STATED), source=source)
        for name, (first, second), source in view.family.machine_lines(view)
    )


# ---------------------------------------------------------------- people


def people(view: OperationView) -> People:
    """Return what an operation needs of its people, and who holds it by the plant's table."""
    needed, table = needed_for(view.result), view.approved.people
    if table is None:
        return People(needs=needs_words(needed, PEOPLE_STANDARD), kept=False)
    standard = f"{table.standard}:{table.edition}"
    return People(
        needs=needs_words(needed, standard),
        kept=True,
        holders=tuple(_holder(entry) for entry in holders(needed, table)),
        source=f"table {table.table}, revision {table.revision}",
    )


def _holder(entry: PersonQualification) -> Holder:
    return Holder(
        number=entry.id,
        duties=entry.duties,
        tested=entry.tested.isoformat(),
        valid_until=entry.valid_until.isoformat(),
        confirmed=entry.confirmed.isoformat() if entry.confirmed else "",
        document=entry.document,
        welded=test_words(entry),
    )
