"""The programs of an order's robots: which weld the part, which weld its coupons and with which weld schedule."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from hashlib import sha256

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.operation.welds import geometry
from weld_packets.packet.program_use import ProgramUse
from weld_packets.packet.records.operation import CouponProgram, OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import SettingGroup, WeldGeometry
from weld_packets.packet.records.values import Value
from weld_packets.wording.titles import title_of


def coupon_programs(view: OperationView) -> tuple[CouponProgram, ...]:
    """Return the coupon programs of an operation, robot by robot, with weld schedules and the welds they prove."""
    return tuple(
        CouponProgram(
            robot=robot.id,
            weld_schedule="" if number is None else str(number),
            program=program,
            welds=_proved(view, robot.id, number),
        )
        for robot in view.robots
        for number, program in view.coupon_programs(robot.id)
    )


def _proved(view: OperationView, robot: str, number: int | None) -> str:
    return title_of(each.kind for each in view.result.settings if (each.robot, each.weld_schedule) == (robot, number))


def program_uses(packet: Packet) -> tuple[ProgramUse, ...]:
    """Return what a packet uses the programs of its robots for.

    Records from before coupon programs had their weld schedules hold none of those; they are unknown there.
    """
    return tuple(use for operation in packet.operations for use in _of_sheet(operation))


def used_by_revision(packet: Packet, revision: str, days: tuple[str, str]) -> Iterator[ProgramUse]:
    """Yield the same of a released revision that is in force, or will be, on ``days``."""
    return (replace(use, revision=revision, days=days) for use in program_uses(packet))


def operation_uses(view: OperationView) -> tuple[ProgramUse, ...]:
    """Return the same for one operation of an order, without the rest of its packet."""
    coupons = _coupon_uses(view.number, coupon_programs(view), view.groups)
    return (*part_uses(view), *coupons)


def part_uses(view: OperationView) -> tuple[ProgramUse, ...]:
    """Return what the programs that weld the part are used for; nothing that is computed is asked of the view."""
    return tuple(_part_uses(view.number, view.operation.programs, geometry(view)))


def _of_sheet(operation: OperationSheet) -> Iterator[ProgramUse]:
    programs = {program.robot: program.number for program in operation.programs}
    yield from _part_uses(operation.number, programs, operation.geometry)
    yield from _coupon_uses(operation.number, operation.coupon_programs, operation.groups)


def _part_uses(number: int, programs: Mapping[str, str], welds: Sequence[WeldGeometry]) -> Iterator[ProgramUse]:
    for robot, program in programs.items():
        own = [weld for weld in welds if weld.robot == robot]
        place = f"operations[{number - 1}].programs.{robot}"
        yield ProgramUse(robot, program, place, welds=len(own), places=_places(own))


def _places(welds: Iterable[WeldGeometry]) -> str:
    """Return a digest of the places of some welds to a tenth of a millimetre: an order in inches has rounded ones."""
    lines = (" ".join((weld.form, *(_tenth(number) for piece in weld.pieces for number in piece))) for weld in welds)
    return sha256("\n".join(lines).encode()).hexdigest()[:_DIGITS]


def _tenth(number: str) -> str:
    return str(Decimal(number).quantize(_TENTH) + 0)  # no minus before a zero


_TENTH = Decimal("0.1")
_DIGITS = 16


def _coupon_uses(number: int, coupons: Sequence[CouponProgram], groups: Sequence[SettingGroup]) -> Iterator[ProgramUse]:
    place = f"operations[{number - 1}]"
    for coupon in coupons:
        inner = f".{coupon.weld_schedule}" if coupon.weld_schedule else ""
        called = [each for each in groups if coupon.robot in each.robots and each.weld_schedule == coupon.weld_schedule]
        yield ProgramUse(
            robot=coupon.robot,
            program=coupon.program,
            place=f"{place}.coupon programs.{coupon.robot}{inner}",
            coupon=True,
            weld_schedule=coupon.weld_schedule,
            settings=_settings(called),
        )


def _settings(groups: Sequence[SettingGroup]) -> dict[str, str]:
    found: dict[str, set[str]] = {}
    for value in (value for group in groups for value in group.dialled):
        found.setdefault(value.key, set()).add(_set(value))
    return {key: " and ".join(sorted(values)) for key, values in found.items()}


def _set(value: Value) -> str:
    return value.outside if value.amount is None else value.amount.in_both
