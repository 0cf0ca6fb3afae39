from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.trace import Given, Lookup, Rounded
from weld_packets.packet.settings.values import trace_point
from weld_packets.processes.arc.settings.consumption import wire_mass
from weld_packets.units import kinds, parse, quantity, working


@pytest.fixture
def figure(make: Any) -> Any:
    return make.figure("weld_current", "8.4", "kA", kinds.SPOT_CURRENT)


def test_given_value_is_printed_as_stated_with_its_origin(figure: Any) -> None:
    thickness = parse("0.0478 in", kinds.THICKNESS)
    point = trace_point(Given("thickness", thickness, "in", "order, part p1"), figure)
    assert (point.form, point.label, point.result.value, point.result.unit, point.origin) == (
        "given", "thickness", "0.0478", "in", "order, part p1"
    )  # fmt: skip


def test_looked_up_value_carries_table_rows_values_and_fraction(figure: Any) -> None:
    step = Lookup("lc", "B", "handbook", "current", quantity(1.1, "mm"), ("1 mm", "1.2 mm"), ("8 kA", "9 kA"),
                  Decimal("0.500000"), quantity(8500.0, "A"))  # fmt: skip
    point = trace_point(step, figure)
    assert (point.table, point.revision, point.source, point.column) == ("lc", "B", "handbook", "current")
    assert (point.rows, point.values, point.fraction) == (("1 mm", "1.2 mm"), ("8 kA", "9 kA"), "0.5")
    assert (point.at, point.result.value, point.result.unit) == ("1.1\N{NO-BREAK SPACE}mm", "8.5", "kA")


def test_value_of_another_kind_than_its_figure_keeps_its_own_unit(figure: Any) -> None:
    step = Lookup("lc", "B", "s", "cap face", quantity(1.1, "mm"), ("1 mm",), ("5 mm",), None, quantity(5.0, "mm"))
    assert trace_point(step, figure).result.unit == "mm"


def test_formula_shows_symbols_numbers_clause_and_standing(figure: Any) -> None:
    worked = wire_mass.work(
        wire_feed=quantity(8.5, "m/min"), linear_mass=quantity(6.16538, "g/m"), burning_time=quantity(60.0, "s")
    )
    point = trace_point(worked, figure)
    assert (point.symbol, point.expression) == ("m", "w / 60 * q * t / 1000")
    assert [(put.symbol, put.name, put.amount.value, put.amount.unit) for put in point.numbers] == [
        ("w", "wire feed", "8.5", "m/min"), ("q", "mass of wire per length", "6.165", "g/m"),
        ("t", "burning time", "60", "s")
    ]  # fmt: skip
    assert (point.result.value, point.result.unit, point.standing) == ("0.05241", "kg", "geometry")


def test_rounding_names_machine_step_and_what_it_was_before(figure: Any) -> None:
    point = trace_point(Rounded(quantity(8.4375, "kA"), Decimal("8.4"), "kA", Decimal("0.1"), "gun G1"), figure)
    assert (point.label, point.origin, point.at) == (
        "gun G1", "step 0.1\N{NO-BREAK SPACE}kA", "8.438\N{NO-BREAK SPACE}kA"
    )  # fmt: skip
    assert point.result.value == "8.4"


@pytest.mark.parametrize(
    ("number", "shown"),
    [("16000", "16000"), ("12345", "12345"), ("0.0435883", "0.04359"), ("69.5304", "69.53"), ("8.50", "8.5")],
)
def test_number_between_two_steps_is_whole_or_has_four_digits(number: str, shown: str) -> None:
    assert working(Decimal(number)) == shown
