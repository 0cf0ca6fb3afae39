"""Arc energy and heat input of settings: the usual range, its ends included, and what is said outside it."""

from typing import Any

import pytest
from weld_packets.calculation.readings import ordered
from weld_packets.calculation.sentences import sentence
from weld_packets.calculation.trace import Name
from weld_packets.processes.arc.heat.heat import heat_of
from weld_packets.units import kinds, quantity

CURRENT = Name("welding_current", "Welding current", "I", kinds.CURRENT)
VOLTAGE = Name("arc_voltage", "Arc voltage", "U", kinds.VOLTAGE)
SPEED = Name("travel_speed", "Travel speed", "v", kinds.TRAVEL_SPEED)


def heat_at(amperes: float, volts: float, speed: float) -> Any:
    """Return the heat input of process 135, of whose arc energy 0.8 reaches the plate."""
    stated = ((CURRENT, amperes, "A"), (VOLTAGE, volts, "V"), (SPEED, speed, "mm/s"))
    figures = (ordered(name, quantity(number, unit), "test") for name, number, unit in stated)
    return heat_of("135", *figures)[1]


@pytest.mark.parametrize(
    ("amperes", "speed", "warned"),
    [(200, 2.0, False), (201, 2.0, True), (100, 20.0, False), (99, 20.0, True)],
)
def test_both_ends_of_the_usual_heat_input_belong_to_it(amperes: float, speed: float, *, warned: bool) -> None:
    """0.8 · 25 V · 200 A / 2 mm/s = 2 kJ/mm; 0.8 · 25 V · 100 A / 20 mm/s = 0.1 kJ/mm."""
    assert bool(heat_at(amperes, 25.0, speed).remarks) is warned


def test_the_usual_range_is_said_in_both_systems_of_units() -> None:
    (remark,) = heat_at(400, 25.0, 2.0).remarks
    said = [sentence(remark.said, system).replace("\N{NO-BREAK SPACE}", " ") for system in ("metric", "US customary")]
    assert said == ["outside the usual 0.1 to 2 kJ/mm", "outside the usual 2.54 to 50.8 kJ/in (0.1 to 2 kJ/mm)"]
