"""The plant's folder, which a command finds, and other paths that its command line names."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Concatenate, ParamSpec, TypeVar

import click

from weld_packets.files import real_path
from weld_packets.sources.folders import FIND_PLANT, INSTRUCTIONS, TABLES
from weld_packets.sources.reading.files import refused

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
    raise refused(str(start), "this is not a plant's folder", FIND_PLANT)


class NamedPath(click.Path):
    """A path that names something: an empty one, of a variable that is not set, would mean the folder at hand."""

    def __init__(self, *, file_okay: bool = True) -> None:
        """Take a path as it is, where a file may be there; the work says what is wrong with it."""
        super().__init__(path_type=Path, file_okay=file_okay)

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        """Return the path; raise a usage error for an empty one."""
        if not os.fspath(value):
            self.fail("it is empty; '.' is the folder at hand", param, ctx)
        return super().convert(value, param, ctx)


NAMED_PATH = NamedPath()
NAMED_FOLDER = NamedPath(file_okay=False)
