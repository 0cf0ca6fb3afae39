"""The wire feed of a weld and the current that it draws: one published, the other from the wire's melting data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from weld_packets.calculation.chart import Place, carries, origin, read, read_range, row_label
from weld_packets.calculation.countermeasures import CURRENT as COMPARE_CURRENT
from weld_packets.calculation.countermeasures import LOWER_FEED, RAISE_FEED
from weld_packets.calculation.dial import between
from weld_packets.calculation.formula import Source, Standing
from weld_packets.calculation.readings import charted, rounded_inward, value_of
from weld_packets.calculation.sentences import shown_value
from weld_packets.calculation.trace import AllowedRange, Figure, Name, Remark, Weight
from weld_packets.errors import refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart
from weld_packets.model.tables.materials import Wire
from weld_packets.processes.answers import RowContradicted
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.wire.wire_data import WireData, wire_data
from weld_packets.units import Quantity, as_written, exact, in_mm, kinds, magnitude, rounded, same, spelling
from weld_packets.units.digits import TENTH, WHOLE

WIRE_FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)
CURRENT = Name("welding_current", "Welding current (displayed)", "I", kinds.CURRENT)
AMPERE = WHOLE
"""To which a power source shows its current."""


def feed_of(group: SeamGroup, place: Place, data: WireData | None) -> Dial:
    """Return what there is to be set as wire feed: what the chart publishes, else what its current melts of the wire.

    Raises OutOfRangeError where the chart publishes none and the wire has no data for this gas, mode and distance.
    """
    machine = group.feeder
    feeds = between(machine.name, machine.wire_feed_from, machine.wire_feed_to, machine.wire_feed_step)
    if carries(place, "wire_feed"):
        lookup, allowed_range = read_range(place, "wire_feed")
        return Dial(WIRE_FEED, lookup.result, allowed_range, feeds, (lookup,), _compared(lookup.result, place, data))
    if data is None:
        raise refusal(
            f"table {place.table.table} publishes no wire feed, and wire {group.wire.id} has no melting data under "
            f"{group.gas.id} at this contact distance and mode of transfer",
            "state the melting of the wire in the table of wires with its source, or use a chart with wire feed",
            value=group.wire.id,
        )
    lookup, allowed_range = read_range(place, "current")
    middle = data.feed(lookup.result)
    low, high = (data.feed(end).result for end in (allowed_range.low, allowed_range.high) if end is not None)
    words = f"{allowed_range.origin}: what its current melts by {data.words}"
    wide = AllowedRange(
        low / (1 + data.scatter), high * (1 + data.scatter), f"{words}, ± {as_written(data.melting.scatter)}"
    )
    # What is set draws a current that is in its range as it is displayed.
    shown = rounded_inward(allowed_range, AMPERE, "A")
    first, last = (data.feed(end).result for end in (shown.low, shown.high) if end is not None)
    return Dial(
        WIRE_FEED,
        middle.result,
        wide,
        feeds,
        (lookup, *middle.trace),
        remarks=(_calculated(data),),
        aims=AllowedRange(first, last, words),
    )


def _calculated(data: WireData) -> Remark:
    """Return that a feed is calculated, from what and how well known; a warning where the data are from memory."""
    within = f"calculated from the current by {data.words}, within ± {as_written(data.melting.scatter)}; not published"
    if data.melting.from_memory:
        source = Source(data.melting.source, standing=Standing.FROM_MEMORY)
        return Remark(Weight.WARNING, within, source, COMPARE_CURRENT)
    return Remark(Weight.NOTE, within, Source(data.melting.source))


def _compared(feed: Quantity, place: Place, data: WireData | None) -> tuple[Remark, ...]:
    """Return what the wire's data say of a published feed: a warning beyond their scatter, a note without data."""
    if data is None or not carries(place, "current") or not data.reaches(read(place, "current")[0].result):
        return (Remark(Weight.NOTE, "published feed, not compared: no melting data of this wire here"),)
    remark = contradicts(feed, place, data)
    return () if remark is None else (remark,)


