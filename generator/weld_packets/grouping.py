"""Things gathered by what they have in common."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

_Key = TypeVar("_Key", bound=Hashable)
_Item = TypeVar("_Item")


def grouped(pairs: Iterable[tuple[_Key, _Item]]) -> dict[_Key, list[_Item]]:
    """Return the second of each pair in a list under its first; keys are in the order in which each comes first."""
    found: dict[_Key, list[_Item]] = {}
    for key, item in pairs:
        found.setdefault(key, []).append(item)
    return found
