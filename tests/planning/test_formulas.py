"""Every printed formula of the plan gives what its function gives."""

import math
from typing import Any

import pytest
import weld_packets.planning.formulas as plan_formulas
from weld_packets.calculation.formula import Formula
from weld_packets.units import magnitude, quantity

FORMULAS = {name: value for name, value in vars(plan_formulas).items() if isinstance(value, Formula)}


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_the_printed_form_gives_what_the_function_gives(name: str) -> None:
    found = FORMULAS[name]
    numbers = {entry.symbol: 3.5 + 1.25 * place for place, entry in enumerate(found.inputs)}
    put_in: dict[str, Any] = {entry.name: quantity(numbers[entry.symbol], entry.kind.unit) for entry in found.inputs}
    printed = eval(found.expression, {"__builtins__": {}, "max": max, "floor": math.floor}, numbers)  # noqa: S307
    assert magnitude(found(**put_in), found.result.unit) == pytest.approx(printed)


def test_all_formulas_of_the_plan_are_held() -> None:
    assert len(FORMULAS) == 11
