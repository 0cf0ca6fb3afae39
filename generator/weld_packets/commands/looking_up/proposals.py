"""List the proposals that wait for approval.

ORDER is an order's folder in instructions/ or its number; without one all are listed. What is proposed is compared with
the revision in force, else with the last one: settings, welds, programs and limits of acceptance are printed, settings
with their causes; the rest is counted.

Example: packets proposals LK-2041
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from weld_packets.commands.shared.order_argument import orders_argument
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.shown_changes import changed_lines, changes_data, full_option
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError
from weld_packets.plant.archive import archive_of, today_of
from weld_packets.revisions.queries.proposed import Proposed, proposed_of
from weld_packets.revisions.records.canonical import packet_digest, short
from weld_packets.wording.english import counted

if TYPE_CHECKING:
    from weld_packets.plant.drafts import Drafts


@click.command(help=__doc__)
@orders_argument
@full_option
@json_option
@in_plant
def command(root: Path, orders: Sequence[str], *, full: bool, as_json: bool) -> None:
    found = list(_waiting(root, orders))
    if as_json:
        print_json([_data(each) for each in found])
        return
    drafts = _drafts(root) if found else None
    print_lines(line for each in found for line in (*_lines(each, full=full), *_edited(each, drafts)))
    print(f"{counted(len(found), 'proposal')} {'waits' if len(found) == 1 else 'wait'} for approval")


def _waiting(root: Path, orders: Sequence[str]) -> Iterator[Proposed]:
    archive = archive_of(root, *orders)
    for order in orders or archive.register.proposals:
        yield from proposed_of(archive, order, today_of(archive.register.by_order.get(order, ()), archive.register))


def _drafts(root: Path) -> Drafts:
    from weld_packets.plant.drafts import Drafts  # noqa: PLC0415 - slow to load, and seldom does any wait
    from weld_packets.plant.orders import open_workspace  # noqa: PLC0415

    return Drafts(open_workspace(root))


def _lines(each: Proposed, *, full: bool) -> Iterator[str]:
    entry = each.entry
    key = f", signed with {entry.signed_with}" if entry.signed_with else ""
    yield f"{entry.order}: proposed {entry.recorded_at} by {entry.author}{key}"
    yield f"  effective from {entry.effective}; why: {entry.reason}"
    yield f"  packet {short(entry.packet_digest)}, compared with {each.compared_with or 'nothing: it is the first'}"
    if each.compared_with:
        yield from (f"  {line}" for line in changed_lines(each.changes, full=full) or ("no difference",))
    yield f"  approve it: packets release {entry.order} --approver NAME --digest {entry.packet_digest}"


def _edited(each: Proposed, drafts: Drafts | None) -> Iterator[str]:
    """Yield whether the files still give what was proposed."""
    try:
        now = packet_digest(drafts.draft(each.entry.order)) if drafts else ""
    except PacketError:
        yield "  the files do not give a packet any more: see packets check"
        return
    if now != each.entry.packet_digest:
        yield "  the files have changed since: change them back, or have the order proposed anew"


def _data(each: Proposed) -> dict[str, Any]:
    entry = each.entry
    return {
        "order": entry.order,
        "author": entry.author,
        "reason": entry.reason,
        "effective": str(entry.effective),
        "proposed": entry.recorded_at,
        "packet_digest": entry.packet_digest,
        "signed_with": entry.signed_with,
        "compared_with": each.compared_with,
        "changes": changes_data(each.changes),
    }
