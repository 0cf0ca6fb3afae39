"""Components that are in the way of a seam."""

from typing import Any

import pytest

RIB = "rib"
AROUND = {
    "unit": "mm",
    "start": ["65", "30", "4"],
    "pieces": [
        {"via": ["50", "45", "4"], "to": ["35", "30", "4"]},
        {"via": ["50", "15", "4"], "to": ["65", "30", "4"]},
    ],
}
SLEEVE = [(65, 30), (63.86, 35.74), (60.61, 40.61), (55.74, 43.86), (50, 45), (44.26, 43.86), (39.39, 40.61),
          (36.14, 35.74), (35, 30), (36.14, 24.26), (39.39, 19.39), (44.26, 16.14), (50, 15), (55.74, 16.14),
          (60.61, 19.39), (63.86, 24.26)]  # fmt: skip
OPEN = {
    "unit": "mm",
    "start": ["62.99", "37.5", "4"],
    "pieces": [{"via": ["35", "30", "4"], "to": ["62.99", "22.5", "4"]}],
}


def with_rib(place: Any, *corners: tuple[float, float], offset: float = 50, thickness: str = "3 mm") -> list[Any]:
    """Return the usual joint with a rib in the plane x 50, its corners in y and z."""
    web, plate = place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", place.PLATE)
    return [web, plate, place.part(RIB, thickness, place.outline("YZ", offset, *corners))]


def test_a_seam_through_a_rib_is_refused_with_the_place(place: Any) -> None:
    parts = with_rib(place, (4, 4), (28.5, 4), (28.5, 40))
    assert place.refusals(place.operation(components=parts)) == [
        ("seams[0].path", "seam S1 runs through rib, which it does not join, at x 50.0 mm, y 28.5 mm, z 4.0 mm")
    ]


def test_a_rib_with_a_cope_is_passed(place: Any) -> None:
    assert place.is_good(place.operation(components=with_rib(place, (4, 4), (20, 4), (28.5, 12), (28.5, 40))))


@pytest.mark.parametrize(("end", "good"), [(27.74, True), (27.76, False)])
def test_a_rib_is_in_the_way_up_to_a_quarter_of_the_thinner_component_beside_the_seam(
    place: Any, end: float, *, good: bool
) -> None:
    """A quarter of 3 mm is 0.75 mm: y 27.75."""
    operation = place.operation(components=with_rib(place, (4, 4), (end, 4), (end, 40)))
    assert place.is_good(operation) if good else place.refusals(operation)


def test_a_rib_on_the_other_side_of_the_web_is_not_in_the_way(place: Any) -> None:
    """Behind the upright it is at least half its thickness from the seam, as drawn in its middle."""
    assert place.is_good(place.operation(components=with_rib(place, (30, 4), (56, 4), (30, 40))))


def test_a_seam_that_ends_at_a_rib_is_good(place: Any) -> None:
    parts = with_rib(place, (4, 4), (28.5, 4), (28.5, 40), offset=90)
    assert place.is_good(place.operation(components=parts))


def test_a_path_within_the_plane_of_a_component_does_not_pass_through_it(place: Any) -> None:
    beside = place.part(RIB, "3 mm", place.rectangle("XZ", 28.5, (120, 4), (150, 40)))
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", place.PLATE), beside]
    assert place.is_good(place.operation(components=parts))


def sleeve_and_gusset(place: Any) -> list[Any]:
    """Return a sleeve of 15 mm radius on the plate with a gusset that touches its foot at x 65."""
    sleeve = place.part("web", "2 mm", place.outline("XY", 4, *SLEEVE))
    gusset = place.part("gusset", "2 mm", place.outline("XZ", 30, (65, 4), (95, 4), (65, 44)))
    return [sleeve, place.part("plate", "4 mm", place.PLATE), gusset]


def test_a_seam_all_round_a_sleeve_that_starts_and_ends_at_a_gusset_is_refused(place: Any) -> None:
    operation = place.operation(place.seam("R1", *place.GOOD) | {"path": AROUND}, components=sleeve_and_gusset(place))
    ((key, message),) = place.refusals(operation)
    assert key == "seams[0].path"
    assert message == "seam R1 runs through gusset, which it does not join, at x 65.0 mm, y 30.0 mm, z 4.0 mm"


def test_a_seam_from_one_side_of_the_gusset_to_the_other_is_good(place: Any) -> None:
    operation = place.operation(place.seam("R1", *place.GOOD) | {"path": OPEN}, components=sleeve_and_gusset(place))
    assert place.is_good(operation)


def test_a_component_that_lies_over_a_seam_is_a_warning(place: Any) -> None:
    cover = place.part("cover", "2 mm", place.rectangle("XY", 4, (30, 5), (70, 55)))
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", place.PLATE), cover]
    assert place.warnings(place.operation(components=parts)) == [
        ("seam S1", "cover, which it does not join, is drawn over it")
    ]


@pytest.mark.parametrize(("level", "warned"), [(4.5, True), (4.6, False), (3.4, False)])
def test_a_component_lies_over_a_seam_within_the_tolerance_of_its_plane(
    place: Any, level: float, *, warned: bool
) -> None:
    cover = place.part("cover", "2 mm", place.rectangle("XY", level, (30, 5), (70, 55)))
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", place.PLATE), cover]
    assert bool(place.warnings(place.operation(components=parts))) is warned


def test_a_sheet_beneath_a_thin_plate_does_not_lie_over_the_seam(place: Any) -> None:
    """Plate and sheet of 1.2 mm: the seam runs at z 1.2 on the plate, the sheet is drawn in its upper face z 0."""
    web = place.part("web", "1.2 mm", place.rectangle("XZ", 30, (0, 1.2), (100, 41)))
    under = place.part("under", "1.2 mm", place.PLATE)
    seam = place.seam("S1", (10, 29.4, 1.2), (90, 29.4, 1.2))
    operation = place.operation(seam, components=[web, place.part("plate", "1.2 mm", place.PLATE), under])
    assert place.is_good(operation, **{"seam tolerance": "1.3 mm"})


def test_a_seam_round_the_end_of_its_own_web_does_not_run_through_it(place: Any) -> None:
    around = [(10, 28.5, 4), (100, 28.5, 4), (100, 31.5, 4), (10, 31.5, 4)]
    assert place.is_good(place.operation(place.seam("S1", *around)))


@pytest.mark.parametrize(("edge", "warned"), [(27.9, True), (28.1, False)])
def test_a_component_that_ends_beside_a_seam_does_not_lie_over_it(place: Any, edge: float, *, warned: bool) -> None:
    """The seam runs at y 28.5; within the tolerance of 0.5 mm the cover may end at it."""
    cover = place.part("cover", "2 mm", place.rectangle("XY", 4, (30, edge), (70, 55)))
    parts = [place.part("web", "3 mm", place.WEB), place.part("plate", "4 mm", place.PLATE), cover]
    assert bool(place.warnings(place.operation(components=parts))) is warned
