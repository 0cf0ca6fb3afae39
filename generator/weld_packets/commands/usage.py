"""The words of the command line."""

from __future__ import annotations

import argparse
import re
from contextlib import suppress
from datetime import date
from pathlib import Path

_LAST_PORT = 65535
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def parser() -> argparse.ArgumentParser:
    """Return the parser of all commands."""
    words = argparse.ArgumentParser(
        prog="packets", description="Instruction websites for robotic welding cells, one per work order."
    )
    words.add_argument("--root", type=Path, default=None, help="folder with instructions/ and tables/")
    words.add_argument("--debug", action="store_true", help="show where a fault of this program arose")
    commands = words.add_subparsers(title="commands", required=True, metavar="COMMAND")
    _add_everyday(commands)
    _add_revisions(commands)
    _add_looking_back(commands)
    _add_upkeep(commands)
    return words


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, text: str
) -> argparse.ArgumentParser:
    command = commands.add_parser(name, help=text, description=text[0].upper() + text[1:] + ".")
    command.set_defaults(command=name)
    return command


def _add_everyday(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    build = _command(commands, "build", "build the websites of the orders that changed, or of those named")
    build.add_argument("orders", nargs="*", metavar="ORDER")
    build.add_argument("--all", action="store_true", help="build also what has not changed")
    check = _command(commands, "check", "check sources and settings without building; print each packet's digest")
    check.add_argument("orders", nargs="*", metavar="ORDER")
    settings = _command(commands, "settings", "print the settings of every operation of an order")
    settings.add_argument("order", metavar="ORDER")
    settings.add_argument("--json", action="store_true", help="everything, with how each figure came about")
    serve = _command(commands, "serve", "show one order in a browser and rebuild it at every change")
    serve.add_argument("order", metavar="ORDER")
    serve.add_argument("--port", type=_port, default=8000, help="port on this computer, 1 to 65535")
    export = _command(commands, "export", "write one order's website as a zip file that stands alone")
    export.add_argument("order", metavar="ORDER")
    export.add_argument("--to", type=Path, default=None, metavar="FILE")


def _port(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) <= _LAST_PORT:
        raise argparse.ArgumentTypeError(f"{text!r} is no port: write a number from 1 to {_LAST_PORT}")
    return int(text)


def _day(text: str) -> date:
    with suppress(ValueError):
        if _DAY.fullmatch(text):
            return date.fromisoformat(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no date: write year-month-day, such as 2026-12-04")


def _count(text: str) -> int:
    if not text.isdecimal() or not int(text):
        raise argparse.ArgumentTypeError(f"{text!r} is no number of orders: write one from 1")
    return int(text)


def _add_revisions(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    release = _command(commands, "release", "freeze an order's packet as its next revision")
    release.add_argument("order", metavar="ORDER")
    _add_who_and_why(release)
    release.add_argument("--digest", default="", help="refuse unless the packet has this digest, as printed by check")
    withdraw = _command(commands, "withdraw", "record that a revision must no longer be used")
    withdraw.add_argument("order", metavar="ORDER")
    withdraw.add_argument("revision", metavar="REVISION")
    _add_who_and_why(withdraw)
    key = _command(commands, "key", "make a key pair for signing releases")
    key.add_argument("name", metavar="NAME")
    key.add_argument("--private", type=Path, required=True, metavar="FILE", help="where the private key is kept")


def _add_who_and_why(command: argparse.ArgumentParser) -> None:
    command.add_argument("--author", required=True)
    command.add_argument("--approver", required=True)
    command.add_argument("--reason", required=True)
    command.add_argument(
        "--effective", required=True, metavar="WHEN", help="from when: 2026-12-01, 'part 120' or 'serial LC-0450'"
    )
    command.add_argument("--key", default="", metavar="NAME", help="sign; the name of the plant's public key")
    command.add_argument("--private", type=Path, default=None, metavar="FILE", help="the private key to sign with")


def _add_looking_back(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    history = _command(commands, "history", "list an order's revisions: who, when, why, what changed")
    history.add_argument("order", metavar="ORDER")
    diff = _command(commands, "diff", "compare two revisions value by value; 'draft' is the working tree")
    diff.add_argument("order", metavar="ORDER")
    diff.add_argument("before", metavar="A")
    diff.add_argument("after", metavar="B", nargs="?", default="draft")
    as_of = _command(commands, "as-of", "tell which revision was in force on a date")
    as_of.add_argument("order", metavar="ORDER")
    as_of.add_argument("date", type=_day, metavar="DATE", help="year-month-day, such as 2026-12-04")
    where = _command(commands, "where-used", "list the released orders that used a table, or one row of it")
    where.add_argument("table", metavar="TABLE")
    where.add_argument("operation", metavar="ROW", nargs="?", default="")
    where.add_argument("--revision", default="", help="only this revision of the table")
    _command(
        commands, "impact", "recompute what is in force, or will be, with the working tree and list what would change"
    )
    _command(commands, "register", "list every released record with its digest, and the head digest over all")
    verify = _command(commands, "verify", "verify records, chains, register and built websites; name what differs")
    verify.add_argument(
        "--known", action="append", default=[], metavar="POINT", help="a line that register printed earlier"
    )


def _add_upkeep(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    _command(commands, "schemas", "write the JSON Schemas of orders and tables that editors use")
    bench = _command(commands, "bench", "measure speed and memory on generated orders")
    bench.add_argument("--orders", type=_count, default=1000, help="how many orders the large measurements use")
