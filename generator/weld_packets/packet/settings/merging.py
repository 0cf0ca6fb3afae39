"""Settings that read the same on several machines or for several welds, merged so that a setter sets them once."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import assert_never

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.results import WeldKind, WeldSettings
from weld_packets.calculation.trace import AllowedRange, Figure, Given, Lookup, Rounded, Step
from weld_packets.grouping import grouped
from weld_packets.packet.records.settings import SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.packet.settings.coupled import coupled_lines, linked_limits, load_lines, pass_lines
from weld_packets.packet.settings.values import Showing, check_of, printed_value
from weld_packets.units import Quantity
from weld_packets.wording.english import inside, listed, some
from weld_packets.wording.titles import name_of, short_name_of, title_of

Print = tuple[object, ...]
"""Everything of a figure that a reader sees, but the names of the machines."""


def display_key(figure: Figure) -> Print:
    """Return what must be equal for two settings to be printed as one."""
    return (*display_key_without_notes(figure), figure.remarks)


def display_key_without_notes(figure: Figure) -> Print:
    """Return what must be equal for two figures that follow to be printed as one; notes are printed together."""
    return (
        figure.key,
        figure.label,
        figure.unit,
        str(figure.text),
        str(figure.step),
        figure.outside,
        figure.warnings,
        None
        if figure.allowed_range is None
        else (_quantity(figure.allowed_range.low), _quantity(figure.allowed_range.high)),
        tuple(_step_print(step) for step in figure.trace),
    )


def _quantity(value: Quantity | None) -> Print:
    return () if value is None else (value.magnitude, *value.unit_items())


def _step_print(step: Step) -> Print:
    match step:
        case Given():
            return (step.label, step.value.magnitude, step.unit)
        case Lookup():
            at = _quantity(step.at)
            return (step.table, step.revision, step.column, step.rows, step.values, step.result.magnitude, at)
        case Worked():
            return (step.formula.expression, *(value.magnitude for value in step.given.values()), step.result.magnitude)
        case Rounded():
            return (step.before.magnitude, step.after, step.unit, step.step)
        case _:
            assert_never(step)


def merged_with_notes(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several that read the same but for their notes, with all notes."""
    notes = tuple(dict.fromkeys(remark for figure in figures for remark in figure.remarks))
    figure = merged_figure(figures)
    return figure if notes == figure.remarks else replace(figure, remarks=notes)


