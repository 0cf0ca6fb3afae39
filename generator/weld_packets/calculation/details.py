"""What a welder must know of a weld besides its settings, each with its source; or that no source states it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from weld_packets.units import Kind, Quantity


class Said(NamedTuple):
    """A quantity inside a sentence, to be printed in both systems of units."""

    value: Quantity
    kind: Kind


@dataclass(frozen=True)
class Detail:
    """One line: what it is about, what holds, and on what authority.

    ``words`` are texts and quantities in their order. ``stated`` is no where no table and no order says it, so that
    whoever welds must ask; the words then say who would state it.
    """

    key: str
    label: str
    words: tuple[str | Said, ...]
    source: str = ""
    stated: bool = True


def not_stated(key: str, label: str, where: str) -> Detail:
    """Return the line of something that no table and no order says; ``where`` is the place that could."""
    return Detail(key, label, (f"not stated by {where}",), stated=False)
