"""Which drawings an operation has, and how many welds have to be wrong before one is thought to be in another unit."""

from __future__ import annotations

import pytest
from weld_packets.calculation.places.wrong_unit import Drawing, drawings, wrong_scale
from weld_packets.model.order import Component

DRAWING = Drawing("plate.dxf", "components[0].outlines[0].file", ("plate",))


@pytest.mark.parametrize(
    ("faults", "welds", "is_stated"),
    [(2, 3, True), (3, 5, True), (2, 4, False), (2, 2, False)],
    ids=["most of three", "most of five", "half of four", "both of two"],
)
def test_a_drawing_is_thought_too_small_where_most_of_three_or_more_welds_are_wrong(
    faults: int, welds: int, *, is_stated: bool
) -> None:
    found = wrong_scale(DRAWING, [f"S{number}" for number in range(welds)], faults, lambda scale: scale > 1)
    assert (found is not None) is is_stated


def test_a_drawing_is_thought_too_large_from_one_weld_that_is_wrong() -> None:
    assert wrong_scale(DRAWING, ["S1"], 1, lambda scale: scale < 1) is not None
    assert wrong_scale(DRAWING, ["S1"], 0, lambda scale: scale < 1) is None


def component(mark: str, *outlines: dict[str, object]) -> Component:
    stated = {"id": mark, "name": f"the {mark}", "material": "S235", "thickness": "3 mm", "outlines": list(outlines)}
    return Component.model_validate(stated)


def test_a_file_is_one_drawing_for_all_its_components_and_outlines_in_the_order_are_one_for_each() -> None:
    drawn = {"unit": "mm", "points": [["0", "0"], ["9", "0"], ["9", "9"]]}
    file = {"file": "frame.dxf"}
    found = drawings([component("plate", file), component("web", drawn, file), component("rib", drawn, drawn)])
    assert list(found) == [
        Drawing("frame.dxf", "components[0].outlines[0].file", ("plate", "web")),
        Drawing("of component the web", "components[1].outlines[0].unit", ("web",)),
        Drawing("of component the rib", "components[2].outlines[0].unit", ("rib",)),
    ]
