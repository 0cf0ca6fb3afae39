"""Flare bevels along the corner of a tube, and fillets that would be some."""

from math import pi, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.size.flare import groove_area, groove_filled, outer_radius
from weld_packets.units import quantity

TUBE = {"form": "cold-formed tube", "axis": "X", "corner radius": "6 mm"}
RULE = {"flare bevel throat": "0.3125", "flare bevel source": "rule of the test"}


def lying(place: Any, section: Any, *, wall: str = "3 mm", of: str = "S235") -> list[Any]:
    """Return a tube of 40 x 40 along x on the plate, drawn by the face that it lies on and by one side."""
    foot = place.rectangle("XY", 4, (0, 10), (100, 50))
    side = place.rectangle("XZ", 10, (0, 4), (100, 44))
    more = {} if section is None else {"section": section}
    return [place.part("web", wall, foot, side, of=of, **more), place.part("plate", "4 mm", place.PLATE)]


def along(place: Any, **more: Any) -> Any:
    return place.seam("S1", (10, 10, 4), (90, 10, 4), **more)


def charts(place: Any, transfer: str = "spray", **operation: str) -> tuple[Any, ...]:
    return (place.bench.chart(joints=["flare bevel", "T fillet"], transfer=transfer, row=operation),)


# ---------------------------------------------------------------- fillets that are none


def test_a_fillet_along_a_tube_s_corner_is_refused_as_a_flare_bevel(place: Any) -> None:
    assert place.refusals(place.operation(along(place), components=lying(place, TUBE))) == [
        (
            "seams[0].joint",
            "seam S1 follows the corner of web, whose radius is 6.0 mm: this is a flare-bevel joint",
        )
    ]


def test_the_radius_of_a_cold_formed_tube_is_given_from_the_range_of_its_standard(place: Any) -> None:
    section = {"form": "cold-formed tube", "axis": "X"}
    ((_, message),) = place.refusals(place.operation(along(place), components=lying(place, section)))
    assert (
        "whose radius is 4.8 mm to 7.2 mm (EN 10219-2, external corner profile by wall thickness, from memory)"
        in message
    )


def test_a_seam_across_the_end_of_a_tube_is_a_fillet(place: Any) -> None:
    across = place.seam("S1", (0, 15, 4), (0, 45, 4))
    assert place.is_good(place.operation(across, components=lying(place, TUBE)))


def test_a_seam_that_turns_into_a_corner_is_refused(place: Any) -> None:
    turning = place.seam("S1", (0, 45, 4), (0, 10, 4), (60, 10, 4))
    assert place.refusals(place.operation(turning, components=lying(place, TUBE)))[0][0] == "seams[0].joint"


def test_without_an_axis_a_long_edge_of_a_tube_is_a_warning(place: Any) -> None:
    section = {"form": "cold-formed tube"}
    ((subject, text),) = place.warnings(place.operation(along(place), components=lying(place, section)))
    assert subject == "seam S1"
    assert text.startswith("follows a long edge of web; along a tube's corner it is a flare-bevel joint")
    across = place.seam("S1", (0, 15, 4), (0, 45, 4))
    assert place.is_good(place.operation(across, components=lying(place, section)))


def test_without_an_axis_only_the_longest_edges_are_a_tube_s_corners(place: Any) -> None:
    """The face on the plate is 100 mm long and 95 mm wide: a seam across its end is on a sharp edge."""
    foot = place.rectangle("XY", 4, (0, 10), (100, 105))
    plate = place.part("plate", "4 mm", place.rectangle("XY", 4, (-20, -20), (140, 140)))
    components = [place.part("web", "3 mm", foot, section={"form": "cold-formed tube"}), plate]
    across = place.seam("S1", (0, 15, 4), (0, 100, 4))
    assert place.is_good(place.operation(across, components=components))


def test_a_round_tube_has_no_corner(place: Any) -> None:
    assert place.is_good(place.operation(along(place), components=lying(place, {"form": "round tube"})))


def test_a_strip_welded_across_a_tube_is_a_fillet(place: Any) -> None:
    """A tab of 3 mm is on the tube: the seam follows the tab's edge and lies on the tube's flat face."""
    top = place.rectangle("XY", 44, (0, 10), (100, 50))
    tab = place.rectangle("XZ", 30, (20, 44), (80, 84))
    parts = [place.part("plate", "3 mm", top, section=TUBE), place.part("web", "3 mm", tab)]
    assert place.is_good(place.operation(place.seam("S1", (25, 28.5, 44), (75, 28.5, 44)), components=parts))


@pytest.mark.parametrize(
    ("designation", "warned"), [("S235JRH", True), ("S355J2H galvanised", True), ("S235JR", False)]
)
def test_a_steel_for_hollow_sections_whose_section_is_not_said_is_a_warning(
    place: Any, designation: str, *, warned: bool
) -> None:
    steel = place.bench.material("tubing", designation=designation)
    operation = place.operation(along(place), components=lying(place, None, of="tubing"))
    found = place.warnings(operation, materials=(steel,))
    assert [subject for subject, _ in found] == (["web"] if warned else [])
    if warned:
        assert "(S1 follow its edges)" in found[0][1]


