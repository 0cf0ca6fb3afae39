"""Settings that read the same on several machines or for several welds, merged so that a setter sets them once."""

from __future__ import annotations

import operator
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import singledispatch
from itertools import chain

from weld_packets.calculation.formula import Worked
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure, Given, Lookup, Rounded, Step, Weight, Window
from weld_packets.packet.records import SettingGroup, Value
from weld_packets.packet.settings.checks import check_of
from weld_packets.packet.settings.limits import coupled_lines, load_lines, pass_lines
from weld_packets.packet.settings.values import Showing, value_of
from weld_packets.units import Quantity
from weld_packets.wording.english import capital, inside, listed, some

Print = tuple[object, ...]
"""Everything of a figure that a reader sees, but the names of the machines."""


def print_of(figure: Figure) -> Print:
    """Return what must be equal for two settings to be printed as one."""
    return (*print_without_notes(figure), figure.remarks)


def print_without_notes(figure: Figure) -> Print:
    """Return what must be equal for two figures that follow to be printed as one; notes are told together."""
    return (
        figure.key,
        figure.label,
        figure.unit,
        str(figure.text),
        str(figure.step),
        figure.outside,
        tuple(remark for remark in figure.remarks if remark.weight is Weight.WARNING),
        None if figure.window is None else (_quantity(figure.window.low), _quantity(figure.window.high)),
        tuple(_step_print(step) for step in figure.trace),
    )


def _quantity(value: Quantity | None) -> Print:
    return () if value is None else (value.magnitude, *value.unit_items())


@singledispatch
def _step_print(step: Step) -> Print:
    raise TypeError(f"{type(step).__name__} is no step of a trace")


@_step_print.register
def _given(step: Given) -> Print:
    return (step.label, step.value.magnitude, step.unit)


@_step_print.register
def _lookup(step: Lookup) -> Print:
    at = _quantity(step.at)
    return (step.table, step.revision, step.column, step.rows, step.values, step.result.magnitude, at)


@_step_print.register
def _worked(step: Worked) -> Print:
    return (step.formula.expression, *(value.magnitude for value in step.given.values()), step.result.magnitude)


@_step_print.register
def _rounded(step: Rounded) -> Print:
    return (step.before.magnitude, step.after, step.unit, step.step)


