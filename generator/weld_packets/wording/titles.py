"""What welds that are set the same are called, as a title, in a sentence and in short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeGuard

from weld_packets.calculation.results import NamedKind, SeamKind, SpotKind, WeldKind
from weld_packets.grouping import grouped
from weld_packets.units import Quantity, as_written
from weld_packets.wording.english import capital, inside, joined, listed


def title_of(kinds: Iterable[WeldKind]) -> str:
    """Return one title for several kinds of weld; stacks of the same sheets share the words for them."""
    found = list(dict.fromkeys(kinds))
    if not _are_stacks(found):
        return capital("; ".join(map(_whole, found)))
    named = (joined((", ".join(names), sheets), ": ") for sheets, names in _by_sheets(found).items())
    return f"{'Stack' if len(found) == 1 else 'Stacks'} {'; '.join(named)}"


def name_of(kinds: Iterable[WeldKind]) -> str:
    """Return a name for use inside a sentence: stacks by their identifiers alone, seams with size and components."""
    found = list(dict.fromkeys(kinds))
    if not _are_stacks(found):
        return listed(inside(_whole(kind)) for kind in found)
    names = [name for names in _by_sheets(found).values() for name in names]
    return f"{'stack' if len(names) == 1 else 'stacks'} {listed(names)}"


def short_name_of(kinds: Iterable[WeldKind]) -> str:
    """Return the shortest name: stacks by their identifiers, seams by joint and size."""
    found = list(dict.fromkeys(kinds))
    if _are_stacks(found):
        return name_of(found)
    return listed(dict.fromkeys(inside(_short(kind)) for kind in found))


def sheets_text(sheets: Iterable[Quantity]) -> str:
    """Return the thicknesses of the sheets of one weld, such as ``0.8 mm + 1.2 mm``."""
    return " + ".join(map(as_written, sheets))


def _are_stacks(kinds: Sequence[WeldKind]) -> TypeGuard[list[SpotKind]]:
    return all(isinstance(kind, SpotKind) for kind in kinds)


def _by_sheets(kinds: Iterable[SpotKind]) -> dict[str, list[str]]:
    return grouped((sheets_text(kind.sheets), kind.stack) for kind in kinds)


def _whole(kind: WeldKind) -> str:
    if isinstance(kind, SpotKind):
        return joined((f"stack {kind.stack}", sheets_text(kind.sheets)), ": ")
    if isinstance(kind, NamedKind):
        return joined((kind.words, sheets_text(kind.sheets)), ", ")
    return joined((_short(kind), kind.position, sheets_text(kind.sheets)), ", ")


def _short(kind: WeldKind) -> str:
    if isinstance(kind, SpotKind):
        return f"stack {kind.stack}"
    if isinstance(kind, NamedKind):
        return kind.words
    return f"{kind.joint} {_size(kind)}".rstrip()


def _size(kind: SeamKind) -> str:
    return " ".join(f"{letter} {as_written(size)}" for letter, size in kind.sizes)
