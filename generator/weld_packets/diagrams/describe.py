"""Pictures in words, for screen readers and for search: what stands where, in order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.diagrams.scene import Bend, Scene, SeamLine, SpotPoint, Trail
from weld_packets.drawing.lettering import tenths
from weld_packets.geometry.vectors import Point


def place(point: Point) -> str:
    """Return coordinates in mm to a tenth."""
    return ", ".join(f"{axis} {tenths(value)}" for axis, value in zip("XYZ", point, strict=True))


def spot_words(spot: SpotPoint) -> str:
    """Return one spot in words."""
    return f"{spot.label} at {place(spot.at)}"


def seam_words(seam: SeamLine) -> str:
    """Return one seam in words: its joint, its size and its path."""
    weld = f"{seam.joint} joint" + (f", {seam.size}" if seam.size else "")
    return f"{seam.label}, {weld}: {trail_words(seam.trail)}"


def trail_words(trail: Trail) -> str:
    """Return a path in words."""
    pieces = [
        f"by an arc through {place(piece.via)} to {place(piece.end)}"
        if isinstance(piece, Bend)
        else f"straight to {place(piece.end)}"
        for piece in trail.pieces
    ]
    return f"from {place(trail.start)} " + ", ".join(pieces)


def sentences(components: Iterable[str]) -> str:
    """Return the non-empty ``parts`` as sentences."""
    return " ".join(f"{component.rstrip('.')}." for component in components if component)


def listed(names: Sequence[str]) -> str:
    """Return names as a phrase with ``and`` before the last."""
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else "".join(names)


def undrawn_words(scene: Scene) -> str:
    """Return which components are missing from the drawing, empty where none is."""
    return f"Not drawn, for want of an outline in the order: {', '.join(scene.undrawn)}" if scene.undrawn else ""
