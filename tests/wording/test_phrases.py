from __future__ import annotations

from datetime import date

import pytest
from weld_packets.model.tables.plant import RiskAssessment
from weld_packets.wording.phrases import risk_assessment_words


@pytest.mark.parametrize(
    ("holder", "said"), [(None, "RA-7 of 2026-03-02"), ("safety officer", "RA-7 of 2026-03-02, held by safety officer")]
)
def test_a_risk_assessment_is_named_by_number_day_and_holder(holder: str | None, said: str) -> None:
    assert risk_assessment_words(RiskAssessment(number="RA-7", date=date(2026, 3, 2), holder=holder)) == said
    assert risk_assessment_words(None) == ""
