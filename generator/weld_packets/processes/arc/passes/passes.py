"""How many passes a weld takes, and the wire feed and travel speed that deposit each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from weld_packets.calculation.dial import at_step
from weld_packets.calculation.results import Coupling, SizeLine, SizeWord
from weld_packets.calculation.trace import AllowedRange, Figure, Name, Remark, Step, Weight
from weld_packets.processes.arc.melting import balanced_travel_speed
from weld_packets.processes.arc.passes.dials import Dial, Dials, Sections
from weld_packets.processes.arc.passes.feed_and_speed import Region, Steps
from weld_packets.processes.arc.size.formulas import area_per_pass
from weld_packets.units import Kind, Quantity, kinds, magnitude, plain, quantity, with_unit

SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)
REQUIRED = "the size required"


@dataclass(frozen=True)
class DrawnSize:
    """A size of which a line is drawn: which, the size itself with its kind, the cross-section that makes it."""

    word: SizeWord
    size: Quantity
    kind: Kind
    area: Quantity


@dataclass(frozen=True)
class Passes:
    """The number of passes, what each is set to, and how feed and speed limit each other."""

    count: int
    feed: Figure
    speed: Figure
    coupling: Coupling


def free_pass(dials: Dials) -> Passes:
    """Return one pass at the middle of the chart's feeds and speeds, for a butt weld of which no cap is required."""
    feeds, speeds = dials.feed.steps, dials.speed.steps
    feed, speed = (
        at_step(dial.name, dial.middle, dial.nearest(), dial.allowed_range, dial.setting, dial.trace)
        for dial in (dials.feed, dials.speed)
    )
    coupling = _coupling(dials, feeds, speeds, None, None, ())
    return Passes(1, replace(feed, remarks=dials.feed.remarks), speed, coupling)


def sized_passes(dials: Dials, sections: Sections, drawn: Sequence[DrawnSize]) -> Passes | None:
    """Return the smallest number of passes that makes a weld, with feed and speed well inside what is allowed.

    ``drawn`` are the sizes of which lines are drawn. None where no number of passes fits; raises OutOfRangeError where
    chart and machines leave nothing to set.
    """
    middle = magnitude(dials.feed.middle, dials.feed.setting.unit) / float(dials.feed.setting.width)
    for count in dials.counts:
        region = dials.region(sections, count)
        pair = region.aim(middle)
        if pair is not None and dials.carries(sections, count):
            return _passes(dials, sections, count, region, pair, drawn)
    return None


def _passes(  # noqa: PLR0917 - everything that was decided
    dials: Dials,
    sections: Sections,
    count: int,
    region: Region,
    pair: tuple[int, int],
    drawn: Sequence[DrawnSize],
) -> Passes:
    feed, speed = pair
    single = area_per_pass.work(weld_area=sections.target.result, passes=quantity(count, "1"))
    balanced = balanced_travel_speed.work(
        wire_feed=dials.feed.quantity(feed), section=dials.section, efficiency=dials.efficiency, pass_area=single.result
    )
    trace = (*dials.speed.trace, sections.required, sections.target, single, balanced)
    ends = REQUIRED, sections.largest_origin
    set_speed = _figure(dials.speed, balanced.result, speed, region.speeds_at(feed), trace, ends[::-1])
    set_feed = _figure(dials.feed, dials.feed.middle, feed, region.feeds_at(speed), dials.feed.trace, ends)
    moved = _moved(dials.feed, feed)
    lines = tuple(
        SizeLine(each.word, each.size, each.kind, dials.per_unit(dials.slope(each.area / float(count))))
        for each in drawn
    )
    coupling = _coupling(dials, region.feeds, region.speeds, region.slopes.smallest, region.slopes.largest, lines)
    return Passes(count, replace(set_feed, remarks=(*dials.feed.remarks, *moved)), set_speed, coupling)


def _moved(dial: Dial, steps: int) -> tuple[Remark, ...]:
    """Return a note where a feed is not the nearest step to the chart's middle."""
    middle = magnitude(dial.middle, dial.setting.unit) / float(dial.setting.width)
    if abs(steps - middle) <= 1:
        return ()
    unused = with_unit(plain(dial.number(round(middle))), dial.setting.unit)
    reason = "travel speed would be outside its range or within two steps of an end"
    words = f"{unused}, the middle of the chart, is not used: {reason}"
    return (Remark(Weight.NOTE, words),)


def _figure(  # noqa: PLR0917 - the parts of one figure
    dial: Dial, wanted: Quantity, step: int, allowed: Steps, trace: tuple[Step, ...], ends: tuple[str, str]
) -> Figure:
    """Return a set figure with the range that is allowed while the other of the two stays as it is set.

    ``ends`` says what ends the range below and above where chart and machine do not.
    """
    whole = dial.steps
    words = [dial.allowed_range.origin]
    if allowed.low > whole.low:
        words.append(f"lower end: {ends[0]}")
    if allowed.high < whole.high:
        words.append(f"upper end: {ends[1]}")
    allowed_range = AllowedRange(dial.quantity(allowed.low), dial.quantity(allowed.high), "; ".join(words))
    return at_step(dial.name, wanted, dial.number(step), allowed_range, dial.setting, trace)


def _coupling(  # noqa: PLR0917 - what is drawn
    dials: Dials,
    feeds: Steps,
    speeds: Steps,
    smallest: float | None,
    largest: float | None,
    lines: tuple[SizeLine, ...],
) -> Coupling:
    return Coupling(
        feed_unit=dials.feed.setting.unit,
        speed_unit=dials.speed.setting.unit,
        feeds=(dials.feed.number(feeds.low), dials.feed.number(feeds.high)),
        speeds=(dials.speed.number(speeds.low), dials.speed.number(speeds.high)),
        fastest=None if smallest is None else dials.per_unit(smallest),
        slowest=None if largest is None else dials.per_unit(largest),
        lines=lines,
    )
