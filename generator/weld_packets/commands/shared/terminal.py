"""How commands print: lines, JSON, and the nearest of a sign that a terminal lacks, instead of ending the command.

Therefore they print with `print`: `click.echo` would send UTF-8 to a terminal that says it reads ASCII.
"""

from __future__ import annotations

import codecs
import io
import json
import os
import sys
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])
"""The function of a command, whatever it takes."""
_JSON = f"{__name__}.json"


def prepare_streams() -> None:
    """Let every standard stream take what a command prints.

    A sign that it lacks is printed as its nearest plain one, or as a question mark. One that was closed before the
    start, such as that of a service, prints nothing.
    """
    codecs.register_error("nearest", _nearest)
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, Path(os.devnull).open("w", encoding="utf-8"))  # noqa: SIM115 (open to the end)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="nearest")


def print_lines(lines: Iterable[str]) -> None:
    """Print ``lines`` to standard output."""
    for line in lines:
        print(line)


def json_option(command: Command) -> Command:
    """Give ``command`` the option to print its result as JSON; what refuses it is then JSON too."""
    text = "Print everything as JSON."
    return click.option("--json", "as_json", is_flag=True, is_eager=True, callback=_noted, help=text)(command)


def wants_json(noted: Mapping[str, Any]) -> bool:
    """Return whether a result is wanted as JSON, by what the contexts of a command and of its groups have in common."""
    return bool(noted.get(_JSON))


def print_json(data: object) -> None:
    """Print ``data`` to standard output as JSON, in plain letters where it takes no others."""
    plain = "utf" not in (sys.stdout.encoding or "").lower()
    print(json.dumps(data, indent=2, ensure_ascii=plain))


def _noted(context: click.Context, _: click.Parameter, wanted: bool) -> bool:
    context.meta[_JSON] = wanted
    return wanted


def _nearest(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    plain = (unicodedata.normalize("NFKD", sign) for sign in error.object[error.start : error.end])
    return "".join(sign if sign.isascii() else "?" for sign in plain), error.end
