"""What the code on a printed sheet holds, and how that is drawn."""

from __future__ import annotations

from urllib.parse import quote, urlencode

from weld_packets.site.pages.marks import modules, quiet_size
from weld_packets.site.pages.siteplan import Stamp

_MM_PER_MODULE = 0.45


def code_text(stamp: Stamp, sheet: str, address: str = "") -> str:
    """Return what the code of ``sheet`` holds: the check page's address where the site has one, else plain words.

    ``address`` is where the order's site stands, ending in a slash. The words stay within the signs that make the
    smallest code (capitals, digits and few others); the check page reads both.
    """
    digest = stamp.digest.replace(" ", "")
    if address and stamp.revision:
        asked = {"order": stamp.order, "rev": stamp.revision, "digest": digest, "sheet": sheet}
        return f"{address}check.html#{urlencode(asked, quote_via=quote)}"
    revision = f"REV {stamp.revision}" if stamp.revision else stamp.status
    return f"ORDER {stamp.order} {revision} DIGEST {digest} SHEET {sheet}".upper()


def code_image(text: str) -> str:
    """Return the QR code of ``text`` as an SVG picture that stands alone, with its quiet zone and its size in mm."""
    size = quiet_size(text)
    width = f"{size * _MM_PER_MODULE:.1f}mm"
    return (
        f"<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{width}' viewBox='0 0 {size} {size}' "
        f"shape-rendering='crispEdges'><path fill='white' d='M0 0h{size}v{size}H0z'/>"
        f"<path stroke='black' d='{modules(text)}'/></svg>"
    )
