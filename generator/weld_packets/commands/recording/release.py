"""Freeze an order's packet as its next revision.

ORDER is the order's folder in instructions/ or its number. Its pages are rendered from the frozen record from then on.
Where a proposal waits, the release approves exactly that: give its digest and the approver; author, reason and first
day are those of the proposal.

Example: packets release LK-2041 --author "welding engineer" --approver "quality lead"
--reason "first issue" --effective 2026-12-01
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.releasing.answering import answered
from weld_packets.commands.shared.releasing.releasable import compared_programs, releasable
from weld_packets.commands.shared.releasing.responsible import Responsible, answering_options, published_lines
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.revisions.status.release_rules import expired_lines
from weld_packets.revisions.store.releasing import record_release
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.units.zones import day_at


@click.command(help=__doc__)
@order_argument
@answering_options
@click.option(
    "--digest",
    default="",
    help="Refuse unless the packet has this digest, whole or its first 12 digits, as `packets check` prints it.",
)
@click.option("--corrects", metavar="NUMBER", multiple=True, help="An open nonconformity that this revision corrects.")
@in_plant
def command(root: Path, order: str, who: Responsible, digest: str, corrects: tuple[str, ...]) -> None:
    print_lines(release(root, order, who, digest, corrects))


def release(root: Path, slug: str, who: Responsible, approved: str, corrects: tuple[str, ...] = ()) -> list[str]:
    """Freeze the packet of ``slug`` as its next revision and return what to print; raise PacketError against it."""
    found = releasable(root, slug)
    wanted = replace(found.wanted(answered(root, found, who, approved), approved), corrects=corrects)
    programs = compared_programs(found, wanted.by)
    published = record_release(root / INSTRUCTIONS, wanted, who.signer(root))
    day = day_at(wanted.by.recorded, wanted.by.effective.zone)
    return [*programs, *expired_lines(found.packet, day), *published_lines(published)]
