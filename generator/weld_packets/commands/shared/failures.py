"""How a command ends that did not do what was wanted: what is printed to standard error, and the exit status."""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Sequence

import click

from weld_packets.commands.shared.terminal import print_json
from weld_packets.errors import PacketError, Problem
from weld_packets.wording.english import counted

SOURCES_WRONG, USAGE_ERROR, INTERNAL_ERROR = 1, 2, 3
_STOPPED = 130
"""By Ctrl+C, as shells have it: 128 and the number of the signal."""
_MOST_PROBLEMS_PRINTED = 50
_SPACE = "free some space on this disk and run the command again; what it recorded before is kept"
_RIGHTS = "see that you may read and write there"
_FOLDER = "a file is where a folder is needed: move it away"
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
    errno.ELOOP: "links lead in a ring here: remove one of them",
    errno.EISDIR: "a folder is where a file is needed: move it away",
    errno.ENAMETOOLONG: "choose a shorter name or a folder nearer the top",
    errno.EADDRINUSE: _PORT,
    errno.EADDRNOTAVAIL: _PORT,
    errno.EIO: "the disk reports an error: use another, and replace this one",
}


def report(error: BaseException, *, debug: bool, as_json: bool = False) -> int:
    """Print what ``error`` says to standard error and return the exit status of the command that it ended.

    Of a refused command whose result would be JSON, the problems are printed as such besides.
    """
    match error:
        case click.exceptions.Exit():
            status = error.exit_code
        case click.UsageError():
            status = _usage_error(error)
        case PacketError():
            status = _refused(error.problems, as_json=as_json)
        case KeyboardInterrupt():
            print("stopped", file=sys.stderr)
            status = _STOPPED
        case BrokenPipeError():  # nobody reads on, as with `head`: what is left to print goes nowhere
            _drop_output()
            status = 0
        case _ if (problem := problem_of(error)) is not None:
            status = _refused((problem,), as_json=as_json)
        case _:
            status = _internal_error(error, debug=debug)
    return status


def _drop_output() -> None:
    """Let what is left to print go nowhere: Python would fail at it once more when it ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def fault_of(error: BaseException) -> str:
    """Return what is said of an internal error, such as one at an order while the work on others goes on."""
    return f"internal error, not a mistake in your files: {type(error).__name__}: {error}"


def print_faults(faults: Sequence[str]) -> None:
    """Print internal errors to standard error."""
    for fault in faults:
        print(fault, file=sys.stderr)


def problem_of(error: BaseException) -> Problem | None:
    """Return the problem of a disk, a folder or a port that a system error reports, None for an internal error."""
    remedy = _REMEDIES.get(error.errno or 0) if isinstance(error, OSError) else None
    if not isinstance(error, OSError) or remedy is None:
        return None
    unnamed = "the port" if remedy == _PORT else "the output"
    return Problem(str(error.filename2 or error.filename or unnamed), 0, "", "", f"failed: {error.strerror}", remedy)


def _usage_error(error: click.UsageError) -> int:
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        error.show()
    else:
        print(f"usage error: {error.format_message()}", file=sys.stderr)
        if error.ctx is not None:
            usage = error.ctx.get_usage().partition(": ")[2]
            print(f"    {' '.join(usage.split())}\n    -> {error.ctx.command_path} --help explains it", file=sys.stderr)
    return USAGE_ERROR


def _refused(problems: Sequence[Problem], *, as_json: bool) -> int:
    if as_json:
        try:
            print_json({"problems": [problem.data for problem in problems]})
            sys.stdout.flush()
        except OSError:  # the output itself is what cannot be written; the words below say so
            _drop_output()
    for problem in problems[:_MOST_PROBLEMS_PRINTED]:
        print(problem, file=sys.stderr)
    left = len(problems) - _MOST_PROBLEMS_PRINTED
    if left > 0:
        print(f"... and {left} more", file=sys.stderr)
    print(counted(len(problems), "problem"), file=sys.stderr)
    return SOURCES_WRONG


def _internal_error(error: BaseException, *, debug: bool) -> int:
    print(fault_of(error), file=sys.stderr)
    if debug:
        traceback.print_exception(error)
    else:
        print(
            "run it again with --debug before the command and send what it prints to the maintainers", file=sys.stderr
        )
    return INTERNAL_ERROR
