"""Where wire feed and travel speed are set together: inside what chart, machine and size of weld allow.

Both are whole machine steps here, so that every comparison is exact. A larger wire feed or a smaller travel speed makes
a larger weld: equal welds lie on a straight line through zero, whose slope is steps of speed for a step of feed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from weld_packets.calculation.dial import MARGIN

OVER = 0.12
"""Share of the target section by which a weld may be larger, where the steps of the machines ask for it."""
_NOISE = 1e-9


@dataclass(frozen=True)
class Steps:
    """A range in whole machine steps, ends included; empty where ``high`` is below ``low``."""

    low: int
    high: int

    def inner(self) -> Steps:
        """Return the steps that may be set: two inside either end, or the nearest to the middle of a narrow range.

        A range that has no step but its ends gives an empty one.
        """
        if self.high - self.low >= 2 * MARGIN:
            return Steps(self.low + MARGIN, self.high - MARGIN)
        middle = Steps((self.low + self.high) // 2, -(-(self.low + self.high) // 2))
        return middle if self.low < middle.low and middle.high < self.high else Steps(1, 0)

    def holds(self, step: int) -> bool:
        """Return whether a step lies in the range."""
        return self.low <= step <= self.high


@dataclass(frozen=True)
class Slopes:
    """Steps of travel speed for a step of wire feed that make the required, the target and the largest weld.

    ``largest`` is None where nothing limits the size.
    """

    smallest: float
    target: float
    largest: float | None = None


@dataclass(frozen=True)
class Region:
    """What chart and machines allow of wire feed and travel speed, and what the size of the weld allows of both.

    ``aims`` are the feeds that may be set at first: those whose current lies in the chart's range. ``over`` is the
    share of the target section by which the weld may be larger.
    """

    feeds: Steps
    speeds: Steps
    slopes: Slopes
    aims: Steps
    over: float = OVER

    def speeds_at(self, feed: int) -> Steps:
        """Return the travel speeds that are allowed at a wire feed."""
        low = self.speeds.low if self.slopes.largest is None else max(self.speeds.low, _up(self.slopes.largest * feed))
        return Steps(low, min(self.speeds.high, _down(self.slopes.smallest * feed)))

    def feeds_at(self, speed: int) -> Steps:
        """Return the wire feeds that are allowed at a travel speed."""
        largest = self.slopes.largest
        high = self.feeds.high if largest is None else min(self.feeds.high, _down(speed / largest))
        return Steps(max(self.feeds.low, _up(speed / self.slopes.smallest)), high)

    def aim(self, middle: float) -> tuple[int, int] | None:
        """Return feed and speed that lie inside both ranges and make the target weld; None where there are none.

        Of several: that with the feed nearest to ``middle`` and the weld that exceeds the target by the smallest share.
        """
        half = max(self.aims.high - self.aims.low, 1) / 2

        def cost(pair: tuple[int, int]) -> tuple[float, int]:
            over = 1 - pair[1] / (self.slopes.target * pair[0])
            return abs(pair[0] - middle) / half + over / OVER, pair[0]

        return min(self._fitting(), key=cost, default=None)

    def _fitting(self) -> Iterator[tuple[int, int]]:
        """Yield for each feed the fastest speed that fits."""
        for feed in range(self.aims.low, self.aims.high + 1):
            target = self.slopes.target * feed
            falling = _falling(target, self.speeds, self.over)
            found = next(filter(lambda speed: self._fits(feed, speed), falling), None)
            if found is not None:
                yield feed, found

    def _fits(self, feed: int, speed: int) -> bool:
        return self.speeds_at(feed).inner().holds(speed) and self.feeds_at(speed).inner().holds(feed)


def _falling(target: float, allowed: Steps, over: float) -> Iterator[int]:
    """Yield the allowed speeds from the target down to the slowest whose weld is not too much larger.

    A weld much too small has targets of a million times what a machine travels: those are not gone through.
    """
    yield from range(min(_down(target), allowed.high), max(_up(target * (1 - over)), allowed.low) - 1, -1)


def _up(value: float) -> int:
    return ceil(value - _NOISE * abs(value))


def _down(value: float) -> int:
    return floor(value + _NOISE * abs(value))
