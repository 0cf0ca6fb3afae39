"""The folders of ``instructions/``, one for each order; light to import, for builds in which nothing changed."""

from __future__ import annotations

import os
import re
from pathlib import Path

from weld_packets.errors import Gathering, Problem, SourceError
from weld_packets.files import reserved
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE

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
        remedy = "start in the folder that holds instructions/ and tables/, or name it with --root"
        raise SourceError([Problem(INSTRUCTIONS, 0, "", "", "there is no such folder", remedy)])
    gathering = Gathering()
    with os.scandir(folder) as entries:
        names = sorted(entry.name for entry in entries if _may_be_order(folder, entry.name) and entry.is_dir())
    for name in names:
        with gathering.step():
            if not is_safe(name):
                message, remedy = "the name of this folder cannot be that of an order", f"rename it: {_NAMED}"
                raise SourceError([Problem(f"{INSTRUCTIONS}/{name}", 0, "", "", message, remedy)])
            if not os.path.exists(f"{folder}/{name}/{ORDER_FILE}"):  # noqa: PTH110 - ten thousand times
                message, remedy = f"the folder holds no {ORDER_FILE}", f"write {ORDER_FILE}, or move the folder away"
                raise SourceError([Problem(f"{INSTRUCTIONS}/{name}", 0, "", "", message, remedy)])
    gathering.finish()
    return tuple(names)


def _may_be_order(above: Path, name: str) -> bool:
    return not name.startswith(".") and (name not in _KEPT or (above / name / ORDER_FILE).exists())


def check_name(name: str) -> None:
    """Raise SourceError unless ``name`` is safe as the name of an order: in a path, an address and on any system."""
    if not is_safe(name):
        inside = [part for part in re.split(r"[/\\]", name) if part not in ("", ".", "..", INSTRUCTIONS, ORDER_FILE)]
        remedy = f"write only the name of its folder: {inside[0]}" if _is_path(name, inside) else _NAME_REMEDY
        raise SourceError([Problem(INSTRUCTIONS, 0, "", name, "this cannot be the name of an order", remedy)])


def _is_path(name: str, inside: list[str]) -> bool:
    return len(inside) == 1 and inside[0] != name and is_safe(inside[0])


def is_safe(name: str) -> bool:
    """Say whether ``name`` is safe as the name of an order."""
    return _NAME.fullmatch(name) is not None and not reserved(name) and name not in _KEPT
