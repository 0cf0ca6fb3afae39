"""A sheet through matplotlib to SVG that can stand among others on one page under a strict policy."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from typing import Any
from xml.sax.saxutils import escape

import matplotlib as mpl
import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, IdentityTransform

from generator.drawing.lettering import clean
from generator.drawing.palette import PAPER
from generator.drawing.shapes import Shape, joined
from generator.drawing.sheet import Layer, Sheet, Style, Words

KEY = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
"""What a figure's key may be: it becomes part of ids on the page."""
_DPI = 72
_ELEMENT = re.compile(
    r'<path d="(?P<d>[^"]*)" style="(?P<look>[^"]*)"/>'
    r'|<text style="(?P<font>[^"]*)" x="(?P<x>[^"]*)" y="(?P<y>[^"]*)"'
    r' transform="(?P<turn>[^"]*)">(?P<words>[^<]*)</text>'
)
_UNTURNED = re.compile(r"rotate\(-?0[ )]")
_DROPPED = frozenset({"font-family", "stroke-dashoffset"})


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
            *_elements(_from_matplotlib(sheet)),
            "</svg>",
        )
    )


def _from_matplotlib(sheet: Sheet) -> str:
    _configure()
    figure = Figure(figsize=(sheet.width / _DPI, sheet.height / _DPI), dpi=_DPI)
    figure.patch.set_visible(False)
    upright = Affine2D.from_values(1, 0, 0, -1, 0, sheet.height)
    for (layer, style), shapes in sheet.shapes.items():
        figure.add_artist(_patch(joined(shapes), style, layer, upright))
    for words in sheet.words:
        figure.add_artist(_Lettering(words, sheet.height))
    out = io.StringIO()
    canvas: Any = FigureCanvasSVG(figure)
    canvas.print_svg(out, metadata=dict.fromkeys(("Date", "Creator", "Format", "Type")))
    return out.getvalue()


@cache
def _configure() -> None:
    mpl.rcParams.update(
        {
            "svg.fonttype": "none",
            "svg.hashsalt": "packet",
            "text.parse_math": False,
            "lines.scale_dashes": False,
            "path.simplify": False,
        }
    )


def _patch(shape: Shape, style: Style, layer: Layer, upright: Affine2D) -> PathPatch:
    path = Path(np.round(np.array(shape.points), 2), shape.codes)
    return PathPatch(
        path,
        transform=upright,
        zorder=int(layer),
        facecolor=style.fill or "none",
        edgecolor=style.stroke or "none",
        linewidth=style.width if style.stroke else 0,
        linestyle=(0, style.dash) if style.dash else "solid",
        capstyle=style.cap,
        joinstyle=style.join,
    )


class _Lettering(Artist):
    """Words handed to the SVG renderer as they are: no layout, no mathematics, no font look-up."""

    def __init__(self, words: Words, height: float) -> None:
        super().__init__()
        self.words, self.height = words, height
        self.set_zorder(int(max(Layer)) + 1)
        self.set_transform(IdentityTransform())

    def draw(self, renderer: Any) -> None:
        """Hand the words over."""
        words = self.words
        context = renderer.new_gc()
        context.set_foreground(words.colour)
        x, y = self.get_unitless_position()
        mathematics = False
        font = _font(words.size, words.bold)
        renderer.draw_text(context, x, self.height - y, words.text, font, words.angle, mathematics, mtext=self)
        context.restore()

    def get_unitless_position(self) -> tuple[float, float]:
        """Return the baseline point with y up, as the renderer asks for it."""
        return round(self.words.at[0], 2), self.height - round(self.words.at[1], 2)

    def get_ha(self) -> str:
        """Return the horizontal anchor."""
        return self.words.anchor

    def get_rotation_mode(self) -> str:
        """Say that turned text turns about its anchor."""
        return "anchor"


@cache
def _font(size: float, bold: bool) -> FontProperties:
    return FontProperties(family=["unnamed"], size=size, weight=700 if bold else 400)


def _elements(document: str) -> Iterator[str]:
    found = list(_ELEMENT.finditer(document))
    if len(found) != document.count("<path ") + document.count("<text "):
        raise ValueError("matplotlib wrote an element in a form that is not known here")
    for look, run in groupby(found, key=lambda match: match["font"]):
        if look is None:
            yield from (f'<path d="{_compact(match["d"])}"{_attributes(match["look"])}/>' for match in run)
        else:
            yield f"<g{_attributes(look)}{_halo(look)}>" + "".join(_text(match) for match in run) + "</g>"


def _text(match: re.Match[str]) -> str:
    turn = "" if _UNTURNED.match(match["turn"]) else f' transform="{match["turn"]}"'
    return f'<text x="{match["x"]}" y="{match["y"]}"{turn}>{match["words"]}</text>'


def _attributes(css: str) -> str:
    pairs = (declaration.split(": ", 1) for declaration in css.split("; "))
    return "".join(f' {name}="{value.replace(", ", ",")}"' for name, value in pairs if name not in _DROPPED)


def _halo(css: str) -> str:
    """Return a white edge beneath text in ink, so that a line which it must cross does not cut it.

    White text and pure black text (which has no fill here) stand inside marks and need none.
    """
    if "fill: " not in css or f"fill: {PAPER}" in css:
        return ""
    return f' stroke="{PAPER}" stroke-width="3" paint-order="stroke"'


def _compact(commands: str) -> str:
    return re.sub(r"\s*\n|\s+(?=[MLCzZ])|(?<=[MLCzZ])\s+", "", commands).strip()


def _plain(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
