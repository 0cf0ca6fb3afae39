"""The upper side of a weld's size: the edge of a lap, and excess weld metal of a butt."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import CORNER_EDGES, MEASURE_CAP, UPPER_EDGE
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.inspection import Imperfections
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.passes.sections import sections_of
from weld_packets.processes.arc.size.lap_edge import edge_carries, longest_leg, melted_edge
from weld_packets.processes.arc.size.sizes import size_of
from weld_packets.processes.arc.size.upper_sizes import (
    AllNominal,
    cap_bound,
    cap_height,
    minimum_width,
    upper_bounds,
    upper_sizes,
)
from weld_packets.units import in_mm, magnitude, quantity


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def limits(*, from_memory: str = "no", **more: str) -> Imperfections:
    stated = {"over": "0.5 mm", "plus": "1 mm", "share": "0.15", "from memory": from_memory} | more
    entry = {
        "id": "cap", "numbers": ["502"], "name": "excess", "share of": "face width", "source": "standard",
        "limits": [{"level": level} | stated for level in "BCD"],
    }  # fmt: skip
    head = {"table": "i", "title": "t", "source": "s", "revision": "1", "kind": "imperfections", "short length": "x"}
    return Imperfections.model_validate(head | {"entries": [entry]})


def nominal(as_set: float, largest: float) -> AllNominal:
    return AllNominal(quantity(as_set, "mm²"), quantity(largest, "mm²"))


# ---------------------------------------------------------------- laps


@pytest.mark.parametrize(("thickness", "leg"), [(3, 3), (5.99, 5.99), (6, 4), (0.6 * 10, 4), (8, 6)])
def test_an_edge_carries_its_thickness_and_from_6_mm_two_less(thickness: float, leg: float) -> None:
    assert in_mm(edge_carries(quantity(thickness, "mm"))) == pytest.approx(leg)


def lap(bench: Any, thin: str = "3 mm", thick: str = "5 mm", **more: str) -> Any:
    return bench.group(
        bench.operation(bench.seam("S1", joint="lap fillet", **more), components=bench.sheets(thin, thick)),
        bench.approved(),
    )


@pytest.mark.parametrize(("edge", "melted"), [("web", "web"), ("plate", "plate")])
def test_the_edge_that_the_order_names_is_melted(bench: Any, edge: str, melted: str) -> None:
    part, known = melted_edge(lap(bench, edge=edge))
    assert (part.id, known) == (melted, True)


def test_an_edge_that_is_not_named_is_taken_as_the_thinner_and_said_so(bench: Any) -> None:
    part, known = melted_edge(lap(bench))
    assert (part.id, known) == ("web", False)
    (verdict,) = upper_sizes(lap(bench), nominal(4, 4), 1, bench.approved())
    assert "the order does not say whose edge is melted" in verdict.text


def test_of_equal_sheets_the_edge_need_not_be_named(bench: Any) -> None:
    assert melted_edge(lap(bench, "3 mm", "3 mm"))[1] is True


@pytest.mark.parametrize(("largest", "passed"), [(4.9, True), (4.95, True), (5.0, None)])
def test_the_largest_leg_of_the_range_is_held_against_the_edge(
    bench: Any, largest: float, *, passed: bool | None
) -> None:
    """A leg of 3 mm is a throat of 3 / √2, and takes 1.1 · 9 / 2 = 4.95 mm².

    What lies above the required leg may melt off, so that it only warns.
    """
    (verdict,) = upper_sizes(lap(bench, edge="web"), nominal(largest, largest), 1, bench.approved())
    assert (verdict.passed, verdict.warns) == (passed, passed is None)
    assert verdict.countermeasure is (UPPER_EDGE if passed is None else None)
    assert verdict.source == "ANSI/AISC 360, J2.2b as copied, largest leg along an edge"
    assert "built out" not in verdict.text


@pytest.mark.parametrize(("thickness", "built_out"), [("5.9 mm", False), ("6 mm", True)])
def test_from_6_mm_on_the_drawing_may_have_a_lap_built_out(bench: Any, thickness: str, *, built_out: bool) -> None:
    (verdict,) = upper_sizes(lap(bench, thickness, thickness), nominal(4, 4), 1, bench.approved())
    assert ("unless the drawing has it built out" in verdict.text) is built_out


@pytest.mark.parametrize(
    ("thin", "thick", "more", "refused"),
    [
        ("3 mm", "3 mm", {"leg": "3 mm"}, False),
        ("3 mm", "3 mm", {"leg": "3.01 mm"}, True),
        ("3 mm", "3 mm", {"throat": "2.12 mm"}, False),
        ("3 mm", "3 mm", {"throat": "2.13 mm"}, True),
        ("0.1181 in", "0.1181 in", {"leg": "3 mm"}, True),
        ("3 mm", "5 mm", {"leg": "3.5 mm", "edge": "web"}, True),
        ("3 mm", "5 mm", {"leg": "3.5 mm", "edge": "plate"}, False),
        ("3 mm", "5 mm", {"leg": "5 mm"}, False),
        ("3 mm", "5 mm", {"leg": "5.1 mm"}, True),
        ("8 mm", "8 mm", {"leg": "8 mm"}, False),
        ("8 mm", "8 mm", {"leg": "8.1 mm"}, True),
    ],
)
def test_a_leg_longer_than_the_edge_of_its_lap_is_refused(
    bench: Any, thin: str, thick: str, more: dict[str, str], *, refused: bool
) -> None:
    """Where the order does not say whose edge is melted, a leg that the thicker component carries is not refused."""
    group = lap(bench, thin, thick, **more)
    if not refused:
        assert size_of(group, bench.plant()).throat is not None
        return
    with pytest.raises(OutOfRangeError, match="longer than the edge of") as caught:
        size_of(group, bench.plant())
    (problem,) = caught.value.problems
    assert problem.key in more


def test_the_refusal_of_a_leg_says_what_the_edge_carries(bench: Any) -> None:
    """3 mm over the square root of 2 is 2.121 mm, rounded down."""
    with pytest.raises(OutOfRangeError) as caught:
        size_of(lap(bench, throat="2.4 mm", edge="web"), bench.plant())
    (problem,) = caught.value.problems
    assert "its leg of 3.39 mm is longer than the edge of web, 3.00 mm" in plain(problem.message)
    assert plain(problem.remedy) == (
        "write a throat of at most 2.12 mm, or weld along the edge of the thicker component"
    )


def test_no_size_is_offered_that_the_edge_of_a_lap_does_not_carry(bench: Any) -> None:
    """The chart makes throats to 2.54 mm; an edge of 3 mm carries 2.12 mm."""
    small = bench.operation(bench.seam("S1", joint="lap fillet", throat="1 mm"), components=bench.sheets("3 mm"))
    with pytest.raises(OutOfRangeError) as caught:
        FAMILY.compute(small, bench.approved())
    assert "throats of 2.05 mm to 2.12 mm in 1 pass" in plain(caught.value.problems[0].remedy)


def thin(bench: Any, joint: str, throat: str, quality: str = "B") -> Any:
    """Return the settings of sheets of 2.5 mm, whose edge carries throats to 1.76 mm; the chart makes 2.05 mm."""
    seam = bench.seam("S1", joint=joint, throat=throat)
    operation = bench.operation(seam, components=bench.sheets("2.5 mm"), quality=quality)
    (settings,) = FAMILY.compute(operation, bench.approved()).settings
    return settings


def test_a_lap_of_thin_sheet_is_made_as_small_as_the_chart_makes_it(bench: Any) -> None:
    settings = thin(bench, "lap fillet", "1.7 mm")
    assert 2.05 < bench.number(settings, "throat_obtained") < 2.3
    assert [note for note in bench.notes(settings.figure("travel_speed")) if "larger than its target" in note]
    (edge,) = [verdict for verdict in settings.verdicts if verdict.key == "lap_edge"]
    assert (edge.passed, edge.countermeasure) == (None, UPPER_EDGE)


def test_a_lap_of_thin_sheet_is_not_made_larger_than_its_level_allows(bench: Any) -> None:
    """Level B allows 1 mm + 15 % more than required: of 0.7 mm 1.81 mm, and the chart makes none below 2.05 mm."""
    with pytest.raises(OutOfRangeError, match="the chart does not make this size"):
        thin(bench, "lap fillet", "0.7 mm")


@pytest.mark.parametrize(
    ("thinner", "passed"),
    [("3.7 mm", True), ("3.6 mm", True), ("3.5 mm", None), ("2.0 mm", None)],
)
def test_a_corner_whose_leg_may_run_over_the_thinner_edge_is_warned_of_and_never_refused(
    bench: Any, thinner: str, *, passed: bool | None
) -> None:
    """The ranges of a throat of 2.2 mm reach 2.54 mm, a leg of 3.59 mm."""
    sheets = bench.sheets("4 mm") | {"web": ("S235", thinner)}
    operation = bench.operation(bench.seam("S1", joint="corner fillet", throat="2.2 mm"), components=sheets)
    (settings,) = FAMILY.compute(operation, bench.approved()).settings
    (edge,) = [verdict for verdict in settings.verdicts if verdict.key == "corner_edge"]
    assert edge.passed is passed
    assert plain(edge.text).endswith(f"before it runs over the edge of web, {thinner.replace('.0', '')}")
    assert edge.countermeasure == (None if passed else CORNER_EDGES)


def test_no_other_joint_is_made_larger_than_its_target(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match="the chart does not make this size"):
        thin(bench, "T fillet", "1.7 mm")


def test_no_other_joint_has_an_edge_that_limits_its_leg(bench: Any) -> None:
    assert longest_leg(bench.group(bench.operation(), bench.approved())) is None
    assert longest_leg(lap(bench))[1] == quantity(5, "mm")


def test_an_edge_is_the_matter_of_laps_alone(bench: Any) -> None:
    group = bench.group(bench.operation(), bench.approved())
    assert upper_bounds(group, 1, bench.approved()) == ()


# ---------------------------------------------------------------- butts


def butt(bench: Any, table: Imperfections | None, **cap: str) -> tuple[Any, Any]:
    approved = bench.approved(imperfections=table)
    operation = bench.operation(
        bench.seam("S1", joint="square butt", gap="0.5 mm", **cap), components=bench.sheets("3 mm")
    )
    return bench.group(operation, approved), approved


CAP = {"weld cap width": "6 mm", "weld cap height": "1 mm"}


def test_all_that_does_not_fill_the_gap_is_in_the_cap() -> None:
    """1.5 · (9.1 - 0.5 · 3) / 6 = 1.9 mm."""
    sizes = {"gap": 0.5, "thickness": 3, "cap_width": 6}
    given = {key: quantity(value, "mm") for key, value in sizes.items()}
    assert in_mm(cap_height(weld_area=quantity(9.1, "mm²"), **given)) == pytest.approx(1.9)


@pytest.mark.parametrize(("area", "refused"), [(9.1, False), (9.11, True)])
def test_a_cap_higher_than_a_limit_that_was_read_is_refused(bench: Any, area: float, *, refused: bool) -> None:
    """1 mm + 0.15 · 6 mm = 1.9 mm at level C."""
    group, approved = butt(bench, limits(), **CAP)
    if refused:
        with pytest.raises(OutOfRangeError, match="excess weld metal of"):
            list(upper_sizes(group, nominal(area, area), 1, approved))
    else:
        (verdict,) = upper_sizes(group, nominal(area, area), 1, approved)
        assert verdict.passed is True


def test_a_range_that_only_ends_beyond_the_limit_warns(bench: Any) -> None:
    group, approved = butt(bench, limits(), **CAP)
    (verdict,) = upper_sizes(group, nominal(8, 9.3), 1, approved)
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, MEASURE_CAP)
    assert plain(verdict.text) == "up to 2.0 mm within the allowed ranges, at most 1.9 mm allowed"


def test_a_cap_higher_than_a_limit_from_memory_warns(bench: Any) -> None:
    group, approved = butt(bench, limits(from_memory="yes"), **CAP)
    (verdict,) = upper_sizes(group, nominal(12, 12), 1, approved)
    assert (verdict.passed, verdict.warns) == (None, True)


def test_a_cap_that_is_not_required_is_reported_with_how_wide_it_must_become(bench: Any) -> None:
    """7.6 mm² above the gap are 6 mm wide at 1 mm + 0.15 w: 2 / 3 · 6 · 1.9."""
    group, approved = butt(bench, limits())
    (verdict,) = upper_sizes(group, nominal(9.1, 9.1), 1, approved)
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, False, MEASURE_CAP)
    assert plain(verdict.text) == (
        "up to 7.6 mm² of weld metal lie above the sheet; "
        "the order states no cap; to keep the height of level C the cap must be at least 6.0 mm wide"
    )


@pytest.mark.parametrize("table", [None, limits(plus="1 mm")])
def test_a_weld_that_only_fills_its_gap_needs_no_cap(bench: Any, table: Any) -> None:
    group, approved = butt(bench, table)
    (verdict,) = upper_sizes(group, nominal(1.5, 1.5), 1, approved)
    assert "wide" not in verdict.text


def test_however_little_lies_above_the_gap_needs_a_cap(bench: Any) -> None:
    """0.5 mm² above the gap are 0.67 mm wide at 1 mm + 0.15 w: 2 / 3 · 0.67 · 1.1 = 0.49 mm²."""
    group, approved = butt(bench, limits())
    (verdict,) = upper_sizes(group, nominal(1.5, 2.0), 1, approved)
    assert plain(verdict.text).endswith("the cap must be at least 0.7 mm wide")


def test_the_minimum_width_of_a_limit_without_a_share_and_with_a_maximum_height() -> None:
    fixed, capped = limits(share="0.0001", plus="2 mm"), limits(**{"at most": "2 mm"})
    assert minimum_width(8, fixed.entries[0].limits[0]) == pytest.approx(6, rel=1e-3)
    assert minimum_width(80, capped.entries[0].limits[0]) == pytest.approx(60)


def test_a_limit_that_was_read_ends_the_allowed_range_of_a_butt(bench: Any) -> None:
    group, approved = butt(bench, limits(), **CAP)
    sections = sections_of(group, size_of(group, approved.plant), approved)
    assert sections.largest is not None
    assert magnitude(sections.largest, "mm²") == pytest.approx(9.1)
    assert "502" in sections.largest_origin


def test_a_limit_from_memory_ends_no_range(bench: Any) -> None:
    group, approved = butt(bench, limits(from_memory="yes"), **CAP)
    assert sections_of(group, size_of(group, approved.plant), approved).largest is None
    assert cap_bound(group, 1, approved.imperfections).only_warns is True


def test_an_operation_carries_the_check_of_its_butt(bench: Any) -> None:
    operation = bench.operation(bench.seam("S1", joint="square butt", gap="0.5 mm"), components=bench.sheets("3 mm"))
    (settings,) = FAMILY.compute(operation, bench.approved(imperfections=limits())).settings
    found: list[Verdict] = [verdict for verdict in settings.verdicts if verdict.key == "cap_height"]
    assert len(found) == 1
