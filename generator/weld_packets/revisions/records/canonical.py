"""A record as bytes, in the canonical form of RFC 8785, and the SHA-256 of it.

A record holds text, whole numbers, truth values, lists and mappings, and no fractions: for these orjson writes the
canonical form, once the keys are sorted, in a tenth of the time of the standard library's encoder.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from typing import Any

import orjson

from weld_packets.errors import refusal
from weld_packets.packet.records.order import Packet

SHORT_DIGEST = 12
"""Hexadecimal digits of a digest that people compare."""

_GROUP = 4
_MOST = 2**53
"""From here on JSON does not hold every whole number."""


def canonical(value: object) -> bytes:
    """Return ``value`` as RFC 8785 canonical JSON.

    Raises OutOfRangeError for a binary fraction, a whole number from 2**53 on, a lone surrogate or a foreign type.
    """
    return _written(_sorted(value))


def sha256(data: bytes) -> str:
    """Return the SHA-256 of ``data`` in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def packet_digest(packet: Packet) -> str:
    """Return the digest of a packet alone, which a reviewer sees before a release and binds it to."""
    return sha256(packet_data(packet))


def packet_data(packet: Packet) -> bytes:
    """Return a packet alone as canonical JSON.

    The types of a packet allow neither a fraction nor a key that is not ASCII, so that it is written as it is.
    """
    return _written(packet, default=vars, option=orjson.OPT_SORT_KEYS)


def _written(value: object, default: Callable[[Any], Any] | None = None, option: int | None = None) -> bytes:
    try:
        return orjson.dumps(value, default, option)
    except orjson.JSONEncodeError as error:
        raise refusal(f"this cannot be in a record: {error}", "correct the text in the source") from None


def _sorted(value: object) -> object:
    """Return a value with the keys of its mappings in the order of RFC 8785, that of their UTF-16 units."""
    match value:
        case None | bool() | str():
            return value
        case float():
            raise refusal("a binary fraction cannot be in a record", "write it as decimal text")
        case int() if abs(value) < _MOST:
            return value
        case list() | tuple():
            return [_sorted(item) for item in value]
        case dict() if all(isinstance(key, str) for key in value):
            return {key: _sorted(value[key]) for key in sorted(value, key=_in_utf_16)}
    raise refusal(f"this cannot be in a record: a {type(value).__name__}", "correct the text or number in the source")


def _in_utf_16(key: str) -> bytes:
    return key.encode("utf-16-be", "surrogatepass")


def short(digest: str) -> str:
    """Return the first digits of ``digest`` in groups, for reading aloud and for print."""
    return " ".join(digest[at : at + _GROUP] for at in range(0, SHORT_DIGEST, _GROUP))


def agrees(given: str, digest: str) -> bool:
    """Return whether ``given``, whole or shortened to no less than 12 digits, in groups or not, means ``digest``."""
    compact = re.sub(r"[\s-]", "", given).lower()  # what a person typed from a page
    return len(compact) >= SHORT_DIGEST and digest.startswith(compact)  # what a person typed from a page
