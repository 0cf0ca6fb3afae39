"""The moment at which a record is made."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import UTC, datetime

from weld_packets.errors import refusal

EPOCH = "SOURCE_DATE_EPOCH"
"""Variable that fixes the clock, in seconds since 1970 (reproducible-builds convention)."""
_REMEDY = "correct or remove the variable"
_LAST_YEAR = 2199
"""Of any date in a source; what is computed from the clock, such as until when a copy is good, is dates too."""


def machine_clock() -> datetime:
    """Return what the clock of this computer shows, in UTC, whatever SOURCE_DATE_EPOCH says."""
    return datetime.now(UTC)


def moment_now(environment: Mapping[str, str] = os.environ) -> datetime:
    """Return the moment in UTC, to the second: that of SOURCE_DATE_EPOCH where it is set.

    Raises OutOfRangeError where the variable is not a number of seconds, or is of a year that no date may have.
    """
    fixed = environment.get(EPOCH, "")
    if not fixed:
        return datetime.now(UTC).replace(microsecond=0)
    try:
        found = datetime.fromtimestamp(int(fixed), UTC)
    except (ValueError, OverflowError, OSError):
        raise refusal("is not a number of seconds since 1970", _REMEDY, key=EPOCH, value=fixed) from None
    if found.year > _LAST_YEAR:
        raise refusal(f"is after the year {_LAST_YEAR}", _REMEDY, key=EPOCH, value=fixed)
    return found
