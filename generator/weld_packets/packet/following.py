"""What follows from settings that several welds share: told once where it is the same, else with whose it is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.packet.records import Value
from weld_packets.packet.sameness import figure_of_all, print_without_notes
from weld_packets.packet.titles import name_of
from weld_packets.packet.values import Showing, value_of
from weld_packets.packet.wording import listed, some

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
