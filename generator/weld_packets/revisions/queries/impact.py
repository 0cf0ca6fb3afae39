"""What the present tables would change in the orders in force."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from weld_packets.errors import Problem
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.records.record import SourceFile

Recomputed = Packet | tuple[Problem, ...]
"""The packet from the present sources, or why there is none."""


@dataclass(frozen=True)
class Impact:
    """What one order in force would become: its changes, or the problems that leave it without a packet.

    ``edited`` are the order's own sources that differ from those of its release, so that not every change need be due
    to a table.
    """

    order: str
    revision: str
    changes: tuple[Change, ...]
    problems: tuple[Problem, ...]
    edited: tuple[str, ...]

    @property
    def changed(self) -> bool:
        """Return whether anything would differ."""
        return bool(self.changes or self.problems)

    @property
    def head(self) -> tuple[str, ...]:
        """Return order and revision in a line, and what is to be known before the changes."""
        edited = (f"  edited since the release: {', '.join(self.edited)}",) if self.edited else ()
        refused = (f"  cannot be computed any more: {problem}" for problem in self.problems)
        return (f"{self.order}, revision {self.revision}", *edited, *refused)


def impact_on(order: str, revision: str, released: Packet, now: Recomputed, edited: Iterable[str] = ()) -> Impact:
    """Return what would change in ``order``, whose ``revision`` in force holds ``released``."""
    if isinstance(now, Packet):
        return Impact(order, revision, diff(released, now), (), tuple(edited))
    return Impact(order, revision, (), now, tuple(edited))


def edited_sources(released: Iterable[SourceFile], now: Mapping[str, str], folder: str) -> tuple[str, ...]:
    """Return the files under ``folder`` whose SHA-256 ``now`` (by path) differs from that of the release."""
    before = {source.path: source.sha256 for source in released if source.path.startswith(folder)}  # a path
    after = {path: digest for path, digest in now.items() if path.startswith(folder)}  # a path
    return tuple(sorted(path for path in before.keys() | after.keys() if before.get(path) != after.get(path)))
