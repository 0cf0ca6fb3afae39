"""The numbers under which welding controls keep settings: one number holds one set of values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.errors import Gathering, refusal
from generator.process.measure import as_written
from generator.process.results import WeldSettings

_Values = dict[str, str]


def check_set_numbers(settings: Iterable[WeldSettings], keys: Mapping[str, str], gathering: Gathering) -> None:
    """Tell ``gathering`` of every set number that an arm would need for two different sets of values.

    ``keys`` lead from a weld to the place where the order gives its number.
    """
    held: dict[tuple[str, int], WeldSettings] = {}
    for each in settings:
        if each.set_number is None:
            continue
        first = held.setdefault((each.arm, each.set_number), each)
        with gathering.step(key=keys[each.welds[0]]):
            _refuse_another(first, each)


def _refuse_another(first: WeldSettings, other: WeldSettings) -> None:
    one, two = _values(first), _values(other)
    differing = next((label for label in {**one, **two} if one.get(label) != two.get(label)), None)
    if differing is not None:
        raise refusal(
            f"set {other.set_number} of {other.arm} would hold two settings: {differing.lower()} "
            f"{one.get(differing, 'none')} for {first.welds[0]} and {two.get(differing, 'none')} for {other.welds[0]}",
            "give welds that are set differently numbers of their own",
            value=str(other.set_number),
        )


def _values(settings: WeldSettings) -> _Values:
    return {figure.label: as_written(figure.value) for figure in settings.dialled if figure.value is not None}
