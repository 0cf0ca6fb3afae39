"""Numbers of the variables of qualification: as many digits as are measured, an end of a range rounded into it."""

from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.qualification.judging import Answer, Miss
from weld_packets.calculation.qualification.values import Extent, Range, Ranges
from weld_packets.model.tables.qualification import Variable
from weld_packets.packet.operation.variable_amounts import amounts_in
from weld_packets.wording.qualification import covered_words, missing_words, value_words


def said(variable: Variable, number: str, first: Any = "US customary") -> str:
    return plain(amounts_in(first)(variable, Decimal(number)))


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("variable", "number", "shown"),
    [
        ("thickness", "6.35", "0.25 in (6.35 mm)"),
        ("sheet thickness", "0.9144", "0.036 in (0.91 mm)"),
        ("filler diameter", "1.2", "0.047 in (1.2 mm)"),
        ("cap face", "5", "0.197 in (5 mm)"),
        ("throat", "5.461", "0.215 in (5.47 mm)"),  # required, so rounded up
        ("preheat", "4.4444", "40 °F (5 °C)"),  # 40.0 °F; a minimum, so up
        ("interpass temperature", "176.667", "350 °F (176 °C)"),  # a maximum, so down
        ("wire feed speed", "7.1882", "283 in/min (7.19 m/min)"),
        ("travel speed", "7.705", "18.2 in/min (7.7 mm/s)"),  # 18.201, 7.705
        ("current", "251.35", "251 A"),
        ("current", "1250", "1250 A"),
    ],
)
def test_a_variable_has_the_digits_that_it_is_measured_with(variable: Variable, number: str, shown: str) -> None:
    assert said(variable, number) == shown


def test_the_order_of_the_units_is_that_of_the_order() -> None:
    assert said("thickness", "6.35", first="metric") == "6.35 mm (0.25 in)"


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        ("6.6041", "7.1882", "261 in/min (6.61 m/min) to 283 in/min (7.18 m/min)"),  # 260.004, 283.000
        ("7.1812", "7.1882", "282.73 in/min (7.1812 m/min) to 283 in/min (7.1882 m/min)"),  # 7.19 to 7.18 otherwise
        ("7.1882", "7.1882", "283 in/min (7.19 m/min)"),
    ],
)
def test_a_range_is_rounded_inward_and_finer_where_it_would_turn_over(low: str, high: str, shown: str) -> None:
    assert (
        plain(value_words("wire feed speed", Extent(Decimal(low), Decimal(high)), amounts_in("US customary"))) == shown
    )


def test_what_a_record_covers_is_rounded_into_it() -> None:
    """1.5 mm is 0.05906 in, and 4 mm is 0.1575 in."""
    found = Ranges((Range(Decimal("1.5"), None), Range(None, Decimal(4))))
    words = plain(covered_words("thickness", found, amounts_in("US customary")))
    assert words == "at least 0.060 in (1.5 mm) + at most 0.157 in (4 mm)"


@pytest.mark.parametrize(
    ("size", "bound", "below", "shown"),
    [
        ("0.9144", "1.0795", True, "thickness 0.036 in (0.91 mm) below 0.043 in (1.08 mm)"),
        ("1.4961", "1.5", True, "thickness 0.058902 in (1.4961 mm) below 0.059056 in (1.5 mm)"),
        ("4.1", "4", False, "thickness 0.161 in (4.1 mm) above 0.157 in (4 mm)"),
    ],
)
def test_what_is_outside_reads_outside(size: str, bound: str, *, below: bool, shown: str) -> None:
    missed = Miss(Decimal(size), Decimal(bound), below=below)
    answer = Answer("thickness", "outside", "by the rule", None, None, miss=missed)
    assert plain(missing_words(answer, amounts_in("US customary"))) == shown
