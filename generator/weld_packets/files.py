"""Files of a plant and its sites: only plain ones are opened, and each is written whole or not at all."""

from __future__ import annotations

import glob
import os
import shutil
import stat
from pathlib import Path

_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
_AS_IT_IS = getattr(os, "O_BINARY", 0)
_AT_ONCE = 1 << 16
"""Bytes that are read in one go: nearly every source, card and note is shorter."""

_RESERVED = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})


class NotPlainError(OSError):
    """What is there is no plain file."""


def open_plain(path: str | Path, flags: int) -> int:
    """Return a descriptor of a plain file; raise OSError for anything else: a pipe would wait, a device never end."""
    descriptor = os.open(path, flags | getattr(os, "O_NONBLOCK", 0))
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise NotPlainError(0, "it is not a plain file")
    return descriptor


def open_own(path: str | Path, flags: int) -> int:
    """Return a descriptor of a plain file that is at ``path`` itself; raise OSError also for a link to one."""
    return open_plain(path, flags | _NO_LINK)


def plain_content(path: str | Path) -> bytes:
    """Return the content of a plain file; raise OSError for anything else."""
    descriptor = open_plain(path, os.O_RDONLY | _AS_IT_IS)
    try:
        return b"".join(iter(lambda: os.read(descriptor, _AT_ONCE), b""))  # a file object asks for more
    finally:
        os.close(descriptor)


def write_whole(path: Path, content: bytes, *, durable: bool = False) -> None:
    """Put ``content`` in the place of the file at ``path`` in one step; where that fails, the old file stays.

    Whoever reads, or is stopped in between, meets the old or the new. A link in its place is replaced and not followed.
    A ``durable`` file is on the medium when it has the name: what people wrote, and no build can make again.
    """
    fresh = unfinished(path)
    remove(fresh)
    if durable:
        remove_left(path.parent, path.name)
    try:
        with fresh.open("xb") as file:
            file.write(content)
            if durable:
                file.flush()
                os.fsync(file.fileno())
        if path.is_file() and not path.is_symlink():
            shutil.copymode(path, fresh)
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)


def unfinished(path: Path) -> Path:
    """Return where this process makes the file or folder that is then put at ``path``: beside it, hidden."""
    return path.with_name(f".{path.name}.{os.getpid()}")


def remove_left(folder: Path, name: str = "") -> None:
    """Remove the `unfinished` files and folders that killed processes left in ``folder``: those of ``name``, or all."""
    for left in folder.glob(f".{glob.escape(name) or '*'}.*"):
        process = left.name.rpartition(".")[2]
        if process.isdecimal() and not is_alive(process):
            remove(left)


def is_alive(process: str) -> bool:
    """Return whether the process of a number, as it is in the name of an unfinished file or folder, still works.

    Windows cannot be asked by a signal, which would stop the process: there each counts as working, so that what a
    killed one left stays.
    """
    if os.name == "nt":
        return True
    try:
        os.kill(int(process), 0)
    except (ValueError, OverflowError, ProcessLookupError):
        return False
    except PermissionError:
        return True
    return True


def reserved(name: str) -> bool:
    """Return whether Windows keeps ``name`` for a device, with or without an extension."""
    return name.split(".", 1)[0].lower() in _RESERVED


def real_path(path: Path) -> Path:
    """Return where a path leads, links followed; of links that lead in a ring the path itself."""
    return Path(os.path.realpath(path))


def remove(path: Path) -> None:
    """Remove a folder with all that it holds, or a file or link that somebody put in its place."""
    if path.is_symlink() or path.is_file():
        path.unlink(missing_ok=True)
    else:
        shutil.rmtree(path, ignore_errors=True)
