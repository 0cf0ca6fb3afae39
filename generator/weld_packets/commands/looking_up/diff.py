"""Compare two revisions of an order value by value.

ORDER is the order's folder in instructions/ or its number; A and B are revisions such as C, or draft, which means
your edited files. Without B, A is compared with draft. Settings, welds, programs and limits of acceptance are printed,
settings with their causes; the rest is counted.

Example: packets diff LK-2041 C draft
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.shown_changes import changed_lines, changes_data, full_option
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.plant.archive import archive_of
from weld_packets.plant.kept_packets import drafted
from weld_packets.revisions.differences.changes import Change
from weld_packets.revisions.queries.archive import DRAFT, compare


@click.command(help=__doc__)
@order_argument
@click.argument("before", metavar="A")
@click.argument("after", metavar="[B]", default=DRAFT)
@full_option
@json_option
@in_plant
def command(root: Path, order: str, before: str, after: str, *, full: bool, as_json: bool) -> None:
    changes = differences(root, order, before, after)
    if as_json:
        print_json(changes_data(changes))
    else:
        print_lines(changed_lines(changes, full=full) or ["no difference"])


def differences(root: Path, slug: str, before: str, after: str) -> tuple[Change, ...]:
    """Return every difference between two revisions, or a revision and the draft; empty where there is none."""
    packet = drafted(root, slug) if DRAFT in (before, after) else None
    return tuple(compare(archive_of(root, slug), slug, before, after, packet))
