"""How commands print: lines, JSON, and the nearest of a sign that a terminal lacks, instead of ending the command.

Therefore they print with `print`: `click.echo` would send UTF-8 to a terminal that says it reads ASCII.
"""

from __future__ import annotations

import codecs
import io
import json
import sys
import unicodedata
from collections.abc import Callable, Iterable
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])
"""The function of a command, whatever it takes."""


def show_every_sign() -> None:
    """Let the standard streams print a sign that they lack as its nearest plain one, or as a question mark."""
    codecs.register_error("nearest", _nearest)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="nearest")


def print_lines(lines: Iterable[str]) -> None:
    """Print ``lines`` to standard output."""
    for line in lines:
        print(line)


JSON = "--json"


def json_option(command: Command) -> Command:
    """Give ``command`` the option to print its result as JSON; what refuses it is then JSON too."""
    return click.option(JSON, "as_json", is_flag=True, help="Print everything as JSON.")(command)


def print_json(data: object) -> None:
    """Print ``data`` to standard output as JSON, in plain letters where it takes no others."""
    plain = "utf" not in (sys.stdout.encoding or "").lower()
    print(json.dumps(data, indent=2, ensure_ascii=plain))


def _nearest(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    plain = (unicodedata.normalize("NFKD", sign) for sign in error.object[error.start : error.end])
    return "".join(sign if sign.isascii() else "?" for sign in plain), error.end
