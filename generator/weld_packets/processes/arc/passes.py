"""How many passes a weld takes, and the wire feed and travel speed that deposit each of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

from weld_packets.calculation.dial import Setting, at_step, span_words
from weld_packets.calculation.formula import Worked
from weld_packets.calculation.measure import lengths, span_within
from weld_packets.calculation.readings import share_moved, share_of, share_of_stated
from weld_packets.calculation.results import Coupling, SizeLine, SizeWord
from weld_packets.calculation.trace import Figure, InBoth, Measured, Name, Remark, Step, Weight, Window, Words
from weld_packets.errors import OutOfRangeError, refusal
from weld_packets.processes.arc.feed_and_speed import Region, Slopes, Steps
from weld_packets.processes.arc.size.weld_size import area_per_pass, leg_from_throat, throat_from_area
from weld_packets.processes.arc.wire.melting import balanced_travel_speed, nominal_area
from weld_packets.units import (
    Kind,
    Quantity,
    as_written,
    between,
    exact,
    from_decimal,
    in_mm,
    kinds,
    magnitude,
    plain,
    quantity,
    step_down,
    step_up,
    with_unit,
)
from weld_packets.units.digits import HUNDREDTH

SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)
REQUIRED = "the size required"


@dataclass(frozen=True)
class Melt:
    """What one pass melts: wire feed as set, section of the wire, share of it that becomes weld metal.

    ``known`` is the share of itself to which the wire feed is set.
    """

    wire_feed: Quantity
    section: Quantity
    efficiency: Quantity
    known: float = 0.0

    @property
    def shares(self) -> dict[str, float]:
        """To which share of themselves wire feed and efficiency are known."""
        return {"wire_feed": self.known, "efficiency": share_of_stated(self.efficiency, "%")}


@dataclass(frozen=True)
class Dial:
    """One thing that is dialled: what a chart gives of it, and what the machine can be set to.

    ``middle`` is where the chart means it to be; ``trace`` says how that came about. ``aims`` is the range in which it
    may be set at first, where that is less than the whole one.
    """

    name: Name
    middle: Quantity
    window: Window
    setting: Setting
    trace: tuple[Step, ...]
    remarks: tuple[Remark, ...] = ()
    aims: Window | None = None

    def quantity(self, steps: int) -> Quantity:
        """Return a number of steps as a quantity."""
        return from_decimal(self.number(steps), self.setting.unit)

    def number(self, steps: int) -> Decimal:
        """Return a number of steps in the unit of the machine."""
        return self.setting.width * steps

    @cached_property
    def steps(self) -> Steps:
        """The steps that both chart and machine allow.

        Raises OutOfRangeError where no step lies inside the chart's range, where the machine does not reach it, and
        where no step is left but the ends.
        """
        found = self._steps_in(self.window)
        if found.inner().high < found.inner().low:
            raise self._too_fine("no step but the ends", self.window)
        return found

    @cached_property
    def target_steps(self) -> Steps:
        """The steps at which it may be set at first; raises OutOfRangeError where there are none."""
        whole = self.steps
        return whole if self.aims is None else self._steps_in(self.aims)

    def _steps_in(self, window: Window) -> Steps:
        width, unit = self.setting.width, self.setting.unit
        ends = [end for end in (window.low, window.high) if end is not None]
        charted = Steps(int(step_up(ends[0], width, unit) / width), int(step_down(ends[-1], width, unit) / width))
        if charted.high < charted.low:
            raise self._too_fine("no step", window)
        bounds = (self.setting.low, self.setting.high)
        low, high = (None if bound is None else exact(bound.at, unit) for bound in bounds)
        found = Steps(
            charted.low if low is None else max(charted.low, -int(-low // width)),
            charted.high if high is None else min(charted.high, int(high // width)),
        )
        if found.high < found.low:
            raise refusal(
                f"{self.name.label} {span_words(window)} ({window.origin}) is outside what "
                f"{self.setting.machine} can be set to",
                "give the welds to a robot whose equipment reaches it, or use another chart",
                value=span_words(window),
            )
        return found

    def nearest(self) -> Decimal:
        """Return the number nearest to the middle that lies well inside what chart and machine allow."""
        inner, aims = self.steps.inner(), self.target_steps
        inner = Steps(max(inner.low, aims.low), min(inner.high, aims.high))
        if inner.high < inner.low:
            raise self._too_fine("no step but the ends", self.window)
        middle = magnitude(self.middle, self.setting.unit) / float(self.setting.width)
        return self.number(min(range(inner.low, inner.high + 1), key=lambda step: abs(step - middle)))

    def _too_fine(self, what: str, window: Window) -> OutOfRangeError:
        return refusal(
            f"{self.name.label}: {what} of {as_written(self.setting.step)} of {self.setting.machine} lies inside "
            f"{span_words(window)} ({window.origin})",
            "use a machine with finer steps, or a chart with a wider range",
            value=span_words(window),
        )


@dataclass(frozen=True)
class Sections:
    """Cross-sections of a weld: required, target, and the largest that is allowed with what says so."""

    required: Worked
    target: Worked
    largest: Quantity | None = None
    largest_origin: str = ""


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


@dataclass(frozen=True)
class Bench:
    """What a weld is made with: the dials of wire feed and travel speed, the wire, and the chart's throats of a pass.

    ``counts`` are the numbers of passes that the chart is for, one among them.
    """

    feed: Dial
    speed: Dial
    section: Quantity
    efficiency: Quantity
    throats: Window | None = None
    counts: tuple[int, ...] = (1,)

    def slope(self, area: Quantity) -> float:
        """Return the steps of travel speed for a step of wire feed that deposit a cross-section in one pass."""
        speed = balanced_travel_speed(
            wire_feed=self.feed.quantity(1), section=self.section, efficiency=self.efficiency, pass_area=area
        )
        return magnitude(speed, self.speed.setting.unit) / float(self.speed.setting.width)

    def region(self, sections: Sections, count: int) -> Region:
        """Return what chart, machines and size allow of each of ``count`` equal passes."""
        largest = None if sections.largest is None else self.slope(sections.largest / float(count))
        slopes = Slopes(
            self.slope(sections.required.result / float(count)),
            self.slope(sections.target.result / float(count)),
            largest,
        )
        return Region(self.feed.steps, self.speed.steps, slopes, self.feed.target_steps)

    def per_unit(self, slope: float) -> float:
        """Return a slope in units of travel speed for a unit of wire feed, as both machines are set."""
        return slope * float(self.speed.setting.width) / float(self.feed.setting.width)


def nominal_share(melt: Melt, speed: Figure, nominal: Worked) -> float:
    """Return to which share of itself the cross-section is known that one pass deposits at a set travel speed."""
    return share_moved(nominal, {**melt.shares, "travel_speed": share_of(speed)}, "mm²")


def free_pass(bench: Bench) -> Passes:
    """Return one pass at the middle of the chart's feeds and speeds, for a butt weld of which no cap is required."""
    feeds, speeds = bench.feed.steps, bench.speed.steps
    feed, speed = (
        at_step(dial.name, dial.middle, dial.nearest(), dial.window, dial.setting, dial.trace)
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
        if pair is not None and _carries(bench, sections, count):
            return _passes(bench, sections, count, region, pair, drawn)
    return None


def _carries(bench: Bench, sections: Sections, count: int) -> bool:
    """Return whether the chart makes a pass of this size."""
    if bench.throats is None:
        return True
    wanted = in_mm(_throat(sections.required, count))
    low, high = (in_mm(end) for end in (bench.throats.low, bench.throats.high) if end is not None)
    return between(low, wanted, high)


def _throat(required: Worked, count: int) -> Quantity:
    """Return the throat of one of equal passes of a fillet, by the factor of reinforcement of the whole."""
    reinforcement = required.given["reinforcement"]
    return throat_from_area(weld_area=required.result / float(count), reinforcement=reinforcement)


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
    words = [dial.window.origin]
    if allowed.low > whole.low:
        words.append(f"lower end: {ends[0]}")
    if allowed.high < whole.high:
        words.append(f"upper end: {ends[1]}")
    window = Window(dial.quantity(allowed.low), dial.quantity(allowed.high), "; ".join(words))
    return at_step(dial.name, wanted, dial.number(step), window, dial.setting, trace)


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


class SizeMeasure(NamedTuple):
    """By which size the order gives a fillet, and how many times its throat that is."""

    word: str
    per_throat: float


THROAT_SIZE = SizeMeasure("throat", 1.0)
LEG_SIZE = SizeMeasure("leg", in_mm(leg_from_throat(throat=quantity(1.0, "mm"))))


def unmade_sizes(bench: Bench, sections: Sections, size: SizeMeasure) -> Words:
    """Return for each number of passes of the chart why it does not make a weld, and for which there is no plan."""
    words: list[str | Measured | InBoth] = []
    for count in bench.counts:
        words += [f"{passes_words(count)}: ", *_fault(bench, sections, count, size), "; "]
    if bench.counts[-1] == 1:
        return (*words, "more passes: the chart has no plan for them")
    return tuple(words[:-1])


def _fault(bench: Bench, sections: Sections, count: int, size: SizeMeasure) -> Words:
    if not _carries(bench, sections, count) and bench.throats is not None:
        throat = in_mm(_throat(sections.required, count))
        low, high = (in_mm(end) for end in (bench.throats.low, bench.throats.high) if end is not None)
        end = low if throat < low else high
        made, maximum = lengths(throat * size.per_throat, end * size.per_throat, HUNDREDTH)
        side = "below" if end is low else "above"
        return f"a pass of {size.word} ", made, f" is {side} the chart's ", maximum
    return (f"no {_span(bench.feed)} of wire feed with {_span(bench.speed)} of travel speed makes it",)


def _span(dial: Dial) -> str:
    steps = dial.target_steps
    return with_unit(f"{plain(dial.number(steps.low))} to {plain(dial.number(steps.high))}", dial.setting.unit)


def sizes_made(bench: Bench, wanted: Iterator[tuple[float, Sections]], size: SizeMeasure) -> Words:
    """Return the smallest and the largest of some rising throats that each number of passes makes; empty for none."""
    found: dict[int, list[float]] = {}
    for throat, sections in wanted:
        passes = sized_passes(bench, sections, ())
        if passes is not None:
            found.setdefault(passes.count, []).append(throat)
    words: list[str | Measured | InBoth] = []
    for count, made in found.items():
        low, high = span_within(made[0] * size.per_throat, made[-1] * size.per_throat, HUNDREDTH)
        words += [low, " to ", high, f" in {passes_words(count)}", ", "]
    return tuple(words[:-1])


def passes_words(count: int) -> str:
    """Return a number of passes in words."""
    return "1 pass" if count == 1 else f"{count} passes"


def nominal_by(wire_feed: Quantity, melt: Melt, travel_speed: Quantity) -> Worked:
    """Return the cross-section that one pass deposits at a feed and a speed."""
    return nominal_area.work(
        wire_feed=wire_feed, section=melt.section, efficiency=melt.efficiency, travel_speed=travel_speed
    )
