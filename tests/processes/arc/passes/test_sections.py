"""The sizes of which a chart draws lines of equal weld."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.processes.arc.passes.bench import Sections
from weld_packets.processes.arc.passes.sections import drawn_sizes
from weld_packets.units import kinds, magnitude, quantity


def drawn(throat: float | None, largest: float | None) -> list[tuple[str, str, float, float]]:
    """Return word, kind, size and cross-section of each line, of 4.4 mm² required and 9.9 mm² as the target."""
    size: Any = SimpleNamespace(throat=None if throat is None else quantity(throat, "mm"))
    areas: Any = [SimpleNamespace(result=quantity(area, "mm²")) for area in (4.4, 9.9)]
    sections = Sections(*areas, None if largest is None else quantity(largest, "mm²"))
    return [
        (line.word, line.kind.name, magnitude(line.size, line.kind.metric), magnitude(line.area, "mm²"))
        for line in drawn_sizes(size, sections, quantity(1.1, "1"))
    ]


def test_a_fillet_is_drawn_by_its_throats_whose_square_times_the_reinforcement_is_the_cross_section() -> None:
    length = kinds.LENGTH.name
    assert drawn(2.0, 17.6) == [
        ("required", length, pytest.approx(2.0), 4.4),
        ("target", length, pytest.approx(3.0), 9.9),
        ("largest", length, pytest.approx(4.0), 17.6),
    ]


def test_a_butt_is_drawn_by_its_cross_sections_and_without_a_largest_by_two() -> None:
    area = kinds.AREA.name
    assert drawn(None, None) == [("required", area, 4.4, 4.4), ("target", area, 9.9, 9.9)]
