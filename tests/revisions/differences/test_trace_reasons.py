from __future__ import annotations

from typing import Any

from weld_packets.packet.records.values import PutIn, TracePoint
from weld_packets.revisions.differences.trace_reasons import trace_reasons
from weld_packets.units import Amount


def amount(value: str, unit: str = "kA") -> Amount:
    return Amount(value=value, unit=unit)


GIVEN = TracePoint(form="given", label="throat", result=amount("4", "mm"), origin="order, operation 1")
LOOKUP = TracePoint(
    form="lookup", label="current", result=amount("8.4"), table="spot-lc", revision="3", source="trials",
    column="current", at="1.2 mm", rows=("1.2 mm",), values=("8.4",),
)  # fmt: skip
FORMULA = TracePoint(
    form="formula", label="heat input", result=amount("0.6", "kJ/mm"), symbol="Q", expression="k U I / v",
    numbers=(PutIn(symbol="U", name="voltage", amount=amount("21", "V")),
             PutIn(symbol="I", name="current", amount=amount("180", "A"))),
)  # fmt: skip
ROUNDED = TracePoint(form="rounded", label="gun-4", result=amount("8.4"), at="8.41 kA", origin="step 0.1 kA")


def reasons(old: TracePoint, **changed: Any) -> tuple[str, ...]:
    return trace_reasons([old], [old.model_copy(update=changed)])


def test_equal_traces_have_no_reason() -> None:
    assert trace_reasons([GIVEN, LOOKUP], [GIVEN, LOOKUP]) == ()


def test_a_table_revision_is_named_with_its_row() -> None:
    assert reasons(LOOKUP, revision="4", values=("8.8",), result=amount("8.8")) == (
        "table spot-lc rev 3 -> 4, row 1.2 mm, values 8.4 -> 8.8",
    )


def test_another_row_of_the_same_table_is_stated() -> None:
    assert reasons(LOOKUP, rows=("1.0 mm", "1.2 mm"), at="1.1 mm") == (
        "table spot-lc rev 3, row 1.2 mm -> 1.0 mm to 1.2 mm, at 1.2 mm -> 1.1 mm",
    )


def test_another_table_is_stated_with_both_revisions() -> None:
    assert reasons(LOOKUP, table="spot-zn", revision="1", rows=()) == (
        "table spot-lc rev 3 -> table spot-zn rev 1, row 1.2 mm -> (none)",
    )


def test_a_given_value_is_stated_with_both_values() -> None:
    assert reasons(GIVEN, result=amount("5", "mm"), origin="order, operation 2") == (
        "throat 4 -> 5 mm, from order, operation 1 -> order, operation 2",
    )
    assert reasons(GIVEN, origin="drawing") == ("throat, from order, operation 1 -> drawing",)


def test_a_formula_is_stated_by_its_inputs_and_its_form() -> None:
    numbers = (FORMULA.numbers[0], FORMULA.numbers[1].model_copy(update={"amount": amount("200", "A")}))
    assert reasons(FORMULA, numbers=numbers, expression="k U I / v / 1000") == (
        "heat input: formula k U I / v -> k U I / v / 1000, current 180 -> 200 A",
    )


def test_inputs_that_come_and_go_are_stated() -> None:
    speed = PutIn(symbol="v", name="travel speed", amount=amount("8", "mm/s"))
    assert reasons(FORMULA, numbers=(FORMULA.numbers[0], speed)) == (
        "heat input: no longer current, now also travel speed 8 mm/s",
    )


def test_an_input_that_is_the_result_of_an_earlier_step_is_no_cause_of_its_own() -> None:
    volts = TracePoint(form="lookup", label="voltage", result=amount("21", "V"), table="arc-m21", revision="2",
                       rows=("3 mm",), values=("21",))  # fmt: skip
    after = volts.model_copy(update={"revision": "3", "values": ("22",), "result": amount("22", "V")})
    numbers = (FORMULA.numbers[0].model_copy(update={"amount": amount("22", "V")}), FORMULA.numbers[1])
    worked = FORMULA.model_copy(update={"numbers": numbers, "result": amount("0.63", "kJ/mm")})
    assert trace_reasons([volts, FORMULA], [after, worked]) == ("table arc-m21 rev 2 -> 3, row 3 mm, values 21 -> 22",)


def test_the_machine_and_its_step_are_causes_and_what_was_rounded_is_not() -> None:
    assert reasons(ROUNDED, label="gun-5", origin="step 0.2 kA") == (
        "machine gun-4 -> gun-5, from step 0.1 kA -> step 0.2 kA",
    )
    lookup = LOOKUP.model_copy(update={"revision": "4"})
    rounded = ROUNDED.model_copy(update={"at": "8.77 kA", "result": amount("8.8")})
    assert trace_reasons([LOOKUP, ROUNDED], [lookup, rounded]) == ("table spot-lc rev 3 -> 4, row 1.2 mm",)


def test_a_consequence_is_stated_where_no_cause_is_found() -> None:
    assert reasons(ROUNDED, at="8.44 kA") == ("gun-4 8.41 kA 8.4 kA -> 8.44 kA 8.4 kA",)


def test_another_step_for_the_same_reading_is_not_called_a_cause_of_the_machine() -> None:
    assert reasons(ROUNDED, result=amount("8.8")) == ("set at another step of its allowed range: 8.4 -> 8.8 kA",)


def test_steps_that_come_and_go_are_stated() -> None:
    assert trace_reasons([LOOKUP], [LOOKUP, GIVEN]) == ("now also from throat 4 mm",)
    assert trace_reasons([LOOKUP, GIVEN], [GIVEN]) == ("no longer from table spot-lc rev 3, row 1.2 mm, current",)


def test_steps_of_one_name_are_compared_in_turn() -> None:
    other = GIVEN.model_copy(update={"result": amount("6", "mm")})
    assert trace_reasons([GIVEN, GIVEN], [GIVEN, other]) == ("throat 4 -> 6 mm",)


def test_steps_in_another_order_are_stated() -> None:
    assert trace_reasons([GIVEN, LOOKUP], [LOOKUP, GIVEN]) == ("its steps in another order",)


def test_numbers_in_another_order_are_stated() -> None:
    assert reasons(FORMULA, numbers=FORMULA.numbers[::-1])


def test_an_input_under_another_name_is_stated() -> None:
    numbers = (FORMULA.numbers[0].model_copy(update={"name": "arc voltage"}), FORMULA.numbers[1])
    assert reasons(FORMULA, numbers=numbers) == ("heat input: voltage is now called arc voltage",)
