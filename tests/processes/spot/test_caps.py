"""The face of a cap: between the smallest and the largest that is good, new or worn."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import PEEL
from weld_packets.calculation.trace import AllowedRange, Figure, Verdict
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation

NBSP = "\N{NO-BREAK SPACE}"


def face(build: Any, cap: str, plant: dict[str, Any] | None = None, **chart: Any) -> tuple[Figure, Verdict]:
    ruled = build.approved().plant.model_copy(update=plant or {})
    approved = build.approved(
        caps={"cap-6": build.cap(face=cap)}, spot_charts={"plain-bands": build.chart(**chart)}, plant=ruled
    )
    group = spot_operation(build.operation(), approved).settings[0]
    (verdict,) = (verdict for verdict in group.verdicts if verdict.key == "cap_face")
    return group.figure("cap_face"), verdict


def refused(build: Any, cap: str, plant: dict[str, Any] | None = None, **chart: Any) -> str:
    with pytest.raises(OutOfRangeError) as caught:
        face(build, cap, plant, **chart)
    (problem,) = caught.value.problems
    return problem.message


def rule(build: Any, reliability: str = "published") -> dict[str, Any]:
    share = build.gun(**{"maximum duty": "120 %"}).maximum_duty
    return {"cap_face_at_most": share, "cap_face_source": "a rule", "cap_face_reliability": reliability}


def ends(allowed_range: AllowedRange | None) -> tuple[str, str]:
    assert allowed_range is not None
    assert allowed_range.low is not None
    assert allowed_range.high is not None
    return f"{allowed_range.low.m_as('mm'):.6g}", f"{allowed_range.high.m_as('mm'):.6g}"


def test_the_plant_says_how_far_a_face_may_grow(build: Any) -> None:
    """The chart's face is 5 mm, the plant allows 120 % of it."""
    figure, verdict = face(build, "5.5 mm", rule(build))
    assert ends(figure.allowed_range) == ("5", "6")
    assert (verdict.passed, verdict.text) == (True, f"at least 5.0{NBSP}mm, at most 6.0{NBSP}mm")
    assert [type(step).__name__ for step in figure.trace] == ["Lookup", "Given", "Worked", "Given"]


def test_a_new_face_at_the_largest_warns_that_nothing_is_left_for_wear(build: Any) -> None:
    figure, verdict = face(build, "6 mm", rule(build))
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, PEEL)
    assert verdict.text == f"new already as large as a worn one may be, 6.0{NBSP}mm: nothing is left for wear"
    assert ends(figure.allowed_range) == ("5", "6")
    assert face(build, "5.99 mm", rule(build))[1].passed


def test_one_above_the_largest_is_refused_on_a_published_rule(build: Any) -> None:
    assert f"larger than the largest face, 6.0{NBSP}mm" in refused(build, "6.1 mm", rule(build))


@pytest.mark.parametrize("reliability", ["common practice, no source", "from memory"])
def test_a_rule_without_a_source_warns_and_never_refuses(build: Any, reliability: str) -> None:
    figure, verdict = face(build, "6.1 mm", rule(build, reliability))
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, PEEL)
    assert verdict.text.startswith(f"larger than 6.0{NBSP}mm: force and current spread")
    assert figure.allowed_range is None


def test_the_chart_holds_over_the_plant(build: Any) -> None:
    chart = {"cap face at most": "110 %"}
    assert ends(face(build, "5.2 mm", rule(build), **chart)[0].allowed_range) == ("5", "5.5")


def test_where_nobody_says_how_far_a_face_may_grow_that_is_reported(build: Any) -> None:
    figure, verdict = face(build, "6 mm")
    assert figure.allowed_range is not None
    assert (figure.allowed_range.low is not None, figure.allowed_range.high) == (True, None)
    assert (verdict.passed, verdict.warns) == (None, False)
    assert verdict.text.endswith("no table states how far a face may grow")


def test_a_largest_face_of_the_chart_is_the_upper_end_and_the_minimum_weld_the_lower_one(build: Any) -> None:
    chart = {"cap face is": "maximum", "row": {"cap face": "0.25 in"}}
    figure, verdict = face(build, "6 mm", rule(build), **chart)
    assert ends(figure.allowed_range) == ("4", "6.35")  # 4 roots of 1 mm
    assert verdict.passed


def test_a_cap_above_the_largest_face_of_a_published_chart_is_refused(build: Any) -> None:
    assert f"5.0{NBSP}mm" in refused(build, "5.1 mm", **{"cap face is": "maximum"})


def test_a_cap_above_the_largest_face_of_a_chart_from_memory_warns(build: Any) -> None:
    verdict = face(build, "5.1 mm", **{"cap face is": "maximum", "reliability": "from memory"})[1]
    assert verdict.warns


def test_a_minimum_weld_above_the_face_of_the_chart_is_the_lower_end(build: Any) -> None:
    factors = {"minimum": "5.5", "target": "6", "source": "factors of the test"}
    figure, _ = face(build, "5.6 mm", rule(build), **{"weld diameter": factors})
    assert ends(figure.allowed_range) == ("5.5", "6")


def test_a_face_below_the_smallest_is_refused_with_what_it_must_be_at_least(build: Any) -> None:
    small = refused(build, "4.4 mm")
    assert small.replace(NBSP, " ").startswith("face 4.4 mm of cap cap-6 is smaller than the face of ")
    assert small.endswith(f", 5.0{NBSP}mm")


def test_a_face_below_the_minimum_weld_is_refused_with_that_diameter(build: Any) -> None:
    small = refused(build, "3.9 mm", rule(build), **{"cap face is": "maximum"})
    assert small.replace(NBSP, " ") == "face 3.9 mm of cap cap-6 is smaller than the minimum weld diameter, 4.0 mm"
