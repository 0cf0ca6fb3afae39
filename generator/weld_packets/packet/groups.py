"""Settings as printed: whatever is set the same on the machines is one group, so that a setter sets it once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

from weld_packets.calculation.results import WeldSettings
from weld_packets.packet.checks import check_of
from weld_packets.packet.coupling import coupled_lines, coupling_charts, pass_lines
from weld_packets.packet.following import following
from weld_packets.packet.load_limits import load_charts, load_lines
from weld_packets.packet.records import SettingGroup
from weld_packets.packet.sameness import joined, print_of
from weld_packets.packet.titles import name_of, title_of, told_apart
from weld_packets.packet.values import Showing, value_of


def setting_groups(settings: Iterable[WeldSettings], showing: Showing) -> tuple[SettingGroup, ...]:
    """Return the groups of an operation: welds of one weld schedule whose values, windows and origins read the same.

    What follows and differs, such as the length welded by each robot, is kept for each with whose it is.
    """
    merged: dict[tuple[object, ...], list[WeldSettings]] = {}
    for each in settings:
        merged.setdefault((each.runs, each.weld_schedule, *map(print_of, each.dialled)), []).append(each)
    return told_apart([_group(alike, showing) for alike in merged.values()])


def _group(alike: Sequence[WeldSettings], showing: Showing) -> SettingGroup:
    first, titles = alike[0], [each.title for each in alike]
    columns = zip(*(each.dialled for each in alike), strict=True)
    return SettingGroup(
        key=first.key,
        title=title_of(titles),
        name=name_of(titles),
        robots=tuple(sorted({each.robot for each in alike})),
        welds=tuple(chain.from_iterable(each.welds for each in alike)),
        runs=first.runs,
        dialled=tuple(value_of(joined(column), showing, first.key) for column in columns),
        derived=tuple(following(alike, showing)),
        checks=tuple(dict.fromkeys(check_of(verdict, showing) for each in alike for verdict in each.verdicts)),
        weld_schedule="" if first.weld_schedule is None else str(first.weld_schedule),
        coupled=(*coupled_lines(first, showing), *load_lines(first, showing)),
        charts=(*coupling_charts(first, showing), *load_charts(first)),
        pass_lines=tuple(pass_lines(first, showing)),
        pass_source=first.pass_source,
    )