# ---------------------------------------------------------------- the joint itself


def flare(place: Any, throat: str = "1.8 mm", **more: Any) -> Any:
    return along(place, joint="flare bevel", throat=throat, **more)


def result_of(place: Any, section: Any = TUBE, throat: str = "1.8 mm", transfer: str = "spray", **plant: Any) -> Any:
    operation = place.operation(flare(place, throat), components=lying(place, section))
    approved = place.approved(charts=charts(place, transfer), **(RULE | plant))
    (settings,) = FAMILY.compute(operation, approved).settings
    return settings


def checks(settings: Any) -> dict[str, Any]:
    return {verdict.key: verdict for verdict in settings.verdicts}


def throat_text(settings: Any) -> str:
    return str(checks(settings)["flare_throat"].text).replace("\N{NO-BREAK SPACE}", " ")


def test_a_flare_bevel_along_a_tube_lies_where_it_should(place: Any) -> None:
    operation = place.operation(flare(place), components=lying(place, TUBE))
    assert place.is_good(operation, charts=charts(place), **RULE)


@pytest.mark.parametrize(("y", "good"), [(16.4, True), (16.6, False), (3.6, True), (3.4, False)])
def test_a_flare_bevel_lies_within_the_corner_radius_of_the_edge_that_is_drawn(
    place: Any, y: float, *, good: bool
) -> None:
    """Radius 6 mm beside the edge at y 10, on the side that the outlines do not tell, and the tolerance of 0.5 mm."""
    seam = place.seam("S1", (10, y, 4), (90, y, 4), joint="flare bevel", throat="1.8 mm")
    assert place.is_good(place.operation(seam, components=lying(place, TUBE)), charts=charts(place), **RULE) is good


@pytest.mark.parametrize(("y", "z", "good"), [(16.0, 4.0, True), (10.0, 10.0, True), (10.0, 10.6, False)])
def test_a_flare_bevel_may_lie_a_radius_beside_the_edge_or_above_the_face_that_is_drawn(
    place: Any, y: float, z: float, *, good: bool
) -> None:
    """Only the face on the plate is drawn; the plate is thick enough to explain the height."""
    tube, _ = lying(place, TUBE)
    parts = [tube | {"outlines": tube["outlines"][:1]}, place.part("plate", "10 mm", place.PLATE)]
    seam = place.seam("S1", (10, y, z), (90, y, z), joint="flare bevel", throat="1.8 mm")
    assert place.is_good(place.operation(seam, components=parts), charts=charts(place), **RULE) is good


@pytest.mark.parametrize(("y", "good"), [(17.6, True), (17.8, False)])
def test_of_a_range_of_radii_the_maximum_says_where_a_flare_bevel_may_lie(place: Any, y: float, *, good: bool) -> None:
    """Wall 3 mm: up to 7.2 mm, and the tolerance of 0.5 mm."""
    seam = place.seam("S1", (10, y, 4), (90, y, 4), joint="flare bevel", throat="1.4 mm")
    operation = place.operation(seam, components=lying(place, {"form": "cold-formed tube", "axis": "X"}))
    assert place.is_good(operation, charts=charts(place), **RULE) is good


def test_the_rule_grants_a_share_of_the_radius_and_a_section_decides(place: Any) -> None:
    """Hand calculation: 5/16 of 6 mm is 1.875 mm."""
    settings = result_of(place)
    assert place.bench.number(settings, "throat_by_rule") == pytest.approx(1.875)
    assert throat_text(settings) == (
        "throat 1.8 mm in a flare bevel with corner radius 6.0 mm: the rule for flush welds grants 1.9 mm, "
        "a section of the coupon decides"
    )
    verdict = checks(settings)["flare_throat"]
    assert verdict.warns
    assert verdict.countermeasure.stage == "coupon"
    assert "rule of the test" in verdict.source


def test_the_rule_says_nothing_of_short_arc(place: Any) -> None:
    settings = result_of(place, transfer="short arc")
    assert "throat_by_rule" not in [figure.key for figure in settings.figures()]
    assert throat_text(settings).endswith(
        "the rule for flush welds excludes short arc, only a section of the coupon decides"
    )
    assert checks(settings)["flare_throat"].warns


def test_without_a_rule_of_the_plant_only_the_section_is_reported(place: Any) -> None:
    settings = result_of(place, **{"flare bevel throat": None})
    assert throat_text(settings).endswith("the plant's table states no rule, only a section of the coupon decides")


def test_the_rule_takes_the_minimum_radius_of_a_range_from_memory_which_warns(place: Any) -> None:
    """Wall 3 mm: 4.8 to 7.2 mm, from memory; 5/16 of 4.8 mm is 1.5 mm."""
    settings = result_of(place, {"form": "cold-formed tube", "axis": "X"})
    assert place.bench.number(settings, "throat_by_rule") == pytest.approx(1.5)
    assert place.bench.warnings(settings.figure("corner_radius")) == ["corner radius from the range of the standard"]
    assert not place.bench.warnings(result_of(place).figure("corner_radius"))


