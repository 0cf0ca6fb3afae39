"""The one pint registry, and the closed list of unit spellings that a source may use."""

from __future__ import annotations

from functools import cache, lru_cache

import pint


def _open_registry() -> pint.UnitRegistry[float]:
    """Return a new registry, read from pint's cache of definitions where that can be used (0.5 s are saved)."""
    try:
        return pint.UnitRegistry(cache_folder=":auto:")
    except Exception:  # noqa: BLE001 - a cache that is damaged, half written or not writable may fail anywhere
        return pint.UnitRegistry()


registry: pint.UnitRegistry[float] = _open_registry()
registry.define("cycle_50Hz = 20 * millisecond")
registry.define("cycle_60Hz = 1000/60 * millisecond")
registry.define("ml_per_100g = 0.01 * milliliter / gram")
registry.define("decibel_A = [sound_level_A]")  # levels are compared, never added, so that no logarithm is wanted
pint.set_application_registry(registry)  # type: ignore[no-untyped-call]

Quantity = pint.Quantity[float]
"""A float with its unit, from the one registry."""


@lru_cache(maxsize=8192, typed=True)
def quantity(magnitude: float, unit: str) -> Quantity:
    """Return ``magnitude`` in ``unit``, a spelling of ``SPELLINGS`` (never a pint expression).

    Nobody changes a quantity, so those that an order asks for again are kept: one takes pint ten times as long. The two
    zeros of floats are one key; both give 0, whichever is asked for first.
    """
    return registry.Quantity(magnitude + 0, _CONTAINERS[unit])


def scaled(value: Quantity, by: float) -> Quantity:
    """Return ``value`` times a plain number, quickly; its unit must not have a zero of its own, as °C has."""
    return registry.Quantity(value.magnitude * by, _container(tuple(value.unit_items())))


_DEFINITIONS: dict[str, str] = {
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "in": "inch",
    "ft": "foot",
    "µm": "micrometer",
    "mm²": "millimeter**2",
    "in²": "inch**2",
    "ms": "millisecond",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "cycles@50Hz": "cycle_50Hz",
    "cycles@60Hz": "cycle_60Hz",
    "A": "ampere",
    "kA": "kiloampere",
    "kA²·s": "kiloampere**2*second",
    "V": "volt",
    "Hz": "hertz",
    "N": "newton",
    "kN": "kilonewton",
    "daN": "decanewton",
    "kgf": "kilogram_force",
    "lbf": "pound_force",
    "mm/s": "millimeter/second",
    "cm/min": "centimeter/minute",
    "mm/min": "millimeter/minute",
    "m/min": "meter/minute",
    "m/s": "meter/second",
    "in/min": "inch/minute",
    "in/s": "inch/second",
    "kJ/mm": "kilojoule/millimeter",
    "J/mm": "joule/millimeter",
    "kJ/in": "kilojoule/inch",
    "J": "joule",
    "l/min": "liter/minute",
    "ft³/h": "foot**3/hour",
    "gal/min": "gallon/minute",
    "l": "liter",
    "m³": "meter**3",
    "ft³": "foot**3",
    "kg": "kilogram",
    "g": "gram",
    "lb": "pound",
    "kg/h": "kilogram/hour",
    "lb/h": "pound/hour",
    "g/m": "gram/meter",
    "lb/ft": "pound/foot",
    "g/m²": "gram/meter**2",
    "oz/ft²": "ounce/foot**2",
    "g/cm³": "gram/centimeter**3",
    "kg/m³": "kilogram/meter**3",
    "lb/in³": "pound/inch**3",
    "°C": "degree_Celsius",
    "°F": "degree_Fahrenheit",
    "K": "kelvin",
    "N/mm²": "newton/millimeter**2",
    "MPa": "megapascal",
    "ksi": "kip/inch**2",
    "ml/100g": "ml_per_100g",
    "°": "degree",
    "%": "percent",
    "1": "dimensionless",
    "1/min": "1/minute",
    "dB(A)": "decibel_A",
}
_ALIASES = {
    "um": "µm",
    "mm2": "mm²",
    "in2": "in²",
    "L/min": "l/min",
    "ipm": "in/min",
    "degC": "°C",
    "degF": "°F",
    "deg": "°",
    "g/cm3": "g/cm³",
    "g/m2": "g/m²",
    "N/mm2": "N/mm²",
    "cfh": "ft³/h",
    "scfh": "ft³/h",
    "lb/in3": "lb/in³",
    "cycle@50Hz": "cycles@50Hz",
    "cycle@60Hz": "cycles@60Hz",
    "m3": "m³",
    "ft3": "ft³",
    "kg/m3": "kg/m³",
    "oz/ft2": "oz/ft²",
}

SPELLINGS: dict[str, pint.Unit] = {text: registry.Unit(name) for text, name in _DEFINITIONS.items()}
"""Every spelling of a unit that a source may use, with its pint unit."""
SPELLINGS |= {alias: SPELLINGS[text] for alias, text in _ALIASES.items()}


@cache
def _container(parts: tuple[tuple[str, float], ...]) -> pint.util.UnitsContainer:
    """Return units as pint keeps them inside, from which it makes a quantity in half the time."""
    return registry.UnitsContainer(dict(parts))


_CONTAINERS = {text: _container(tuple((1.0 * unit).unit_items())) for text, unit in SPELLINGS.items()}


@cache
def _factor(parts: tuple[tuple[str, float], ...], wanted: str) -> float | None:
    """Return what one unit of these ``parts`` is in ``wanted``; None where the scales also differ in their zero."""
    unit = registry.Unit(registry.UnitsContainer(dict(parts)))
    if SPELLINGS[wanted] == unit:
        return 1.0
    zero, one = (registry.Quantity(number, unit).m_as(SPELLINGS[wanted]) for number in (0.0, 1.0))
    return float(one) if zero == 0.0 else None


def magnitude(value: Quantity, unit: str) -> float:
    """Return the number of ``unit`` (a spelling of ``SPELLINGS``) in ``value``, quickly; for arithmetic in floats."""
    factor = _factor(tuple(value.unit_items()), unit)
    return float(value.m_as(SPELLINGS[unit])) if factor is None else float(value.magnitude) * factor
