"""How a command finds the plant's folder."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Concatenate, ParamSpec, TypeVar

import click

from weld_packets.errors import Problem, SourceError
from weld_packets.files import real_path
from weld_packets.sources.folders import INSTRUCTIONS, TABLES

P = ParamSpec("P")
R = TypeVar("R")


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
    start = real_path(given or Path.cwd())
    for folder in [start] if given else [start, *start.parents]:
        if (folder / INSTRUCTIONS).is_dir() and (folder / TABLES).is_dir():
            return folder
    remedy = "go to the folder that holds instructions/ and tables/, or name it with --root"
    raise SourceError([Problem(str(start), 0, "", "", "this is not a plant's folder", remedy)])
