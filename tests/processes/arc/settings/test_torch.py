"""The rating of the torch: that for the gas, at the current of a weld and the planned share of ten minutes."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import KEEP_CURRENT, TORCH_DUTY
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc import FAMILY
from weld_packets.processes.arc.settings.machine import torch_duty
from weld_packets.units import quantity

RATINGS = [
    {"gases": ["M21"], "share": "100 %", "current": "200 A"},
    {"gases": ["M21"], "share": "60 %", "current": "250 A"},
    {"gases": ["CO2"], "share": "100 %", "current": "400 A"},
]


def checked(
    bench: Any, amperes: float, ratings: Any = RATINGS, planned: str = "60 %", highest: float | None = None
) -> list[Verdict]:
    torch = {"name": "torch of the test", "source": "plate", "ratings": ratings}
    plant = bench.plant(**{"duty planning share": planned})
    approved = bench.approved(machine=bench.source(torch=torch), with_plant=plant)
    end = None if highest is None else quantity(highest, "A")
    return list(torch_duty(bench.group(bench.operation(), approved), quantity(amperes, "A"), plant, end))


@pytest.mark.parametrize("amperes", [200, 250])
def test_a_rating_for_the_planned_share_at_the_current_passes(bench: Any, amperes: float) -> None:
    (verdict,) = checked(bench, amperes)
    assert verdict.passed is True
    assert verdict.source == "plate"


def test_the_rating_under_another_gas_does_not_count(bench: Any) -> None:
    with pytest.raises(OutOfRangeError, match=r"rated to 250.A under M21, the chart needs 251.A"):
        checked(bench, 251)


def test_a_smaller_share_than_planned_warns_because_its_rule_is_from_memory(bench: Any) -> None:
    """60 % at 250 A are 60 · (250 / 240)² = 65 % at 240 A, where 80 % is planned."""
    (verdict,) = checked(bench, 240, planned="80 %")
    assert (verdict.passed, verdict.warns, verdict.countermeasure) == (None, True, TORCH_DUTY)
    assert verdict.text.replace("\N{NO-BREAK SPACE}", " ").startswith("65 % of ten minutes at 240 A, 80 % planned")
    assert "from memory" in verdict.source


def test_a_share_that_the_rule_gives_is_enough(bench: Any) -> None:
    """60 · (250 / 210)² = 85 %."""
    (verdict,) = checked(bench, 210, planned="85 %")
    assert verdict.passed is True
    assert "from memory" in verdict.source


def test_a_torch_without_a_rating_for_the_gas_is_reported_as_not_checked(bench: Any) -> None:
    (verdict,) = checked(bench, 150, RATINGS[2:])
    assert verdict.passed is None
    assert "no rating of this torch under M21" in verdict.text


def test_a_torch_that_is_not_described_is_not_checked(bench: Any) -> None:
    assert list(torch_duty(bench.group(bench.operation(), bench.approved()), quantity(150, "A"), bench.plant())) == []


def test_an_operation_that_its_torch_does_not_stand_is_refused(bench: Any) -> None:
    weak = {"name": "weak torch", "source": "plate", "ratings": [RATINGS[0] | {"current": "100 A"}]}
    with pytest.raises(OutOfRangeError, match=r"weak torch is rated to 100.A"):
        FAMILY.compute(bench.operation(), bench.approved(machine=bench.source(torch=weak)))


def test_a_share_that_is_exactly_the_planned_one_is_enough(bench: Any) -> None:
    """60 · (250 / 200)² = 93.75 %."""
    (verdict,) = checked(bench, 200, RATINGS[1:2], planned="93.75 %")
    assert (verdict.passed, verdict.warns) == (True, False)


@pytest.mark.parametrize(
    ("highest", "planned", "warns"),
    [(250, "60 %", False), (216, "80 %", False), (217, "80 %", True), (251, "60 %", True), (190, "80 %", False)],
)
def test_the_upper_end_of_the_allowed_range_is_held_to_the_rating_too(
    bench: Any, highest: float, planned: str, *, warns: bool
) -> None:
    """60 · (250 / 216)² = 80.4 %; above 250 A there is no rating, and below what is set nothing is asked."""
    (verdict,) = checked(bench, 200, planned=planned, highest=highest)
    assert verdict.warns is warns
    if warns:
        most = "250" if planned == "60 %" else "216"
        assert verdict.countermeasure == KEEP_CURRENT
        assert verdict.text.endswith(f"enough up to {most}\N{NO-BREAK SPACE}A")
    assert f"{highest}\N{NO-BREAK SPACE}A" in verdict.text or highest < 200
