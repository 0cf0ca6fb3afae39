"""The few things that are done to a disk when a record is written, each one step that can be the last."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from weld_packets.errors import PacketError, Problem
from weld_packets.files import NotPlainError, open_own

_READ = os.O_RDONLY | getattr(os, "O_BINARY", 0)


class Disk:
    """Durable steps: each is complete and on the medium when it returns."""

    def make_folder(self, folder: Path) -> None:
        """Create ``folder`` where it is missing."""
        if not folder.is_dir():
            folder.mkdir()
            self.keep_names(folder.parent)

    def create(self, path: Path, data: bytes, mode: int = 0o644) -> None:
        """Write ``data`` into a new file; FileExistsError where there is one."""
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        self.keep_names(path.parent)

    def replace(self, fresh: Path, target: Path) -> None:
        """Put ``fresh`` in the place of ``target`` in one step."""
        fresh.replace(target)
        self.keep_names(target.parent)

    def link(self, existing: Path, name: Path) -> None:
        """Give a file a second name; FileExistsError where that is taken.

        A medium without second names, such as a memory stick, gets the new name alone: the writer is alone there.
        """
        try:
            os.link(existing, name)
        except OSError:
            if name.exists():
                raise
            existing.rename(name)
        self.keep_names(name.parent)

    def remove(self, path: Path) -> None:
        """Take a name away."""
        path.unlink(missing_ok=True)
        self.keep_names(path.parent)

    def keep_names(self, folder: Path) -> None:
        """Bring the names in ``folder`` to the medium."""
        if sys.platform == "win32":  # pragma: no cover - folders cannot be opened there
            return
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def read_plain(path: Path, shown: str) -> bytes | None:
    """Return the content of the plain file ``path``, None where there is nothing; ``shown`` names it in messages.

    Raises PacketError for a link, a folder, a pipe, a device, and for a file that may not be read.
    """
    try:
        descriptor = open_own(path, _READ)
    except FileNotFoundError:
        return None
    except NotPlainError:
        raise _not_plain(shown, "is not a plain file") from None
    except OSError as error:
        raise _not_plain(shown, "is a link" if path.is_symlink() else f"cannot be read: {error.strerror}") from None
    with os.fdopen(descriptor, "rb") as file:
        return file.read()


def _not_plain(shown: str, message: str) -> PacketError:
    return PacketError([Problem(shown, 0, "", "", message, "restore the file from a copy, or with git")])


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Hold ``folder`` for one writer; the system lets go of it however the process ends.

    Of our own, and not filelock's: what is locked is the folder itself, so that no lock file comes among the records.

    Raises PacketError at once while another process holds it.
    """
    descriptor = _lock_file(folder)
    try:
        _take(descriptor, folder)
        yield
    finally:
        os.close(descriptor)


def _take(descriptor: int, folder: Path) -> None:
    try:
        _lock(descriptor)
    except (BlockingIOError, PermissionError):
        message = "another record is being written at this moment"
        remedy = "look at 'packets history' when it is done, and try again if yours is still wanted"
        raise PacketError([Problem(str(folder), 0, "", "", message, remedy)]) from None


if sys.platform == "win32":  # pragma: no cover - folders cannot be locked there, so a file beside the orders is
    import msvcrt

    def _lock_file(folder: Path) -> int:
        return os.open(folder / ".lock", os.O_RDWR | os.O_CREAT)

    def _lock(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock_file(folder: Path) -> int:
        return os.open(folder, os.O_RDONLY)

    def _lock(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
