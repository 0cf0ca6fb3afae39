"""How many welds have to be wrong before a drawing is thought to be in another unit."""

from __future__ import annotations

import pytest
from weld_packets.calculation.wrong_unit import Drawing, wrong_scale

DRAWING = Drawing("plate.dxf", "parts[0].outlines[0].file", ("plate",))


@pytest.mark.parametrize(
    ("faults", "welds", "is_stated"),
    [(2, 3, True), (3, 5, True), (2, 4, False), (2, 2, False)],
    ids=["most of three", "most of five", "half of four", "both of two"],
)
def test_a_drawing_is_thought_too_small_where_maximum_of_three_or_more_welds_are_wrong(
    faults: int, welds: int, *, is_stated: bool
) -> None:
    found = wrong_scale(DRAWING, [f"S{number}" for number in range(welds)], faults, lambda scale: scale > 1)
    assert (found is not None) is is_stated


def test_a_drawing_is_thought_too_large_from_one_weld_that_is_wrong() -> None:
    assert wrong_scale(DRAWING, ["S1"], 1, lambda scale: scale < 1) is not None
    assert wrong_scale(DRAWING, ["S1"], 0, lambda scale: scale < 1) is None
