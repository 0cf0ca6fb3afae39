"""What a qualification of somebody says for itself."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from weld_packets.model.tables.people import PersonQualification
from weld_packets.wording import qualification


def entry(**changes: Any) -> PersonQualification:
    known: dict[str, Any] = {
        "id": "W-014", "duties": ("setter", "operator"), "process": "135", "tested": date(2024, 3, 11),
        "valid_until": date(2027, 3, 10), "document": "OC-2024-014",
    }  # fmt: skip
    return PersonQualification.model_construct(**known | changes)


@pytest.mark.parametrize(
    ("passes", "sensor", "words"),
    [
        ("one", False, "one pass, no sensor"),
        ("several", False, "several passes, no sensor"),
        ("one", True, "one pass, with a sensor"),
    ],
)
def test_a_qualification_says_what_its_test_was_welded_with(passes: str, *, sensor: bool, words: str) -> None:
    assert qualification.test_words(entry(passes=passes, sensor=sensor)) == words


@pytest.mark.parametrize(
    ("day", "end"), [(date(2027, 3, 10), "valid until 2027-03-10"), (date(2027, 3, 11), "expired on 2027-03-10")]
)
def test_a_qualification_holds_on_its_last_day_and_not_on_the_next(day: date, end: str) -> None:
    words = "W-014 (setter and operator, process 135)"
    assert qualification.person_words(entry(), day) == f"{words}: {end}"


def test_a_card_names_three_holders_and_counts_the_rest() -> None:
    assert qualification.holders_words(()) == "nobody"
    assert qualification.holders_words(("A", "B", "C")) == "A, B and C"
    assert qualification.holders_words(("A", "B", "C", "D", "E")) == "A, B, C and 2 more"
