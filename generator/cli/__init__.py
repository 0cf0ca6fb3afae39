"""The command line: words in, one call, words out, exit status.

Exit status: 0 good, 1 the sources are wrong (or a check found something), 2 the words are wrong, 3 our fault.
"""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Sequence

from generator.cli.commands import run
from generator.cli.words import parser
from generator.errors import PacketError, Problem

GOOD, SOURCES_WRONG, OUR_FAULT = 0, 1, 3
_MOST_PROBLEMS_PRINTED = 50
_OF_THE_PLACE = {
    errno.EACCES: "see that you may read and write there",
    errno.EPERM: "see that you may read and write there",
    errno.EROFS: "write to a disk that is not read-only",
    errno.ENOSPC: "free some space on this disk and run the command again",
    errno.EDQUOT: "free some space on this disk and run the command again",
    errno.EFBIG: "free some space on this disk and run the command again",
    errno.ENOTDIR: "a file stands where a folder is needed: move it away",
    errno.EISDIR: "a folder stands where a file is needed: move it away",
    errno.EEXIST: "a file stands where a folder is needed: move it away",
    errno.ENAMETOOLONG: "choose a shorter name or a folder nearer the top",
    errno.EADDRINUSE: "another program uses this port: name another with --port",
    errno.EADDRNOTAVAIL: "name another port with --port",
    errno.EIO: "the disk reports an error: use another, and look after this one",
}
"""What to do about errors that the system reports of a place, by their number."""


def main(words: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    chosen = parser().parse_args(words)
    try:
        status = run(chosen)
        sys.stdout.flush()
    except PacketError as error:
        return _tell_problems(error)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return SOURCES_WRONG
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except OSError as error:
        return _tell_place(error, debug=chosen.debug)
    except Exception as error:  # noqa: BLE001 (the last line of defence: the user is told whose fault it is)
        return _tell_our_fault(error, debug=chosen.debug)
    return status


def _tell_problems(error: PacketError) -> int:
    for problem in error.problems[:_MOST_PROBLEMS_PRINTED]:
        print(problem, file=sys.stderr)
    left = len(error.problems) - _MOST_PROBLEMS_PRINTED
    if left > 0:
        print(f"... and {left} more", file=sys.stderr)
    count = len(error.problems)
    print(f"{count} problem{'s' if count != 1 else ''}", file=sys.stderr)
    return SOURCES_WRONG


def _tell_place(error: OSError, *, debug: bool) -> int:
    """Tell of a disk or folder that does not take what is written; any other such error is our fault."""
    remedy = _OF_THE_PLACE.get(error.errno or 0)
    if remedy is None:
        return _tell_our_fault(error, debug=debug)
    place = str(error.filename2 or error.filename or "")
    return _tell_problems(PacketError([Problem(place, 0, "", "", f"cannot be used: {error.strerror}", remedy)]))


def _tell_our_fault(error: Exception, *, debug: bool) -> int:
    print(f"a fault of this program, not of your sources: {type(error).__name__}: {error}", file=sys.stderr)
    if debug:
        traceback.print_exception(error)
    else:
        print(
            "run it again with --debug before the command and send what it prints to the maintainers", file=sys.stderr
        )
    return OUR_FAULT
