"""The rating of the torch: that for the gas, at the current of a weld and the planned share of ten minutes."""

from typing import Any

import pytest
from weld_packets.calculation.countermeasures import TORCH_DUTY
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


def checked(bench: Any, amperes: float, ratings: Any = RATINGS, planned: str = "60 %") -> list[Verdict]:
    torch = {"name": "torch of the test", "source": "plate", "ratings": ratings}
    plant = bench.plant(**{"duty planning share": planned})
    approved = bench.approved(machine=bench.source(torch=torch), with_plant=plant)
    return list(torch_duty(bench.group(bench.operation(), approved), quantity(amperes, "A"), plant))


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
