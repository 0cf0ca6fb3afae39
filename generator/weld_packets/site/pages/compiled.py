"""Compiled templates kept between runs in a folder of the user's own, so that a single build starts quickly."""

from __future__ import annotations

from contextlib import suppress

from jinja2 import Environment, FileSystemBytecodeCache
from jinja2.bccache import Bucket


class _KeptWherePossible(FileSystemBytecodeCache):
    """A full or missing disk costs the time of compiling again, not the build."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


def keep_compiled(environment: Environment) -> None:
    """Let ``environment`` keep what it compiles, where there is a folder that only this user can write to."""
    with suppress(OSError, RuntimeError):
        environment.bytecode_cache = _KeptWherePossible()
