from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.revisions.store.clock import moment_now


def test_the_epoch_variable_fixes_the_clock() -> None:
    assert moment_now({"SOURCE_DATE_EPOCH": "1772438400"}) == datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def test_without_it_the_clock_counts_in_whole_seconds() -> None:
    now = moment_now({})
    assert now.microsecond == 0
    assert abs(datetime.now(UTC) - now) < timedelta(minutes=1)


@pytest.mark.parametrize("text", ["yesterday", "9" * 30])
def test_an_epoch_that_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(OutOfRangeError, match="is not a number of seconds"):
        moment_now({"SOURCE_DATE_EPOCH": text})


def test_an_epoch_after_the_last_year_of_any_date_is_refused() -> None:
    assert moment_now({"SOURCE_DATE_EPOCH": "7258118399"}) == datetime(2199, 12, 31, 23, 59, 59, tzinfo=UTC)
    with pytest.raises(OutOfRangeError, match="is after the year 2199"):
        moment_now({"SOURCE_DATE_EPOCH": "7258118400"})
