"""The path of a file or folder on a command line."""

from __future__ import annotations

import os
from pathlib import Path

import click


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
