"""Print the settings of every operation of an order.

ORDER is the order's folder in instructions/ or its number.

Example: packets settings LK-2041 --json
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import json_option, print_json
from weld_packets.packet.plain_text import settings_lines
from weld_packets.plant.kept_packets import drafted, without_pictures

_PLAIN = (
    *("key", "number", "name", "cell", "robots", "process", "programs", "coupon_programs"),
    *("groups", "times", "checks", "warnings", "limits", "qualification"),
)
_OPERATION: dict[str, Any] = {
    **dict.fromkeys(_PLAIN, True),
    "pair": {"is_checked", "distance", "waits", "interlocks", "limits"},
}
_PRINTED: Any = {"head": True, "operations": {"__all__": _OPERATION}, "run": {"warnings"}}


@click.command(help=__doc__)
@order_argument
@json_option
@in_plant
def command(root: Path, order: str, *, as_json: bool) -> None:
    if as_json:
        print_json(settings_data(root, order))
    else:
        print(settings_text(root, order))


def settings_text(root: Path, slug: str) -> str:
    """Return the settings of an order as text."""
    return "\n".join(settings_lines(without_pictures(root, slug)))


def settings_data(root: Path, slug: str) -> dict[str, Any]:
    """Return all settings of an order with their calculations, as data for JSON."""
    return drafted(root, slug).model_dump(mode="json", include=_PRINTED)
