"""Pictures in words, for screen readers and for search: what is where, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from weld_packets.diagrams.components import component_names
from weld_packets.diagrams.robots import SIDES, robot_name
from weld_packets.diagrams.scene import Bend, Scene, SeamLine, Side, SpotPoint, Trail
from weld_packets.drawing.lettering import tenths
from weld_packets.geometry.vectors import Point
from weld_packets.wording.english import as_sentences, capital, counted

_SPELT = 2
"""As many labels that count on are spelt out; of more, the first and the last are named."""


def coordinates(point: Point) -> str:
    """Return coordinates in mm to a tenth."""
    return ", ".join(f"{axis} {tenths(value)}" for axis, value in zip("XYZ", point, strict=True))


def spot_words(spot: SpotPoint) -> str:
    """Return one spot in words."""
    return f"{spot.label} at {coordinates(spot.at)}"


def seam_words(seam: SeamLine) -> str:
    """Return one seam in words: its joint, its size and its path."""
    weld = f"{seam.joint} joint" + (f", {seam.size}" if seam.size else "")
    return f"{seam.label}, {weld}: {trail_words(seam.trail)}"


Welded = TypeVar("Welded", SeamLine, SpotPoint)


def welds_in_words(scene: Scene, noun: str, order: str, welds: Sequence[Welded], words: Callable[[Welded], str]) -> str:
    """Return a map in words: components, datum, and of each robot every weld in its ``order`` with its place in mm."""
    sequences: Iterator[str] = (
        f"{robot_name(scene, side)}, {counted(len(own), noun)} in {order}, coordinates in mm: "
        + "; ".join(words(weld) for weld in own)
        for side in SIDES
        if (own := [weld for weld in welds if weld.side == side])
    )
    components = f"{capital(noun)}s on {component_names(scene)}" if scene.outlines else ""
    return as_sentences((components, f"Datum: {scene.datum}", *sequences))


def trail_words(trail: Trail) -> str:
    """Return a path in words."""
    pieces = [
        f"by an arc through {coordinates(piece.via)} to {coordinates(piece.end)}"
        if isinstance(piece, Bend)
        else f"straight to {coordinates(piece.end)}"
        for piece in trail.pieces
    ]
    return f"from {coordinates(trail.start)} " + ", ".join(pieces)


def robot_line(scene: Scene, side: Side, labels: Sequence[str], noun: str) -> str:
    """Return a robot with how many welds it makes and in which order, for a legend."""
    return f"{robot_name(scene, side)}, {counted(len(labels), noun)}: {spans(labels, ' → ')}"


def spans(labels: Sequence[str], between: str) -> str:
    """Return labels in their order, those that count on from each other as one: A01 to A14, A17."""
    runs: list[list[str]] = []
    for label in labels:
        if runs and label == _next(runs[-1][-1]):
            runs[-1].append(label)
        else:
            runs.append([label])
    return between.join(word for run in runs for word in _span(run, between))


def _span(run: Sequence[str], between: str) -> list[str]:
    return [f"{run[0]} to {run[-1]}"] if len(run) > _SPELT else [between.join(run)]


def _next(label: str) -> str:
    """Return the label that counts on from one with as many digits, A10 after A09; empty where it has no number."""
    letters = label.rstrip("0123456789")
    digits = label[len(letters) :]
    return f"{letters}{int(digits) + 1:0{len(digits)}d}" if digits else ""
