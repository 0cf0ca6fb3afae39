"""Welds of an operation between two revisions: added, removed, moved, renumbered, changed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.settings import WeldGeometry, WeldLine
from weld_packets.revisions.differences.changes import (
    Change,
    Reordered,
    WeldAdded,
    WeldChanged,
    WeldRemoved,
    WeldsRenumbered,
)
from weld_packets.revisions.differences.list_items import Location

_TENTH = Decimal("0.1")


@dataclass(frozen=True)
class _Weld:
    """One weld: where it is and what its line in the table says; either may be missing."""

    key: str
    place: WeldGeometry | None
    cells: tuple[str, ...]

    @property
    def robot(self) -> str:
        return self.place.robot if self.place else "(not given)"

    @property
    def at(self) -> str:
        return f"{_point_words(self.place.pieces[0])} mm" if self.place and self.place.pieces else "(not given)"


def weld_changes(old: OperationSheet, new: OperationSheet, at: Location) -> Iterator[Change]:
    """Yield what differs between the welds of two revisions of an operation.

    A column that only one of their tables has says nothing about a weld: it is no change of any.
    """
    columns = tuple(name for name in new.weld_columns if name in old.weld_columns)
    if old.weld_columns != new.weld_columns:
        old, new = _with_columns(old, columns), _with_columns(new, columns)
    before, after = _welds(old), _welds(new)
    for key in (key for key in before if key not in after):
        yield WeldRemoved(at.words, (_path(at, key),), key, before[key].robot, before[key].at)
    for key in (key for key in after if key not in before):
        yield WeldAdded(at.words, (_path(at, key),), key, after[key].robot, after[key].at)
    pairs = [(before[key], after[key]) for key in after if key in before and before[key] != after[key]]
    yield from _renumbered([pair for pair in pairs if _only_renumbered(*pair)], at)
    for pair in pairs:
        if not _only_renumbered(*pair):
            yield _changed(*pair, columns, at)
    if _reordered(old, new):
        yield Reordered(at.words, ((*at.path, "welds"),), "welds")


def distance(old: WeldGeometry, new: WeldGeometry) -> str:
    """Return how far the farthest point of a weld moved, in mm; empty where that cannot be said or nothing moved."""
    before, after = _points(old), _points(new)
    if old.pieces == new.pieces or [len(piece) for piece in old.pieces] != [len(piece) for piece in new.pieces]:
        return ""
    try:
        lengths = [_length(one, other) for one, other in zip(before, after, strict=True)]
    except InvalidOperation:
        return ""
    return _rounded(max(lengths))


def _with_columns(operation: OperationSheet, columns: tuple[str, ...]) -> OperationSheet:
    numbers = [operation.weld_columns.index(name) for name in columns]
    welds = tuple(
        weld.model_copy(update={"cells": tuple(weld.cells[number] for number in numbers if number < len(weld.cells))})
        for weld in operation.welds
    )
    return operation.model_copy(update={"weld_columns": columns, "welds": welds})


def _welds(operation: OperationSheet) -> dict[str, _Weld]:
    places = dict(zip(_keys(operation.geometry), operation.geometry, strict=True))
    lines = {key: line.cells for key, line in zip(_keys(operation.welds), operation.welds, strict=True)}
    return {key: _Weld(key, places.get(key), lines.get(key, ())) for key in (lines | places)}


def _keys(welds: Sequence[WeldLine | WeldGeometry]) -> list[str]:
    """Return the keys of ``welds``, a repeated one with its turn."""
    seen: Counter[str] = Counter()
    keys = []
    for weld in welds:
        seen[weld.key] += 1
        keys.append(weld.key if seen[weld.key] == 1 else f"{weld.key}#{seen[weld.key]}")
    return keys


def _reordered(old: OperationSheet, new: OperationSheet) -> bool:
    pairs = (_keys(old.geometry), _keys(new.geometry)), (_keys(old.welds), _keys(new.welds))
    return any(
        [key for key in before if key in set(after)] != [key for key in after if key in set(before)]
        for before, after in pairs
    )


def _only_renumbered(old: _Weld, new: _Weld) -> bool:
    if not (old.place and new.place and old.cells and new.cells) or _mark(old) == _mark(new):
        return False
    same_place = old.place.model_copy(update={"label": new.place.label}) == new.place
    return same_place and old.cells == new.cells


def _renumbered(pairs: list[tuple[_Weld, _Weld]], at: Location) -> Iterator[Change]:
    if pairs:
        marks = tuple((new.key, _mark(old), _mark(new)) for old, new in pairs)
        yield WeldsRenumbered(at.words, tuple(_path(at, new.key) for _, new in pairs), marks)


def _mark(weld: _Weld) -> str:
    return weld.place.label if weld.place else ""


def _changed(old: _Weld, new: _Weld, columns: tuple[str, ...], at: Location) -> WeldChanged:
    moved = distance(old.place, new.place) if old.place and new.place else ""
    details = tuple(dict.fromkeys((*_place_details(old, new, moved), *_cell_details(old, new, columns))))
    return WeldChanged(at.words, (_path(at, new.key),), new.key, moved, details)


def _place_details(old: _Weld, new: _Weld, moved: str) -> Iterator[str]:
    if old.place is None or new.place is None:
        yield from (["its place is not stated in both"] if old.place != new.place else [])
        return
    for name, words in (("robot", "robot"), ("side", "side"), ("form", "form"), ("label", "number")):
        before, after = getattr(old.place, name), getattr(new.place, name)
        if before != after:
            yield f"{words} {before} -> {after}"
    if old.place.pieces != new.place.pieces:
        paths = f"{_path_words(old.place)} -> {_path_words(new.place)}"
        yield paths if moved else f"path drawn anew: {paths}"


def _cell_details(old: _Weld, new: _Weld, columns: tuple[str, ...]) -> Iterator[str]:
    if len(old.cells) != len(new.cells):
        yield f"line {' | '.join(old.cells)} -> {' | '.join(new.cells)}"
        return
    for number, (before, after) in enumerate(zip(old.cells, new.cells, strict=True)):
        if before != after:
            name = columns[number] if number < len(columns) else f"column {number + 1}"
            yield f"{name} {before} -> {after}"


def _points(weld: WeldGeometry) -> list[tuple[str, ...]]:
    return [piece[start : start + 3] for piece in weld.pieces for start in range(0, len(piece), 3)]


def _length(one: tuple[str, ...], other: tuple[str, ...]) -> Decimal:
    squares = ((Decimal(a) - Decimal(b)) ** 2 for a, b in zip(one, other, strict=True))
    return sum(squares, Decimal(0)).sqrt()


def _rounded(length: Decimal) -> str:
    return f"{length.quantize(_TENTH)}" if length >= _TENTH else f"{length.normalize():.2g}"


def _path_words(weld: WeldGeometry) -> str:
    return " - ".join(_point_words(piece) for piece in weld.pieces)


def _point_words(piece: tuple[str, ...]) -> str:
    return "/".join(piece)


def _path(at: Location, key: str) -> tuple[str, ...]:
    return (*at.path, "geometry", key)
