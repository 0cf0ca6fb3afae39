"""Bars beside what differs from the revision before: which parts of a packet have one, and what they say."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator

from markupsafe import Markup

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action
from weld_packets.revisions.differences.changes import (
    Change,
    FieldPath,
    Removed,
    TableRevisionCited,
    WeldRemoved,
)
from weld_packets.revisions.differences.list_items import ITEM_NAMES
from weld_packets.site.pages.revisions.change_ranking import is_for_history, split_changes
from weld_packets.site.pages.revisions.order_history import RevisionView
from weld_packets.units import Plain

_WORD = Markup('<a class="changed-word" href="{}">{}<span class="unseen"> since revision {}</span></a>')

_MARK = Markup('<span class="unseen">changed since revision {}</span>')


class ChangeBars:
    """Answers a template whether a part of the view's packet differs; ``home`` leads to the site's first page."""

    def __init__(self, view: RevisionView, home: str = "") -> None:
        """Find every part of the packet that a change lies in."""
        self._view = view
        entry = f"#rev-{view.name.lower()}" if view.control.revision else ""
        page = view.review if view.control.status == "proposed" else f"history.html{entry}"
        self._link = f"{home}{page}" if view.compared_with else ""
        self._visible = [change for change in view.changes if not is_for_history(change)]
        self._read = _Same(changed_parts(view.packet, self._visible))
        # That a table has another revision and the same value is for the history, not a mark on each value.
        traced = [change for change in view.changes if not isinstance(change, TableRevisionCited)]
        self._traced = _Same(changed_parts(view.packet, traced))

    @property
    def since(self) -> str:
        """Return the revision that this one is compared with, empty for the first."""
        return self._view.compared_with

    @property
    def link(self) -> str:
        """Return the address of this revision's entry in the history, which has none for a draft."""
        return self._link

    @property
    def all(self) -> tuple[list[Change], list[Change]]:
        """Return every change that a reader sees on a page: those that lead, and those that follow."""
        return split_changes(self._visible)

    def of(self, operation: OperationSheet) -> tuple[list[Change], list[Change]]:
        """Return the changes in an operation that a reader sees on its page, likewise."""
        return split_changes(
            change
            for change in self._visible
            if any(path[:2] == ("operations", operation.key) for path in change.paths)
        )

    @property
    def traced(self) -> Container[object]:
        """Return the same question where a value counts as changed also if only its calculation differs."""
        return self._traced

    @property
    def word(self) -> Markup:
        """Return the word that goes with a bar, leading to the history."""
        return _WORD.format(self._link, "changed", self.since)

    @property
    def mark(self) -> Markup:
        """Return what goes with the bar beside a row of a table, where a word would break up its cells."""
        return _MARK.format(self.since)

    def word_for_calculation(self, value: object) -> Markup:
        """Return the word beside a value on a page of calculations: whether it differs, or its calculation alone."""
        return self.word if value in self._read else _WORD.format(self._link, "calculation changed", self.since)

    def __contains__(self, part: object) -> bool:
        """Return whether ``part`` of the packet reads otherwise than before."""
        return part in self._read

    def any_of(self, parts: Iterable[object]) -> bool:
        """Return whether any of some parts of the packet reads otherwise than before."""
        return any(part in self._read for part in parts)


class _Same(Container[object]):
    """The records of one packet that are these very ones; equal records elsewhere in it are others."""

    def __init__(self, parts: Iterable[Plain]) -> None:
        self._ids = frozenset(map(id, parts))

    def __contains__(self, part: object) -> bool:
        return id(part) in self._ids


def changed_parts(packet: Packet, changes: Iterable[Change]) -> tuple[Plain, ...]:
    """Return all records of ``packet`` in which one of ``changes`` lies."""
    inside = {path[:end] for change in changes for path in _places(change) for end in range(1, len(path) + 1)}
    return tuple(_parts(packet, (), inside))


def _places(change: Change) -> Iterable[FieldPath]:
    """Return where a change shows: what is gone shows in what held it."""
    if isinstance(change, Removed | WeldRemoved):
        return [path[:-1] for path in change.paths]
    return change.paths


def _parts(record: Plain, at: FieldPath, inside: set[FieldPath]) -> Iterator[Plain]:
    """Yield every record below ``record`` whose path, spelled as differences spell it, is one of ``inside``."""
    if not inside:
        return
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, Plain):
            yield from _found(value, (*at, name), inside)
        elif isinstance(value, tuple):
            yield from _items(value, (*at, "geometry" if name == "welds" else name), inside)


def _found(record: Plain, path: FieldPath, inside: set[FieldPath]) -> Iterator[Plain]:
    if path in inside:
        yield record
        yield from _parts(record, path, inside)


def _items(items: tuple[object, ...], at: FieldPath, inside: set[FieldPath]) -> Iterator[Plain]:
    if at not in inside:
        return
    turns: dict[str, int] = {}
    for number, item in enumerate(items, start=1):
        if isinstance(item, Plain):
            step = _step(item, number)
            turns[step] = turns.get(step, 0) + 1
            yield from _found(item, (*at, step if turns[step] == 1 else f"{step}#{turns[step]}"), inside)


def _step(item: Plain, number: int) -> str:
    if isinstance(item, Action):  # a step is recognised by its text and place, whatever it is for
        return str(number)
    naming = ITEM_NAMES.get(type(item))
    key: str | None = getattr(item, "key", None)
    return key or (naming.key(item) if naming else str(number))