@pytest.mark.parametrize(
    ("wall", "minimum", "maximum"),
    [("6 mm", 9.6, 14.4), ("6.1 mm", 12.2, 18.3), ("10 mm", 20, 30), ("10.1 mm", 24.24, 36.36)],
)
def test_corner_radii_follow_the_wall_of_a_cold_formed_tube(
    place: Any, wall: str, minimum: float, maximum: float
) -> None:
    """EN 10219-2, from memory: 1.6 to 2.4, 2 to 3, 2.4 to 3.6 times the wall, to 6 mm, to 10 mm and above."""
    operation = place.operation(components=lying(place, {"form": "cold-formed tube"}, wall=wall))
    radius = outer_radius(operation.components[0])
    assert (radius.minimum, radius.maximum, radius.from_memory) == (
        pytest.approx(minimum),
        pytest.approx(maximum),
        True,
    )


def test_a_hot_finished_tube_must_give_its_radius(place: Any) -> None:
    operation = place.operation(flare(place), components=lying(place, {"form": "hot-finished tube", "axis": "X"}))
    assert ("seams[0].components", "the corner radius of web is not known") in place.refusals(
        operation, charts=charts(place)
    )


def test_a_flare_bevel_without_a_tube_is_refused(place: Any) -> None:
    operation = place.operation(flare(place), components=lying(place, {"form": "round tube"}))
    assert [key for key, _ in place.refusals(operation, charts=charts(place))] == ["seams[0].joint"]


@pytest.mark.parametrize(("throat", "good"), [("6 mm", True), ("6.1 mm", False)])
def test_no_throat_is_deeper_than_the_corner_s_radius(place: Any, throat: str, *, good: bool) -> None:
    operation = place.operation(flare(place, throat), components=lying(place, TUBE))
    approved = {"charts": charts(place, **{"wire feed": "12 m/min"})}
    if good:
        assert place.is_good(operation, **approved)
    else:
        found = ("seams[0].throat", "a throat of 6.1 mm is deeper than the groove beside a corner of radius 6.0 mm")
        assert found in place.refusals(operation, **approved)


def test_no_chart_serves_a_flare_bevel_that_does_not_say_so(place: Any) -> None:
    ((key, message),) = place.refusals(place.operation(flare(place), components=lying(place, TUBE)), **RULE)
    assert key == "seams[0]"
    assert message.startswith("no arc chart fits a flare bevel in PB")


def test_a_chart_for_flare_bevels_sets_its_own_middle_speed(place: Any) -> None:
    settings = result_of(place)
    assert str(settings.figure("travel_speed").text) == "8.0"
    assert "throat_obtained" not in [figure.key for figure in settings.figures()]


def test_wire_that_does_not_fill_the_groove_down_to_the_throat_is_refused(place: Any) -> None:
    """0.7854 mm² of wire at 4 m/min and 95 % lay 6.2 mm² at 8 mm/s; R 6 mm filled down to 4.4 mm takes 7.6 mm²."""
    assert checks(result_of(place))["groove_filled"].passed
    operation = place.operation(flare(place, "4.4 mm"), components=lying(place, TUBE))
    ((key, message),) = place.refusals(operation, charts=charts(place), **RULE)
    assert key == "seams[0].throat"
    assert message == "the wire fed deposits 6.2 mm², the groove down to the throat takes 7.6 mm²"


def test_wire_that_just_fills_the_groove_is_enough(place: Any) -> None:
    operation = place.operation(flare(place, "4 mm"), components=lying(place, TUBE))
    both = (operation.components[0], operation.components[1])
    throat, radius = quantity(4.0, "mm"), quantity(6.0, "mm")
    assert groove_filled(both, throat, groove_area(corner_radius=radius, throat=throat)).passed is True


def test_a_groove_whose_radius_is_from_memory_is_never_refused(place: Any) -> None:
    verdict = checks(result_of(place, {"form": "cold-formed tube", "axis": "X"}, "4.8 mm"))["groove_filled"]
    assert (verdict.passed, verdict.warns) == (None, True)


@given(st.floats(1, 40), st.floats(0.001, 1))
def test_the_groove_is_the_square_beside_the_corner_less_what_the_corner_fills(radius: float, share: float) -> None:
    """Compared with a sum over thin slices; to the full depth it is R² (1 - pi/4)."""
    found = groove_area(corner_radius=quantity(radius, "mm"), throat=quantity(share * radius, "mm")).magnitude
    slices = 2000
    step = share / slices
    gaps = (1 - sqrt(1 - (1 - (index + 0.5) * step) ** 2) for index in range(slices))
    assert found == pytest.approx(radius**2 * sum(gaps) * step, rel=2e-3)
    whole = groove_area(corner_radius=quantity(radius, "mm"), throat=quantity(2 * radius, "mm")).magnitude
    assert whole == pytest.approx(radius**2 * (1 - pi / 4))
