"""What is said about a seam map: legend, caption, and the picture in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from weld_packets.diagrams import describe
from weld_packets.diagrams.components import component_names, datum_sample, ghost_sample
from weld_packets.diagrams.furniture import Entry
from weld_packets.diagrams.robots import draw_mark
from weld_packets.diagrams.scene import Ghost, Scene, SeamLine, Side
from weld_packets.diagrams.seams.lines import draw_seam
from weld_packets.diagrams.spots.words import SLOTS, robot_name
from weld_packets.drawing.boxes import Spot2
from weld_packets.drawing.sheet import Sheet


def legend_entries(scene: Scene, seams: Sequence[SeamLine], ghost: Ghost | None) -> list[Entry]:
    """Return the legend: robots with start, heading and stop; datum; ghost."""
    entries = [
        Entry(_sample(side), f"{robot_name(scene, side)}: {_counted(count)}", 96.0)
        for side in SLOTS
        if (count := sum(seam.side == side for seam in seams))
    ]
    entries.append(Entry(datum_sample, f"Datum: {scene.datum}"))
    return [*entries, Entry(ghost_sample, ghost.label or "before")] if ghost else entries


def _sample(side: Side) -> Callable[[Sheet, Spot2], None]:
    def draw(sheet: Sheet, centre: Spot2) -> None:
        x, y = centre
        draw_mark(sheet, side, (x - 36, y), 8)
        draw_seam(sheet, side, [(x - 18, y), (x + 38, y)])

    return draw


def _counted(count: int) -> str:
    return f"{count} seam" if count == 1 else f"{count} seams"


def caption(scene: Scene, seams: Sequence[SeamLine], views: int, *, parted: bool) -> str:
    """Return what stands beneath the picture."""
    return describe.sentences(
        (
            "Dot: start. Arrow: direction of travel. Bar: stop. Each robot welds in the order of the table",
            "Disc and full line: robot A. Square and hollow line: robot B",
            "Seams on one line are drawn a little apart" if parted else "",
            "Weld symbols after ISO 2553, system A" if any(seam.size for seam in seams) else "",
            "z before a symbol: leg" if any(seam.size.startswith("z") for seam in seams) else "",
            "Each weld is shown once, however many passes it has" if any(seam.passes > 1 for seam in seams) else "",
            "A thin line is a seam that is numbered in another view" if views > 1 else "",
            describe.undrawn_words(scene),
        )
    )


def description(scene: Scene, seams: Sequence[SeamLine]) -> str:
    """Return the picture in words: every seam in order with its path in mm."""
    runs = [
        f"{robot_name(scene, side)}, {_counted(len(own))} in order, coordinates in mm: "
        + "; ".join(describe.seam_words(seam) for seam in own)
        for side in SLOTS
        if (own := [seam for seam in seams if seam.side == side])
    ]
    return describe.sentences(
        (
            f"Seams on {component_names(scene)}" if scene.outlines else "",
            f"Datum: {scene.datum}",
            *runs,
        )
    )
