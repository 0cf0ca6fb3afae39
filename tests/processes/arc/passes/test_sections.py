"""The sizes of which a chart draws lines of equal weld."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any
from unittest.mock import Mock

import pytest
from weld_packets.processes.arc.passes import sections
from weld_packets.processes.arc.passes.dials import Sections
from weld_packets.processes.arc.passes.sections import drawn_sizes
from weld_packets.units import kinds, magnitude, quantity


def drawn(throat: float | None, largest: float | None) -> list[tuple[str, str, float, float]]:
    """Return word, kind, size and cross-section of each line, of 4.4 mm² required and 9.9 mm² as the target."""
    size: Any = SimpleNamespace(throat=None if throat is None else quantity(throat, "mm"))
    areas: Any = [SimpleNamespace(result=quantity(area, "mm²")) for area in (4.4, 9.9)]
    found = Sections(*areas, None if largest is None else quantity(largest, "mm²"))
    return [
        (line.word, line.kind.name, magnitude(line.size, line.kind.metric), magnitude(line.area, "mm²"))
        for line in drawn_sizes(size, found, quantity(1.1, "1"))
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


def test_throats_are_tried_by_twentieths_between_what_two_passes_deposit_at_both_ends(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two passes deposit 2 x 2 mm² at the slowest feed and fastest speed, and 2 x 8 mm² at the reverse.

    A weld may be 12 % larger than its target: 3.52 mm² is the smallest target, of a throat above 1.876 mm.
    """
    for name, answer in (
        ("longest_leg", lambda _: None),
        ("reinforcement", lambda _: quantity(1, "1")),
        ("margin", lambda _: (quantity(0, "1"),)),
        ("_of_throat", lambda *_: None),
    ):
        monkeypatch.setattr(sections, name, answer)
    feed = SimpleNamespace(target_steps=SimpleNamespace(low=10, high=20))
    speed = SimpleNamespace(steps=SimpleNamespace(low=5, high=10))
    bench: Any = SimpleNamespace(feed=feed, speed=speed, counts=(2,), throats=None, slope=lambda _: 2.0)
    found = [throat for throat, _ in sections.tried(Mock(), bench, Mock())]
    assert found == pytest.approx([1.9 + 0.05 * number for number in range(43)])
