"""The qualification records that the plant keeps, as the page over all orders lists them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from weld_packets.errors import PacketError
from weld_packets.site.pages.register_pages import KeptRecord
from weld_packets.sources.tables.tables import kept_records
from weld_packets.wording.qualification import record_dates, record_end, standard_words


def records_kept(root: Path, day: date) -> tuple[KeptRecord, ...] | None:
    """Return every record of the plant's tables with its dates on a day; None where a table cannot be read."""
    try:
        found = kept_records(root)
    except PacketError:  # the page says that it is so, and `check` what is wrong
        return None
    return tuple(
        KeptRecord(each.table, standard_words(each), record_dates(each, day), record_end(each)) for each in found
    )