def merged_figure(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several of equal print; where origins differ, it names them all."""
    first = figures[0]
    if len(figures) == 1:
        return first
    trace = tuple(_merged_step(steps) for steps in zip(*(figure.trace for figure in figures), strict=True))
    allowed_ranges = [figure.allowed_range for figure in figures if figure.allowed_range is not None]
    allowed_range = _merged_range(allowed_ranges) if allowed_ranges else None
    kept = allowed_range is first.allowed_range and all(map(operator.is_, trace, first.trace))
    return first if kept else replace(first, trace=trace, allowed_range=allowed_range)


def _merged_range(allowed_ranges: Sequence[AllowedRange]) -> AllowedRange:
    origins = {allowed_range.origin for allowed_range in allowed_ranges}
    return (
        allowed_ranges[0]
        if len(origins) == 1
        else replace(allowed_ranges[0], origin=_names(each.origin for each in allowed_ranges))
    )


def _merged_step(steps: Sequence[Step]) -> Step:
    first = steps[0]
    if isinstance(first, Given):
        origins = dict.fromkeys(step.origin for step in steps if isinstance(step, Given))
        return first if len(origins) == 1 else replace(first, origin=_names(origins))
    if isinstance(first, Rounded):
        machines = dict.fromkeys(step.machine for step in steps if isinstance(step, Rounded))
        return first if len(machines) == 1 else replace(first, machine=_names(machines))
    return first


def _names(names: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(names))


@dataclass(frozen=True)
class _Group:
    """A group before it is named: its settings as printed, and the kinds of weld in it."""

    printed: SettingGroup
    kinds: tuple[WeldKind, ...]

    @property
    def short_name(self) -> str:
        return short_name_of(self.kinds)


def _named(groups: Sequence[_Group]) -> tuple[SettingGroup, ...]:
    """Return the groups with titles and names; those of one title say what differs: robots, one setting, or welds."""
    equal = grouped((title_of(group.kinds), group) for group in groups)
    more = {
        group.printed.key: (title, words)
        for title, same in equal.items()
        for group, words in zip(same, _differences([each.printed for each in same]), strict=True)
    }
    short = len({group.short_name for group in groups}) == len(groups)
    return tuple(_with_names(group, *more[group.printed.key], short=short) for group in groups)


def _with_names(group: _Group, title: str, words: str, *, short: bool) -> SettingGroup:
    name = group.short_name if short else f"{name_of(group.kinds)}{words}"
    return group.printed.model_copy(update={"title": f"{title}{words}", "name": name})


def _differences(same: Sequence[SettingGroup]) -> list[str]:
    if len(same) == 1:
        return [""]
    tried = ([say(group) for group in same] for say in _sayings(same))
    return next(words for words in tried if len(set(words)) == len(words))


def _sayings(same: Sequence[SettingGroup]) -> list[Callable[[SettingGroup], str]]:
    """Return what may distinguish a group of a title from the others, the plainest first; the last one always does."""
    keys = [value.key for value in same[0].dialled]
    settings = (lambda group, key=key: _setting(group, key) for key in reversed(keys))
    return [_on_robots, *settings, _welds]


def _on_robots(group: SettingGroup) -> str:
    return f" on {listed(group.robots)}"


def _setting(group: SettingGroup, key: str) -> str:
    found = (value for value in group.dialled if value.key == key)
    return "".join(f", {inside(value.label)} {value.text}" for value in found)


def _welds(group: SettingGroup) -> str:
    return f", {some(group.welds)}"


ADDED_UP = frozenset({"weld_length", "arc_time", "wire_mass", "gas_volume"})
"""Figures that are sums over the welds of one robot, so that an equal one of another robot comes on top."""

_Owned = list[tuple[WeldSettings, Figure]]


def derived_values(equal: Sequence[WeldSettings], showing: Showing) -> Iterator[Value]:
    """Yield what follows: once where it reads the same for all, else for each under the name of what it is for."""
    figures = ((figure.key, (each, figure)) for each in equal for figure in each.derived)
    for owned in grouped(figures).values():
        for part in _parts(owned):
            figure = merged_with_notes([figure for _, figure in part])
            owner = _what_for([settings for settings, _ in part], equal, figure.key)
            yield printed_value(figure, showing, equal[0].key, owner)


def _parts(owned: _Owned) -> list[_Owned]:
    """Return the figures of one key, those that read the same together; sums only where each is another robot's."""
    if len(owned) == 1:
        return [owned]
    parts: dict[object, _Owned] = {}
    summed = owned[0][1].key in ADDED_UP
    lone = summed and len({settings.robot for settings, _ in owned}) < len(owned)
    for settings, figure in owned:
        parts.setdefault(settings.key if lone else display_key_without_notes(figure), []).append((settings, figure))
    return list(parts.values())


def _what_for(part: Sequence[WeldSettings], equal: Sequence[WeldSettings], key: str) -> str:
    """Return what a figure is for: nothing where it is for all, else stacks, robots or welds, whichever says it."""
    if len(part) == len(equal):
        return "each robot" if key in ADDED_UP and len(equal) > 1 else ""
    kinds, robots = {each.kind for each in part}, {each.robot for each in part}
    if sum(each.kind in kinds for each in equal) == len(part):
        return name_of(each.kind for each in part)
    if sum(each.robot in robots for each in equal) == len(part):
        return listed(sorted(robots))
    return some([weld for each in part for weld in each.welds])


def setting_groups(settings: Iterable[WeldSettings], showing: Showing) -> tuple[SettingGroup, ...]:
    """Return the groups of an operation: welds of one weld schedule whose values, ranges and origins read the same.

    What follows and differs, such as the length welded by each robot, is kept for each with the name of its owner.
    """
    merged = grouped(
        ((each.pass_count, each.weld_schedule, *map(display_key, each.dialled)), each) for each in settings
    )
    return _named([_group(equal, showing) for equal in merged.values()])


def _group(equal: Sequence[WeldSettings], showing: Showing) -> _Group:
    first = equal[0]
    columns = zip(*(each.dialled for each in equal), strict=True)
    printed = SettingGroup(
        key=first.key,
        title="",
        robots=tuple(sorted({each.robot for each in equal})),
        welds=tuple(chain.from_iterable(each.welds for each in equal)),
        pass_count=first.pass_count,
        dialled=tuple(printed_value(merged_figure(column), showing, first.key) for column in columns),
        derived=tuple(derived_values(equal, showing)),
        checks=tuple(dict.fromkeys(check_of(verdict, showing) for each in equal for verdict in each.verdicts)),
        weld_schedule="" if first.weld_schedule is None else str(first.weld_schedule),
        coupled=(*coupled_lines(first, showing), *load_lines(first, showing)),
        linked=linked_limits(equal),
        pass_lines=tuple(pass_lines(first, showing)),
        pass_source=first.pass_source,
    )
    return _Group(printed, tuple(each.kind for each in equal))
