"""List an order's revisions: who, when, why, what changed.

ORDER is the order's folder in instructions/ or its number.

Example: packets history LK-2041 --full
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.releasing.nonconformity import state_data, state_lines
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.shown_changes import changed_lines, changes_data, full_option
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.plant.archive import archive_of, today_of
from weld_packets.revisions.queries.archive import order_history, released_cover
from weld_packets.revisions.queries.history import HistoryEntry
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.nonconformities import NonconformityState, nonconformities_of


@click.command(help=__doc__)
@order_argument
@full_option
@json_option
@in_plant
def command(root: Path, order: str, *, full: bool, as_json: bool) -> None:
    if as_json:
        print_json(history_data(root, order))
    else:
        print_lines(list(history_lines(root, order, full=full)) or [f"{order} has no released revision"])


def history_data(root: Path, slug: str) -> list[dict[str, Any]]:
    """Return the history of an order as data for JSON, oldest record first."""
    archive = archive_of(root, slug)
    rows = order_history(archive, slug, today_of(archive.register.of(slug), archive.register))
    found = nonconformities_of(archive.register, slug)
    return [
        asdict(replace(row, changes=()))
        | {
            "code": row.code.model_dump(),
            "nonconformities": [state_data(each) for each in _of_row(row, found)],
            "changes": changes_data(row.changes),
        }
        for row in rows
    ]


def _of_row(row: HistoryEntry, found: Sequence[NonconformityState]) -> list[NonconformityState]:
    """Return the nonconformities of a release: those at which it is at fault."""
    return [each for each in found if row.kind == "release" and each.revision == row.revision]


def history_lines(root: Path, slug: str, *, full: bool) -> Iterator[str]:
    """Yield the history of an order, oldest record first; raise SourceError where there is no such order."""
    archive = archive_of(root, slug)
    rows = order_history(archive, slug, today_of(archive.register.of(slug), archive.register))
    found = nonconformities_of(archive.register, slug)
    for row, entry in zip(rows, archive.register.of(slug), strict=True):
        code = released_cover(archive, entry).code
        what = "released" if row.kind == "release" else "withdrawn"
        superseded = f" by {row.superseded_by}" if row.superseded_by else ""
        yield f"revision {row.revision} {what} {row.recorded_at}: {row.status}{superseded}"
        yield f"  effective from {row.effective_from}; author {row.author}; approver {row.approver}"
        yield f"  why: {row.reason}"
        yield f"  record {short(row.record_digest)}" + (f", signed with {row.signed_with}" if row.signed_with else "")
        yield f"  made by packets {code.version}, commit {code.commit}"
        if row.corrects:
            yield f"  corrects nonconformity {', '.join(row.corrects)}"
        for state in _of_row(row, found):
            yield from (f"  {line}" for line in state_lines(state))
        yield from (f"  {line}" for line in changed_lines(row.changes, full=full))
