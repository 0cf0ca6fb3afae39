"""Small drawings that pages need and the packet does not hold: scannable codes and window gauges."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from functools import lru_cache

import segno
from markupsafe import Markup, escape

from weld_packets.packet.records import Value

_DARK = re.compile(b"\x01+")
_QUIET = 4  # modules of white around a code, ISO/IEC 18004
_MASK = 2  # given, it need not be sought, which is most of the work; every reader takes any


@lru_cache(maxsize=4096)
def scannable(text: str) -> Markup:
    """Return ``text`` as a QR code in SVG: one path, no style, medium error correction."""
    size = quiet_size(text)
    return Markup(  # noqa: S704 - the path is digits, the label is escaped
        f'<svg viewBox="0 0 {size} {size}" role="img" aria-label="{escape("Code: " + text)}" '
        'shape-rendering="crispEdges">'
        f'<path fill="#fff" d="M0 0h{size}v{size}H0z"/><path stroke="#000" d="{modules(text)}"/></svg>'
    )


def quiet_size(text: str) -> int:
    """Return the width of the code of ``text`` in modules, with the white around it."""
    return len(_matrix(text)) + 2 * _QUIET


def modules(text: str) -> str:
    """Return the dark modules of the code of ``text`` in path notation: horizontal strokes one module wide."""
    across, down, path = 0, 0, [f"M{_QUIET} {_QUIET + 0.5}"]
    for line, cells in enumerate(_matrix(text)):
        for bar in _DARK.finditer(bytes(cells)):
            path.append(f"m{bar.start() - across} {line - down}h{bar.end() - bar.start()}")
            across, down = bar.end(), line
    return "".join(path)


@lru_cache(maxsize=256)
def _matrix(text: str) -> Sequence[Sequence[int]]:
    return segno.make(text, error="m", micro=False, mask=_MASK).matrix


def gauge(value: Value) -> Markup:
    """Return where the value stands in its window, as a drawing; nothing where the window is not closed."""
    window = value.window
    if value.amount is None or window is None:
        return Markup()
    try:
        low, high, at = (Decimal(text) for text in (window.low, window.high, value.amount.value))
    except InvalidOperation:
        return Markup()
    if not low < high or not low <= at <= high:
        return Markup()
    place = 10 + round(180 * (at - low) / (high - low), 1)
    return Markup(  # noqa: S704 - numbers only
        '<svg class="gauge" viewBox="0 0 200 24" aria-hidden="true">'
        '<path stroke="#20282d" stroke-width="4" fill="none" '
        f'd="M10 4v16M190 4v16M10 12H190"/><path fill="#b34700" d="M{place} 14l9-13h-18z"/></svg>'
    )
