"""Show one order in a browser while you edit it.

ORDER is the name of the order's folder in instructions/. What is shown is its draft, as your edited files have it; it
is built again at every change of orders, tables and site_overrides.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.plant import INSTRUCTIONS, TABLES, in_plant
from weld_packets.commands.shared.worker import Worker
from weld_packets.errors import PacketError
from weld_packets.site.build.serving import LiveSite

_LAST_PORT = 65535


@click.command(help=__doc__)
@click.argument("order", metavar="ORDER")
@click.option(
    "--port", type=click.IntRange(1, _LAST_PORT), default=8000, show_default=True, help="The port on this computer."
)
@in_plant
def command(root: Path, order: str, port: int) -> None:
    def rebuild() -> str:
        try:
            Worker(root).preview(order)
        except PacketError as error:
            print(error)
            return str(error)
        print(f"rebuilt {order}")
        return ""

    def watched() -> Iterator[Path]:
        for folder in (root / INSTRUCTIONS, root / TABLES, root / "site_overrides"):
            yield from (path for path in folder.rglob("*") if path.is_file())

    live = LiveSite(Worker(root).preview(order), rebuild, watched, port)
    print(f"open {live.address} (stop with Ctrl+C)")
    live.run()
