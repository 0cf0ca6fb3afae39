"""The weld schedules of welding controls: over a whole order, one number of a robot holds one setting of each value."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from weld_packets.calculation.results import OperationResult, WeldSettings, of_robot
from weld_packets.errors import Gathering, refusal
from weld_packets.processes.family import family_of
from weld_packets.units import as_written


def check_weld_schedules(results: Sequence[OperationResult], gathering: Gathering) -> None:
    """Report to ``gathering`` every weld schedule that a robot would need for two different settings.

    Also of welds without a number on a robot whose other welds in the operation have one.
    """
    held: dict[tuple[str, int], WeldSettings] = {}
    for number, result in enumerate(results):
        numbered = {each.robot for each in result.settings if each.weld_schedule is not None}
        for settings, place in _placed(result):
            with gathering.step(key=f"operations[{number}].{place}.weld schedule"):
                _check_numbered(settings, numbered)
                if settings.weld_schedule is not None:
                    first = held.setdefault((settings.robot, settings.weld_schedule), settings)
                    _check_same(first, settings, _elsewhere(result))


def check_coupon_programs(results: Sequence[OperationResult], gathering: Gathering) -> None:
    """Report to ``gathering`` every coupon program that would prove welds without a number that are set differently.

    Where welds have numbers, ``check_weld_schedules`` holds the settings under each together.
    """
    proved: dict[tuple[str, str], WeldSettings] = {}
    for number, result in enumerate(results):
        for robot, program in _without_number(result):
            with gathering.step(key=f"operations[{number}].coupon programs.{robot}"):
                for settings in of_robot(result, robot):
                    first = proved.setdefault((robot, program), settings)
                    _check_proved(first, settings, program, _elsewhere(result))


def _without_number(result: OperationResult) -> Iterator[tuple[str, str]]:
    """Yield robot and program of each coupon program that welds without a number."""
    operation = result.operation
    for robot in operation.robots:
        yield from ((robot, program) for called, program in operation.coupon_programs_of(robot) if called is None)


def _elsewhere(result: OperationResult) -> frozenset[str]:
    """Return the figures that are set elsewhere than on the welding control: in the program, at the tool."""
    return family_of(result.operation.process).elsewhere


def _check_proved(first: WeldSettings, other: WeldSettings, program: str, elsewhere: frozenset[str]) -> None:
    differing = _differing(first, other, elsewhere)
    if differing:
        raise refusal(
            f"one coupon cannot prove two settings: {differing}",
            f"give the welds of {other.robot} weld schedules, and each weld schedule a coupon program",
            value=program,
        )


def _placed(result: OperationResult) -> Iterator[tuple[WeldSettings, str]]:
    """Yield the settings of an operation, each with the place where the order gives its number."""
    welds = family_of(result.operation.process).welds(result.operation)
    places = {weld.id: weld.numbered_at for weld in welds}
    for settings in result.settings:
        yield settings, places[settings.welds[0]]


def _check_numbered(settings: WeldSettings, numbered: Collection[str]) -> None:
    if settings.weld_schedule is None and settings.robot in numbered:
        raise refusal(
            f"{settings.welds[0]} has no weld schedule, and other welds of {settings.robot} have one",
            "number the welds of a robot all or none",
        )


def _check_same(first: WeldSettings, other: WeldSettings, elsewhere: frozenset[str]) -> None:
    differing = _differing(first, other, elsewhere)
    if differing:
        raise refusal(
            f"weld schedule {other.weld_schedule} of {other.robot} would hold two settings: {differing}",
            "give welds that are set differently numbers of their own",
            value=str(other.weld_schedule),
        )


def _differing(first: WeldSettings, other: WeldSettings, elsewhere: frozenset[str]) -> str:
    """Return the first setting that the control would have to keep twice, with both values; empty for none."""
    one, two = _held(first, elsewhere), _held(other, elsewhere)
    label = next((label for label in {**one, **two} if one.get(label) != two.get(label)), None)
    if label is None:
        return ""
    was, now = one.get(label, "none"), two.get(label, "none")
    return f"{label.lower()} {was} for {first.welds[0]} and {now} for {other.welds[0]}"


def _held(settings: WeldSettings, elsewhere: frozenset[str]) -> dict[str, str]:
    """Return what the welding control keeps under the number."""
    dialled = (figure for figure in settings.dialled if figure.key not in elsewhere)
    return {figure.label: as_written(figure.value) for figure in dialled if figure.value is not None}
