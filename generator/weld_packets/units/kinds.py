"""Kinds of quantity: which units each may be written in, how far it may reach, how it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SystemOfUnits = Literal["metric", "US customary"]
_LENGTHS = ("mm", "cm", "m", "in", "ft", "µm", "um")
_SPEEDS = ("mm/s", "cm/min", "mm/min", "m/min", "m/s", "in/min", "in/s", "ipm")
_VOLUMES = ("l", "m³", "m3", "ft³", "ft3")


@dataclass(frozen=True)
class Kind:
    """A kind of quantity in the trade's sense.

    Attributes:
        name: what a message calls it.
        spellings: the units it may be written in; the first is the one for calculation.
        metric: unit it is shown in for metric readers.
        customary: unit it is shown in for US readers; the same as metric where the US has no other.
        lowest: smallest magnitude that is not absurd, in the calculation unit.
        highest: maximum magnitude that is not absurd, in the calculation unit.

    """

    name: str
    spellings: tuple[str, ...]
    metric: str
    customary: str
    lowest: float
    highest: float

    @property
    def unit(self) -> str:
        """The unit that calculation uses."""
        return self.spellings[0]


LENGTH = Kind("length", _LENGTHS, "mm", "in", -1e5, 1e5)
SIZE = Kind("length", _LENGTHS, "mm", "in", 1e-3, 1e5)
THICKNESS = Kind("thickness", _LENGTHS, "mm", "in", 1e-3, 500)
DISTANCE = Kind("distance", ("m", "ft", "mm", "cm", "in"), "m", "ft", 0, 1e3)
AREA = Kind("area", ("mm²", "mm2", "in²", "in2"), "mm²", "in²", 0, 1e6)
TIME = Kind(
    "time", ("ms", "s", "min", "h", "cycles@50Hz", "cycles@60Hz", "cycle@50Hz", "cycle@60Hz"), "ms", "ms", 0, 1e10
)
DURATION = Kind("duration", ("s", "ms", "min", "h"), "s", "s", 0, 1e8)
CURRENT = Kind("current", ("A", "kA"), "A", "A", 0, 2e5)
SPOT_CURRENT = Kind("current", ("kA", "A"), "kA", "kA", 0, 200)
VOLTAGE = Kind("voltage", ("V",), "V", "V", 0, 1e3)
FORCE = Kind("force", ("kN", "N", "daN", "kgf", "lbf"), "kN", "lbf", 0, 200)
TRAVEL_SPEED = Kind("travel speed", _SPEEDS, "mm/s", "in/min", 0, 1e4)
WIRE_FEED = Kind("wire feed speed", ("m/min", "mm/s", "mm/min", "cm/min", "in/min", "ipm"), "m/min", "in/min", 0, 200)
HEAT = Kind("energy per length", ("kJ/mm", "J/mm", "kJ/in"), "kJ/mm", "kJ/in", 0, 100)
GAS_FLOW = Kind("gas flow", ("l/min", "L/min", "ft³/h", "cfh", "scfh"), "l/min", "ft³/h", 0, 500)
WATER_FLOW = Kind("water flow", ("l/min", "L/min", "gal/min"), "l/min", "gal/min", 0, 500)
VOLUME = Kind("volume", _VOLUMES, "l", "ft³", 0, 1e7)
MASS = Kind("mass", ("kg", "g", "lb"), "kg", "lb", 0, 1e6)
MASS_RATE = Kind("deposition rate", ("kg/h", "lb/h"), "kg/h", "lb/h", 0, 1e3)
LINEAR_MASS = Kind("mass per length", ("g/m", "lb/ft"), "g/m", "lb/ft", 0, 1e5)
COATING_MASS = Kind("coating mass", ("g/m²", "g/m2", "oz/ft²", "oz/ft2"), "g/m²", "oz/ft²", 0, 2e3)
DENSITY = Kind("density", ("g/cm³", "g/cm3", "kg/m³", "kg/m3", "lb/in³", "lb/in3"), "g/cm³", "lb/in³", 0.1, 30)
TEMPERATURE = Kind("temperature", ("°C", "degC", "°F", "degF", "K"), "°C", "°F", -100, 2000)
STRESS = Kind("stress", ("N/mm²", "N/mm2", "MPa", "ksi"), "N/mm²", "ksi", 0, 5e3)
HYDROGEN = Kind("diffusible hydrogen", ("ml/100g",), "ml/100g", "ml/100g", 0, 100)
ANGLE = Kind("angle", ("°", "deg"), "°", "°", -360, 360)
SHARE = Kind("share", ("%",), "%", "%", 0, 1000)
NUMBER = Kind("number", ("1",), "1", "1", -1e9, 1e9)
JOULE_INTEGRAL = Kind("Joule integral", ("kA²·s",), "kA²·s", "kA²·s", 0, 1e5)
RATE = Kind("rate", ("1/min",), "1/min", "1/min", 0, 1e5)
SOUND_LEVEL = Kind("sound level", ("dB(A)",), "dB(A)", "dB(A)", 0, 200)
FREQUENCY = Kind("mains frequency", ("Hz",), "Hz", "Hz", 16, 400)

KINDS = tuple(value for value in list(globals().values()) if isinstance(value, Kind))
