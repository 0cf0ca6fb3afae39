"""Print which revision was in force on a date.

ORDER is the order's folder in instructions/ or its number; DATE is year-month-day, such as 2026-12-04.

Example: packets as-of LK-2041 2026-12-04
"""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date
from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.plant.archive import archive_of
from weld_packets.revisions.queries.archive import in_force_on, released_packet
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.status.status import zone_of

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def _day(_: click.Context, __: click.Parameter, text: str) -> date:
    with suppress(ValueError):
        if _DAY.fullmatch(text):  # the library reads weeks too, such as 2026-W01-1
            return date.fromisoformat(text)
    raise click.BadParameter(f"{text!r} is not a date: write year-month-day, such as 2026-12-04")


@click.command(help=__doc__)
@order_argument
@click.argument("day", metavar="DATE", callback=_day)
@in_plant
def command(root: Path, order: str, day: date) -> None:
    print_lines(as_of_lines(root, order, day))


def as_of_lines(root: Path, slug: str, day: date) -> list[str]:
    """Return what was in force at an order on a day.

    Raises SourceError where there is no such order, and PacketError where a record in force is not as it was released.
    """
    archive = archive_of(root, slug)
    found = in_force_on(archive, slug, day)
    for one in found.in_force:
        released_packet(archive, slug, one.revision)
    lines = [
        f"revision {one.revision} in force since {one.since}, approved by {one.approver}, "
        f"record {short(one.record_digest)}" + (f" ({one.covers})" if one.covers else "")
        for one in found.in_force
    ]
    zone = zone_of(archive.register.of(slug))
    earlier = [f"for a part of that day: {part} ({zone})" for part in found.earlier_that_day]
    since = f" from {found.turned} ({zone})" if found.turned else ""
    return [*(lines or [f"no revision of {slug} was in force on {day}{since}"]), *earlier]