def contradicts(feed: Quantity, place: Place, data: WireData) -> Remark | None:
    """Return a warning where a published feed and current differ by more than the scatter of the wire's data.

    Data that do not reach the current say nothing of it: they are never extrapolated.
    """
    current = read(place, "current")[0].result
    if not data.reaches(current):
        return None
    melted = data.feed(current).result
    ratio = magnitude(feed, "m/min") / magnitude(melted, "m/min")
    if abs(ratio - 1) <= data.scatter:
        return None
    unit, scatter = spelling(feed), as_written(data.melting.scatter)
    difference = shown_value(rounded(exact(melted, unit), TENTH), unit, kinds.WIRE_FEED)
    said = ("published, but its current melts ", difference, f" by {data.words}: more than ± {scatter} apart")
    return Remark(Weight.WARNING, said, Source(data.melting.source), COMPARE_CURRENT)


def current_of(place: Place, feed: Figure, data: WireData | None) -> Figure:
    """Return the current to be read at the set feed, and what may be read while the feed is in its range.

    The range is what wires within the scatter of the data draw, inside the chart's own range where it publishes one.
    """
    lookup, allowed_range = read_range(place, "current") if carries(place, "current") else (None, None)
    if data is None or (lookup is not None and carries(place, "wire_feed")):
        return warned_at_end(charted(CURRENT, *read_range(place, "current"), AMPERE))
    drawn = data.current(value_of(feed))
    value = drawn.result
    text = rounded(exact(value, "A"), AMPERE)
    allowed = rounded_inward(_allowed(place, feed, data, allowed_range), AMPERE, "A")
    trace = drawn.trace if lookup is None else (lookup, *drawn.trace)
    return warned_at_end(CURRENT.figure("A", value, text, allowed, trace=trace))


def warned_at_end(current: Figure) -> Figure:
    """Return the current to be read, with a warning where it is an end of its own range: any drift is outside there."""
    number, allowed_range = current.text, current.allowed_range
    if number is None or allowed_range is None:
        return current
    remarks = []
    for end, word, act in ((allowed_range.high, "above", LOWER_FEED), (allowed_range.low, "below", RAISE_FEED)):
        if end is not None and number == exact(end, current.unit):
            said = f"as set it is the end of its allowed range; nothing to spare {word}"
            remarks.append(Remark(Weight.WARNING, said, countermeasure=act))
    return replace(current, remarks=(*current.remarks, *remarks))


def _allowed(place: Place, feed: Figure, data: WireData, charted_range: AllowedRange | None) -> AllowedRange:
    ends = feed.allowed_range
    low, high = (
        (value_of(feed),) * 2 if ends is None or ends.low is None or ends.high is None else (ends.low, ends.high)
    )
    minimum, maximum = data.currents(low, high)
    words = f"what the allowed wire feeds draw by {data.words}, ± {as_written(data.melting.scatter)} of feed"
    if charted_range is None or charted_range.low is None or charted_range.high is None:
        return AllowedRange(minimum, maximum, words)
    return AllowedRange(
        max(minimum, charted_range.low), min(maximum, charted_range.high), f"{words}; no further than {origin(place)}"
    )


# ---------------------------------------------------------------- feeds of charts held against melting data


def contradicted_rows(approved: ApprovedTables) -> Iterator[RowContradicted]:
    """Yield every row of a chart with a wire feed and a current that one wire cannot have together, by its data."""
    for table in approved.arc_charts.values():
        for wire in (wire for wire in approved.wires.values() if _is_for(table, wire)):
            yield from _contradicted(table, wire, approved)


def _is_for(table: ArcChart, wire: Wire) -> bool:
    diameter = same(in_mm(table.wire_diameter), in_mm(wire.diameter))
    return diameter and table.process == wire.process and bool(set(table.bases) & set(wire.bases))


def _contradicted(table: ArcChart, wire: Wire, approved: ApprovedTables) -> Iterator[RowContradicted]:
    for row in table.rows:
        place = Place(table, row.thickness or row.up_to or table.wire_diameter, (row,), (row_label(row),), 0.0)
        if not (carries(place, "wire_feed") and carries(place, "current")):
            continue
        distance = read(place, "contact_distance")[0].result
        data = wire_data(wire, table.gas, table.transfer, distance, approved.owner("wires"))
        remark = None if data is None else contradicts(read(place, "wire_feed")[0].result, place, data)
        if remark is not None:
            yield RowContradicted(table.table, row_label(row), remark)
