"""Safety signs: our own pictograms in the shapes of ISO 3864-1, with the numbers and names of ISO 7010."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from types import MappingProxyType

from weld_packets.drawing.signs import mandatory, plates, prohibition, warning

_PLATES: Mapping[str, Callable[[str], str]] = {
    "W": plates.triangle,
    "M": plates.disc,
    "P": plates.barred_circle,
}
_ALL: Mapping[str, tuple[str, str]] = {**warning.PICTOGRAMS, **mandatory.PICTOGRAMS, **prohibition.PICTOGRAMS}
SIGNS: Mapping[str, str] = MappingProxyType({code: name for code, (name, _) in sorted(_ALL.items())})
"""ISO 7010 reference number to name, for every sign that can be drawn."""
ALERT_NAME = "Safety alert"


def sign(code: str) -> str:
    """Return the sign as one ``<svg>`` element without ids, so that a page can hold it many times.

    Raises KeyError with the known codes for one that is not in ``SIGNS``.
    """
    if code not in _ALL:
        raise KeyError(f"no sign {code!r}; known: {', '.join(SIGNS)}")
    name, pictogram = _ALL[code]
    return _framed(f"{code} {name}", _PLATES[code[0]](pictogram))


def safety_alert() -> str:
    """Return the alert symbol that precedes DANGER, WARNING and CAUTION (ANSI Z535.4): never before NOTICE.

    It takes the colour of the text around it; the mark inside is left open.
    """
    return _framed(ALERT_NAME, plates.alert(), height=176)


def _framed(title: str, body: str, height: int = 200) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 {height}" role="img" '
        f'stroke-linejoin="round" stroke-linecap="round"><title>{escape(title, quote=False)}</title>{body}</svg>'
    )
