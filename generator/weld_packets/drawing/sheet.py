"""A sheet that shapes and words are put on, in layers, before it becomes an SVG."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from typing import Literal, NamedTuple

from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.lettering import ASCENT_EM, DESCENT_EM, clean, text_width
from weld_packets.drawing.palette import INK, PAPER
from weld_packets.drawing.shapes import Shape

Anchor = Literal["left", "center", "right"]


class Layer(IntEnum):
    """What lies over what, from the ground up."""

    PART = 1
    GHOST = 2
    PATH = 3
    DIMENSION = 4
    SEAM = 5
    MARK = 6
    COVER = 7
    NOTE = 8


class Style(NamedTuple):
    """How a shape is drawn; widths and dashes in pixels."""

    stroke: str | None = INK
    width: float = 1.0
    fill: str | None = None
    dash: tuple[float, ...] = ()
    cap: Literal["butt", "round"] = "butt"
    join: Literal["round", "miter"] = "round"


class TextLine(NamedTuple):
    """One line of text, placed by its baseline; ``angle`` turns it counter-clockwise in degrees."""

    at: Spot2
    text: str
    size: float
    anchor: Anchor = "left"
    bold: bool = False
    colour: str = INK
    angle: float = 0.0

    @property
    def box(self) -> Box:
        """A box that the text stays inside in the common faces; upright or quarter-turned text only."""
        width = text_width(self.text, self.size, bold=self.bold)
        before = {"left": 0.0, "center": width / 2, "right": width}[self.anchor]
        x, y = self.at
        if self.angle:
            return Box(x - ASCENT_EM * self.size, y - width + before, x + DESCENT_EM * self.size, y + before)
        return Box(x - before, y - ASCENT_EM * self.size, x - before + width, y + DESCENT_EM * self.size)


@dataclass(slots=True)
class Sheet:
    """The drawing surface; ``width`` and ``height`` in pixels, y down."""

    width: float
    height: float
    shapes: dict[tuple[Layer, int, Style], list[Shape]] = field(default_factory=dict)
    words: list[TextLine] = field(default_factory=list)

    def draw(self, shape: Shape, style: Style, layer: Layer, rank: int = 0) -> None:
        """Put a shape on a layer, over those of lower rank; shapes of one layer, rank and style become one path."""
        self.shapes.setdefault((layer, rank, style), []).append(shape)

    def write(
        self,
        at: Spot2,
        text: str,
        size: float,
        *,
        anchor: Anchor = "left",
        bold: bool = False,
        colour: str = INK,
        angle: float = 0.0,
    ) -> Box:
        """Write a line of text over everything else and return the box that it takes."""
        words = TextLine(at, clean(text), size, anchor, bold, colour, angle)
        if words.text:
            self.words.append(words)
        return words.box

    def write_in(
        self,
        centre: Spot2,
        text: str,
        size: float,
        *,
        bold: bool = False,
        colour: str = PAPER,
    ) -> Box:
        """Write text with its digits centred on a point."""
        return self.write((centre[0], centre[1] + 0.36 * size), text, size, anchor="center", bold=bold, colour=colour)