def figure_of_all(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several that read the same but for their notes, with all notes."""
    notes = tuple(dict.fromkeys(remark for figure in figures for remark in figure.remarks))
    figure = joined(figures)
    return figure if notes == figure.remarks else replace(figure, remarks=notes)


def joined(figures: Sequence[Figure]) -> Figure:
    """Return one figure for several of equal print; where origins differ, it names them all."""
    first = figures[0]
    if len(figures) == 1:
        return first
    trace = tuple(_joined_step(steps) for steps in zip(*(figure.trace for figure in figures), strict=True))
    windows = [figure.window for figure in figures if figure.window is not None]
    window = _joined_window(windows) if windows else None
    kept = window is first.window and all(map(operator.is_, trace, first.trace))
    return first if kept else replace(first, trace=trace, window=window)


def _joined_window(windows: Sequence[Window]) -> Window:
    origins = {window.origin for window in windows}
    return windows[0] if len(origins) == 1 else replace(windows[0], origin=_names(each.origin for each in windows))


def _joined_step(steps: Sequence[Step]) -> Step:
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


_STACK = "stack "


def title_of(titles: Iterable[str]) -> str:
    """Return one title for several; stacks of the same sheets share the words for them."""
    told = list(dict.fromkeys(titles))
    if not all(title.startswith(_STACK) for title in told):
        return capital("; ".join(told))
    named = ((", ".join(names), sheets) for sheets, names in _by_sheets(told).items())
    rest = "; ".join(f"{names}: {sheets}" if sheets else names for names, sheets in named)
    return f"{'Stack' if len(told) == 1 else 'Stacks'} {rest}"


def name_of(titles: Iterable[str]) -> str:
    """Return a name for use inside a sentence: stacks by their names alone."""
    told = list(dict.fromkeys(titles))
    if not all(title.startswith(_STACK) for title in told):
        return listed(inside(title) for title in told)
    names = [name for names in _by_sheets(told).values() for name in names]
    return f"{'stack' if len(names) == 1 else 'stacks'} {listed(names)}"


def _by_sheets(titles: Iterable[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for title in titles:
        name, _, sheets = title.removeprefix(_STACK).partition(": ")
        found.setdefault(sheets, []).append(name)
    return found


def told_apart(groups: Sequence[SettingGroup]) -> tuple[SettingGroup, ...]:
    """Return the groups; those of one title say what differs: the robots, else one setting, else the welds."""
    alike: dict[str, list[SettingGroup]] = {}
    for group in groups:
        alike.setdefault(group.title, []).append(group)
    words = {group.key: more for same in alike.values() for group, more in zip(same, _apart(same), strict=True)}
    shortened = _short_names(groups, words)
    return tuple(
        group.model_copy(update={"title": f"{group.title}{words[group.key]}", "name": shortened[group.key]})
        for group in groups
    )


def _apart(same: Sequence[SettingGroup]) -> list[str]:
    if len(same) == 1:
        return [""]
    tried = ([way(group) for group in same] for way in _ways(same))
    return next(words for words in tried if len(set(words)) == len(words))


def _ways(same: Sequence[SettingGroup]) -> list[Callable[[SettingGroup], str]]:
    """Return ways to say what a group of a title is alone in, the plainest first; the last one always tells."""
    keys = [value.key for value in same[0].dialled]
    settings = (lambda group, key=key: _setting(group, key) for key in reversed(keys))
    return [_robots, *settings, _welds]


def _robots(group: SettingGroup) -> str:
    return f" on {listed(group.robots)}"


def _setting(group: SettingGroup, key: str) -> str:
    found = (value for value in group.dialled if value.key == key)
    return "".join(f", {inside(value.label)} {value.text}" for value in found)


def _welds(group: SettingGroup) -> str:
    return f", {some(group.welds)}"


def _short_names(groups: Sequence[SettingGroup], words: dict[str, str]) -> dict[str, str]:
    """Return each group's name up to its first comma where that tells all of them apart, else the whole name."""
    heads = [group.name if group.name.startswith("stack") else group.name.partition(",")[0] for group in groups]
    short = len(set(heads)) == len(heads)
    return {
        group.key: head if short else f"{group.name}{words[group.key]}"
        for group, head in zip(groups, heads, strict=True)
    }


ADDED_UP = frozenset({"weld_length", "arc_time", "wire_mass", "gas_volume"})
"""Figures that are sums over the welds of one robot, so that an equal one of another robot comes on top."""
_WHOSE = "--"

_Owned = list[tuple[WeldSettings, Figure]]


def stem(key: str) -> str:
    """Return the key of a figure without whose it is."""
    return key.partition(_WHOSE)[0]


def following(alike: Sequence[WeldSettings], showing: Showing) -> Iterator[Value]:
    """Yield what follows: once where it reads the same for all, else for each under the name of what it is for."""
    for owned in _by_key(alike):
        for part in _parts(owned):
            figure = figure_of_all([figure for _, figure in part])
            whose = _whose([settings for settings, _ in part], alike, figure.key)
            yield value_of(_labelled(figure, whose), showing, alike[0].key)


def _by_key(alike: Sequence[WeldSettings]) -> list[_Owned]:
    found: dict[str, _Owned] = {}
    for each in alike:
        for figure in each.derived:
            found.setdefault(figure.key, []).append((each, figure))
    return list(found.values())


def _parts(owned: _Owned) -> list[_Owned]:
    """Return the figures of one key, those that read the same together; sums only where each is another robot's."""
    if len(owned) == 1:
        return [owned]
    parts: dict[object, _Owned] = {}
    summed = owned[0][1].key in ADDED_UP
    lone = summed and len({settings.robot for settings, _ in owned}) < len(owned)
    for settings, figure in owned:
        parts.setdefault(settings.key if lone else print_without_notes(figure), []).append((settings, figure))
    return list(parts.values())


def _whose(part: Sequence[WeldSettings], alike: Sequence[WeldSettings], key: str) -> str:
    """Return what a figure is for: nothing where it is for all, else stacks, robots or welds, whichever says it."""
    if len(part) == len(alike):
        return "each robot" if key in ADDED_UP and len(alike) > 1 else ""
    titles, robots = {each.title for each in part}, {each.robot for each in part}
    if sum(each.title in titles for each in alike) == len(part):
        return name_of(each.title for each in part)
    if sum(each.robot in robots for each in alike) == len(part):
        return listed(sorted(robots))
    return some([weld for each in part for weld in each.welds])


def _labelled(figure: Figure, whose: str) -> Figure:
    if not whose:
        return figure
    place = re.sub(r"[^a-z0-9]+", "-", whose.lower()).strip("-")
    return replace(figure, key=f"{figure.key}{_WHOSE}{place}", label=f"{figure.label} ({whose})")


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
        pass_lines=tuple(pass_lines(first, showing)),
        pass_source=first.pass_source,
    )
