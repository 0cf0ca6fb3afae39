"""Record that a revision must no longer be used.

ORDER is the order's folder in instructions/ or its number; REVISION is one of its released revisions, such as C.

Example: packets withdraw LK-2041 A --author "welding engineer" --approver "quality lead"
--reason "expulsion at the lip" --effective 2026-12-20
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.named import order_argument
from weld_packets.commands.shared.people import listed_people
from weld_packets.commands.shared.plant import INSTRUCTIONS, in_plant, print_lines
from weld_packets.commands.shared.responsible import Responsible, published_lines, responsible_options
from weld_packets.revisions.status.release_rules import Withdrawal
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.releasing import record_withdrawal
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@order_argument
@click.argument("revision", metavar="REVISION")
@responsible_options
@in_plant
def command(root: Path, order: str, revision: str, who: Responsible) -> None:
    print_lines(withdraw(root, order, revision, who))


def withdraw(root: Path, slug: str, revision: str, who: Responsible) -> list[str]:
    """Record that ``revision`` must no longer be used and return what to print; raise PacketError against it."""
    workspace = load_workspace(root)
    people = listed_people(workspace, load_register(root / INSTRUCTIONS)).people
    wanted = Withdrawal(slug, revision, who.signatures(workspace.approved.plant, people))
    return published_lines(record_withdrawal(root / INSTRUCTIONS, wanted, who.signer(root)))
