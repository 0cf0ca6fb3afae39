"""Seams that end where they start: how far their weld runs on over its own beginning."""

from __future__ import annotations

from math import dist

from weld_packets.calculation.places.path import end_mm, length_mm, start_mm
from weld_packets.errors import refusal
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.records import Seam
from weld_packets.units import as_written, in_mm

CLOSES = 0.01
"""Millimetres within which a path ends where it started: closer than that no program distinguishes two points."""


def closes(seam: Seam) -> bool:
    """Return whether the path of a seam ends where it started."""
    return dist(start_mm(seam.path), end_mm(seam.path)) < CLOSES


def overlap_mm(seam: Seam, plant: Plant) -> float:
    """Return how far the weld of a closed path runs on over its start, in mm: 0 for an open one, or none stated.

    Raises OutOfRangeError for an overlap of an open path, and for one longer than the path.
    """
    if not closes(seam):
        if seam.overlap is not None:
            raise refusal(
                "an overlap is for a path that ends where it started",
                "remove 'overlap', or close the path",
                key="overlap",
                value=as_written(seam.overlap),
            )
        return 0.0
    overlap = seam.overlap or plant.closed_seam_overlap
    found = 0.0 if overlap is None else in_mm(overlap)
    if overlap is not None and found > length_mm(seam.path):
        raise refusal(
            "the overlap is longer than the path", "write a shorter 'overlap'", key="overlap", value=as_written(overlap)
        )
    return found


def welded_length_mm(seam: Seam, plant: Plant) -> float:
    """Return the length of weld on a seam in mm: its path, and the overlap of a closed one."""
    return length_mm(seam.path) + overlap_mm(seam, plant)
