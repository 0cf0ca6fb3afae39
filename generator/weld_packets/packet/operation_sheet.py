"""One row's whole sheet, in the order in which the setter needs it."""

from __future__ import annotations

from weld_packets.packet.callouts import Messages
from weld_packets.packet.checks import check_of
from weld_packets.packet.events import due_at_first
from weld_packets.packet.faults import fault_lines
from weld_packets.packet.machine_lines import machine_lines
from weld_packets.packet.numbers import sheet_amount
from weld_packets.packet.operation_view import RowView
from weld_packets.packet.operation_warnings import warnings_among
from weld_packets.packet.pair import pair_sheet
from weld_packets.packet.pictures import part_outlines, pictures
from weld_packets.packet.programs import coupon_programs
from weld_packets.packet.records import PartLine, Program, RowSheet
from weld_packets.packet.run import row_checks, row_times, row_uses
from weld_packets.packet.steps.confirm import confirm_steps
from weld_packets.packet.steps.prove import Before, prove_steps
from weld_packets.packet.steps.set_up import set_up_steps
from weld_packets.packet.weld_details import weld_details
from weld_packets.packet.welds import geometry, weld_columns, weld_lines
from weld_packets.planning import OrderPlan


def row_sheet(view: RowView, told: Messages, plan: OrderPlan) -> RowSheet:
    """Return the sheet of a row with the safety messages of its order and the times that are planned for it."""
    row, cell = view.row, view.cell
    times = row_times(plan, view)
    checks = (*(check_of(verdict, view.showing) for verdict in view.result.verdicts), *row_checks(plan, view))
    warnings = warnings_among(view.groups, (*times, *row_uses(plan, view)), checks)
    pair = pair_sheet(plan, view)
    return RowSheet(
        key=view.key,
        number=view.number,
        name=row.name,
        cell=cell.id,
        cell_name=cell.name,
        arms=(view.arms[0].id, view.arms[1].id),
        process=row.process,
        process_name=view.process.partition(" ")[2],
        fixture=row.fixture,
        datum=row.datum,
        parts=_parts(view),
        confirm=confirm_steps(view, told.at("confirm", view.key)),
        programs=_programs(view),
        groups=view.groups,
        pictures=pictures(view),
        weld_columns=weld_columns(view),
        welds=weld_lines(view),
        geometry=geometry(view),
        set_up=set_up_steps(view, told.at("set up", view.key), warnings),
        prove=prove_steps(view, told.at("prove", view.key), Before(due_at_first(plan, view), warnings, pair)),
        faults=fault_lines(view),
        checks=checks,
        callouts=told.of_row[view.key],
        times=times,
        notes=row.notes,
        outlines=part_outlines(view),
        coupon_programs=coupon_programs(view),
        warnings=warnings,
        limits=view.limits,
        machines=machine_lines(view),
        details=weld_details(view.result.settings, view.showing),
        pair=pair,
    )


def _parts(view: RowView) -> tuple[PartLine, ...]:
    return tuple(
        PartLine(
            key=part.id,
            name=part.name,
            material=view.material(part).designation,
            coating=view.material(part).coating,
            thickness=sheet_amount(part.thickness, view.order.show_first),
        )
        for part in view.row.parts
    )


def _programs(view: RowView) -> tuple[Program, ...]:
    numbers = view.row.programs
    return tuple(Program(arm=arm.id, slot=arm.side, number=numbers[arm.id], code=numbers[arm.id]) for arm in view.arms)
