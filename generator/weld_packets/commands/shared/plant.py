"""The plant's folder: where a command finds things in it and puts things into it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import Concatenate, ParamSpec, TypeVar

import click

from weld_packets.errors import Problem, SourceError

P = ParamSpec("P")
R = TypeVar("R")
INSTRUCTIONS = "instructions"
TABLES = "tables"
SITES = "site"
PREVIEWS = f"{SITES}/.preview"
"""Drafts that `serve` shows, apart from what operators read."""
FITTED = f"{SITES}/.fitted"
"""What orders leave fitted, kept from one build to the next."""


def in_plant(command: Callable[Concatenate[Path, P], R]) -> Callable[P, R]:
    """Give ``command`` the plant's folder as its first argument."""

    @wraps(command)
    def found(*args: P.args, **kwargs: P.kwargs) -> R:
        return command(find_root(click.get_current_context().obj), *args, **kwargs)

    return found


def find_root(given: Path | None) -> Path:
    """Return the plant's folder: the one given, or the nearest upward that holds instructions/ and tables/.

    Raises SourceError when there is none.
    """
    start = (given or Path.cwd()).resolve()
    for folder in [start] if given else [start, *start.parents]:
        if (folder / INSTRUCTIONS).is_dir() and (folder / TABLES).is_dir():
            return folder
    remedy = "go to the folder that holds instructions/ and tables/, or name it with --root"
    raise SourceError([Problem(str(start), 0, "", "", "this is not a plant's folder", remedy)])


def print_lines(lines: Iterable[str]) -> None:
    """Print ``lines`` to standard output."""
    for line in lines:
        print(line)
