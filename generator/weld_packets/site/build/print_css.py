"""What paper needs and the theme does not give: the foot of every printed sheet, as a stylesheet file."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator

from weld_packets.site.pages.codes import code_image, code_text
from weld_packets.site.pages.site_plan import SitePlan, Stamp

_NOT_PLAIN = re.compile(r"[^ !#-&(-;=?-\[\]-~·–—°Ø±≤≥µ]")  # everything but harmless printable signs
_UNCONTROLLED = "Uncontrolled copy. Valid only if the code reads IN FORCE today."
_IN_ADDRESS = str.maketrans({"<": "%3C", ">": "%3E"})  # all that the picture of a code holds and an address may not


def sheet_css_path(stamp: Stamp, *, coded: bool) -> str:
    """Return the path, inside a site, of the stylesheet for the feet of all sheets under ``stamp``."""
    known = (stamp, coded)
    return f"assets/sheets/{hashlib.sha256(repr(known).encode()).hexdigest()[:12]}.css"


def sheet_stylesheets(plan: SitePlan, address: str = "") -> dict[str, bytes]:
    """Return the stylesheets of the plan's sheets by path; ``address`` is where all sites are, if anywhere."""
    own = f"{address.rstrip('/')}/{plan.slug}/" if address else ""
    names: dict[tuple[Stamp, bool], list[str]] = {}
    for page in plan.pages:
        names.setdefault((page.stamp or plan.stamp, page.coded), []).extend(page.sheets)
    return {
        sheet_css_path(stamp, coded=coded): "".join(_rules(stamp, dict.fromkeys(sheets), own, coded=coded)).encode()
        for (stamp, coded), sheets in names.items()
    }


def css_string(text: str) -> str:
    r"""Return ``text`` as a CSS string in which every sign that CSS or HTML could read is a code point.

    >>> css_string('a"b')
    '"a\\22 b"'
    """
    escaped = _NOT_PLAIN.sub(lambda found: f"\\{ord(found.group()):x} ", text)
    return f'"{escaped}"'


def _rules(stamp: Stamp, sheets: Iterable[str], address: str, *, coded: bool) -> Iterator[str]:
    yield (
        f"@page{{@bottom-center{{white-space:pre;content:{css_string(_words(stamp, coded=coded))}}}"
        '@bottom-right{content:"Page " counter(page) " of " counter(pages)}}\n'
    )
    if coded:
        for sheet in sheets:
            yield f"@page {sheet}{{@bottom-left{{{_code(stamp, sheet, address)}}}}}\n"
            yield f"body:has(#page.part-{sheet}),.part-{sheet}{{page:{sheet}}}\n"


def _code(stamp: Stamp, sheet: str, address: str) -> str:
    picture = code_image(code_text(stamp, sheet, address)).translate(_IN_ADDRESS)
    return f'content:url("data:image/svg+xml,{picture}")'


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
