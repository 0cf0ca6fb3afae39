"""What the counters of a set-up count, and whether each can be what was left or done."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from weld_packets.calculation.judgement import number_of
from weld_packets.errors import OutOfRangeError, Problem, unplaced
from weld_packets.packet.records.forms import SetUpForm, SupplyCounter
from weld_packets.revisions.set_ups.from_cell import NOT_EDITED
from weld_packets.revisions.set_ups.record import Counter, SetUp


def counter_of(counter: Counter, form: SetUpForm) -> SupplyCounter | None:
    """Return what a counter of a record counts, by its key or its words; None for one of the plant's own."""
    wanted = counter.what.strip().casefold()  # what a person typed
    found = (each for each in form.counters if wanted in (each.key.casefold(), each.what.casefold()))
    return next(found, None)


def counter_problems(set_up: SetUp, form: SetUpForm) -> Iterator[Problem]:
    """Yield counts that cannot be so: no number, more than a full one holds, a part of a whole, or there twice."""
    seen: set[str] = set()
    for index, entry in enumerate(set_up.counters):
        counter = counter_of(entry, form)
        if counter is None:
            continue
        place = f"counters[{index}]"
        try:
            number = Decimal(number_of(entry.count))
        except OutOfRangeError as error:
            for each in error.problems:
                yield unplaced(f"{place}.count", entry.count, each.message, each.remedy)
            continue
        if counter.counts == "left" and number > Decimal(counter.whole):
            message = f"is more than a full one holds, {counter.whole} {counter.unit}"
            yield unplaced(f"{place}.count", entry.count, message, f"count again, in {counter.unit}")
        if counter.counts in ("worn", "turns") and number != number.to_integral_value():
            yield unplaced(f"{place}.count", entry.count, "is not a whole number", "count again")
        if counter.key in seen:
            yield unplaced(f"{place}.what", entry.what, "is there twice", NOT_EDITED)
        seen.add(counter.key)
