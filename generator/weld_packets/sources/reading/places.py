"""Where values are written: which file and line each key path came from."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from weld_packets.errors import Problem
from weld_packets.sources.reading.nearest import nearest
from weld_packets.units import SPELLINGS, Quantity

Tree = dict[str, Any] | list[Any] | str
"""Mappings, lists and text; there is nothing else in a source."""
KeyPath = tuple[str | int, ...]
"""Keys and list positions from the top of a document down to a value."""
_PRINTED = 50
_STEP = re.compile(r"\[([0-9]+)\]|([^.\[\]]+)")


def key_text(path: KeyPath) -> str:
    """Return a key path as a message prints it: ``operations[2].seams[0].throat``."""
    joined = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in path)
    return joined.removeprefix(".")


def capped(problems: Sequence[Problem]) -> list[Problem]:
    """Return the first 50 problems, with one more that counts those left out."""
    if len(problems) <= _PRINTED:
        return list(problems)
    left = len(problems) - _PRINTED
    last = problems[-1]
    more = Problem(last.file, last.line, "", "", f"{left} more problems are not listed", "correct these first")
    return [*problems[:_PRINTED], more]


def typed(size: Quantity) -> str:
    """Return a quantity as a source writes it."""
    unit = next(text for text, unit in SPELLINGS.items() if unit == size.units)
    return f"{size.m:g} {unit}"


def key_path(text: str) -> KeyPath:
    """Return the key path that ``key_text`` printed; an underscore in a field's name is a space in the source."""
    steps = _STEP.findall(text)
    return tuple(int(position) if position else key.replace("_", " ") for position, key in steps)


@dataclass(frozen=True)
class Origin:
    """Where a value is written that is read in another place, such as a default, or the original of a copy."""

    path: KeyPath
    note: str = ""


@dataclass(frozen=True)
class Places:
    """The lines of one source's values, and the places of values that came in from other files.

    Attributes:
        file: the source's name in messages.
        lines: 1-based line of every value.
        key_lines: 1-based line of every key.
        grafts: places of values from another file, by the key path under which they were put.
        origins: where values are written that are read elsewhere, by the key path at which they are read.

    """

    file: str
    lines: dict[KeyPath, int] = field(default_factory=dict)
    key_lines: dict[KeyPath, int] = field(default_factory=dict)
    grafts: dict[KeyPath, Places] = field(default_factory=dict)
    origins: dict[KeyPath, Origin] = field(default_factory=dict)

    def at(self, path: KeyPath) -> tuple[str, int]:
        """Return file and line of the value at ``path``, or of the nearest value that holds it."""
        path, _ = self._written(path)
        for length in range(len(path), 0, -1):
            graft = self.grafts.get(path[:length])
            if graft is not None:
                return graft.at(path[length:])
        return self.file, self._nearest(path)

    def below(self, path: KeyPath) -> Places:
        """Return the places of what is at ``path``, with paths that begin there."""
        depth = len(path)
        lines = {inner[depth:]: line for inner, line in self.lines.items() if inner[:depth] == path}
        return Places(self.file, lines)

    def problem(self, path: KeyPath, value: str, message: str, remedy: str) -> Problem:
        """Return a problem with the value at ``path``."""
        file, line = self.at(path)
        return Problem(file, line, self.shown(path), value, message, remedy)

    def shown(self, path: KeyPath) -> str:
        """Return a key path as it is written, with the copy that it is of, if it is of one."""
        written, note = self._written(path)
        return f"{key_text(written)}, {note}" if note else key_text(written)

    def found(self, problem: Problem) -> Problem:
        """Return ``problem`` with file and line, found from its key path; one that has a file is returned as it is."""
        if problem.file:
            return problem
        path = key_path(problem.key)
        file, line = self.at(path)
        moved = any(path[:length] in self.origins for length in range(1, len(path) + 1))
        return replace(problem, file=file, line=line, key=self.shown(path) if moved else problem.key)

    def _written(self, path: KeyPath) -> tuple[KeyPath, str]:
        """Return where the value that is read at ``path`` is written, and of which copy it is."""
        for length in range(len(path), 0, -1):
            origin = self.origins.get(path[:length])
            if origin is not None:
                return (*origin.path, *path[length:]), origin.note
        return path, ""

    def _nearest(self, path: KeyPath) -> int:
        for length in range(len(path), 0, -1):
            part = path[:length]
            line = self.lines.get(part) if length == len(path) else None
            line = line or self.key_lines.get(part) or self.lines.get(part)
            if line:
                return line
        return self.lines.get((), 1)


@dataclass(frozen=True)
class Document:
    """A source as read: its content as mappings, lists and text, and where each is written."""

    tree: dict[str, Any]
    places: Places


def unknown(places: Places, path: KeyPath, name: str | None, known: Collection[str], what: str) -> Iterator[Problem]:
    """Yield a problem where ``name`` is given and is not one of the ``known`` names of ``what``."""
    if name is not None and name not in known:
        yield places.problem(path, name, f"there is no {what} of this name", nearest(name, known))


def repeated(places: Places, names: Iterable[tuple[KeyPath, str]], what: str) -> Iterator[Problem]:
    """Yield a problem for each name that is given a second time in the list of ``what``, capitals or not.

    Pages, codes and scanners do not distinguish names by their capitals, and neither do people.
    """
    seen: dict[str, tuple[str, KeyPath]] = {}
    for path, name in names:
        first, place = seen.setdefault(name.casefold(), (name, path))
        if place == path:
            continue
        file, line = places.at(place)
        if first == name:
            message = f"this {what} is already named in {file} on line {line}"
        else:
            message = f"this {what} differs by capitals only from {first!r} in {file} on line {line}"
        yield places.problem(path, name, message, "give each its own name")
