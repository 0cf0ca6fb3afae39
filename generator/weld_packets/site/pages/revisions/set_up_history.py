"""The set-ups of an order on its history page: who, when, by which revision, what was outside, and what drifts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from weld_packets.packet.records.settings import Picture
from weld_packets.revisions.queries.set_ups import FiledRun, FiledSetUp, SetUps, of_words
from weld_packets.revisions.set_ups.drift import RULES, Point, Series
from weld_packets.revisions.set_ups.record import ReadingEntry, last_readings
from weld_packets.wording.english import inside


@dataclass(frozen=True)
class OutsideLine:
    """One reading outside its range: what, on which robot, the entry, how, and what was allowed."""

    what: str
    robot: str
    read: str
    verdict: str
    allowed: str


@dataclass(frozen=True)
class FailedLine:
    """One entry that failed and was replaced: of what, the entry, how it failed, when and by whom."""

    what: str
    entered: str
    verdict: str
    at: str
    by: str


@dataclass(frozen=True)
class SetUpRow:
    """One set-up as the page shows it; ``failed`` is None where its record is from before such entries were kept."""

    filed: FiledSetUp
    outside: tuple[OutsideLine, ...]
    failed: tuple[FailedLine, ...] | None


@dataclass(frozen=True)
class OperationSeries:
    """The charts of an operation; ``as_set`` are the values that were equal to their setting at every set-up."""

    operation: str
    charts: tuple[Picture, ...]
    as_set: tuple[str, ...]


@dataclass(frozen=True)
class Drifting:
    """A value that drifts, and the place of its chart on the page."""

    series: Series
    chart: str


@dataclass(frozen=True)
class SetUpSection:
    """All that the page shows of set-ups, newest first."""

    rows: tuple[SetUpRow, ...]
    drifting: tuple[Drifting, ...]
    operations: tuple[OperationSeries, ...]
    runs: tuple[FiledRun, ...] = ()
    rules: tuple[str, ...] = RULES


def set_up_section(set_ups: SetUps) -> SetUpSection:
    """Return what a history page shows of the set-ups of its order."""
    points = {(point.set_up, series.key): (series, point) for series in set_ups.series for point in series.points}
    rows = tuple(
        SetUpRow(each, tuple(_outside(each, points)), _failed(each, points)) for each in reversed(set_ups.filed)
    )
    drifting = tuple(Drifting(each, f"{_key(each)}-chart") for each in set_ups.drifting)
    return SetUpSection(rows, drifting, tuple(_operations(set_ups)), tuple(reversed(set_ups.runs)))


def _outside(filed: FiledSetUp, points: dict[tuple[str, str], tuple[Series, Point]]) -> Iterator[OutsideLine]:
    for entry in filed.outside:
        found = points.get((filed.set_up.id, f"{entry.value}/{entry.robot}"))
        what, allowed = (entry.value, "") if found is None else (found[0].label, _allowed(found[1], entry.unit))
        yield OutsideLine(what, entry.robot, f"{entry.number} {entry.unit}", entry.verdict, allowed)
    last = {place: f"{each.number} {each.unit}" for place, each in last_readings(filed.set_up.readings).items()}
    for pair in filed.apart:
        both = [(key, points.get((filed.set_up.id, f"{key}/{pair.robot}"))) for key in (pair.value, pair.other)]
        what, other = (key if found is None else found[0].label for key, found in both)
        read = f"{last[pair.value, pair.robot]} beside {inside(other)} {last[pair.other, pair.robot]}"
        yield OutsideLine(what, pair.robot, read, pair.verdict, "")


def _failed(filed: FiledSetUp, points: dict[tuple[str, str], tuple[Series, Point]]) -> tuple[FailedLine, ...] | None:
    if filed.set_up.replaced is None:
        return None
    lines = []
    for entry in filed.failed_before:
        what, entered = of_words(entry), entry.entered
        if isinstance(entry, ReadingEntry):
            found = points.get((filed.set_up.id, f"{entry.value}/{entry.robot}"))
            what = what if found is None else f"{found[0].label}, {entry.robot}"
            entered = f"{entry.number} {entry.unit}"
        lines.append(FailedLine(what, entered, entry.verdict, f"{entry.at[:10]} {entry.at[11:16]}", entry.by))
    return tuple(lines)


def _allowed(point: Point, unit: str) -> str:
    low, high = ("open" if end is None else str(end) for end in (point.low, point.high))
    return f"setting {point.setting}, allowed {low} to {high} {unit}"


def _operations(set_ups: SetUps) -> Iterator[OperationSeries]:
    """Yield the charts of each operation, one for each value that was read more than once."""
    values: dict[str, dict[str, list[Series]]] = {}
    for series in set_ups.series:
        values.setdefault(series.operation, {}).setdefault(series.value, []).append(series)
    for operation, by_value in values.items():
        several = [each for each in by_value.values() if any(len(series.points) > 1 for series in each)]
        moved = [each for each in several if any(point.off for series in each for point in series.points)]
        still = [each for each in several if each not in moved]
        if several:
            charts = tuple(_chart(operation, each, set_ups) for each in moved)
            yield OperationSeries(operation, charts, tuple(_title(each[0]) for each in still))


def _key(series: Series) -> str:
    """Return what the chart of a value is called on the page; both robots share it."""
    return f"read-{series.place}"


def _title(series: Series) -> str:
    return f"{series.label}, {series.group}" if series.group else series.label


def _chart(operation: str, both: Sequence[Series], set_ups: SetUps) -> Picture:
    from weld_packets.diagrams.charts.readings import Read, readings_picture  # noqa: PLC0415 (drawing is slow to load)

    counted = [each.set_up.id for each in set_ups.filed if each.set_up.operation_name == operation]
    robots = {
        series.robot: [
            Read(
                counted.index(point.set_up) + 1,
                float(point.number),
                float(point.setting),
                None if point.low is None else float(point.low),
                None if point.high is None else float(point.high),
            )
            for point in series.points
        ]
        for series in both
    }
    said = " ".join(f"{series.robot} drifts: {series.drift}." for series in both if series.drift)
    return readings_picture(_key(both[0]), _title(both[0]), both[0].unit, robots, said)
