"""A sheet as SVG: a page with a strict policy can hold several.

Written by ourselves: matplotlib's public SVG backend puts style attributes and metadata into every picture, which the
pages' policy forbids, and takes longer to load than all drawings of an order take to write.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from html import escape

from weld_packets.drawing.lettering import clean
from weld_packets.drawing.palette import INK_INSIDE, PAPER
from weld_packets.drawing.shapes import CLOSE, CURVE, LINE, MOVE, Shape
from weld_packets.drawing.sheet import Sheet, Style, TextLine

KEY = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
"""What a figure's key may be: it becomes part of ids on the page."""
SIGN_EM = 15.0
_PER_PIXEL = 10.0
"""Points lie on tenths of a pixel: a twentieth of a millimetre off at most on a sheet of paper."""
_COMMANDS = {MOVE: ("m", 1), LINE: ("l", 1), CURVE: ("c", 3), CLOSE: ("z", 1)}
"""The letter of each command, and how many points it takes."""
_ANCHORS = {"left": "", "center": ' text-anchor="middle"', "right": ' text-anchor="end"'}
_HALO = f' stroke="{PAPER}" stroke-width="3" paint-order="stroke"'


def to_svg(sheet: Sheet, *, key: str, title: str, description: str) -> str:
    """Return the sheet as one ``<svg>`` element whose ids start with ``key``.

    The bytes depend on the arguments alone. No style attribute, no style block, no metadata; the width follows
    the page; the ground is white in any colour scheme.

    Raises ValueError when ``key`` is not letters, digits and hyphens starting with a letter.
    """
    if not KEY.fullmatch(key):
        raise ValueError(f"the key {key!r} cannot become an id: use letters, digits and hyphens")
    width, height = _plain(sheet.width), _plain(sheet.height)
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img"',
            f' aria-labelledby="{key}-title" aria-describedby="{key}-description" font-family="sans-serif"',
            ' stroke-linejoin="round" stroke-linecap="butt">',
            f'<title id="{key}-title">{escape(clean(title), quote=False)}</title>',
            f'<desc id="{key}-description">{escape(clean(description), quote=False)}</desc>',
            f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
            *_paths(sheet),
            *_lettering(sheet.words),
            "</svg>",
        )
    )


def to_sign(sheet: Sheet) -> str:
    """Return a small sheet as an ``<svg>`` for a line of text, which says what it is; its ground is clear.

    Its size is in ems of a text of ``SIGN_EM`` pixels, so that it grows with the line.
    """
    width, height = _plain(sheet.width), _plain(sheet.height)
    return "".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" aria-hidden="true"',
            f' width="{_plain(sheet.width / SIGN_EM)}em" height="{_plain(sheet.height / SIGN_EM)}em"',
            ' font-family="sans-serif" stroke-linejoin="round" stroke-linecap="butt">',
            *_paths(sheet),
            *_lettering(sheet.words),
            "</svg>",
        )
    )


def _paths(sheet: Sheet) -> Iterator[str]:
    """Yield one path for each layer, rank and style, the ground first."""
    for (_, _, style), shapes in sorted(sheet.shapes.items(), key=lambda pair: pair[0][:2]):
        yield f'<path d="{_commands(shapes)}"{_look(style)}/>'


def _commands(shapes: Iterable[Shape]) -> str:
    """Return shapes as path commands, each relative to where the pen is before it, without spare bytes.

    The pen begins at the corner of the sheet. A shape closes on the point that it starts from, so that the pen then
    is on the closing point.
    """
    written: list[str] = []
    last, x, y = "", 0, 0
    for shape in shapes:
        points = [(round(left * _PER_PIXEL), round(top * _PER_PIXEL)) for left, top in shape.points]
        place = 0
        while place < len(points):
            letter, count = _COMMANDS[shape.codes[place]]
            ends = points[place : place + count]
            if letter == "z":
                written.append("z")
            else:
                repeated = letter == last or (letter == "l" and last == "m")
                steps = "".join([_parted(left - x) + _parted(top - y) for left, top in ends])
                written.append(steps if repeated else letter + steps.removeprefix(" "))
            last, (x, y) = letter, ends[-1]
            place += count
    return "".join(written)


@lru_cache(maxsize=32768)
def _parted(tenths: int) -> str:
    """Return a number parted from the one before it: by its minus sign, else by a space."""
    whole, rest = divmod(abs(tenths), 10)
    sign = "-" if tenths < 0 else " "
    return f"{sign}{whole or ''}.{rest}" if rest else f"{sign}{whole}"


def _look(style: Style) -> str:
    look = f' fill="{style.fill or "none"}"'
    if style.stroke:
        look += f' stroke="{style.stroke}"' + (f' stroke-width="{_plain(style.width)}"' if style.width != 1 else "")
    if style.dash:
        look += f' stroke-dasharray="{",".join(map(_plain, style.dash))}"'
    look += f' stroke-linecap="{style.cap}"' if style.cap != "butt" else ""
    return look + (f' stroke-linejoin="{style.join}"' if style.join != "round" else "")


def _lettering(words: Sequence[TextLine]) -> Iterator[str]:
    """Yield a group for each manner of lettering with its texts, the manner that is met first before the others."""
    groups: dict[str, list[str]] = {}
    for one in words:
        groups.setdefault(_manner(one), []).append(_text(one))
    for manner, texts in groups.items():
        yield f"<g{manner}>{''.join(texts)}</g>"


def _manner(words: TextLine) -> str:
    """Return the attributes of a text; text outside marks has a white edge where lines cross it."""
    weight = ' font-weight="700"' if words.bold else ""
    halo = "" if words.colour in (PAPER, INK_INSIDE) else _HALO
    return f' font-size="{_plain(words.size)}"{weight}{_ANCHORS[words.anchor]} fill="{words.colour}"{halo}'


def _text(words: TextLine) -> str:
    x, y = (_plain(round(value, 1)) for value in words.at)
    turn = f' transform="rotate({_plain(-words.angle)} {x} {y})"' if words.angle else ""
    return f'<text x="{x}" y="{y}"{turn}>{escape(words.text, quote=False)}</text>'


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
