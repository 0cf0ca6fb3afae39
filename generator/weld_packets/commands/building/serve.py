"""Show one order in a browser while you edit it.

ORDER is the order's folder in instructions/ or its number. What is shown is its draft, as your edited files have it; it
is built again at every change of orders, tables and site_overrides.

Example: packets serve LK-2041 --port 8080
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.failures import fault_of, problem_of
from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.sites.worker import Worker
from weld_packets.errors import PacketError
from weld_packets.site.build.serving import LiveSite
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.folders import INSTRUCTIONS, LOOKS_FILE, OVERRIDES, TABLES
from weld_packets.sources.schemas import refresh_from

_LAST_PORT = 65535
_WATCHED = (INSTRUCTIONS, TABLES, OVERRIDES, LOOKS_FILE)


@click.command(help=__doc__)
@order_argument
@click.option(
    "--port", type=click.IntRange(1, _LAST_PORT), default=8000, show_default=True, help="The port on this computer."
)
@in_plant
def command(root: Path, order: str, port: int) -> None:
    def rebuild() -> str:
        try:
            Worker(root).preview(order)
            refresh_from(root)
        except Exception as error:  # noqa: BLE001 (requests wait for the end of a build, however it ends)
            said = _said(error)
            print(said)
            return said
        print(f"rebuilt {order}")
        return ""

    before = OrderDigests(root).of(order)
    site = Worker(root).preview(order)
    LiveSite(
        site,
        rebuild,
        [root / name for name in _WATCHED],
        port,
        lambda address: print(f"open {address} (stop with Ctrl+C)"),
        lambda: OrderDigests(root).of(order) != before,
    ).run()


def _said(error: Exception) -> str:
    """Return what an edit that ended a build is answered with, as the command line would."""
    if isinstance(error, PacketError):
        return str(error)
    problem = problem_of(error)
    return fault_of(error) if problem is None else str(problem)
