"""Whatever is set or read: the range shown is never wider than the true one, and holds what is shown, in both units."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.dial import Setting, between, set_inside
from weld_packets.calculation.readings import charted
from weld_packets.calculation.trace import AllowedRange, Figure, Lookup, Name
from weld_packets.errors import OutOfRangeError
from weld_packets.packet.records.values import Value
from weld_packets.packet.settings.values import Showing, printed_value
from weld_packets.units import Kind, Quantity, exact, from_decimal, kinds, quantity
from weld_packets.units.digits import TENTH, WHOLE

_NOISE = Decimal("1e-9")
_OF_ONE_STEP = Decimal("0.03")
"""How much of a step the conversion of the only step that can be set may lie beyond the range of its chart."""
DIALS: dict[Kind, tuple[tuple[str, float, float], tuple[str, ...]]] = {
    kinds.WIRE_FEED: (
        ("m/min", 1.5, 25),
        ("0.1 m/min", "0.05 m/min", "0.01 m/min", "1 in/min", "2 in/min", "5 in/min"),
    ),
    kinds.TRAVEL_SPEED: (
        ("mm/s", 1, 30),
        ("0.1 mm/s", "0.05 mm/s", "1 cm/min", "0.01 m/min", "0.2 in/min", "1 in/min"),
    ),
    kinds.GAS_FLOW: (("l/min", 5, 25), ("1 l/min", "0.5 l/min", "1 ft³/h", "2 ft³/h")),
    kinds.LENGTH: (("mm", 6, 30), ("0.5 mm", "1 mm", "0.0625 in", "0.005 in")),
    kinds.FORCE: (("kN", 0.8, 8), ("0.05 kN", "0.1 kN", "10 N", "5 daN", "10 lbf", "25 lbf", "1 lbf")),
    kinds.SPOT_CURRENT: (("kA", 3, 20), ("0.1 kA", "0.05 kA", "10 A")),
    kinds.TIME: (("ms", 60, 1200), ("1 cycles@50Hz", "1 cycles@60Hz", "0.5 cycles@60Hz", "1 ms", "10 ms", "5 ms")),
}
"""Of each kind of setting: unit and reach of the charts, and the steps of machines."""
SHOWINGS = [Showing(first, mains) for first in ("metric", "US customary") for mains in (50, 60)]


@st.composite
def dialled(draw: st.DrawFn) -> tuple[Figure, AllowedRange]:
    """Return a figure that is set inside a chart's range at a machine, and the range of both, uncut."""
    kind = draw(st.sampled_from(list(DIALS)))
    (unit, lowest, highest), steps = DIALS[kind]
    number, step_unit = draw(st.sampled_from(steps)).split(" ")
    digits = draw(st.integers(0, 3))
    low, high = sorted(round(draw(st.floats(lowest, highest)), digits) for _ in range(2))
    wanted = draw(st.sampled_from([(low + high) / 2, low, high]))
    allowed = AllowedRange(quantity(low, unit), quantity(high, unit), "chart")
    step = quantity(float(number), step_unit)
    ends = sorted(round(draw(st.floats(lowest / 2, highest * 2)), digits) for _ in range(2))
    setting = draw(st.sampled_from([Setting("dial", step), between("dial", *(quantity(e, unit) for e in ends), step)]))
    try:
        figure = set_inside(Name("x", "X", "x", kind), quantity(wanted, unit), allowed, setting, ())
    except OutOfRangeError:
        assume(condition=False)
        raise
    if setting.low is not None and setting.high is not None:
        cut = max(allowed.low, setting.low.at), min(allowed.high, setting.high.at)
        allowed = AllowedRange(*cut, "chart and machine")
    return figure, allowed


@st.composite
def read(draw: st.DrawFn) -> tuple[Figure, AllowedRange]:
    """Return a figure that a machine shows, in whole amperes or tenths of a volt, and the range of its chart."""
    kind, unit, last = draw(st.sampled_from([(kinds.CURRENT, "A", WHOLE), (kinds.VOLTAGE, "V", TENTH)]))
    low, high = sorted(draw(st.floats(9, 400)) for _ in range(2))
    middle = quantity((low + high) / 2, unit)
    lookup = Lookup("t", "A", "s", "x", quantity(1, "mm"), ("1 mm",), ("x",), None, middle)
    allowed = AllowedRange(quantity(low, unit), quantity(high, unit), "chart")
    try:
        return charted(Name("x", "X", "x", kind), lookup, allowed, last), allowed
    except OutOfRangeError:
        assume(condition=False)
        raise


def assert_inside(value: Value, allowed: AllowedRange, beyond: Quantity | None = None) -> None:
    """Hold both ends shown, in both units, to the true range, and what is shown to what is shown of its range.

    ``beyond`` is a width by which the number in the other unit may be off: nobody can set anything but the one step.
    """
    assert value.window is not None
    assert value.amount is not None
    window, amount = value.window, value.amount
    shown = (
        (window.low, amount.value, window.high, amount.unit, None),
        (window.second_low, amount.second, window.second_high, amount.second_unit, beyond),
    )
    for low, at, high, unit, off in shown:
        if not at:
            continue
        spelled = unit.replace("cycles at ", "cycles@").replace("cycle at ", "cycles@").replace(" Hz", "Hz")
        first, last = (exact(end, spelled) for end in (allowed.low, allowed.high) if end is not None)
        more = Decimal(0) if off is None else exact(off, spelled)
        assert Decimal(low) <= Decimal(at) <= Decimal(high), (low, at, high, unit)
        assert first * (1 - _NOISE) - more <= Decimal(low), (low, first, unit)
        assert Decimal(high) <= last * (1 + _NOISE) + more, (high, last, unit)


def _of_the_only_step(figure: Figure) -> Quantity | None:
    """Return how far a conversion may be off where the range holds one step alone; None where it holds more."""
    ends = figure.allowed_range
    if ends is None or ends.low is None or ends.low != ends.high or figure.step is None:
        return None
    return from_decimal(figure.step * _OF_ONE_STEP, figure.unit)


@settings(max_examples=400, deadline=None)
@given(dialled(), st.sampled_from(SHOWINGS))
def test_what_is_set_is_shown_inside_a_range_that_is_never_wider_than_the_true_one(
    found: tuple[Figure, AllowedRange], showing: Showing
) -> None:
    figure, allowed = found
    assert_inside(printed_value(figure, showing, "k"), allowed, _of_the_only_step(figure))


@settings(max_examples=200, deadline=None)
@given(read(), st.sampled_from(SHOWINGS))
def test_what_is_read_is_shown_inside_a_range_that_is_never_wider_than_the_true_one(
    found: tuple[Figure, AllowedRange], showing: Showing
) -> None:
    figure, allowed = found
    assert_inside(printed_value(figure, showing, "k"), allowed)
