"""The released records of a plant, opened for some orders."""

from __future__ import annotations

from pathlib import Path

from weld_packets.revisions.queries.archive import Archive
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
