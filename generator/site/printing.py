"""What paper needs and the theme does not give: the foot of every printed sheet, as a stylesheet file."""

from __future__ import annotations

import hashlib
import re

from generator.site.siteplan import SitePlan, Stamp

_NOT_PLAIN = re.compile(r"[^ !#-&(-;=?-\[\]-~·–—°Ø±≤≥µ]")  # everything but harmless printable signs


def stamp_css_path(stamp: Stamp) -> str:
    """Return the path, inside a site, of the stylesheet that prints ``stamp``."""
    name = hashlib.sha256(repr(stamp).encode()).hexdigest()[:12]
    return f"assets/sheets/{name}.css"


def stamp_stylesheets(plan: SitePlan) -> dict[str, bytes]:
    """Return one stylesheet for each stamp of the plan, by path."""
    stamps = [plan.stamp, *(page.stamp for page in plan.pages if page.stamp)]
    return {stamp_css_path(stamp): _stylesheet(stamp).encode() for stamp in stamps}


def css_string(text: str) -> str:
    r"""Return ``text`` as a CSS string in which every sign that CSS or HTML could read is a code point.

    >>> css_string('a"b')
    '"a\\22 b"'
    """
    escaped = _NOT_PLAIN.sub(lambda found: f"\\{ord(found.group()):x} ", text)
    return f'"{escaped}"'


def _stylesheet(stamp: Stamp) -> str:
    left = " · ".join(part for part in (f"Order {stamp.order}", _revision(stamp), stamp.digest) if part)
    middle = " · ".join(part for part in (stamp.status.upper(), stamp.detail) if part)
    return (
        "@page{"
        f"@bottom-left{{content:{css_string(left)}}}"
        f"@bottom-center{{content:{css_string(middle)}}}"
        '@bottom-right{content:"Page " counter(page) " of " counter(pages)}'
        "}\n"
    )


def _revision(stamp: Stamp) -> str:
    return f"Rev {stamp.revision}" if stamp.revision else ""
