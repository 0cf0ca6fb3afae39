"""How wire feed and travel speed limit each other, in sentences and as a chart; and the passes of a weld of several."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import Coupling, SizeLine, WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.packet.diagrams.region import Allowed, SizeDrawn, region_picture
from weld_packets.packet.numbers import inward_digits, printed_unit, set_amount
from weld_packets.packet.records import PassLine, Picture
from weld_packets.packet.values import Showing, anchor
from weld_packets.packet.values import value_of as value_printed
from weld_packets.packet.wording import capital, first_text, window_text
from weld_packets.units import exact, kinds, magnitude, to_last

_FEED, _SPEED, _READING = "wire_feed_speed", "travel_speed", "welding_current"
_HUNDREDTH, _TENTH = Decimal("0.01"), Decimal("0.1")
_SPREAD = {kinds.LENGTH: 0.013, kinds.AREA: 0.05}
"""To which both are told: a hundredth of a millimetre or a thousandth of an inch, a tenth of a square millimetre."""


def coupled_lines(settings: WeldSettings, showing: Showing) -> tuple[str, ...]:
    """Return as sentences how fast and how slow a robot may travel for a wire feed; nothing where no size is asked."""
    coupling = settings.coupling
    if coupling is None:
        return ()
    sizes = {line.word: _size(line, showing) for line in coupling.lines}
    found = []
    if coupling.fastest is not None:
        number = inward_digits(Decimal(repr(coupling.fastest)), ROUND_FLOOR)
        told = f"a faster weld is smaller than the {sizes['required']} required"
        found.append(f"Travel speed at most {number} × wire feed speed ({_units(coupling)}): {told}.")
    if coupling.slowest is not None:
        number = inward_digits(Decimal(repr(coupling.slowest)), ROUND_CEILING)
        told = f"a slower weld is larger than the {sizes['largest']} allowed"
        found.append(f"Travel speed at least {number} × wire feed speed ({_units(coupling)}): {told}.")
    reading = next((figure for figure in settings.derived if figure.key == _READING), None)
    if reading is not None and reading.window is not None:
        told = window_text(value_printed(reading, showing, ""))
        found.append(f"Wire feed only so far that the displayed current stays within {told}.")
    return tuple(found)


def coupling_charts(settings: WeldSettings, showing: Showing) -> tuple[Picture, ...]:
    """Return the chart of wire feed and travel speed; nothing for spots and where no size of weld is asked."""
    coupling = settings.coupling
    if coupling is None or coupling.fastest is None:
        return ()
    feed, speed = settings.figure(_FEED), settings.figure(_SPEED)
    allowed = Allowed(
        feed=f"{feed.label}, {printed_unit(coupling.feed_unit)}",
        speed=f"{speed.label}, {printed_unit(coupling.speed_unit)}",
        feeds=(float(coupling.feeds[0]), float(coupling.feeds[1])),
        speeds=(float(coupling.speeds[0]), float(coupling.speeds[1])),
        fastest=coupling.fastest,
        slowest=coupling.slowest,
        lines=tuple(SizeDrawn(line.word, _size(line, showing), line.slope) for line in coupling.lines),
        at=(magnitude(value_of(feed), coupling.feed_unit), magnitude(value_of(speed), coupling.speed_unit)),
        set_words=f"{set_amount(feed)} and {set_amount(speed)}",
    )
    caption = (
        "More wire feed or less travel speed makes a larger weld. Stay in the shaded field when you change either."
    )
    return (region_picture(anchor(settings.key, "region"), allowed, caption),)


def pass_lines(settings: WeldSettings, showing: Showing) -> Iterator[PassLine]:
    """Yield the passes of a weld of several, in sequence."""
    for each in settings.passes:
        throat = "" if each.throat is None else _size(SizeLine("target", each.throat, kinds.LENGTH, 0.0), showing)
        yield PassLine(
            number=each.number, place=each.place, aim=capital(each.aim), cleaning=capital(each.cleaning), throat=throat
        )


def _units(coupling: Coupling) -> str:
    return f"{printed_unit(coupling.speed_unit)} for {printed_unit(coupling.feed_unit)}"


def _size(line: SizeLine, showing: Showing) -> str:
    """Return a throat to a hundredth of a millimetre, or a cross-section to a tenth, in the order's first unit."""
    last = _HUNDREDTH if line.kind is kinds.LENGTH else _TENTH
    text = to_last(exact(line.size, line.kind.metric), last)
    figure = Figure("size", "Size", "", line.kind, line.kind.metric, line.size, text, spread=_SPREAD[line.kind])
    return first_text(value_printed(figure, showing, ""))
