"""What orders leave fitted, kept between two builds, so that one changed order does not recompute those before it."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from weld_packets.planning import Left


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
            return tuple(Left(**{**left, "used": Fraction(left["used"])}) for left in kept["left"])
        except (OSError, ValueError, TypeError, KeyError, ZeroDivisionError):
            return None

    def put(self, slug: str, left: tuple[Left, ...]) -> None:
        """Keep what an order leaves, in one step, since another process may read it meanwhile."""
        kept = {"digest": self._digest(slug), "left": [{**vars(each), "used": str(each.used)} for each in left]}
        self._folder.mkdir(parents=True, exist_ok=True)
        fresh = self._folder / f".{slug}.{os.getpid()}"
        fresh.write_text(json.dumps(kept), encoding="utf-8")
        fresh.replace(self._file(slug))

    def _file(self, slug: str) -> Path:
        return self._folder / f"{slug}.json"
