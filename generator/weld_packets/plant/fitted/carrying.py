"""What each order leaves fitted for the next one, along the chain of orders that follow each other."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

from weld_packets.errors import PacketError, Problem, SourceError
from weld_packets.files import write_whole
from weld_packets.packet.run.run import left_by_packet
from weld_packets.planning.order import left_by
from weld_packets.planning.records import Left
from weld_packets.plant.fitted.counted import as_counted
from weld_packets.plant.orders import Orders

_PREVIOUS = "previous order"
_SHARES = ("used", "wear", "begun", "proof")
_UNKNOWN = str(None)


class Carrying:
    """What orders leave fitted, kept for each, so that a chain of a thousand orders is walked once.

    The last released packet of an order says it, where its record holds that, from what was counted at its set-ups
    and recorded of its run.
    Else the order is computed from its sources, starting from what the order before it leaves.
    """

    def __init__(self, orders: Orders, remembered: Remembered | None = None) -> None:
        """Begin with nothing known but what is ``remembered`` from an earlier build."""
        self._orders = orders
        self._remembered = remembered
        self._known: dict[str, tuple[Left, ...]] = {}
        self._wrong: dict[str, tuple[Problem, ...]] = {}
        self._drafted: dict[str, tuple[Left, ...]] = {}

    def left_by(self, slug: str) -> tuple[Left, ...]:
        """Return what an order leaves fitted; raise SourceError with what is wrong with it or with one before it."""
        for name in reversed(self._chain(slug)):
            try:
                self._known[name] = self._drafted.get(name) or self._computed(name)
            except PacketError as error:
                self._wrong[name] = error.problems
        if slug in self._wrong:
            raise SourceError(self._wrong[slug])
        return self._known[slug]

    def keep(self, slug: str, left: tuple[Left, ...]) -> None:
        """Keep what an order leaves by its sources, which need not be computed again for it."""
        self._drafted[slug] = left
        if self._remembered:
            self._remembered.put(slug, left)

    def _chain(self, slug: str) -> list[str]:
        """Return the orders of which nothing is known yet, from ``slug`` back to one that follows a known one."""
        names: list[str] = []
        name: str | None = slug
        while name is not None and name not in self._known and name not in self._wrong:
            if name in names:
                self._wrong |= dict.fromkeys(names, self._ring(names[names.index(name) :]))
                return []
            found = self._released(name) or (self._remembered.get(name) if self._remembered else None)
            if found:
                self._known[name] = found
            else:
                names.append(name)
                name = None if name in self._drafted else self._before(name)
        return names

    def _before(self, slug: str) -> str | None:
        """Return the order before one; None where there is none, or where that cannot be read."""
        try:
            return self._orders.sourced(slug).order.previous_order
        except PacketError:
            return None

    def _released(self, slug: str) -> tuple[Left, ...]:
        found = self._orders.released(slug)
        if not found:
            return ()
        revision, packet = found
        left = left_by_packet(packet, revision)
        return as_counted(left, packet, self._orders.archive, slug) if left else ()

    def _computed(self, slug: str) -> tuple[Left, ...]:
        sourced = self._orders.sourced(slug)
        previous = sourced.order.previous_order
        left = None if previous is None else self.left_by(previous)
        computed = self._orders.computed(slug)
        try:
            found = left_by(computed.order, computed.results, self._orders.approved, left)
        except PacketError as error:
            raise SourceError(sourced.placed(problem) for problem in error.problems) from None
        if self._remembered:
            self._remembered.put(slug, found)
        return found

    def _ring(self, names: Sequence[str]) -> tuple[Problem, ...]:
        """Return a problem for each of some orders that each follow the next one, and the last one the first."""
        first = names.index(min(names))
        ring = (*names[first:], *names[: first + 1])
        message = f"these orders follow each other in a ring: {' after '.join(ring)}"
        remedy = "delete the key in the order that runs first"
        pairs = sorted(pairwise(ring))
        return tuple(
            self._orders.sourced(name).places.problem((_PREVIOUS,), before, message, remedy) for name, before in pairs
        )


class Remembered:
    """Files of what orders leave fitted, each valid while the digest of all that it was computed from is the same.

    Nothing rests on them but time: what cannot be read, or was computed from other sources, is computed again.
    """

    def __init__(self, folder: Path, digest: Callable[[str], str]) -> None:
        """Keep the files in ``folder``; ``digest`` returns that of an order and of all orders before it."""
        self._folder = folder
        self._digest = digest

    def get(self, slug: str) -> tuple[Left, ...] | None:
        """Return what was kept of an order, None where there is nothing that still holds."""
        try:
            kept = json.loads(self._file(slug).read_bytes())
            if kept["digest"] != self._digest(slug):
                return None
            return tuple(_left(each) for each in kept["left"])
        except (OSError, ValueError, TypeError, KeyError, ZeroDivisionError):
            return None

    def put(self, slug: str, left: tuple[Left, ...]) -> None:
        """Keep what an order leaves, in one step, since another process may read it meanwhile."""
        kept = {
            "digest": self._digest(slug),
            "left": [{**vars(each), **{name: str(getattr(each, name)) for name in _SHARES}} for each in left],
        }
        self._folder.mkdir(parents=True, exist_ok=True)
        write_whole(self._file(slug), json.dumps(kept).encode())

    def _file(self, slug: str) -> Path:
        return self._folder / f"{slug}.json"


def _left(kept: dict[str, Any]) -> Left:
    return Left(**{**kept, **{name: _share(kept[name]) for name in _SHARES}})


def _share(kept: str) -> Fraction | None:
    return None if kept == _UNKNOWN else Fraction(kept)
