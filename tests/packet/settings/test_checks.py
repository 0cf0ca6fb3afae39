"""Checks as printed."""

from __future__ import annotations

import pytest
from weld_packets.calculation.trace import Countermeasure, Measured, Verdict
from weld_packets.packet.settings.values import Showing, check_of

METRIC, INCHES = Showing("metric", 50), Showing("US customary", 60)
APART = Measured(38.1, "38.10\N{NO-BREAK SPACE}mm")
PITCH = Verdict("pitch", "stack k1", (APART, " apart; at least ", APART), passed=True, source="table")


def test_check_that_was_not_made_says_so() -> None:
    assert check_of(Verdict("reach", "spot A1", "no base given", None, "table"), METRIC).outcome == "not checked"


def test_check_that_is_outside_without_being_refused_warns_and_says_what_to_do() -> None:
    act = Countermeasure("Prove it.", "coupon")
    check = check_of(Verdict("coating", "part P", "coated", None, "practice", warns=True, countermeasure=act), METRIC)
    assert (check.outcome, check.do, check.stage) == ("warning", "Prove it.", "coupon")


def test_failed_check_never_reaches_a_packet() -> None:
    with pytest.raises(ValueError, match="failed check"):
        check_of(Verdict("pitch", "spot A1", "20 mm below 35 mm", passed=False, source="table"), METRIC)


def test_measured_lengths_stay_as_they_are_where_metres_come_first() -> None:
    assert check_of(PITCH, METRIC).text == PITCH.text


def test_an_order_in_inches_shows_each_measured_length_in_inches_first() -> None:
    text = check_of(PITCH, INCHES).text.replace("\N{NO-BREAK SPACE}", " ")
    assert text == "1.5000 in (38.10 mm) apart; at least 1.5000 in (38.10 mm)"
