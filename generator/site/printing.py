"""What paper needs and the theme does not give: the foot of every printed sheet, as a stylesheet file."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from functools import lru_cache
from urllib.parse import quote

from generator.site.sheetcode import code_image, code_text
from generator.site.siteplan import PageFragment, SitePlan, Stamp

_NOT_PLAIN = re.compile(r"[^ !#-&(-;=?-\[\]-~·–—°Ø±≤≥µ]")  # everything but harmless printable signs
_UNCONTROLLED = "Uncontrolled unless the code answers: in force"
_HARMLESS_IN_ADDRESS = "/='(),:; "


def sheet_css_path(stamp: Stamp, page: PageFragment) -> str:
    """Return the path, inside a site, of the stylesheet that prints the foot of ``page`` under ``stamp``."""
    known = (stamp, page.name, page.coded, page.parts)
    return f"assets/sheets/{hashlib.sha256(repr(known).encode()).hexdigest()[:12]}.css"


def sheet_stylesheets(plan: SitePlan, address: str = "") -> dict[str, bytes]:
    """Return the stylesheets of the plan's sheets by path; ``address`` is where all sites stand, if anywhere."""
    own = f"{address.rstrip('/')}/{plan.slug}/" if address else ""
    stamped = ((page.stamp or plan.stamp, page) for page in plan.pages)
    return {sheet_css_path(stamp, page): "".join(_rules(stamp, page, own)).encode() for stamp, page in stamped}


def css_string(text: str) -> str:
    r"""Return ``text`` as a CSS string in which every sign that CSS or HTML could read is a code point.

    >>> css_string('a"b')
    '"a\\22 b"'
    """
    escaped = _NOT_PLAIN.sub(lambda found: f"\\{ord(found.group()):x} ", text)
    return f'"{escaped}"'


def _rules(stamp: Stamp, page: PageFragment, address: str) -> Iterator[str]:
    first, *others = page.parts or (page.name,)
    yield (
        "@page{"
        f"{_code(stamp, first, address, coded=page.coded)}"
        f"@bottom-center{{white-space:pre;content:{css_string(_words(stamp, coded=page.coded))}}}"
        '@bottom-right{content:"Page " counter(page) " of " counter(pages)}'
        "}\n"
    )
    for part in others:
        yield f"@page {part}{{{_code(stamp, part, address, coded=page.coded)}}}.part-{part}{{page:{part}}}\n"
    if others:
        yield f".packet-foot{{page:{others[-1]}}}\n"


def _code(stamp: Stamp, sheet: str, address: str, *, coded: bool) -> str:
    if not coded:
        return ""
    return f'@bottom-left{{content:url("data:image/svg+xml,{_picture(code_text(stamp, sheet, address))}")}}'


@lru_cache(maxsize=64)  # the sheet that gathers all others shows their codes again
def _picture(text: str) -> str:
    return quote(code_image(text), safe=_HARMLESS_IN_ADDRESS)


def _words(stamp: Stamp, *, coded: bool) -> str:
    revision = f"Rev {stamp.revision}" if stamp.revision else ""
    lines = (
        " · ".join(part for part in (f"Order {stamp.order}", revision, stamp.status.upper()) if part),
        " · ".join(part for part in (stamp.detail, _digest(stamp)) if part),
        _UNCONTROLLED if coded else "",
    )
    return "\n".join(line for line in lines if line)


def _digest(stamp: Stamp) -> str:
    kind = "record" if stamp.revision else "packet"
    return f"{kind} {stamp.digest}" if stamp.digest else ""
