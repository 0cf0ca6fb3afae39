"""The QR codes of the pages (ISO/IEC 18004): what each holds, and how it is drawn."""

from __future__ import annotations

import base64
import struct
from collections.abc import Iterable, Sequence
from functools import lru_cache
from urllib.parse import quote, urlencode
from zlib import adler32, crc32

import segno
from markupsafe import Markup, escape

from weld_packets.site.pages.site_plan import Stamp

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_QUIET = 4  # modules of white around a code, as the standard requires
_MASK = 2  # given, it need not be sought, which is most of the work; every reader takes any


def code_text(stamp: Stamp, sheet: str, address: str = "") -> str:
    """Return what the code of ``sheet`` holds: the check page's address where the site has one, else plain words.

    ``address`` is where the order's site is, ending in a slash. The words stay within the signs that make the
    smallest code (capitals, digits and few others); the check page reads both.
    """
    digest = stamp.digest.replace(" ", "")
    if address and stamp.revision:
        query = {"order": stamp.order, "rev": stamp.revision, "digest": digest, "sheet": sheet}
        return f"{address}check.html#{urlencode(query, quote_via=quote)}"
    revision = f"REV {stamp.revision}" if stamp.revision else stamp.status
    return f"ORDER {stamp.order} {revision} DIGEST {digest} SHEET {sheet}".upper()


@lru_cache(maxsize=256)  # a sheet has its code on its own page and among all sheets: one order needs no more
def inline_code(text: str) -> Markup:
    """Return the code of ``text`` for a page: as wide as its place, with a label for a screen reader.

    One dot a module makes it a quarter of what a drawing takes; a stylesheet keeps the dots sharp.
    """
    label = escape("Code: " + text)
    data = base64.b64encode(_picture(text)).decode()
    return Markup(f"<img class='code' alt='{label}' src='data:image/png;base64,{data}'>")  # noqa: S704 - it is escaped


def _picture(text: str) -> bytes:
    """Return the code as a black and white PNG (ISO/IEC 15948), medium error correction.

    It is not compressed: libraries that compress differ, and a site is to be the same bytes wherever it is made.
    """
    rows = _matrix(text)
    size = len(rows) + 2 * _QUIET
    white = _row((), size)
    margin = [white] * _QUIET
    lines = b"".join((*margin, *(_row(row, size) for row in rows), *margin))
    head = struct.pack(">IIBBBBB", size, size, 1, 0, 0, 0, 0)
    return b"".join((_SIGNATURE, _chunk(b"IHDR", head), _chunk(b"IDAT", _stored(lines)), _chunk(b"IEND", b"")))


def _row(cells: Iterable[int], size: int) -> bytes:
    """Return one line of dots, white as 1, after the byte that says it is not filtered."""
    dark = sum(1 << (size - 1 - _QUIET - place) for place, cell in enumerate(cells) if cell)
    spare = -size % 8
    return b"\0" + (((1 << size) - 1 - dark) << spare).to_bytes((size + spare) // 8, "big")


def _stored(content: bytes) -> bytes:
    """Return ``content`` in the form of compressed data (RFC 1950 and 1951), as one block that is not compressed."""
    length = len(content)
    return b"\x78\x01\x01" + struct.pack("<HH", length, length ^ 0xFFFF) + content + struct.pack(">I", adler32(content))


def _chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", crc32(kind + content))


def _matrix(text: str) -> Sequence[Sequence[int]]:
    return segno.make(text, error="m", micro=False, mask=_MASK).matrix
