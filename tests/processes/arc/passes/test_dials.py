"""What is dialled in whole steps, and what both dials make of feed and speed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from weld_packets.calculation.dial import between
from weld_packets.calculation.trace import AllowedRange, Name
from weld_packets.errors import OutOfRangeError
from weld_packets.processes.arc.passes.dials import Dial, Dials, Sections
from weld_packets.processes.arc.passes.feed_and_speed import Steps
from weld_packets.processes.arc.size.formulas import fillet_area
from weld_packets.units import kinds, quantity

FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)
SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)


def feed(low: float, high: float, *, middle: float = 5.0, machine: tuple[float, float] = (1.0, 20.0)) -> Dial:
    ends = (quantity(end, "m/min") for end in machine)
    setting = between("feeder F1", *ends, quantity(0.2, "m/min"))
    allowed_range = AllowedRange(quantity(low, "m/min"), quantity(high, "m/min"), "chart")
    return Dial(FEED, quantity(middle, "m/min"), allowed_range, setting, ())


def speed() -> Dial:
    setting = between("robot C1A", quantity(5, "cm/min"), quantity(200, "cm/min"), quantity(5, "cm/min"))
    return Dial(SPEED, quantity(50, "cm/min"), AllowedRange(None, None, "robot"), setting, ())


def bench(throats: tuple[float, float] | None = None) -> Dials:
    allowed_range = None if throats is None else AllowedRange(*(quantity(each, "mm") for each in throats), "chart")
    return Dials(feed(4, 6), speed(), quantity(1.131, "mm²"), quantity(95, "%"), allowed_range)


def refused(dial: Dial) -> str:
    with pytest.raises(OutOfRangeError) as caught:
        _ = dial.steps
    return caught.value.problems[0].message.replace("\N{NO-BREAK SPACE}", " ")


def test_the_steps_of_a_dial_lie_inside_chart_and_machine_with_their_ends() -> None:
    assert feed(4, 6).steps == Steps(20, 30)
    assert feed(4.1, 5.9).steps == Steps(21, 29)
    assert feed(4, 6, machine=(4.3, 5.5)).steps == Steps(22, 27)


def test_a_range_that_holds_one_step_alone_has_no_step_but_its_ends() -> None:
    assert refused(feed(5.0, 5.1)).startswith("Wire feed speed: no step but the ends of 0.2 m/min of feeder F1")


def test_a_range_that_holds_no_step_is_refused() -> None:
    assert refused(feed(5.05, 5.15)).startswith("Wire feed speed: no step of 0.2 m/min of feeder F1 lies inside")


def test_a_range_that_the_machine_does_not_reach_is_refused() -> None:
    assert refused(feed(4, 6, machine=(6.2, 20))).endswith("(chart) is outside what feeder F1 can be set to")


def test_a_range_of_a_chart_is_quoted_in_the_unit_in_which_the_machine_is_set() -> None:
    """5 m/min are 196.85 in/min, 5.1 m/min are 200.79 in/min."""
    setting = between("feeder F1", quantity(60, "in/min"), quantity(900, "in/min"), quantity(5, "in/min"))
    allowed_range = AllowedRange(quantity(5, "m/min"), quantity(5.1, "m/min"), "chart")
    message = refused(Dial(FEED, quantity(5.05, "m/min"), allowed_range, setting, ()))
    assert message.endswith("no step but the ends of 5 in/min of feeder F1 lies inside 196.9 to 200.8 in/min (chart)")
    beyond = AllowedRange(quantity(1, "m/min"), quantity(1.5, "m/min"), "chart")
    message = refused(Dial(FEED, quantity(1.2, "m/min"), beyond, setting, ()))
    assert message.startswith("Wire feed speed 39.37 to 59.06 in/min (chart) is outside")


def test_a_dial_is_set_nearest_to_its_middle_and_never_at_an_end() -> None:
    assert feed(4, 6, middle=4.89).nearest() == Decimal("4.8")
    assert feed(4, 6, middle=4.0).nearest() == Decimal("4.4")
    assert feed(4, 6, middle=9.0).nearest() == Decimal("5.6")


def test_a_slope_in_steps_is_one_in_units_by_the_steps_of_both_machines() -> None:
    """A step of speed is 5 cm/min, one of feed 0.2 m/min: 25 cm/min for a metre per minute."""
    assert bench().per_unit(1.0) == pytest.approx(25.0)
    assert bench().per_unit(0.4) == pytest.approx(10.0)


def test_a_larger_cross_section_takes_a_slower_robot_for_the_same_feed() -> None:
    """0.2 m/min of a wire of 1.131 mm² melt 0.2149 mm² m/min of weld metal: 10 mm² take 2.149 cm/min, in steps of 5."""
    assert bench().slope(quantity(10, "mm²")) == pytest.approx(2.1489 / 5, rel=1e-4)
    assert bench().slope(quantity(20, "mm²")) == pytest.approx(2.1489 / 10, rel=1e-4)


@pytest.mark.parametrize(
    ("throats", "passes", "carried"),
    [((3.0, 4.0), 1, True), ((4.0, 5.0), 1, True), ((3.0, 3.9), 1, False), ((4.1, 5.0), 1, False),
     ((2.8, 2.9), 2, True), ((3.0, 4.0), 2, False), (None, 1, True)],
)  # fmt: skip
def test_a_chart_carries_the_throat_of_each_of_equal_passes(
    throats: tuple[float, float] | None, passes: int, *, carried: bool
) -> None:
    """A throat of 4 mm in two equal passes is 2.83 mm in each."""
    required = fillet_area.work(reinforcement=quantity(1.1, "1"), throat=quantity(4, "mm"))
    sections = Sections(required, required)

    assert bench(throats).carries(sections, passes) is carried
