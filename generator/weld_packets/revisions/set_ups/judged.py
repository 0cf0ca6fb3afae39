"""The verdicts on what was read back, by the ranges and limits of a form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from weld_packets.calculation.judgement import Linked, LinkedVerdict, Range, judge_together
from weld_packets.packet.records.forms import RequiredValue, SetUpForm
from weld_packets.revisions.set_ups.record import ReadingEntry, last_readings


def range_of(value: RequiredValue) -> Range:
    """Return what an entry of a value is judged by."""
    others = tuple((each.unit, Decimal(each.factor)) for each in value.others)
    return Range(Decimal(value.setting), end_of(value.low), end_of(value.high), others)


def end_of(text: str) -> Decimal | None:
    """Return an end of a range as a form writes it; None where it is open."""
    return Decimal(text) if text else None


def together_of(
    readings: Sequence[ReadingEntry], form: SetUpForm
) -> Iterator[tuple[tuple[str, str, str], LinkedVerdict]]:
    """Yield what the last readings are beside those that limit them: value, other, robot, and the verdict."""
    last = {place: Decimal(entry.number) for place, entry in last_readings(readings).items()}
    for limit in form.limits:
        linked = Linked(limit.power, end_of(limit.minimum), end_of(limit.maximum))
        for robot in dict.fromkeys(robot for value, robot in last if value == limit.value):
            other = last.get((limit.other, robot))
            if other is not None:
                yield (limit.value, limit.other, robot), judge_together(last[limit.value, robot], other, linked)
