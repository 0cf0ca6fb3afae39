"""What is said about a seam map: legend, caption, and the picture in words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from weld_packets.diagrams import describe
from weld_packets.diagrams.components import datum_sample
from weld_packets.diagrams.robots import SIDES, draw_mark
from weld_packets.diagrams.scale_and_legend import Entry
from weld_packets.diagrams.scene import Scene, SeamLine, Side, Trail
from weld_packets.diagrams.seams.lines import draw_seam
from weld_packets.diagrams.symbols import ALL_ROUND, WeldSymbol, draw_reference, sign_of
from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.sheet import Sheet
from weld_packets.geometry.outlines import foot_on
from weld_packets.geometry.vectors import Point, length_of
from weld_packets.grouping import grouped
from weld_packets.wording.english import as_sentences

_RING, _SYMBOL_HEIGHT = 17.0, 32.0
_RING_SIGN = 66.0
_ON_MM = 0.5
_FIRST_PART = 0.3
"""A seam that ends on a later part of itself crosses it, it does not close."""


def legend_entries(scene: Scene, seams: Sequence[SeamLine]) -> list[Entry]:
    """Return the legend: robots with their seams in order, closed seams, joints of butts, datum."""
    entries = [
        Entry(_sample(side), describe.robot_line(scene, side, own, "seam"), 96.0)
        for side in SIDES
        if (own := [seam.label for seam in seams if seam.side == side])
    ]
    entries += [_kind_entry(symbol, members) for symbol, members in kinds_of(seams).items()]
    entries += _closed_entries(scene, seams)
    if any(seam.joint == "butt" for seam in seams):
        entries.append(Entry(_butt_sample, "Line in the seam: the joint of a butt", 60.0))
    entries.append(Entry(datum_sample, f"Datum: {scene.datum}"))
    return entries


def kinds_of(seams: Sequence[SeamLine]) -> dict[WeldSymbol, list[SeamLine]]:
    """Return the weld symbols of an operation, each with its seams in order."""
    return grouped((_symbol(seam), seam) for seam in seams)


def _symbol(seam: SeamLine) -> WeldSymbol:
    all_round = overlap_mm(seam.trail) is not None
    return WeldSymbol(sign_of(seam.joint), seam.size, _tail(seam), seam.gap, all_round)


def _tail(seam: SeamLine) -> str:
    passes = f", {seam.passes} passes" if seam.passes > 1 else ""
    return f"{seam.process} {seam.position}".strip() + passes


def _kind_entry(symbol: WeldSymbol, members: Sequence[SeamLine]) -> Entry:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        draw_reference(sheet, symbol, Box(left, centre[1] - 15, left + symbol.width, centre[1] + 15))

    left = 2.0 + (ALL_ROUND if symbol.all_round else 0.0)
    text = describe.spans([seam.label for seam in members], ", ")
    return Entry(draw, text, left + symbol.width + 2, _SYMBOL_HEIGHT)


def _closed_entries(scene: Scene, seams: Sequence[SeamLine]) -> Iterator[Entry]:
    """Yield how closed seams end, those with one kind of end together."""
    ends: dict[str, list[str]] = {}
    for seam in seams:
        overlap = overlap_mm(seam.trail)
        if overlap is not None:
            over = overlap or seam.overlap
            words = f"run on {scene.lengths.text(over)} over their start" if over else _NOT_STATED
            ends.setdefault(words, []).append(seam.label)
    for words, labels in ends.items():
        yield Entry(_ring_sample, f"Closed seams {words}: {describe.spans(labels, ', ')}", _RING_SIGN, _RING_SIGN)


_NOT_STATED = "stop where they start, overlap not stated"


def _sample(side: Side) -> Callable[[Sheet, Spot2], None]:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        x, y = centre
        draw_mark(sheet, side, (x - 36, y), 8)
        draw_seam(sheet, side, [(x - 18, y), (x + 38, y)])

    return draw


def _butt_sample(sheet: Sheet, centre: Spot2) -> None:
    x, y = centre
    draw_seam(sheet, "A", [(x - 20, y), (x + 20, y)], on_joint=True)


def _ring_sample(sheet: Sheet, centre: Spot2) -> None:
    turns = (math.tau * step / 48 for step in range(49))
    draw_seam(sheet, "A", [(centre[0] + _RING * math.cos(t), centre[1] - _RING * math.sin(t)) for t in turns])


def caption(scene: Scene, seams: Sequence[SeamLine], views: int, *, parted: bool) -> str:
    """Return the text beneath the picture."""
    sizes = list(dict.fromkeys(seam.size for seam in seams if seam.size))
    passes, unit = {seam.passes for seam in seams}, scene.lengths.unit_words
    return as_sentences(
        (
            "Dot: start. Arrow: direction of travel. Bar: stop",
            "Disc and full line: robot A. Square and hollow line: robot B",
            "Seams on one line are drawn a little apart" if parted else "",
            f"Weld symbols after ISO 2553, system A, sizes in {unit}" if sizes else "",
            f"Every seam that has a size is {sizes[0]}" if len(sizes) == 1 and len(seams) > 1 else "",
            # The letter of a size is the first sign before a symbol (ISO 2553): the drawing's own spelling.
            "z before a symbol: leg" if any(size.startswith("z") for size in sizes) else "",
            f"Number in a square butt symbol: gap in {unit} (its place from memory)" if _has_gap(seams) else "",
            f"Each seam has {max(passes)} passes and is shown once" if len(passes) == 1 and max(passes) > 1 else "",
            "A seam of several passes is shown once" if len(passes) > 1 else "",
            "A thin line is a seam that is numbered in another view" if views > 1 else "",
        )
    )


def _has_gap(seams: Sequence[SeamLine]) -> bool:
    return any(seam.gap for seam in seams)


def description(scene: Scene, seams: Sequence[SeamLine]) -> str:
    """Return the picture in words: every seam in order with its path in mm."""
    return describe.welds_in_words(scene, "seam", "order", seams, describe.seam_words)


# ---------------------------------------------------------------- seams that close


def overlap_mm(trail: Trail) -> float | None:
    """Return how far a closed seam runs on over its start, 0 where it stops on it; None for an open seam."""
    points = trail.points()
    whole = length_of(points)
    if math.dist(points[0], points[-1]) < _ON_MM:
        return 0.0 if whole > 4 * _ON_MM else None
    off, run_on = min(_feet(points, _FIRST_PART * whole))
    return run_on if off < _ON_MM and run_on < _FIRST_PART * whole else None


def _feet(points: Sequence[Point], until: float) -> Iterator[tuple[float, float]]:
    """Yield how far the end of a path is off each piece of its first part, and how far along the path that is."""
    passed = 0.0
    for start, end in pairwise(points):
        if passed > until:
            return
        foot = foot_on(points[-1], start, end)
        yield math.dist(foot, points[-1]), passed + math.dist(start, foot)
        passed += math.dist(start, end)
