"""Components of unequal thickness: the plant's ratio, and the step of a butt."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import FUSION_OF_THICKER, MEASURE_STEP
from weld_packets.calculation.trace import Measured, Verdict
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.size.unequal import thickness_ratio, unequal_thickness
from weld_packets.units import magnitude, quantity

RULE = {"ratio": "2", "transfers": ["short arc"], "beyond": "refuse", "source": "rule of the test"}


def _first_length(verdict: Verdict) -> Measured:
    return next(part for part in verdict.said if isinstance(part, Measured))


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def checked(bench: Any, thin: str, thick: str, *, transfer: str = "short arc", **rule: Any) -> list[Verdict]:
    plant = bench.plant(**{"unequal thickness": RULE | rule})
    approved = bench.approved(with_plant=plant, charts=(bench.chart(transfer=transfer),))
    group = bench.group(bench.operation(components=bench.sheets(thin, thick)), approved)
    return list(unequal_thickness(group, bench.chart(transfer=transfer), plant))


def test_the_ratio_is_that_of_the_thicker_to_the_thinner() -> None:
    found = thickness_ratio(thicker=quantity(12, "mm"), thinner=quantity(3, "mm"))
    assert magnitude(found, "1") == pytest.approx(4)


@pytest.mark.parametrize("other", ["3 mm", "0.11811023622 in"])
def test_of_equal_components_nothing_is_said(bench: Any, other: str) -> None:
    assert checked(bench, "3 mm", other) == []


@pytest.mark.parametrize(
    ("thin", "thick"), [("3 mm", "4 mm"), ("3 mm", "6 mm"), ("6 mm", "3 mm"), ("0.1 in", "5.08 mm")]
)
def test_up_to_the_ratio_itself_a_joint_is_set(bench: Any, thin: str, thick: str) -> None:
    (verdict,) = checked(bench, thin, thick)
    assert verdict.passed is True
    assert verdict.source == "rule of the test"


def test_beyond_the_ratio_a_joint_is_refused(bench: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        checked(bench, "3 mm", "6.1 mm")
    problem = refused.value.problems[0]
    assert problem.key == "components"
    assert "lack of fusion (401)" in problem.message
    assert "rule of the test" in problem.message


def test_a_plant_may_warn_beyond_its_ratio_and_asks_for_a_macro_section(bench: Any) -> None:
    (verdict,) = checked(bench, "3 mm", "12 mm", beyond="warn")
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, FUSION_OF_THICKER)
    assert "12 mm is 4.0 times 3 mm" in plain(verdict.text)


def test_a_mode_of_transfer_that_the_rule_does_not_name_has_no_ratio(bench: Any) -> None:
    assert checked(bench, "3 mm", "12 mm", transfer="spray") == []


def test_without_a_rule_unequal_components_are_reported_as_not_checked(bench: Any) -> None:
    group = bench.group(bench.operation(components=bench.sheets("3 mm", "12 mm")), bench.approved())
    (verdict,) = unequal_thickness(group, bench.chart(), bench.plant())
    assert (verdict.passed, verdict.warns) == (None, False)
    assert "states no maximum ratio" in verdict.text


def test_a_tube_on_thick_plate_is_refused_by_its_operation(bench: Any) -> None:
    approved = bench.approved(with_plant=bench.plant(**{"unequal thickness": RULE}))
    with pytest.raises(OutOfRangeError) as refused:
        FAMILY.compute(bench.operation(components=bench.sheets("3 mm", "12 mm")), approved)
    assert [problem.key for problem in refused.value.problems] == ["seams[0].components"]


def butt(bench: Any, **more: str) -> Verdict:
    operation = bench.operation(
        bench.seam("S1", joint="square butt", gap="0.5 mm", **more), components=bench.sheets("2 mm", "3.25 mm")
    )
    plant = bench.plant(**{"unequal thickness": RULE})
    return list(unequal_thickness(bench.group(operation, bench.approved(with_plant=plant)), bench.chart(), plant))[1]


def test_the_step_of_a_butt_is_the_difference_and_its_side_must_be_said(bench: Any) -> None:
    verdict = butt(bench)
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, MEASURE_STEP)
    assert "leaves a step of 1.25 mm; the order does not say at which side: write 'flush'" in plain(verdict.text)
    assert _first_length(verdict).millimetres == pytest.approx(1.25)


@pytest.mark.parametrize(("flush", "where"), [("face", "at the root"), ("root", "at the face"), ("neither", "shared")])
def test_a_step_whose_side_is_said_is_reported_with_it(bench: Any, flush: str, where: str) -> None:
    verdict = butt(bench, flush=flush)
    assert verdict.passed is True
    assert where in verdict.text
    assert "misalignment (507) is measured besides" in verdict.text
