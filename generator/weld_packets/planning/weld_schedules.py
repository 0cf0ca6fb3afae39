"""The numbers under which welding controls keep settings: over a whole order, one number of an arm holds one set."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from weld_packets.calculation.measure import as_written
from weld_packets.calculation.results import RowResult, WeldSettings
from weld_packets.errors import Gathering, refusal
from weld_packets.model.order import ArcRow, SpotRow

_BESIDE = frozenset({"travel_speed", "gas_flow", "contact_distance", "work_angle", "travel_angle"})
"""What an arc row sets elsewhere than on the welding control: in the program, at the flowmeter, at the torch."""


def check_set_numbers(results: Sequence[RowResult], gathering: Gathering) -> None:
    """Tell ``gathering`` of every set number that an arm would need for two different sets of values.

    Also of welds without a number on an arm whose other welds in the row have one.
    """
    held: dict[tuple[str, int], WeldSettings] = {}
    for number, result in enumerate(results):
        numbered = {each.arm for each in result.settings if each.set_number is not None}
        for settings, place in _placed(result):
            with gathering.step(key=f"rows[{number}].{place}.set number"):
                _check_numbered(settings, numbered)
                if settings.set_number is not None:
                    _check_same(held.setdefault((settings.arm, settings.set_number), settings), settings)


def check_coupon_programs(results: Sequence[RowResult], gathering: Gathering) -> None:
    """Tell ``gathering`` of every coupon program that would prove welds without a number that are set differently.

    Where welds have numbers, ``check_set_numbers`` holds the settings under each together.
    """
    proved: dict[tuple[str, str], WeldSettings] = {}
    for number, result in enumerate(results):
        for robot in result.row.arms:
            for program in (program for called, program in result.row.coupon_programs_of(robot) if called is None):
                with gathering.step(key=f"rows[{number}].coupon programs.{robot}"):
                    for settings in (each for each in result.settings if each.arm == robot):
                        _check_proved(proved.setdefault((robot, program), settings), settings, program)


def _check_proved(first: WeldSettings, other: WeldSettings, program: str) -> None:
    differing = _differing(first, other)
    if differing:
        raise refusal(
            f"one coupon cannot prove two settings: {differing}",
            f"give the welds of {other.arm} set numbers, and each weld schedule a coupon program",
            value=program,
        )


def _placed(result: RowResult) -> Iterator[tuple[WeldSettings, str]]:
    """Yield the settings of a row, each with the place where the order gives its number."""
    places = _places(result.row)
    for settings in result.settings:
        yield settings, places[settings.welds[0]]


def _places(row: ArcRow | SpotRow) -> dict[str, str]:
    if isinstance(row, ArcRow):
        return {seam.id: f"seams[{index}]" for index, seam in enumerate(row.seams)}
    stacks = {stack.id: f"stacks[{index}]" for index, stack in enumerate(row.stacks)}
    return {spot.id: stacks[spot.stack] for spot in row.spots}


def _check_numbered(settings: WeldSettings, numbered: Collection[str]) -> None:
    if settings.set_number is None and settings.arm in numbered:
        raise refusal(
            f"{settings.welds[0]} has no set number, and other welds of {settings.arm} have one",
            "number the welds of an arm all or none",
        )


def _check_same(first: WeldSettings, other: WeldSettings) -> None:
    differing = _differing(first, other)
    if differing:
        raise refusal(
            f"set {other.set_number} of {other.arm} would hold two settings: {differing}",
            "give welds that are set differently numbers of their own",
            value=str(other.set_number),
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
