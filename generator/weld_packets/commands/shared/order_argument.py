"""The argument ORDER of commands: the name of an order's folder, or the number that its pages show."""

from __future__ import annotations

import glob
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from weld_packets.commands.shared.root import find_root
from weld_packets.commands.shared.terminal import Command
from weld_packets.errors import SourceError
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE
from weld_packets.sources.reading.files import read_head, refused

_NUMBER = re.compile(rb"""^order[ ]*:[ ]*["']?([^"'#\r\n]+?)["']?[ ]*(?:#.*)?\r?$""", re.MULTILINE)
_HEAD = 4096
"""Bytes of an order's file in which its number is looked for."""


def order_argument(command: Command) -> Command:
    """Give ``command`` the name of the folder of the order that is meant."""
    return click.argument("order", metavar="ORDER", callback=_one, shell_complete=_beginning)(command)


def one_or_all_argument(command: Command) -> Command:
    """Give ``command`` the name of the folder of the order that is meant, None for all."""
    return click.argument("order", metavar="[ORDER]", required=False, callback=_one_or_none, shell_complete=_beginning)(
        command
    )


def orders_argument(command: Command) -> Command:
    """Give ``command`` the names of the folders of the orders that are meant, none for all."""
    return click.argument("orders", metavar="[ORDER]...", nargs=-1, callback=_several, shell_complete=_beginning)(
        command
    )


def _beginning(context: click.Context, _: click.Parameter, begun: str) -> list[str]:
    """Return the folders of orders whose names begin as what was typed in a shell; none away from a plant."""
    try:
        orders = find_root(context.find_root().params.get("root")) / INSTRUCTIONS
    except SourceError:
        return []
    return sorted(file.parent.name for file in orders.glob(f"{glob.escape(begun)}*/{ORDER_FILE}"))


def _one(context: click.Context, _: click.Parameter, name: str) -> str:
    return folder_of(find_root(context.obj), name)


def _one_or_none(context: click.Context, parameter: click.Parameter, name: str | None) -> str | None:
    return None if name is None else _one(context, parameter, name)


def _several(context: click.Context, _: click.Parameter, names: Sequence[str]) -> tuple[str, ...]:
    return tuple(folder_of(find_root(context.obj), name) for name in names) if names else ()


def folder_of(root: Path, name: str) -> str:
    """Return the name of an order's folder by that name or by the order's number; any other name as it is.

    Raises SourceError where several orders have the number, or where the name is the beginning of one.
    """
    orders = root / INSTRUCTIONS
    if not name or (orders / name).is_dir():
        return name
    found = [slug for slug, number in _numbers(orders) if number.casefold() == name.casefold()]
    if len(found) == 1:
        return found[0]
    if found:
        remedy = f"write the folder: {', '.join(found)}"
        raise refused(INSTRUCTIONS, "several orders have this number", remedy, value=name)
    longer = [slug for slug, _ in _numbers(orders) if slug.startswith(f"{name.casefold()}-")]
    if longer:
        remedy = f"did you mean {', '.join(longer)}?"
        raise refused(INSTRUCTIONS, "there is no order of this name or number", remedy, value=name)
    return name


def _numbers(orders: Path) -> Iterator[tuple[str, str]]:
    """Yield each folder that holds an order with the number that its file gives."""
    for file in sorted(orders.glob(f"*/{ORDER_FILE}")):
        try:
            found = _NUMBER.search(read_head(file, _HEAD))
        except OSError:
            continue
        yield file.parent.name, found[1].decode("utf-8", "replace") if found else ""
