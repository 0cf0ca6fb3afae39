"""One digest over a list of entries, as the root of a hash tree (RFC 9162, 2.1.1), at its end and after each entry."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from functools import reduce

EMPTY = hashlib.sha256(b"").hexdigest()
"""Digest of an empty list."""


def tree_digest(leaves: Iterable[bytes]) -> str:
    """Return the digest over ``leaves`` in hexadecimal."""
    digest = EMPTY
    for digest in tree_digests(leaves):  # noqa: B007 - the last one counts
        pass
    return digest


def tree_digests(leaves: Iterable[bytes]) -> Iterator[str]:
    """Yield the digest after each leaf, at logarithmic cost each."""
    peaks: list[tuple[int, bytes]] = []
    for leaf in leaves:
        peaks.append((1, hashlib.sha256(b"\x00" + leaf).digest()))
        while len(peaks) > 1 and peaks[-2][0] == peaks[-1][0]:
            (size, right), (_, left) = peaks.pop(), peaks.pop()
            peaks.append((2 * size, _node(left, right)))
        yield reduce(lambda right, left: _node(left, right), (peak for _, peak in reversed(peaks))).hex()


def _node(left: bytes, right: bytes) -> bytes:
    return hashlib.sha256(b"\x01" + left + right).digest()
