"""What keeps a record from covering a weld, in words."""

from __future__ import annotations

from decimal import Decimal

from weld_packets.calculation.qualification.judging import Answer, Miss
from weld_packets.calculation.qualification.values import Terms
from weld_packets.model.qualification import Variable
from weld_packets.wording.qualification import missing_words


def amounts(variable: Variable, number: Decimal) -> str:
    return f"{number} of {variable}"


def test_a_required_test_that_the_record_does_not_have_is_named() -> None:
    has, proved = Terms(("hardness", "impact")), Terms(("hardness",))
    answer = Answer("required tests", "outside", "no rule", has, proved, miss=Miss(term="impact"))
    assert missing_words(answer, amounts) == "required test that the record does not have: impact"


def test_what_order_or_record_does_not_state_is_named_with_the_side_that_is_silent() -> None:
    of_order = Answer("voltage", "cannot decide", "not in the order", None, None)
    of_record = Answer("material group", "cannot decide", "not in the record", Terms(("1",)), None)
    assert missing_words(of_order, amounts) == "voltage of the order: not stated"
    assert missing_words(of_record, amounts) == "material group of the record: no table that was read gives it"
