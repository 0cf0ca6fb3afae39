"""The folders of ``instructions/``, one for each order; light to import, for builds in which nothing changed."""

from __future__ import annotations

import os
import re
from pathlib import Path

from weld_packets.errors import Gathering
from weld_packets.files import reserved
from weld_packets.sources.folders import FIND_PLANT, INSTRUCTIONS, ORDER_FILE, order_path
from weld_packets.sources.reading.files import refused

_KEPT = frozenset({"keys", "register"})
"""The folders of the plant's public keys and of its register; they are no orders, and no order may be called so."""
_NAME = re.compile(r"[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?")
_NAMED = (
    "lower-case letters, digits and inner hyphens, at most 64; not keys or register, nor what Windows keeps, as con"
)
_NAME_REMEDY = f"write the name of its folder in instructions/, not its number: {_NAMED}"


def order_names(root: Path) -> tuple[str, ...]:
    """Return the names of all orders in the workspace at ``root``, sorted.

    Raises SourceError for folders with a name that is not safe as a path and address, or that hold no order.yaml.
    """
    folder = root / INSTRUCTIONS
    if not folder.is_dir():
        raise refused(INSTRUCTIONS, "there is no such folder", FIND_PLANT)
    gathering = Gathering()
    with os.scandir(folder) as entries:
        names = sorted(entry.name for entry in entries if _may_be_order(folder, entry.name) and entry.is_dir())
    for name in names:
        with gathering.step():
            if not is_safe(name):
                message = "the name of this folder cannot be that of an order"
                raise refused(order_path(name), message, f"rename it: {_NAMED}")
            if not os.path.exists(f"{folder}/{name}/{ORDER_FILE}"):  # noqa: PTH110 - ten thousand times
                remedy = f"write {ORDER_FILE}, or move the folder away"
                raise refused(order_path(name), f"the folder holds no {ORDER_FILE}", remedy)
    gathering.finish()
    return tuple(names)


def _may_be_order(above: Path, name: str) -> bool:
    return not name.startswith(".") and (name not in _KEPT or (above / name / ORDER_FILE).exists())


def check_name(name: str) -> None:
    """Raise SourceError unless ``name`` is safe as the name of an order: in a path, an address and on any system."""
    if not is_safe(name):
        inside = [part for part in re.split(r"[/\\]", name) if part not in ("", ".", "..", INSTRUCTIONS, ORDER_FILE)]
        remedy = f"write only the name of its folder: {inside[0]}" if _is_path(name, inside) else _NAME_REMEDY
        raise refused(INSTRUCTIONS, "this cannot be the name of an order", remedy, value=name)


def _is_path(name: str, inside: list[str]) -> bool:
    return len(inside) == 1 and inside[0] != name and is_safe(inside[0])


def is_safe(name: str) -> bool:
    """Say whether ``name`` is safe as the name of an order."""
    return _NAME.fullmatch(name) is not None and not reserved(name) and name not in _KEPT
