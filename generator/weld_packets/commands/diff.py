"""Compare two revisions of an order value by value.

ORDER is the name of the order's folder in instructions/; A and B are revisions such as C, or draft: your edited files,
which is what B is when it is left out. Each difference has its cause with it.
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.drafts import draft
from weld_packets.commands.shared.plant import INSTRUCTIONS, in_plant, print_lines
from weld_packets.revisions.differences.changes import change_lines
from weld_packets.revisions.queries.archive import compare
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.tables.tables import load_workspace

_DRAFT = "draft"


@click.command(help=__doc__)
@click.argument("order", metavar="ORDER")
@click.argument("before", metavar="A")
@click.argument("after", metavar="[B]", default=_DRAFT)
@in_plant
def command(root: Path, order: str, before: str, after: str) -> None:
    print_lines(diff_lines(root, order, before, after) or ["no difference"])


def diff_lines(root: Path, slug: str, before: str, after: str) -> list[str]:
    """Return every difference between two revisions, or a revision and the draft; empty where there is none."""
    packet = draft(load_workspace(root), slug) if _DRAFT in (before, after) else None
    return list(change_lines(compare(open_archive(root / INSTRUCTIONS), slug, before, after, packet)))
