"""What is said about a spot map: legend, caption, and the picture in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from weld_packets.diagrams import describe
from weld_packets.diagrams.components import datum_sample
from weld_packets.diagrams.robots import COLOUR, FIRST, PATH, SIDES, draw_mark
from weld_packets.diagrams.scale_and_legend import Entry
from weld_packets.diagrams.scene import Scene, Side, SpotPoint
from weld_packets.diagrams.spots.pitch import Span
from weld_packets.diagrams.symbols import WeldSymbol, draw_reference
from weld_packets.drawing.boxes import Box, Spot2
from weld_packets.drawing.shapes import arrowhead, circle, polyline
from weld_packets.drawing.sheet import Layer, Sheet, Style
from weld_packets.wording.english import as_sentences, capital, joined, listed

_SAMPLE = 7.0
_SYMBOL_HEIGHT = 30.0


class Kind(NamedTuple):
    """Spots through one stack at one setting."""

    stack: str
    size: str
    process: str
    setting: int
    schedule: str


def legend_entries(scene: Scene, spots: Sequence[SpotPoint]) -> list[Entry]:
    """Return the legend: robots in their order, stacks with their marks, first spot, datum."""
    entries = [
        Entry(_robot_sample(side), describe.robot_line(scene, side, own, scene.weld), 48.0)
        for side in SIDES
        if (own := [spot.label for spot in spots if spot.side == side])
    ]
    entries += _kind_entries(spots)
    return [*entries, Entry(_first, f"first {scene.weld} of a robot"), Entry(datum_sample, f"Datum: {scene.datum}")]


def _kind_entries(spots: Sequence[SpotPoint]) -> Iterator[Entry]:
    """Yield what each stack is: its symbol, the marks of its spots, and which they are, but for the most frequent."""
    kinds = {spot.label: Kind(spot.stack, spot.size, spot.process, spot.setting, spot.schedule) for spot in spots}
    counts = Counter(kinds.values())
    several = len({kind.setting for kind in counts}) > 1
    usual = max(counts, key=counts.__getitem__, default=None)
    for kind in counts:
        if not kind.stack:
            continue
        own = [spot.label for spot in spots if kinds[spot.label] == kind]
        which = "" if len(counts) == 1 else ": all others" if kind == usual else f": {describe.spans(own, ', ')}"
        schedule = f", weld schedule {kind.schedule}" if several and kind.schedule else ""
        sides = sorted({spot.side for spot in spots if spot.setting == kind.setting})
        symbol = WeldSymbol("spot", kind.size, kind.process)
        width = (symbol.width if kind.size else 0.0) + 3 * _SAMPLE * len(sides) + 4
        draw = _kind_sample(kind, symbol, sides)
        yield Entry(draw, f"{kind.stack}{schedule}{which}", width, _SYMBOL_HEIGHT)


def _kind_sample(kind: Kind, symbol: WeldSymbol, sides: Sequence[Side]) -> Callable[[Sheet, Spot2], None]:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        x, y = 2.0, centre[1] + 3
        for side in sides:
            draw_mark(sheet, side, (x + _SAMPLE + 1, y), _SAMPLE, setting=kind.setting)
            x += 3 * _SAMPLE
        if kind.size:
            draw_reference(sheet, symbol, Box(x, y - 20, x + symbol.width, y + 10))

    return draw


def setting_sample(sides: Sequence[Side], setting: int) -> Entry:
    """Return the sign of welds that are set as one: the marks that they have on the map."""
    draw = _kind_sample(Kind("", "", "", setting, ""), WeldSymbol("spot", "", ""), sides)
    return Entry(draw, "", 3 * _SAMPLE * len(sides) + 2, 22.0)


def _robot_sample(side: Side) -> Callable[[Sheet, Spot2], None]:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        x, y = centre
        sheet.draw(polyline([(x - 22, y), (x + 22, y)]), PATH[side], Layer.PATH)
        sheet.draw(arrowhead((x + 14, y), (1.0, 0.0), 10, 4.2), Style(None, 0, COLOUR[side]), Layer.PATH)
        draw_mark(sheet, side, (x - 12, y), _SAMPLE)

    return draw


def _first(sheet: Sheet, centre: Spot2) -> None:
    sheet.draw(circle(centre, 4), FIRST, Layer.MARK)
    sheet.draw(circle(centre, 8), FIRST, Layer.MARK)


def caption(
    scene: Scene,
    spots: Sequence[SpotPoint],
    pitches: Sequence[Span],
    edges: Sequence[Span],
    details: Sequence[str],
    *,
    elsewhere: Sequence[tuple[SpotPoint, SpotPoint]] = (),
) -> str:
    """Return the text beneath the picture; ``elsewhere`` are moves from one view to another."""
    return as_sentences(
        (
            "Disc: robot A, full line. Square: robot B, broken line",
            _pitch_words(scene, spots, pitches),
            _edge_words(scene, spots, edges),
            _symbol_words(scene, spots),
            f"{capital(scene.weld)}s that are set otherwise carry another sign in their marks"
            if _is_set_otherwise(spots)
            else "",
            f"{listed(details)} enlarged below the whole" if details else "",
            _elsewhere_words(elsewhere),
        )
    )


def _elsewhere_words(moves: Sequence[tuple[SpotPoint, SpotPoint]]) -> str:
    found = listed([f"{one.label} to {other.label}" for one, other in moves])
    return f"From one view to another, drawn in the pictorial view: {found}" if found else ""


def description(
    scene: Scene,
    spots: Sequence[SpotPoint],
    pitches: Sequence[Span],
    edges: Sequence[Span],
) -> str:
    """Return the picture in words: every spot in sequence with its coordinates in mm."""
    whole = describe.welds_in_words(scene, scene.weld, "sequence", spots, describe.spot_words)
    return joined((whole, as_sentences((_pitch_words(scene, spots, pitches), _edge_words(scene, spots, edges)))), " ")


def _is_set_otherwise(spots: Sequence[SpotPoint]) -> bool:
    return len({spot.setting for spot in spots}) > 1


def _symbol_words(scene: Scene, spots: Sequence[SpotPoint]) -> str:
    if not any(spot.size for spot in spots):
        return ""
    return (
        "Weld symbols after ISO 2553 (from memory): a circle for a spot, before it the target diameter in "
        f"{scene.lengths.unit_words}"
    )


def _pitch_words(scene: Scene, spots: Sequence[SpotPoint], pitches: Sequence[Span]) -> str:
    if not pitches or pitches[0].other is None:
        return ""
    one, other = spots[pitches[0].spot], spots[pitches[0].other]
    return f"Smallest pitch {scene.lengths.text(pitches[0].distance)}, {one.label} to {other.label}{_more(pitches)}"


def _edge_words(scene: Scene, spots: Sequence[SpotPoint], edges: Sequence[Span]) -> str:
    if not edges:
        return ""
    nearest = spots[edges[0].spot].label
    return f"Smallest edge distance {scene.lengths.text(edges[0].distance)}, at {nearest}{_more(edges)}"


def _more(spans: Sequence[Span]) -> str:
    return f" and {len(spans) - 1} more" if len(spans) > 1 else ""
