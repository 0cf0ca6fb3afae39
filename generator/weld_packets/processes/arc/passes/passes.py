"""How many passes a weld takes, and the wire feed and travel speed that deposit each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from weld_packets.calculation.dial import at_step
from weld_packets.calculation.results import Coupling, SizeLine, SizeWord
from weld_packets.calculation.trace import AllowedRange, Figure, Name, Remark, Step, Weight
from weld_packets.processes.arc.melting import balanced_travel_speed
from weld_packets.processes.arc.passes.bench import Bench, Sections
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.passes.feed_and_speed import Region, Steps
from weld_packets.processes.arc.size.weld_size import area_per_pass
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


def free_pass(bench: Bench) -> Passes:
    """Return one pass at the middle of the chart's feeds and speeds, for a butt weld of which no cap is required."""
    feeds, speeds = bench.feed.steps, bench.speed.steps
    feed, speed = (
        at_step(dial.name, dial.middle, dial.nearest(), dial.allowed_range, dial.setting, dial.trace)
        for dial in (bench.feed, bench.speed)
    )
    coupling = _coupling(bench, feeds, speeds, None, None, ())
    return Passes(1, replace(feed, remarks=bench.feed.remarks), speed, coupling)


def sized_passes(bench: Bench, sections: Sections, drawn: Sequence[DrawnSize]) -> Passes | None:
    """Return the smallest number of passes that makes a weld, with feed and speed well inside what is allowed.

    ``drawn`` are the sizes of which lines are drawn. None where no number of passes fits; raises OutOfRangeError where
    chart and machines leave nothing to set.
    """
    middle = magnitude(bench.feed.middle, bench.feed.setting.unit) / float(bench.feed.setting.width)
    for count in bench.counts:
        region = bench.region(sections, count)
        pair = region.aim(middle)
        if pair is not None and bench.carries(sections, count):
            return _passes(bench, sections, count, region, pair, drawn)
    return None


def _passes(  # noqa: PLR0917 - everything that was decided
    bench: Bench,
    sections: Sections,
    count: int,
    region: Region,
    pair: tuple[int, int],
    drawn: Sequence[DrawnSize],
) -> Passes:
    feed, speed = pair
    single = area_per_pass.work(weld_area=sections.target.result, passes=quantity(count, "1"))
    balanced = balanced_travel_speed.work(
        wire_feed=bench.feed.quantity(feed), section=bench.section, efficiency=bench.efficiency, pass_area=single.result
    )
    trace = (*bench.speed.trace, sections.required, sections.target, single, balanced)
    ends = REQUIRED, sections.largest_origin
    set_speed = _figure(bench.speed, balanced.result, speed, region.speeds_at(feed), trace, ends[::-1])
    set_feed = _figure(bench.feed, bench.feed.middle, feed, region.feeds_at(speed), bench.feed.trace, ends)
    moved = _moved(bench.feed, feed)
    lines = tuple(
        SizeLine(each.word, each.size, each.kind, bench.per_unit(bench.slope(each.area / float(count))))
        for each in drawn
    )
    coupling = _coupling(bench, region.feeds, region.speeds, region.slopes.smallest, region.slopes.largest, lines)
    return Passes(count, replace(set_feed, remarks=(*bench.feed.remarks, *moved)), set_speed, coupling)


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
    bench: Bench,
    feeds: Steps,
    speeds: Steps,
    smallest: float | None,
    largest: float | None,
    lines: tuple[SizeLine, ...],
) -> Coupling:
    return Coupling(
        feed_unit=bench.feed.setting.unit,
        speed_unit=bench.speed.setting.unit,
        feeds=(bench.feed.number(feeds.low), bench.feed.number(feeds.high)),
        speeds=(bench.speed.number(speeds.low), bench.speed.number(speeds.high)),
        fastest=None if smallest is None else bench.per_unit(smallest),
        slowest=None if largest is None else bench.per_unit(largest),
        lines=lines,
    )
