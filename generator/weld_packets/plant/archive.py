"""The released records of a plant, opened for some orders, and the day on which they are looked at."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from weld_packets.errors import refuse
from weld_packets.revisions.queries.archive import Archive
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.clock_behind import behind_problems
from weld_packets.revisions.status.status import day_of
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.folders import INSTRUCTIONS


def archive_of(root: Path, *slugs: str) -> Archive:
    """Return the archive, in which ``slugs`` may have no record yet; raise SourceError for one that is not an order."""
    archive = open_archive(root / INSTRUCTIONS)
    for slug in slugs:
        if not archive.register.of(slug):
            from weld_packets.sources.orders.orders import known_order  # noqa: PLC0415 - slow to load, and seldom needed

            known_order(root, slug)
    return archive


def today_of(entries: Sequence[RegisterEntry], register: Register) -> date:
    """Return on which day of ``entries`` the clock is; raise PacketError where records were made on a later day."""
    now = moment_now()
    refuse(behind_problems(register, now))
    return day_of(entries, now)
