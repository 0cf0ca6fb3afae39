"""Reading what a build has written, whatever somebody has put in its place since: a pipe waits, a device never ends."""

from __future__ import annotations

import os
import stat
from io import FileIO


def plain_content(path: str) -> bytes:
    """Return the content of a plain file; raise OSError for anything else."""
    with FileIO(path, opener=_plain) as file:
        return file.read()


def _plain(path: str, flags: int) -> int:
    descriptor = os.open(path, flags | getattr(os, "O_NONBLOCK", 0))
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise OSError(0, "it is not a plain file", path)
    return descriptor
