from typing import Any

import pytest
from weld_packets.calculation.results import OperationResult
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.spot.operation import spot_operation
from weld_packets.processes.spot.stack.requirements import choose_chart
from weld_packets.processes.spot.stack.sheets import governing, limit_verdicts, read_stack
from weld_packets.units import Quantity, quantity


def stack_of(build: Any, *thicknesses: str, of: str = "plain", **more: Any) -> Any:
    parts = [build.part(f"p{index}", thickness, of) for index, thickness in enumerate(thicknesses)]
    operation = build.operation(components=parts, stacks=[{"id": "k1", "sheets": [part["id"] for part in parts]}])
    return read_stack(operation.stacks[0], operation, build.approved(**more))


def mm(number: float) -> Quantity:
    return quantity(number, "mm")


def refused(action: Any) -> str:
    with pytest.raises(OutOfRangeError) as caught:
        action()
    return "\n".join(problem.message for problem in caught.value.problems)


@pytest.mark.parametrize("rule", ["thinner", "thinnest outside", "second thickest"])
@pytest.mark.parametrize("sheets", [("0.8 mm", "1.2 mm"), ("1.2 mm", "0.8 mm")])
def test_the_thinner_of_two_sheets_governs_by_every_rule(build: Any, rule: str, sheets: tuple[str, str]) -> None:
    chart = build.chart(**{"governing thickness": rule})
    assert governing(stack_of(build, *sheets), chart).result == mm(0.8)


@pytest.mark.parametrize(
    ("rule", "sheets", "governs"),
    [
        ("thinnest outside", ("1.5 mm", "0.7 mm", "1.2 mm"), 1.2),
        ("thinnest outside", ("0.7 mm", "1.5 mm", "1.2 mm"), 0.7),
        ("second thickest", ("1.5 mm", "0.7 mm", "1.2 mm"), 1.2),
        ("second thickest", ("0.7 mm", "1.5 mm", "1.2 mm"), 1.2),
        ("second thickest", ("1 mm", "1 mm", "0.6 mm"), 1.0),
    ],
)
def test_three_sheets_are_governed_by_the_rule_of_the_chart(
    build: Any, rule: str, sheets: tuple[str, ...], governs: float
) -> None:
    chart = build.chart(**{"governing thickness": rule})
    assert governing(stack_of(build, *sheets), chart).result == mm(governs)


def test_three_sheets_under_a_rule_for_two_are_refused(build: Any) -> None:
    chart = build.chart(**{"governing thickness": "thinner"})
    message = refused(lambda: governing(stack_of(build, "1 mm", "1 mm", "1 mm"), chart))
    assert message == "chart plain-bands takes the thinner of two sheets; this stack has three"


def test_every_limit_that_a_stack_passes_is_reported(build: Any) -> None:
    limits = {"thickness ratio": "2", "total": "4 mm", "total to thinnest outside": "4", "source": "S"}
    chart = build.chart(**{"stack limits": limits})
    message = refused(lambda: limit_verdicts(stack_of(build, "0.8 mm", "2 mm", "1.3 mm"), chart))
    assert "ratio of thicknesses 2.5 to 1, at most 2 to 1 (S)" in message
    assert "total 4.1\N{NO-BREAK SPACE}mm, at most 4\N{NO-BREAK SPACE}mm (S)" in message
    assert "total 5.12 times the thinnest outside sheet, at most 4 times (S)" in message


def test_a_stack_on_the_limit_passes_in_spite_of_float_noise(build: Any) -> None:
    limits = {"thickness ratio": "3", "total": "2.4 mm", "total to thinnest outside": "4", "source": "S"}
    chart = build.chart(**{"stack limits": limits})
    verdicts = limit_verdicts(stack_of(build, "0.6 mm", "1.8 mm"), chart)  # 1.8 / 0.6 is 3.0000000000000004
    assert [(verdict.key, verdict.passed) for verdict in verdicts] == [
        ("thickness_ratio", True),
        ("total_thickness", True),
        ("total_to_thinnest_outside", True),
    ]


def test_only_the_stated_limits_are_checked(build: Any) -> None:
    chart = build.chart(**{"stack limits": {"thickness ratio": "3", "source": "S"}})
    assert len(limit_verdicts(stack_of(build, "1 mm", "1 mm"), chart)) == 1


def test_a_stack_of_two_base_metals_is_refused(build: Any) -> None:
    operation = build.operation(components=[build.part("panel"), build.part("strip", of="bright")])
    message = refused(lambda: read_stack(operation.stacks[0], operation, build.approved()))
    assert message == "the stack mixes base metals: austenitic stainless and low-carbon steel"


def charts(build: Any) -> dict[str, Any]:
    charts = [
        build.chart(table="plain-medium"),
        build.chart(table="plain-high"),
        build.chart(table="hot", coatings=["hot-dip zinc", "iron-zinc"]),
    ]
    return {chart.table: chart for chart in charts}


def test_the_most_demanding_coating_of_the_stack_chooses_the_chart(build: Any) -> None:
    parts = [build.part("panel", of="annealed"), build.part("strip", of="zinc")]
    result = spot_operation(build.operation(components=parts), build.approved(spot_charts=charts(build)))
    governs = result.settings[0].figure("governing_thickness")
    assert governs.remarks[1].text == "chart hot is that of hot-dip zinc, the most demanding coating in the stack"


