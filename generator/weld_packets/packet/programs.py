"""The programs of an order's robots: which weld the part, which weld its coupons and with which weld schedule."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.packet.operation_view import RowView
from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.records import CouponProgram, Packet, RowSheet, SettingGroup, Value
from weld_packets.packet.titles import title_of


def coupon_programs(view: RowView) -> tuple[CouponProgram, ...]:
    """Return the coupon programs of a row, robot by robot, each with its weld schedule and the welds that it proves."""
    return tuple(
        CouponProgram(
            robot=arm.id,
            schedule="" if number is None else str(number),
            program=program,
            welds=_proved(view, arm.id, number),
        )
        for arm in view.arms
        for number, program in view.coupon_programs(arm.id)
    )


def _proved(view: RowView, robot: str, number: int | None) -> str:
    return title_of(each.title for each in view.result.settings if (each.arm, each.set_number) == (robot, number))


def program_uses(packet: Packet) -> tuple[ProgramUse, ...]:
    """Return what a packet uses the programs of its robots for.

    Records from before coupon programs had their weld schedules hold none of those; they are unknown there.
    """
    return tuple(use for row in packet.rows for use in _of_sheet(row))


def row_uses(view: RowView) -> tuple[ProgramUse, ...]:
    """Return the same for one row of an order, without the rest of its packet."""
    return tuple(_in_row(view.number, view.row.programs, coupon_programs(view), view.groups))


def _of_sheet(row: RowSheet) -> Iterator[ProgramUse]:
    programs = {program.arm: program.number for program in row.programs}
    return _in_row(row.number, programs, row.coupon_programs, row.groups)


def _in_row(
    number: int, programs: Mapping[str, str], coupons: Sequence[CouponProgram], groups: Sequence[SettingGroup]
) -> Iterator[ProgramUse]:
    place = f"rows[{number - 1}]"
    for robot, program in programs.items():
        yield ProgramUse(robot, program, f"{place}.programs.{robot}")
    for coupon in coupons:
        inner = f".{coupon.schedule}" if coupon.schedule else ""
        called = [each for each in groups if coupon.robot in each.arms and each.set_number == coupon.schedule]
        yield ProgramUse(
            robot=coupon.robot,
            program=coupon.program,
            place=f"{place}.coupon programs.{coupon.robot}{inner}",
            coupon=True,
            schedule=coupon.schedule,
            settings=_settings(called),
        )


def _settings(groups: Sequence[SettingGroup]) -> dict[str, str]:
    found: dict[str, set[str]] = {}
    for value in (value for group in groups for value in group.dialled):
        found.setdefault(value.key, set()).add(_set(value))
    return {key: " and ".join(sorted(values)) for key, values in found.items()}


def _set(value: Value) -> str:
    if value.amount is None:
        return value.outside
    both = ((value.amount.unit, value.amount.value), (value.amount.second_unit, value.amount.second))
    return " = ".join(f"{number} {unit}" for unit, number in sorted(both) if number)
