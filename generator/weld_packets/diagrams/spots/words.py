"""What is said about a spot map: legend, caption, and the picture in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from weld_packets.diagrams import describe
from weld_packets.diagrams.components import component_names, datum_sample, ghost_sample
from weld_packets.diagrams.furniture import Entry
from weld_packets.diagrams.robots import FIRST, draw_mark, draw_path
from weld_packets.diagrams.scene import Ghost, Scene, Side, SpotPoint
from weld_packets.diagrams.spots.pitch import Span
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.shapes import circle
from weld_packets.drawing.sheet import Layer, Sheet

SLOTS: tuple[Side, Side] = ("A", "B")


def legend_entries(scene: Scene, spots: Sequence[SpotPoint], ghost: Ghost | None) -> list[Entry]:
    """Return the legend: robots, first spot, datum, ghost."""
    entries = [
        Entry(_sample(side), f"{robot_name(scene, side)}: {counted(count)}", 52.0)
        for side in SLOTS
        if (count := sum(spot.side == side for spot in spots))
    ]
    entries += [Entry(_first, "first spot"), Entry(datum_sample, f"Datum: {scene.datum}")]
    return [*entries, Entry(ghost_sample, ghost.label or "before")] if ghost else entries


def _sample(side: Side) -> Callable[[Sheet, Spot2], None]:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        x, y = centre
        draw_path(sheet, side, [(x - 22, y), (x + 20, y)], 3)
        draw_mark(sheet, side, (x - 15, y), 7)

    return draw


def _first(sheet: Sheet, centre: Spot2) -> None:
    sheet.draw(circle(centre, 4), FIRST, Layer.MARK)
    sheet.draw(circle(centre, 8), FIRST, Layer.MARK)


def robot_name(scene: Scene, side: Side) -> str:
    """Return a robot as the packet names it."""
    return f"Robot {side} ({scene.robots[SLOTS.index(side)]})"


def counted(count: int) -> str:
    """Return a number of spots in words."""
    return f"{count} spot" if count == 1 else f"{count} spots"


def caption(
    scene: Scene,
    spots: Sequence[SpotPoint],
    pitches: Sequence[Span],
    edges: Sequence[Span],
    details: Sequence[str],
) -> str:
    """Return what stands beneath the picture."""
    return describe.sentences(
        (
            "Disc: robot A, full line. Square: robot B, broken line",
            _pitch_words(scene, spots, pitches),
            _edge_words(scene, spots, edges),
            _symbol_words(scene, spots),
            "Spots that are set otherwise carry another sign in their marks" if _is_set_otherwise(spots) else "",
            f"{describe.listed(details)} enlarged below the whole" if details else "",
            describe.undrawn_words(scene),
        )
    )


def description(
    scene: Scene,
    spots: Sequence[SpotPoint],
    pitches: Sequence[Span],
    edges: Sequence[Span],
) -> str:
    """Return the picture in words: every spot in sequence with its coordinates in mm."""
    sequences = [
        f"{robot_name(scene, side)}, {counted(len(own))} in sequence, coordinates in mm: "
        + "; ".join(describe.spot_words(spot) for spot in own)
        for side in SLOTS
        if (own := [spot for spot in spots if spot.side == side])
    ]
    return describe.sentences(
        (
            f"Spots on {component_names(scene)}" if scene.outlines else "",
            f"Datum: {scene.datum}",
            *sequences,
            _pitch_words(scene, spots, pitches),
            _edge_words(scene, spots, edges),
        )
    )


def _is_set_otherwise(spots: Sequence[SpotPoint]) -> bool:
    return len({spot.setting for spot in spots}) > 1


def _symbol_words(scene: Scene, spots: Sequence[SpotPoint]) -> str:
    if not any(spot.size for spot in spots):
        return ""
    unit = "mm" if scene.lengths.unit_length == 1 else "in"
    return f"Weld symbols after ISO 2553 (from memory): a circle for a spot, before it the target diameter in {unit}"


def _pitch_words(scene: Scene, spots: Sequence[SpotPoint], pitches: Sequence[Span]) -> str:
    if not pitches or pitches[0].other is None:
        return ""
    one, other = spots[pitches[0].spot], spots[pitches[0].other]
    return f"Smallest pitch {scene.lengths.text(pitches[0].distance)}, {_named(one)} to {_named(other)}{_more(pitches)}"


def _edge_words(scene: Scene, spots: Sequence[SpotPoint], edges: Sequence[Span]) -> str:
    if not edges:
        return ""
    nearest = _named(spots[edges[0].spot])
    return f"Smallest edge distance {scene.lengths.text(edges[0].distance)}, at {nearest}{_more(edges)}"


def _more(spans: Sequence[Span]) -> str:
    return f" and {len(spans) - 1} more" if len(spans) > 1 else ""


def _named(spot: SpotPoint) -> str:
    return spot.label
