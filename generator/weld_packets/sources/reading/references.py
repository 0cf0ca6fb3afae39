"""Names that refer to something else: whether they exist, and whether they are given twice."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from weld_packets.errors import Problem
from weld_packets.sources.reading.binding_words import nearest
from weld_packets.sources.reading.places import KeyPath, Places


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
