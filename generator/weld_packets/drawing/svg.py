"""A sheet through matplotlib to SVG that can stand among others on one page under a strict policy."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, islice
from typing import Any
from xml.sax.saxutils import escape

import numpy as np
from matplotlib import _path  # what its SVG backend writes paths with; that backend takes 0.2 s more to load
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

from weld_packets.drawing.lettering import clean
from weld_packets.drawing.palette import INK_INSIDE, PAPER
from weld_packets.drawing.shapes import CURVE, Shape
from weld_packets.drawing.sheet import Sheet, Style, Words

KEY = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
"""What a figure's key may be: it becomes part of ids on the page."""
_PER_PIXEL = 10.0
"""Points lie on tenths of a pixel: a twentieth of a millimetre off at most on a sheet of paper."""
_PEN: Any = _path
_DIGITS, _COMMANDS = 6, [b"M", b"L", b"Q", b"C", b"z"]
_SIMPLIFIED = _COMMAND_LAST = False
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
            f' aria-labelledby="{key}-title {key}-description" font-family="sans-serif"',
            ' stroke-linejoin="round" stroke-linecap="butt">',
            f'<title id="{key}-title">{escape(clean(title))}</title>',
            f'<desc id="{key}-description">{escape(clean(description))}</desc>',
            f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
            *_paths(sheet),
            *_lettering(sheet.words),
            "</svg>",
        )
    )


def _paths(sheet: Sheet) -> Iterator[str]:
    """Yield one path for each layer, rank and style, the ground first."""
    grouped = sorted(sheet.shapes.items(), key=lambda pair: pair[0][:2])
    drawn = _from_matplotlib([shapes for _, shapes in grouped])
    for ((_, _, style), _), commands in zip(grouped, drawn, strict=True):
        yield f'<path d="{commands}"{_look(style)}/>'


def _from_matplotlib(groups: Sequence[Sequence[Shape]]) -> list[str]:
    """Return the commands of each group of shapes, as matplotlib writes them but relative and without spare bytes."""
    if not groups:
        return []
    written: bytes = _PEN.convert_to_string(
        _steps(groups), Affine2D(), None, _SIMPLIFIED, None, _DIGITS, _COMMANDS, _COMMAND_LAST
    )
    commands = iter(written.decode("ascii").splitlines())
    return [_compact(islice(commands, sum(map(_commands, shapes)))) for shapes in groups]


def _commands(shape: Shape) -> int:
    """Return how many commands a shape takes; the three points of a curve are one."""
    return len(shape.codes) - shape.codes.count(CURVE) * 2 // 3


def _steps(groups: Sequence[Sequence[Shape]]) -> Path:
    """Return the groups as one path whose vertices are steps from where the pen stands before each command.

    A shape closes on the point that it starts from, so the pen then stands on the closing vertex; a group begins at
    the corner of the sheet.
    """
    codes = np.fromiter((code for shapes in groups for shape in shapes for code in shape.codes), np.uint8)
    points = np.array([point for shapes in groups for shape in shapes for point in shape.points])
    tenths = np.rint(np.vstack((((0.0, 0.0),), points)) * _PER_PIXEL)
    index = np.arange(len(codes))
    before = np.maximum.accumulate(np.where(codes == CURVE, 0, index))
    within_curve = np.where(codes == CURVE, (index - before - 1) % 3, 0)
    pen = tenths[index - within_curve]
    pen[list(accumulate((sum(len(shape.codes) for shape in shapes) for shapes in groups[:-1]), initial=0))] = 0.0
    return Path((tenths[1:] - pen) / _PER_PIXEL, codes)


def _compact(commands: Iterable[str]) -> str:
    kept, last = [], ""
    for line in commands:
        command, numbers = line[0].lower(), line[1:].strip()
        repeated = command == last or (command == "l" and last == "m")
        kept.append(f" {numbers}" if repeated else command + numbers)
        last = command
    return "".join(kept).replace(" -", "-").replace(" 0.", " .").replace("-0.", "-.")


def _look(style: Style) -> str:
    look = f' fill="{style.fill or "none"}"'
    if style.stroke:
        look += f' stroke="{style.stroke}"' + (f' stroke-width="{_plain(style.width)}"' if style.width != 1 else "")
    if style.dash:
        look += f' stroke-dasharray="{",".join(map(_plain, style.dash))}"'
    look += f' stroke-linecap="{style.cap}"' if style.cap != "butt" else ""
    return look + (f' stroke-linejoin="{style.join}"' if style.join != "round" else "")


def _lettering(words: Sequence[Words]) -> Iterator[str]:
    """Yield a group for each manner of lettering with its texts, the manner that is met first before the others."""
    groups: dict[str, list[str]] = {}
    for one in words:
        groups.setdefault(_manner(one), []).append(_text(one))
    for manner, texts in groups.items():
        yield f"<g{manner}>{''.join(texts)}</g>"


def _manner(words: Words) -> str:
    """Return the attributes of a text; text that stands outside marks has a white edge where lines cross it."""
    weight = ' font-weight="700"' if words.bold else ""
    halo = "" if words.colour in (PAPER, INK_INSIDE) else _HALO
    return f' font-size="{_plain(words.size)}"{weight}{_ANCHORS[words.anchor]} fill="{words.colour}"{halo}'


def _text(words: Words) -> str:
    x, y = (_plain(round(value, 1)) for value in words.at)
    turn = f' transform="rotate({_plain(-words.angle)} {x} {y})"' if words.angle else ""
    return f'<text x="{x}" y="{y}"{turn}>{escape(words.text)}</text>'


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
