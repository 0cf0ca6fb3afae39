"""The charts of a group of settings: what two dials allow together."""

from __future__ import annotations

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import CurrentAndTime, WeldSettings
from weld_packets.diagrams.charts.current_and_time import Load, load_picture
from weld_packets.diagrams.charts.feed_and_speed import Allowed, SizeDrawn, region_picture
from weld_packets.packet.records import Picture
from weld_packets.packet.settings.limits import CURRENT, FEED, SPEED, TIME, joule_bounds, size_text
from weld_packets.packet.settings.values import Showing, anchor, set_text
from weld_packets.units import SPELLINGS, magnitude, printed_unit, quantity, with_unit


def settings_charts(settings: WeldSettings, showing: Showing) -> tuple[Picture, ...]:
    """Return the charts of welds that are set the same; none where no two of their dials limit each other."""
    return (*coupling_charts(settings, showing), *load_charts(settings))


def coupling_charts(settings: WeldSettings, showing: Showing) -> tuple[Picture, ...]:
    """Return the chart of wire feed and travel speed; nothing for spots and where no size of weld is required."""
    coupling = settings.coupling
    if coupling is None or coupling.fastest is None:
        return ()
    feed, speed = settings.figure(FEED), settings.figure(SPEED)
    allowed = Allowed(
        feed=f"{feed.label}, {printed_unit(coupling.feed_unit)}",
        speed=f"{speed.label}, {printed_unit(coupling.speed_unit)}",
        feeds=(float(coupling.feeds[0]), float(coupling.feeds[1])),
        speeds=(float(coupling.speeds[0]), float(coupling.speeds[1])),
        fastest=coupling.fastest,
        slowest=coupling.slowest,
        lines=tuple(SizeDrawn(line.word, size_text(line, showing), line.slope) for line in coupling.lines),
        at=(magnitude(value_of(feed), coupling.feed_unit), magnitude(value_of(speed), coupling.speed_unit)),
        set_words=f"{set_text(feed)} and {set_text(speed)}",
    )
    caption = (
        "More wire feed or less travel speed makes a larger weld. Stay in the shaded field when you change either."
    )
    return (region_picture(anchor(settings.key, "region"), allowed, caption),)


def load_charts(settings: WeldSettings) -> tuple[Picture, ...]:
    """Return the chart of weld current over weld time; nothing for seams."""
    together = settings.together
    if together is None:
        return ()
    current, time = settings.figure(CURRENT), settings.figure(TIME)
    if current.value is None or time.value is None:
        return ()
    minimum, maximum = joule_bounds(together)
    load = Load(
        time=f"{time.label}, {printed_unit(together.time_unit)}",
        current=f"{current.label}, {printed_unit(together.current_unit)}",
        times=(float(together.times[0]), float(together.times[1])),
        currents=(float(together.currents[0]), float(together.currents[1])),
        minimum=_slope(together, magnitude(together.minimum, "kA²·s")),
        maximum=_slope(together, magnitude(together.maximum, "kA²·s")),
        at=(magnitude(time.value, together.time_unit), magnitude(current.value, together.current_unit)),
        minimum_words=f"weakest pairing: {with_unit(minimum, 'kA²·s')}",
        maximum_words=f"strongest pairing: {with_unit(maximum, 'kA²·s')}",
        set_words=f"{set_text(current)} and {set_text(time)}",
    )
    caption = (
        "Below the lower curve a weld may be cold, above the upper one metal may be expelled. "
        "Stay in the shaded field when you change either."
    )
    return (load_picture(anchor(settings.key, "load"), load, caption),)


def _slope(together: CurrentAndTime, heat: float) -> float:
    """Return a Joule integral as current² times weld time of one pulse, in the units of both dials."""
    one = quantity(1.0, together.current_unit) ** 2.0 * quantity(1.0, together.time_unit) * together.pulses
    return heat / float(one.m_as(SPELLINGS["kA²·s"]))
