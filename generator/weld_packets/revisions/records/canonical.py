"""One spelling of a record as bytes (RFC 8785), and the SHA-256 of it."""

from __future__ import annotations

import hashlib
import json
import re

import rfc8785

from weld_packets.errors import refusal
from weld_packets.packet.records import Packet

SHORT_DIGEST = 12
"""Hexadecimal digits of a digest that people compare."""

_GROUP = 4


def canonical(value: object) -> bytes:
    """Return ``value`` as RFC 8785 canonical JSON.

    Raises OutOfRangeError for a binary fraction, a whole number beyond 2**53, a lone surrogate or a foreign type.
    """
    if _holds_float(value):
        raise refusal("a binary fraction cannot stand in a record", "write it as decimal text")
    try:
        return rfc8785.dumps(value)  # type: ignore[arg-type]
    except rfc8785.CanonicalizationError as error:
        raise refusal(f"this cannot stand in a record: {error}", "correct the text or number in the source") from None


def sha256(data: bytes) -> str:
    """Return the SHA-256 of ``data`` in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def packet_digest(packet: Packet) -> str:
    """Return the digest of a packet alone, which a reviewer sees before a release and binds it to.

    A packet holds text, whole numbers, truth values and lists under plain ASCII keys. For these the standard library's
    encoder writes the bytes of RFC 8785 in a tenth of the time; a test holds the two together.
    """
    text = json.dumps(packet, default=vars, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    try:
        return sha256(text.encode())
    except UnicodeEncodeError:
        return sha256(canonical(packet.model_dump(mode="json")))


def short(digest: str) -> str:
    """Return the first digits of ``digest`` in groups, for reading aloud and for print."""
    return " ".join(digest[at : at + _GROUP] for at in range(0, SHORT_DIGEST, _GROUP))


def agrees(given: str, digest: str) -> bool:
    """Return whether ``given``, whole or shortened to no less than 12 digits, in groups or not, means ``digest``."""
    compact = re.sub(r"[\s-]", "", given).lower()
    return len(compact) >= SHORT_DIGEST and digest.startswith(compact)


def _holds_float(value: object) -> bool:
    if isinstance(value, dict):
        return any(_holds_float(item) for item in value.values())
    if isinstance(value, list | tuple):
        return any(_holds_float(item) for item in value)
    return isinstance(value, float)
