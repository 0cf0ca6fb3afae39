"""Safety signs: our own pictograms in the shapes of ISO 3864-1, with the numbers and names of ISO 7010."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from types import MappingProxyType

from weld_packets.drawing.palette import SIGN_BLACK, SIGN_WHITE, SIGNAL_BLUE, SIGNAL_RED, SIGNAL_YELLOW
from weld_packets.drawing.signs import mandatory, prohibition, warning

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
    return _framed(ALERT_NAME, alert(), height=176)


def _framed(title: str, body: str, height: int = 200) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 {height}" role="img" '
        f'stroke-linejoin="round" stroke-linecap="round"><title>{escape(title, quote=False)}</title>{body}</svg>'
    )


# ---------------------------------------------------------------- shapes of ISO 3864-1

# On a field of 200 x 200, each around a pictogram. Bands: warning edge 0.07 of the height, prohibition ring 0.1 and bar
# 0.08 of the diameter, bar at 45 degrees from the upper left; the pictogram of a prohibition lies beneath the bar.


def triangle(pictogram: str) -> str:
    """Return a yellow triangle with rounded corners and black edge around a black pictogram."""
    return (
        f'<g fill="{SIGN_BLACK}" stroke="{SIGN_BLACK}"><path stroke-width="20" d="M100 27L184.9 174H15.1z"/></g>'
        f'<path fill="{SIGNAL_YELLOW}" stroke="{SIGNAL_YELLOW}" stroke-width="8" d="M100 38.4L175 168.3H25z"/>'
        f'<g {_inked(SIGN_BLACK, SIGNAL_YELLOW)} transform="translate(0 11)">{pictogram}</g>'
    )


def disc(pictogram: str) -> str:
    """Return a blue disc around a white pictogram."""
    return (
        f'<circle cx="100" cy="100" r="98" fill="{SIGNAL_BLUE}"/><g {_inked(SIGN_WHITE, SIGNAL_BLUE)}>{pictogram}</g>'
    )


def barred_circle(pictogram: str) -> str:
    """Return a red ring with a bar from the upper left over a black pictogram on white."""
    return (
        f'<circle cx="100" cy="100" r="98" fill="{SIGN_WHITE}"/>'
        f"<g {_inked(SIGN_BLACK, SIGN_WHITE)}>{pictogram}</g>"
        f'<g fill="none" stroke="{SIGNAL_RED}"><circle cx="100" cy="100" r="88" stroke-width="20"/>'
        '<path stroke-width="16" stroke-linecap="butt" d="M37 37L163 163"/></g>'
    )


def alert() -> str:
    """Return a solid triangle in the text's colour with an open exclamation mark."""
    return (
        '<path fill="currentColor" fill-rule="evenodd" stroke="none" d="M100 4q7 0 11 7L195 157q7 14-8 17H13'
        'q-15-3-8-17L89 11q4-7 11-7zM88 62l5 60h14l5-60q0-10-12-10t-12 10zM100 131a12 12 0 1 0 .01 0z"/>'
    )


def _inked(colour: str, ground: str) -> str:
    """Return the attributes that give a pictogram its colour, and its ground as ``currentColor``."""
    return f'fill="{colour}" stroke="{colour}" stroke-width="0" color="{ground}"'


_PLATES: Mapping[str, Callable[[str], str]] = {
    "W": triangle,
    "M": disc,
    "P": barred_circle,
}
