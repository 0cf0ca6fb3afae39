"""What the YAML parser objects to, in the words of somebody who writes orders."""

from __future__ import annotations

import yaml

from weld_packets.errors import Problem

_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "<document start>",
        "this line does not line up with the keys above it",
        "indent it like its neighbours, with spaces",
    ),
    ("expected node content", "a key or a value is missing here", "write it, or delete the line"),
    ("but found ':'", "a key or a value is missing here", "write it, or delete the line"),
    (
        "mapping values are not allowed",
        "there is a second ':' on the line, or the line is indented too far",
        "put text that contains ': ' in quotes, and line the keys up",
    ),
    ("could not find expected ':'", "there is a key without ':' here or just above", "write 'key: value'"),
    (
        "expected key",
        "this line does not line up with the keys above it, or a text in quotes goes on after its quote",
        "indent it like its neighbours, with spaces",
    ),
    (
        "expected '-' indicator",
        "this line does not line up with the list above it",
        "begin it with '- ' at the same indentation",
    ),
    (
        "but found '-'",
        "this line does not line up with the list above it",
        "begin it with '- ' at the same indentation",
    ),
    (
        "sequence entries are not allowed",
        "a list may not begin on this line",
        "begin the list on the line below its key",
    ),
    (
        "<block end>",
        "this line does not line up with the lines above it, or a text in quotes goes on after its quote",
        "indent it like its neighbours, with spaces",
    ),
    ("',' or ']'", "a '[' list is not closed, or a comma is missing in it", "close the list with ']'"),
    ("',' or '}'", "a '{' group is not closed, or a comma is missing in it", "close the group with '}'"),
    ("unexpected end of stream", "a quote is not closed", "close the text with the quote that began it"),
    ("unexpected document indicator", "a quote is not closed", "close the text with the quote that began it"),
    ("cannot start any token", "a text may not begin with this character", "put the text in quotes"),
    ("nesting depth", "brackets are nested too deep", "check the brackets of this line"),
    (
        "escape",
        "a backslash in double quotes begins a code that is not known",
        "use single quotes, or write \\\\ for one backslash",
    ),
)


def plain_words(error: yaml.YAMLError, file: str) -> Problem:
    """Return the parser's complaint as a problem with its line."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line = mark.line + 1 if mark else 0
    complaint = str(getattr(error, "problem", None) or getattr(error, "reason", None) or "unreadable")
    for sign, message, remedy in _WORDS:
        if sign in complaint:
            return Problem(file, line, "", "", message, remedy)
    return Problem(file, line, "", "", f"this is not YAML: {complaint}", "check this line and the one above it")
