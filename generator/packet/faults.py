"""What to do when a fault shows: remedies inside the window, and when to stop and call."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from generator.model.tables import Fault, Remedy
from generator.packet.records import FaultLine, SettingGroup, Value
from generator.packet.rowview import RowView
from generator.packet.wording import amount_text, edge_text, inside, joined, listed, short_titles, window_text

_LIMIT = {"up": "at most", "down": "at least"}
NO_ROOM = "already at the end of its window: stop and call"
NO_WINDOW = "has no window here: do not change it, stop and call"
NOT_SET = "not set in this row: stop and call"


def fault_lines(view: RowView) -> tuple[FaultLine, ...]:
    """Return the faults of a row's process, each remedy with the end of the window that it may go to."""
    return tuple(_line(fault, view) for fault in view.shop.faults if view.row.process in fault.processes)


def _line(fault: Fault, view: RowView) -> FaultLine:
    return FaultLine(
        sign=fault.sign,
        remedies=tuple(_remedy(remedy, view) for remedy in fault.remedies),
        stop_when=fault.stop_when,
        source=fault.source,
    )


def _remedy(remedy: Remedy, view: RowView) -> str:
    if remedy.setting == "none":
        return remedy.check
    ways: dict[str, list[SettingGroup]] = {}
    label = ""
    for group, value in view.values(remedy.setting):
        label = inside(value.label)
        ways.setdefault(_way(remedy.direction, value), []).append(group)
    return f"{remedy.check.rstrip('.')}: {_told(label, ways, short_titles(view.groups))}."


def _told(label: str, ways: dict[str, list[SettingGroup]], names: dict[str, str]) -> str:
    if not ways:
        return NOT_SET
    limits = sum(way.startswith(tuple(_LIMIT.values())) for way in ways)
    ends = " (end of the window)" if limits == 1 else " (ends of the windows)" if limits else ""
    if len(ways) == 1:
        return f"{label} {next(iter(ways))}{ends}"
    shared = _shared_titles(ways.values())
    told = (f"{way} for {_whose(groups, names, shared)}" for way, groups in ways.items())
    return f"{label} {'; '.join(told)}{ends}"


def _shared_titles(ways: Iterable[Sequence[SettingGroup]]) -> set[str]:
    """Return the titles that stand in more than one way, so that only the arm tells them apart."""
    counts = Counter(title for groups in ways for title in {group.title for group in groups})
    return {title for title, count in counts.items() if count > 1}


def _whose(groups: Sequence[SettingGroup], names: dict[str, str], shared: set[str]) -> str:
    return listed(dict.fromkeys(_name(group, names, shared) for group in groups))


def _name(group: SettingGroup, names: dict[str, str], shared: set[str]) -> str:
    name = names[group.title]
    return f"{name} on {listed(group.arms)}" if group.title in shared else name


def _way(direction: str, value: Value) -> str:
    if direction == "none":
        return joined((amount_text(value), window_text(value)), ", window ")
    if value.window is None or value.amount is None or not (edge := edge_text(value.window, value, direction)):
        return NO_WINDOW
    if value.amount.value == (value.window.high if direction == "up" else value.window.low):
        return NO_ROOM
    return f"{_LIMIT[direction]} {edge}"
