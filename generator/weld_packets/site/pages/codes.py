"""The QR codes of the pages (ISO/IEC 18004): what each holds, and how it is drawn."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from urllib.parse import quote, urlencode

import segno
from markupsafe import Markup, escape

from weld_packets.site.pages.site_plan import Stamp

_DARK = re.compile(b"\x01+")
_QUIET = 4  # modules of white around a code, as the standard asks
_MASK = 2  # given, it need not be sought, which is most of the work; every reader takes any


def code_text(stamp: Stamp, sheet: str, address: str = "") -> str:
    """Return what the code of ``sheet`` holds: the check page's address where the site has one, else plain words.

    ``address`` is where the order's site is, ending in a slash. The words stay within the signs that make the
    smallest code (capitals, digits and few others); the check page reads both.
    """
    digest = stamp.digest.replace(" ", "")
    if address and stamp.revision:
        asked = {"order": stamp.order, "rev": stamp.revision, "digest": digest, "sheet": sheet}
        return f"{address}check.html#{urlencode(asked, quote_via=quote)}"
    revision = f"REV {stamp.revision}" if stamp.revision else stamp.status
    return f"ORDER {stamp.order} {revision} DIGEST {digest} SHEET {sheet}".upper()


@lru_cache(maxsize=4096)
def inline_code(text: str) -> Markup:
    """Return the code of ``text`` for a page: as wide as its place, with a label for a screen reader."""
    return Markup(_svg(text, f"role='img' aria-label='{escape('Code: ' + text)}'"))  # noqa: S704 - the label is escaped


def _svg(text: str, attributes: str) -> str:
    """Return the code as SVG: one path, no style, medium error correction.

    Written here and not by the library, whose writer takes as long again as it takes to make the code.
    """
    size = _size(text)
    return (
        f"<svg {attributes} viewBox='0 0 {size} {size}' shape-rendering='crispEdges'>"
        f"<path fill='white' d='M0 0h{size}v{size}H0z'/><path stroke='black' d='{_modules(text)}'/></svg>"
    )


def _size(text: str) -> int:
    """Return the width in modules, with the white around it."""
    return len(_matrix(text)) + 2 * _QUIET


def _modules(text: str) -> str:
    """Return the dark modules in path notation: horizontal strokes one module wide."""
    across, down, path = 0, 0, [f"M{_QUIET} {_QUIET + 0.5}"]
    for line, cells in enumerate(_matrix(text)):
        for bar in _DARK.finditer(bytes(cells)):
            path.append(f"m{bar.start() - across} {line - down}h{bar.end() - bar.start()}")
            across, down = bar.end(), line
    return "".join(path)


@lru_cache(maxsize=256)
def _matrix(text: str) -> Sequence[Sequence[int]]:
    return segno.make(text, error="m", micro=False, mask=_MASK).matrix
