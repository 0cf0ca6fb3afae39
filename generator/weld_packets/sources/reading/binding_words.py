"""The model's complaints in plain words: what is wrong, and what to write instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from weld_packets.errors import MessageAndRemedy
from weld_packets.model.processes import FAMILIES, family, numbers, process
from weld_packets.sources.order_keys import ORDER_DESCRIPTIONS
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.places import KeyPath
from weld_packets.sources.table_keys import RECORD_DESCRIPTIONS, table_description

AWS_POSITIONS = {
    "1F": "PA", "2F": "PB", "3F": "PF upward or PG downward", "4F": "PD",
    "1G": "PA", "2G": "PC", "3G": "PF upward or PG downward", "4G": "PE",
}  # fmt: skip
"""Plate positions of AWS A3.0 in ISO 6947, after two published comparisons (docgo.net, welding-position;
materialwelding.com, ISO 6947 welding positions; both read). Another one maps 4F to PE, which is wrong."""


@dataclass(frozen=True)
class Complaint:
    """One complaint of the model.

    Attributes:
        kind: pydantic's name of the fault.
        message: pydantic's words.
        details: pydantic's context.
        path: where it is in the tree.
        alternative: first alternative record or type that was tried there, with the path up to it.
        value: what is written there; nothing where something is missing.
        keys: keys allowed there, for a key that is not.

    """

    kind: str
    message: str
    details: dict[str, Any]
    path: KeyPath
    alternative: tuple[KeyPath, str] | None
    value: Any
    keys: tuple[str, ...]


def _welds_of() -> dict[str, str]:
    """Return the keys that hold welds, each with the processes whose welds they are."""
    return {family(name).welds_key: either(numbers(name)) for name in FAMILIES}


def either(words: Sequence[str]) -> str:
    """Return ``a``, ``a or b``, or ``a, b or c``."""
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else "".join(words)


def words_for(complaint: Complaint) -> MessageAndRemedy:
    """Return message and remedy for a complaint of the model."""
    if "remedy" in complaint.details:
        return complaint.message, str(complaint.details["remedy"])
    words = _WORDS.get(complaint.kind)
    return words(complaint) if words else (complaint.message, "write it as the guide to orders and tables shows")


def _missing(complaint: Complaint) -> MessageAndRemedy:
    last = complaint.path[-1]
    if isinstance(last, int) and complaint.path[-2:-1] == ("robots",):
        return "an operation has a pair of robots, and one is named", "write both robots of the cell, as [C1A, C1B]"
    if isinstance(last, int):
        return f"value {last + 1} of this list is missing", "write as many values as the list needs"
    listed = ", or 'welds: ...' with the name of a CSV file beside the order" if last in _welds_of() else ""
    return f"the key {last!r} is missing", f"add '{last}: ...'{listed or _meaning(last, complaint.path)}"


def _meaning(key: str, path: KeyPath) -> str:
    """Return what a key is, in brackets; empty where it is one thing in an order and another in a table."""
    in_order, in_table = ORDER_DESCRIPTIONS.get(key, ""), table_description("", key)
    if path[0] == "operations" and in_order:
        return f" ({in_order})"
    several = any(key == own for _, own in RECORD_DESCRIPTIONS) or (in_order and in_table and in_order != in_table)
    return "" if several or not (in_order or in_table) else f" ({in_order or in_table})"


def _unknown(complaint: Complaint) -> MessageAndRemedy:
    key = str(complaint.path[-1])
    welds_of = _welds_of()
    own = next((welds for welds in welds_of if welds in complaint.keys), "")
    if key in welds_of and own:
        return (
            f"an operation of this process has {own}, not {key}",
            f"make an operation of its own, of process {welds_of[key]}",
        )
    return "this key is not known here", nearest(key, complaint.keys)


def _choice(complaint: Complaint) -> MessageAndRemedy:
    value = complaint.value if isinstance(complaint.value, str) else ""
    offered = _quoted(complaint.details["expected"])
    if complaint.path[-1] == "position" and value.upper() in AWS_POSITIONS:
        return "positions are named after ISO 6947", f"{value.upper()} of AWS is {AWS_POSITIONS[value.upper()]} here"
    if complaint.path[-1] == "quality":
        return (
            "the quality levels of ISO 5817 are B, C and D; criteria of another code are not covered",
            f"write the level that holds here, and what the code requires besides in 'notes': {', '.join(offered)}",
        )
    if set(offered) == set(numbers()):
        return _process(value)
    return "this is not an allowed word here", nearest(value, offered)


def _process(value: str) -> MessageAndRemedy:
    """Return what to write for the process that a word means, or what is covered."""
    meant = [number for number in numbers() if value.upper() in process(number).called]
    listed = [f"{number} ({process(number).name})" for number in meant or numbers()]
    if meant:
        return "processes are named by their numbers in ISO 4063", f"write {either(listed)}"
    return "this process is not covered", f"covered are: {', '.join(listed)}"


def _tag(complaint: Complaint) -> MessageAndRemedy:
    words = _quoted(complaint.details["expected_tags"])
    if set(words) == set(numbers()) and not complaint.details["tag"].startswith("["):
        return _process(complaint.details["tag"])
    if complaint.details["tag"].startswith("["):
        return (
            "a pair of robots shares one process",
            f"write one of {', '.join(words)}, and an operation for each process",
        )
    return "this is not an allowed word here", nearest(complaint.details["tag"], words)


def _no_tag(complaint: Complaint) -> MessageAndRemedy:
    key = complaint.details["discriminator"].strip("'")
    return f"the key {key!r} is missing", f"add '{key}: ...'"


def _pattern(complaint: Complaint) -> MessageAndRemedy:
    if complaint.details["pattern"].startswith("^[a-z0-9]"):
        return (
            "this name becomes a path, so that only some characters are allowed in it",
            "write lower-case letters, digits and inner hyphens, at most 64",
        )
    return (
        "this short identifier has a character that is not allowed, or is too long",
        "write letters, digits and . _ + / - (not as the first), at most 40",
    )


def _list_length(complaint: Complaint) -> MessageAndRemedy:
    details = complaint.details
    minimum, maximum = details.get("min_length"), details.get("max_length")
    if minimum is not None:
        needed = "1 value is" if minimum == 1 else f"{minimum} values are"
        return f"at least {needed} needed here, not {details['actual_length']}", "add what is missing"
    if complaint.path[-1] == "sheets":
        source = "ISO 14373:2015, scope: stacks of two or three sheets"
        return f"at most {maximum} sheets are welded by one spot ({source})", "weld the stack in two operations"
    return f"at most {maximum} values are allowed here", "delete what is too many, or split it"


def _text_length(complaint: Complaint) -> MessageAndRemedy:
    minimum, maximum = complaint.details.get("min_length"), complaint.details.get("max_length")
    if minimum is not None:
        return "the text is empty", "write it; only a key that may be left out can be deleted instead"
    return f"the text has more than {maximum} characters", "shorten it"


def _list_expected(complaint: Complaint) -> MessageAndRemedy:
    if isinstance(complaint.value, dict):
        return (
            "a list is expected here",
            "write '- ' before the first key, and indent the other keys below it",
        )
    return "a list is expected here", "write it as [a, b], or each value on its own line after '- '"


def _keys_expected(_: Complaint) -> MessageAndRemedy:
    return "keys with values are expected here", "write 'key: value' lines below, further indented"


def _text_expected(_: Complaint) -> MessageAndRemedy:
    return "one value is expected here, not a list or keys", "write one value; put text that holds ': ' in quotes"


def _quoted(text: str) -> list[str]:
    return re.findall(r"'([^']*)'", text)


_WORDS: dict[str, Callable[[Complaint], MessageAndRemedy]] = {
    "missing": _missing,
    "extra_forbidden": _unknown,
    "literal_error": _choice,
    "union_tag_invalid": _tag,
    "union_tag_not_found": _no_tag,
    "string_pattern_mismatch": _pattern,
    "too_short": _list_length,
    "too_long": _list_length,
    "string_too_short": _text_length,
    "string_too_long": _text_length,
    "tuple_type": _list_expected,
    "model_type": _keys_expected,
    "model_attributes_type": _keys_expected,
    "dict_type": _keys_expected,
    "string_type": _text_expected,
}
