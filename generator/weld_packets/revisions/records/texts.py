"""What a person typed for a record to keep: names, reasons, what is stated of a nonconformity."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import has_heaped_marks, says_something, seen, unseen_in

_TEXT_LIMIT = 500


def text_problems(key: str, text: str) -> Iterator[Problem]:
    """Yield what is wrong with a text that somebody typed."""
    if not seen(text):
        yield unplaced(key, "", "is missing", f"name the {key}")
    elif sign := unseen_in(text):
        yield unplaced(key, ascii(text), f"holds a sign that nobody sees, {sign}", "type it anew")
    elif not text.replace("\N{NO-BREAK SPACE}", " ").isprintable() or len(text) > _TEXT_LIMIT:
        message = f"holds a control character or more than {_TEXT_LIMIT} characters"
        yield unplaced(key, text, message, "write one shorter line")
    elif not says_something(text) or has_heaped_marks(text):
        yield unplaced(key, text, "holds no word that can be read", f"write the {key} in letters")
