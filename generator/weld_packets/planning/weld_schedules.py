"""The numbers under which welding controls keep settings: over a whole order, one number of a robot holds one set."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.errors import Gathering, refusal
from weld_packets.model.order import ArcOperation, SpotOperation
from weld_packets.units import as_written

_BESIDE = frozenset({"travel_speed", "gas_flow", "contact_distance", "work_angle", "travel_angle"})
"""What an arc operation sets elsewhere than on the welding control: in the program, at the flowmeter, at the torch."""


def check_set_numbers(results: Sequence[OperationResult], gathering: Gathering) -> None:
    """Tell ``gathering`` of every weld schedule that a robot would need for two different sets of values.

    Also of welds without a number on a robot whose other welds in the operation have one.
    """
    held: dict[tuple[str, int], WeldSettings] = {}
    for number, result in enumerate(results):
        numbered = {each.robot for each in result.settings if each.weld_schedule is not None}
        for settings, place in _placed(result):
            with gathering.step(key=f"operations[{number}].{place}.weld schedule"):
                _check_numbered(settings, numbered)
                if settings.weld_schedule is not None:
                    _check_same(held.setdefault((settings.robot, settings.weld_schedule), settings), settings)


def check_coupon_programs(results: Sequence[OperationResult], gathering: Gathering) -> None:
    """Tell ``gathering`` of every coupon program that would prove welds without a number that are set differently.

    Where welds have numbers, ``check_set_numbers`` holds the settings under each together.
    """
    proved: dict[tuple[str, str], WeldSettings] = {}
    for number, result in enumerate(results):
        for robot in result.operation.robots:
            for program in (
                program for called, program in result.operation.coupon_programs_of(robot) if called is None
            ):
                with gathering.step(key=f"operations[{number}].coupon programs.{robot}"):
                    for settings in (each for each in result.settings if each.robot == robot):
                        _check_proved(proved.setdefault((robot, program), settings), settings, program)


def _check_proved(first: WeldSettings, other: WeldSettings, program: str) -> None:
    differing = _differing(first, other)
    if differing:
        raise refusal(
            f"one coupon cannot prove two settings: {differing}",
            f"give the welds of {other.robot} weld schedules, and each weld schedule a coupon program",
            value=program,
        )


def _placed(result: OperationResult) -> Iterator[tuple[WeldSettings, str]]:
    """Yield the settings of an operation, each with the place where the order gives its number."""
    places = _places(result.operation)
    for settings in result.settings:
        yield settings, places[settings.welds[0]]


def _places(operation: ArcOperation | SpotOperation) -> dict[str, str]:
    if isinstance(operation, ArcOperation):
        return {seam.id: f"seams[{index}]" for index, seam in enumerate(operation.seams)}
    stacks = {stack.id: f"stacks[{index}]" for index, stack in enumerate(operation.stacks)}
    return {spot.id: stacks[spot.stack] for spot in operation.spots}


def _check_numbered(settings: WeldSettings, numbered: Collection[str]) -> None:
    if settings.weld_schedule is None and settings.robot in numbered:
        raise refusal(
            f"{settings.welds[0]} has no weld schedule, and other welds of {settings.robot} have one",
            "number the welds of a robot all or none",
        )


def _check_same(first: WeldSettings, other: WeldSettings) -> None:
    differing = _differing(first, other)
    if differing:
        raise refusal(
            f"set {other.weld_schedule} of {other.robot} would hold two settings: {differing}",
            "give welds that are set differently numbers of their own",
            value=str(other.weld_schedule),
        )


def _differing(first: WeldSettings, other: WeldSettings) -> str:
    """Return the first setting that the control would have to keep twice, with both values; empty for none."""
    one, two = _held(first), _held(other)
    label = next((label for label in {**one, **two} if one.get(label) != two.get(label)), None)
    if label is None:
        return ""
    was, now = one.get(label, "none"), two.get(label, "none")
    return f"{label.lower()} {was} for {first.welds[0]} and {now} for {other.welds[0]}"


def _held(settings: WeldSettings) -> dict[str, str]:
    """Return what the welding control keeps under the number."""
    dialled = (figure for figure in settings.dialled if figure.key not in _BESIDE)
    return {figure.label: as_written(figure.value) for figure in dialled if figure.value is not None}
