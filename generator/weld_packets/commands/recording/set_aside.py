"""Set aside one of two records of an order after a merge.

ORDER is the order's folder in instructions/ or its number; DIGEST is that of the record, whole or its first 12 digits.
After a merge of two branches that both released ORDER, or withdrew a revision of it, no record of it counts until all
but one are set aside. The content of a record that was set aside can be released again. Likewise where both filed
another record of one set-up or run.

Example: packets set-aside LK-2041 9c5c8c1f2a30 --author "cell lead" --approver "quality lead" --reason "made first"
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.releasing.responsible import Responsible, line_to_keep, naming_options
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.signing import Signer
from weld_packets.revisions.store.setting_aside import SettingAside, no_longer_withdrawn, record_set_aside
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@order_argument
@click.argument("digest", metavar="DIGEST")
@naming_options("Who found out which record counts.", "Who approved it.", "Why the other one counts.")
@in_plant
def command(root: Path, order: str, digest: str, who: Responsible) -> None:
    by = who.signatures_today(load_workspace(root))
    print_lines(_set_aside(root, SettingAside(order, digest, by), who.signer(root)))


def _set_aside(root: Path, wanted: SettingAside, signer: Signer | None) -> Iterator[str]:
    entry, register = record_set_aside(root / INSTRUCTIONS, wanted, signer)
    yield f"{entry.order}: set aside {', '.join(short(digest) for digest in entry.record_digests)}"
    for revision in no_longer_withdrawn(register, entry):
        again = f"if it must not be used: packets withdraw {entry.order} {revision}"
        yield f"revision {revision} is not withdrawn any more; {again}"
    yield line_to_keep(register)