def test_several_fitting_charts_are_named_and_the_operation_may_name_one(build: Any) -> None:
    approved, stack = build.approved(spot_charts=charts(build)), stack_of(build, "1 mm", "1 mm")
    message = refused(lambda: choose_chart(stack, None, approved))
    assert message == "2 charts fit uncoated low-carbon steel: plain-high, plain-medium"
    assert choose_chart(stack, "plain-high", approved).table == "plain-high"


def test_a_named_chart_is_never_replaced_by_the_only_one_that_fits(build: Any) -> None:
    approved = build.approved(spot_charts=charts(build))
    message = refused(lambda: choose_chart(stack_of(build, "1 mm", "1 mm", of="zinc"), "plain-high", approved))
    assert message == (
        "chart plain-high is for low-carbon steel, coating none; "
        "this stack is low-carbon steel with coating hot-dip zinc"
    )


def test_a_material_without_a_chart_is_refused_with_those_that_there_are(build: Any) -> None:
    stack = stack_of(build, "1 mm", "1 mm", of="bright")
    assert refused(lambda: choose_chart(stack, None, build.approved())) == (
        "no spot chart fits uncoated austenitic stainless; the tables hold plain-bands"
    )
    zinc = stack_of(build, "1 mm", "1 mm", of="zinc")
    assert refused(lambda: choose_chart(zinc, None, build.approved(spot_charts={}))) == (
        "no spot chart fits low-carbon steel with coating hot-dip zinc; the tables hold none"
    )


def test_a_named_chart_of_another_coating_is_refused_for_each_stack_of_the_operation(build: Any) -> None:
    named = charts(build)
    del named["plain-high"]
    message = refused(lambda: spot_operation(build.operation(chart="hot"), build.approved(spot_charts=named)))
    assert message == (
        "chart hot is for low-carbon steel, coating hot-dip zinc or iron-zinc; this stack is uncoated low-carbon steel"
    )


def test_a_thickness_outside_the_chart_is_refused_with_the_spacing_that_fails_too(build: Any) -> None:
    parts = [build.part("panel", "2.5 mm"), build.part("strip", "2.5 mm")]
    message = refused(lambda: spot_operation(build.operation(components=parts), build.approved()))
    assert [line.split(" revision")[0] for line in message.splitlines()] == [
        "thickness 2.5\N{NO-BREAK SPACE}mm is outside table pitches",
        "thickness 2.5\N{NO-BREAK SPACE}mm is outside table plain-bands",
    ]


def settings(build: Any, *sheets: str) -> OperationResult:
    stacks = [{"id": "k1", "sheets": list(sheets)}]
    return spot_operation(
        build.operation(stacks=stacks, spots=[build.spot("s1", 20), build.spot("s2", 50)]), build.approved()
    )


def test_three_sheets_need_the_plants_share_more_pitch(build: Any) -> None:
    two, three = (settings(build, *sheets) for sheets in (("panel", "strip"), ("panel", "strip", "panel")))
    pitches = [result.settings[0].figure("minimum_pitch") for result in (two, three)]
    assert [str(pitch.text) for pitch in pitches] == ["20", "26"]
    assert [len(pitch.trace) for pitch in pitches] == [2, 4]
    assert pitches[1].trace[1].origin.endswith(": three sheets of the test")


def test_a_thin_outside_sheet_that_another_published_rule_refuses_is_warned_of(build: Any) -> None:
    """0.7 + 1.5 + 1.2 mm: ISO 14373 allows 3 to 1 and 9 mm; RWMA-type notes refuse 3.4 mm over 4 times 0.7 mm.

    0.7 + 1.4 + 0.7 mm is just 4 times, and 0.7 + 1.47 + 0.7 mm is 4.1 times its outside sheet.
    """
    sizes = {"a": "0.7 mm", "b": "1.5 mm", "c": "1.2 mm", "d": "1.4 mm", "e": "1.47 mm"}
    parts = [build.part(mark, thickness) for mark, thickness in sizes.items()]
    for sheets, warned in (("abc", True), ("cba", True), ("aca", False), ("ada", False), ("aea", True)):
        operation = build.operation(components=parts, stacks=[{"id": "k1", "sheets": list(sheets)}])
        governs = spot_operation(operation, build.approved()).settings[0].figure("governing_thickness")
        texts = [remark.text for remark in governs.remarks if remark.weight.value == "warning"]
        assert bool(texts) is warned


@pytest.mark.parametrize(
    ("left", "welds"), [(["hot", "plain-medium"], "plain-medium"), (["hot"], "no chart of the tables")]
)
def test_the_refusal_of_a_named_chart_says_which_chart_welds_the_stack(build: Any, left: list[str], welds: str) -> None:
    approved = build.approved(spot_charts={name: charts(build)[name] for name in left})
    with pytest.raises(OutOfRangeError) as caught:
        choose_chart(stack_of(build, "1 mm", "1 mm"), "hot", approved)
    assert caught.value.problems[0].remedy.endswith(f"uncoated low-carbon steel is welded by {welds}")
