"""List what your edited files would change in released orders.

What is in force, or will be, is computed anew. Exit status 1 where anything would change: run it before a table edit is
approved.

Example: packets impact --full
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.shown_changes import changed_lines, changes_data, full_option
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records.order import Packet
from weld_packets.plant.archive import today_of
from weld_packets.plant.drafts import Drafts
from weld_packets.revisions.queries.archive import packet_of, releases_in_force_or_due
from weld_packets.revisions.queries.impact import Impact, edited_sources, impact_on
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.digests import file_digests
from weld_packets.sources.folders import INSTRUCTIONS, order_path
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@full_option
@json_option
@in_plant
def command(root: Path, *, full: bool, as_json: bool) -> int:
    found = impacts(root)
    changed = [impact for impact in found if impact.changed]
    if as_json:
        print_json([impact_data(impact) for impact in found])
        return 1 if changed else 0
    print_lines(line for impact in changed for line in impact_lines(impact, full=full))
    print(f"{len(changed)} of {len(found)} revisions in force, or to come, would change")
    return 1 if changed else 0


def impact_lines(impact: Impact, *, full: bool) -> Iterator[str]:
    """Yield what an order would become: what leads, or all of it."""
    yield from impact.head
    yield from (f"  {line}" for line in changed_lines(impact.changes, full=full))


def impact_data(impact: Impact) -> dict[str, Any]:
    """Return what an order would become as data for JSON."""
    problems = [problem.data for problem in impact.problems]
    named = {"order": impact.order, "revision": impact.revision, "edited": impact.edited}
    return named | {"problems": problems, "changes": changes_data(impact.changes)}


def impacts(root: Path) -> list[Impact]:
    """Return, for each revision in force or to come, what would change if it were released from the edited files."""
    workspace = load_workspace(root)
    archive = open_archive(root / INSTRUCTIONS)
    drafts = Drafts(workspace, archive)
    found = []
    for entry, record in releases_in_force_or_due(archive, today_of(archive.register.entries, archive.register)):
        released = packet_of(archive, entry)
        edited = edited_sources(record.sources, file_digests(root, entry.order), f"{order_path(entry.order)}/")
        found.append(impact_on(entry.order, entry.revision, released, _recomputed(drafts, entry.order), edited))
    return found


def _recomputed(drafts: Drafts, slug: str) -> Packet | tuple[Problem, ...]:
    try:
        return drafts.draft(slug)
    except PacketError as error:
        return error.problems
