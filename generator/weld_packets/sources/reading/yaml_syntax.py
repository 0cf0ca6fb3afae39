"""What is wrong where the YAML parser stops, in the words of somebody who writes orders.

It is derived from the class of the parser's error, the characters at its marks and what is open there, never from the
parser's own sentences, which change from version to version.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import yaml

from weld_packets.errors import Problem

_ALIGNED = "indent it like its neighbours, with spaces"
_UNCLOSED_QUOTE = "a quote is not closed", "close the text with the quote that began it"
_ESCAPE = (
    "a backslash in double quotes begins a code that is not known",
    "use single quotes, or write \\\\ for one backslash",
)
_NESTED = "brackets are nested too deep", "check the brackets of this line"
_NO_START = "a text may not begin with this character", "put the text in quotes"
_OUTERMOST = "this line does not line up with the keys above it", _ALIGNED
_INSIDE = {
    "[": ("a '[' list is not closed, or a comma is missing in it", "close the list with ']'"),
    "{": ("a '{' group is not closed, or a comma is missing in it", "close the group with '}'"),
    "-": ("this line does not line up with the list above it", "begin it with '- ' at the same indentation"),
    ":": (
        "this line does not line up with the keys above it, or a text in quotes goes on after its quote",
        _ALIGNED,
    ),
}
"""What the parser meets, by what is open: a list or group in brackets, a list of dashes, a group of keys."""
_AT = {
    ":": (
        "there is a second ':' on the line, or the line is indented too far",
        "put text that contains ': ' in quotes, and line the keys up",
    ),
    "-": ("a list may not begin on this line", "begin the list on the line below its key"),
    "[": _NESTED,
    "{": _NESTED,
}
"""What the scanner meets, by the character at which it stops."""


@dataclass(frozen=True)
class _Spot:
    """A mark of the parser: line and column from 0, and the text from there to the end of its line."""

    line: int
    column: int
    text: str


def syntax_problem(error: yaml.YAMLError, text: str, within: str, file: str) -> Problem:
    """Return what stopped the parser of ``text``, with its line.

    ``within`` is what was open there: ``[`` or ``{``, ``-`` for a list of dashes, ``:`` for keys, nothing at the top.
    """
    lines = text.split("\n")
    at = _spot(getattr(error, "problem_mark", None), lines)
    since = _spot(getattr(error, "context_mark", None), lines)
    if at is None:
        return Problem(file, 0, "", "", "this is not YAML", "write the file anew in a plain editor, as UTF-8 text")
    words = _parsed(at, since, within) if isinstance(error, yaml.parser.ParserError) else _scanned(at, since, lines)
    return Problem(file, at.line + 1, "", "", *words)


def _spot(mark: Any, lines: list[str]) -> _Spot | None:
    if mark is None:
        return None
    line = lines[mark.line] if mark.line < len(lines) else ""
    return _Spot(mark.line, mark.column, line[mark.column :])


def _parsed(at: _Spot, since: _Spot | None, within: str) -> tuple[str, str]:
    if at == since:
        return "a key or a value is missing here", "write it, or delete the line"
    return _INSIDE.get(within, _OUTERMOST)


def _scanned(at: _Spot, since: _Spot | None, lines: list[str]) -> tuple[str, str]:
    if since is None or at == since:
        return _AT.get(at.text[:1], _NO_START)
    if since.text.startswith(("|", ">", "&", "*", "!", "%")):
        return _NO_START
    if since.text.startswith(("'", '"')):
        if at.text.startswith(("---", "...")) or not (at.text or lines[at.line + 1 :]):
            return _UNCLOSED_QUOTE
        if "\\" in lines[at.line][: at.column + 1]:
            return _ESCAPE
    if at.text.startswith(":") and at.line == since.line:
        return _AT[":"]
    return "there is a key without ':' here or just above", "write 'key: value'"
