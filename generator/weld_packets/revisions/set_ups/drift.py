"""What machines showed over the set-ups of an order, and whether it drifts.

A reading inside its range says nothing of where the next one will lie. Runs do: chance alone seldom puts many
readings in a row on one side of the setting, or lets them rise again and again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.forms import RequiredValue
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.set_ups.record import ReadingEntry, SetUp, moment

SIDE_RUN = 5
"""Readings in a row on one side of the setting; without a drift one time in 16. Common practice, no source."""
TREND_RUN = 6
"""Readings in a row of which each is above, or below, the one before: a runs rule of ISO 7870-2, from memory."""
RULES = (
    f"the last {SIDE_RUN} readings on one side of the setting (common practice, no source)",
    f"the last {TREND_RUN} readings each above, or each below, the one before (runs rule of ISO 7870-2, from memory)",
)


@dataclass(frozen=True)
class Point:
    """What a machine showed at one set-up, with the setting and allowed range of the revision that it was set by."""

    set_up: str
    begun: str
    revision: str
    number: Decimal
    setting: Decimal
    low: Decimal | None
    high: Decimal | None

    @property
    def off(self) -> Decimal:
        """How far it lies above the setting."""
        return self.number - self.setting


@dataclass(frozen=True)
class Series:
    """What one machine showed of one value over set-ups, oldest first; ``value`` is its key."""

    operation: str
    value: str
    label: str
    group: str
    robot: str
    unit: str
    points: tuple[Point, ...]

    @property
    def key(self) -> str:
        """The key of the value with the robot."""
        return f"{self.value}/{self.robot}"

    @property
    def place(self) -> str:
        """The value of its operation as a safe name; both robots share it."""
        from weld_packets.calculation.results import safe_name  # noqa: PLC0415 - loads what computes

        return safe_name(self.operation, self.value)

    @property
    def drift(self) -> str:
        """How it drifts, as the end of a sentence; empty where no rule finds it."""
        return drift_of([point.off for point in self.points])

    @property
    def name(self) -> str:
        """What was read where, in words."""
        return (
            f"{self.operation}, {self.label} of {self.robot} ({self.group})"
            if self.group
            else (f"{self.operation}, {self.label} of {self.robot}")
        )


def drift_of(offs: Sequence[Decimal]) -> str:
    """Return how readings drift that lie so far above their settings, oldest first; empty where no rule finds it."""
    side, trend = offs[-SIDE_RUN:], offs[-TREND_RUN:]
    if len(trend) == TREND_RUN:
        if all(one < other for one, other in pairwise(trend)):
            return f"the last {TREND_RUN} readings rise"
        if all(one > other for one, other in pairwise(trend)):
            return f"the last {TREND_RUN} readings fall"
    if len(side) == SIDE_RUN:
        if all(off > 0 for off in side):
            return f"the last {SIDE_RUN} readings are above the setting"
        if all(off < 0 for off in side):
            return f"the last {SIDE_RUN} readings are below the setting"
    return ""


def series_of(set_ups: Sequence[SetUp], packets: Mapping[str, Packet]) -> tuple[Series, ...]:
    """Return the readings of each value on each robot over the set-ups of an order.

    ``packets`` are those of the revisions that the set-ups belong to. An entry in another unit is no reading.
    """
    found: dict[tuple[str, str, str], list[Point]] = {}
    words: dict[tuple[str, str, str], RequiredValue] = {}
    values = {revision: _values(packet) for revision, packet in packets.items()}
    for set_up in sorted(set_ups, key=lambda each: moment(each.begun)):
        required = values[set_up.revision][set_up.operation]
        for (key, robot), entry in _read(set_up).items():
            value = required[key]
            place = (set_up.operation_name, key, robot)
            words[place] = value
            found.setdefault(place, []).append(_point(set_up, entry, value))
    return tuple(
        Series(
            operation=place[0],
            value=place[1],
            label=words[place].label,
            group=words[place].group,
            robot=place[2],
            unit=words[place].unit,
            points=tuple(points),
        )
        for place, points in found.items()
    )


def _values(packet: Packet) -> dict[int, dict[str, RequiredValue]]:
    return {each.number: {value.key: value for value in set_up_form(each).values} for each in packet.operations}


def _read(set_up: SetUp) -> dict[tuple[str, str], ReadingEntry]:
    """Return the reading of each value on each robot: the first person's, else that of whoever repeated it."""
    ordered = sorted(set_up.readings, key=lambda entry: -entry.repeat)
    return {(entry.value, entry.robot): entry for entry in ordered if entry.verdict != "implausible"}


def _point(set_up: SetUp, entry: ReadingEntry, value: RequiredValue) -> Point:
    low, high = (Decimal(end) if end else None for end in (value.low, value.high))
    return Point(
        set_up=set_up.id,
        begun=set_up.begun,
        revision=set_up.revision,
        number=Decimal(entry.number),
        setting=Decimal(value.setting),
        low=low,
        high=high,
    )
