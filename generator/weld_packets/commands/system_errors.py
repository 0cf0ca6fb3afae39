"""Errors of a disk, a folder or a port, told as problems that the user can mend."""

from __future__ import annotations

import errno

from weld_packets.errors import Problem

_SPACE = "free some space on this disk and run the command again"
_RIGHTS = "see that you may read and write there"
_FOLDER = "a file stands where a folder is needed: move it away"
_PORT = "name another with --port"
_REMEDIES = {
    errno.EACCES: _RIGHTS,
    errno.EPERM: _RIGHTS,
    errno.EROFS: "write to a disk that is not read-only",
    errno.ENOSPC: _SPACE,
    errno.EDQUOT: _SPACE,
    errno.EFBIG: _SPACE,
    errno.ENOTDIR: _FOLDER,
    errno.EEXIST: _FOLDER,
    errno.EISDIR: "a folder stands where a file is needed: move it away",
    errno.ENAMETOOLONG: "choose a shorter name or a folder nearer the top",
    errno.EADDRINUSE: _PORT,
    errno.EADDRNOTAVAIL: _PORT,
    errno.EIO: "the disk reports an error: use another, and look after this one",
}


def problem_of(error: OSError) -> Problem | None:
    """Return the problem that a system error tells of, or None where only this program can be at fault."""
    remedy = _REMEDIES.get(error.errno or 0)
    if remedy is None:
        return None
    unnamed = "the port" if remedy == _PORT else "the output"
    return Problem(str(error.filename2 or error.filename or unnamed), 0, "", "", f"failed: {error.strerror}", remedy)
