"""The command line: words in, one call, words out, exit status.

Exit status: 0 good, 1 the sources are wrong (or a check found something), 2 the words are wrong, 3 our fault.
"""

from __future__ import annotations

import codecs
import io
import os
import sys
import traceback
import unicodedata
from collections.abc import Sequence

from weld_packets.commands.dispatch import run
from weld_packets.commands.system_errors import problem_of
from weld_packets.commands.usage import parser
from weld_packets.errors import PacketError

GOOD, SOURCES_WRONG, OUR_FAULT = 0, 1, 3
_MAXIMUM_PROBLEMS_PRINTED = 50


def main(words: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status."""
    _print_every_sign()
    chosen = parser().parse_args(words)
    try:
        status = run(chosen)
        if sys.stdout:
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
        return _tell_system_error(error, debug=chosen.debug)
    except Exception as error:  # noqa: BLE001 (the last line of defence: the user is told whose fault it is)
        return _tell_our_fault(error, debug=chosen.debug)
    return status


def _print_every_sign() -> None:
    """Let a terminal that lacks a sign show its nearest, a plain space or a question mark, instead of failing."""
    codecs.register_error("nearest", _nearest)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="nearest")


def _nearest(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    plain = (unicodedata.normalize("NFKD", sign) for sign in error.object[error.start : error.end])
    return "".join(sign if sign.isascii() else "?" for sign in plain), error.end


def _tell_problems(error: PacketError) -> int:
    for problem in error.problems[:_MAXIMUM_PROBLEMS_PRINTED]:
        print(problem, file=sys.stderr)
    left = len(error.problems) - _MAXIMUM_PROBLEMS_PRINTED
    if left > 0:
        print(f"... and {left} more", file=sys.stderr)
    count = len(error.problems)
    print(f"{count} problem{'s' if count != 1 else ''}", file=sys.stderr)
    return SOURCES_WRONG


def _tell_system_error(error: OSError, *, debug: bool) -> int:
    problem = problem_of(error)
    return _tell_problems(PacketError([problem])) if problem else _tell_our_fault(error, debug=debug)


def _tell_our_fault(error: Exception, *, debug: bool) -> int:
    print(f"a fault of this program, not of your sources: {type(error).__name__}: {error}", file=sys.stderr)
    if debug:
        traceback.print_exception(error)
    else:
        print(
            "run it again with --debug before the command and send what it prints to the maintainers", file=sys.stderr
        )
    return OUR_FAULT
