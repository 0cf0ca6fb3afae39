"""Record that a revision must no longer be used.

ORDER is the order's folder in instructions/ or its number; REVISION is one of its released revisions, such as C.

With --nonconformity the record says what is known of it, and with which other revisions the fault is shared: those that
hold the same settings or place of a weld.

Example: packets withdraw LK-2041 A --author "welding engineer" --approver "quality lead"
--reason "expulsion at the lip" --effective 2026-12-20
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.releasing.nonconformity import reported_option, state_lines
from weld_packets.commands.shared.releasing.responsible import Responsible, published_lines, responsible_options
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.plant.people import listed_people
from weld_packets.revisions.status.nonconformities import Reported, nonconformities_of
from weld_packets.revisions.status.release_rules import Withdrawal
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.releasing import record_withdrawal
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@order_argument
@click.argument("revision", metavar="REVISION")
@responsible_options
@reported_option
@in_plant
def command(root: Path, order: str, revision: str, who: Responsible, reported: Reported | None) -> None:
    print_lines(withdraw(root, order, revision, who, reported))


def withdraw(root: Path, slug: str, revision: str, who: Responsible, reported: Reported | None = None) -> list[str]:
    """Record that ``revision`` must no longer be used and return what to print; raise PacketError against it."""
    workspace = load_workspace(root)
    listed = listed_people(workspace, load_register(root / INSTRUCTIONS))  # where nobody can know who is on it, all may
    by = who.signatures(workspace.approved.plant, listed.people)
    wanted = Withdrawal(slug, revision, by, reported)
    published = record_withdrawal(root / INSTRUCTIONS, wanted, who.signer(root))
    states = nonconformities_of(published.register, slug) if reported else ()
    said = [line for state in states if reported and state.number == reported.number for line in state_lines(state)]
    return [*published_lines(published), *said]
