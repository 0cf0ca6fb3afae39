"""How far a point of a seam is off a component: by the nearest of its outlines, whatever is looked at first."""

import pytest
from weld_packets.model.order import Component
from weld_packets.processes.arc.seams.placing import Body, Hold

FACE = Hold(edge=False, beside=0.0, above=0.0)
SQUARE = [["0", "0"], ["100", "0"], ["100", "100"], ["0", "100"]]


def body(*offsets: str) -> Body:
    """Return a component with one square of 100 mm at each of some heights."""
    outlines = [{"plane": "XY", "offset": f"{offset} mm", "unit": "mm", "points": SQUARE} for offset in offsets]
    stated = {"id": "plate", "name": "plate", "material": "S235", "thickness": "4 mm", "outlines": outlines}
    return Body(Component.model_validate(stated))


def test_a_component_without_outlines_holds_every_point() -> None:
    assert body().miss((1e6, 0.0, 0.0), FACE) == 0.0


@pytest.mark.parametrize("offsets", [("0.3", "0.1"), ("0.1", "0.3")])
def test_a_point_is_off_by_the_height_of_the_nearest_of_several_faces(offsets: tuple[str, ...]) -> None:
    assert body(*offsets).miss((50.0, 50.0, 0.0), FACE) == pytest.approx(0.1)


def test_a_point_beside_a_face_is_off_by_its_distance_in_space() -> None:
    assert body("4").miss((103.0, 50.0, 0.0), FACE) == pytest.approx(5)  # 3 mm beside and 4 mm below
    assert body("4").miss((103.0, 50.0, 0.0), Hold(edge=False, beside=3.0, above=1.0)) == pytest.approx(3)
