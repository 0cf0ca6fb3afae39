from __future__ import annotations

from datetime import date
from typing import Literal

import pytest
from weld_packets.model.tables.plant import RiskAssessment
from weld_packets.wording.phrases import at_count, risk_assessment_words


@pytest.mark.parametrize(
    ("holder", "said"), [(None, "RA-7 of 2026-03-02"), ("safety officer", "RA-7 of 2026-03-02, held by safety officer")]
)
def test_a_risk_assessment_is_named_by_number_day_and_holder(holder: str | None, said: str) -> None:
    assert risk_assessment_words(RiskAssessment(number="RA-7", date=date(2026, 3, 2), holder=holder)) == said
    assert risk_assessment_words(None) == ""


@pytest.mark.parametrize(
    ("parts", "when", "said"),
    [
        (0, "after", "in the prove-out"),
        (0, "during", "with the first-off part"),
        (1, "after", "after 1 part"),
        (1, "during", "while part 1 is welded"),
    ],
)
def test_what_is_due_by_the_first_off_says_so(parts: int, when: Literal["after", "during"], said: str) -> None:
    assert at_count(parts, when) == said
