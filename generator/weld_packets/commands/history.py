"""List an order's revisions: who, when, why, what changed.

ORDER is the name of the order's folder in instructions/.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.archive import archive_of
from weld_packets.commands.shared.plant import in_plant, print_lines
from weld_packets.revisions.differences.changes import change_lines
from weld_packets.revisions.queries.archive import order_history, released_record
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.status import day_of
from weld_packets.revisions.store.clock import moment_now


@click.command(help=__doc__)
@click.argument("order", metavar="ORDER")
@in_plant
def command(root: Path, order: str) -> None:
    print_lines(list(history_lines(root, order)) or [f"{order} has no released revision"])


def history_lines(root: Path, slug: str) -> Iterator[str]:
    """Yield the history of an order, oldest record first; raise SourceError where there is no such order."""
    archive = archive_of(root, slug)
    rows = order_history(archive, slug, day_of(archive.register.of(slug), moment_now()))
    for row, entry in zip(rows, archive.register.of(slug), strict=True):
        code = released_record(archive, entry).code
        what = "released" if row.kind == "release" else "withdrawn"
        superseded = f" by {row.superseded_by}" if row.superseded_by else ""
        yield f"revision {row.revision} {what} {row.recorded_at}: {row.status}{superseded}"
        yield f"  effective from {row.effective_from}; author {row.author}; approver {row.approver}"
        yield f"  why: {row.reason}"
        yield f"  record {short(row.record_digest)}" + (f", signed with {row.signed_with}" if row.signed_with else "")
        yield f"  made by packets {code.version}, commit {code.commit}"
        yield from (f"  {line}" for line in change_lines(row.changes))
