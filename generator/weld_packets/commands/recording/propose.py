"""Propose an order's packet for release by another person.

ORDER is the order's folder in instructions/ or its number. The packet is kept as it is now. It waits until it is
released with `packets release`, replaced by another proposal, or withdrawn with --withdraw. `packets proposals` lists
what waits.

Example: packets propose LK-2041 --author "welding engineer" --reason "spot A07 moved" --effective 2026-12-01
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.releasing.releasable import compared_programs, releasable
from weld_packets.commands.shared.releasing.responsible import Responsible, line_to_keep, proposing_options
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.store.proposing import record_proposal, withdraw_proposals
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@order_argument
@proposing_options
@click.option("--digest", default="", help="Refuse unless the packet has this digest, as `packets check` prints it.")
@click.option("--withdraw", is_flag=True, help="Withdraw what waits, in place of proposing.")
@in_plant
def command(root: Path, order: str, who: Responsible, digest: str, *, withdraw: bool) -> None:
    if bool(who.effective) == withdraw:
        raise click.UsageError("give --effective, or --withdraw in its place")
    print_lines(_withdrawn(root, order, who) if withdraw else _proposed(root, order, who, digest))


def _proposed(root: Path, slug: str, who: Responsible, digest: str) -> Iterator[str]:
    found = releasable(root, slug)
    wanted = found.wanted(who, digest)
    yield from compared_programs(found, wanted.by)
    entry, register = record_proposal(root / INSTRUCTIONS, wanted, who.signer(root))
    yield f"{slug}: proposed, packet {short(entry.packet_digest)}"
    if entry.replaces:
        yield f"it takes the place of what waited before: {len(entry.replaces)}"
    yield f"to be approved by another person: packets release {slug} --approver NAME --digest {entry.packet_digest}"
    yield line_to_keep(register)


def _withdrawn(root: Path, slug: str, who: Responsible) -> Iterator[str]:
    by = who.signatures_today(load_workspace(root))
    entry, register = withdraw_proposals(root / INSTRUCTIONS, slug, by, who.signer(root))
    yield f"{slug}: withdrawn, proposals {len(entry.proposals)}"
    yield line_to_keep(register)
