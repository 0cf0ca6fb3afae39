"""Squeeze, hold and upslope of a spot: from the chart's row, else by the drive of the gun and by thickness."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from weld_packets.calculation.chart import Place, carries, locate, read
from weld_packets.calculation.countermeasures import PEEL
from weld_packets.calculation.dial import set_up_to_step
from weld_packets.calculation.readings import doubts
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Weight
from weld_packets.errors import refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.units import Quantity, kinds, spelling

SQUEEZE = Name("squeeze_time", "Squeeze time", "t_s", kinds.TIME)
UPSLOPE = Name("upslope_time", "Upslope time", "t_u", kinds.TIME)
COOL = Name("cool_time", "Cool time between pulses", "t_c", kinds.TIME)
HOLD = Name("hold_time", "Hold time", "t_h", kinds.TIME)


def squeeze(place: Place, tools: Tools, approved: ApprovedTables) -> Figure:
    """Return the squeeze time: that of the chart, else the plant's for the drive of the gun.

    Raises OutOfRangeError where neither states one.
    """
    if carries(place, "squeeze"):
        return _read(SQUEEZE, "squeeze", place, tools)
    stated = _head(place, "squeeze")
    if stated is not None:
        return _one_for_all(SQUEEZE, stated, place, tools)
    plant, drive = approved.plant, tools.gun.drive
    of_drive = plant.squeeze_servo if drive == "servo" else plant.squeeze_pneumatic
    if of_drive is None:
        raise refusal(
            f"chart {place.table.table} states no squeeze time, and the plant none for a {drive} gun",
            f"add 'squeeze {drive}' with 'squeeze source' to the plant's table, or 'squeeze' to the chart",
        )
    origin = f"table {plant.table}, {drive} gun: {plant.squeeze_source}"
    return _set(SQUEEZE, of_drive, origin, tools, doubts(plant.squeeze_source, plant.squeeze_reliability, PEEL))


def hold(place: Place, tools: Tools, approved: ApprovedTables) -> Figure:
    """Return the hold time at the thickness: that of the chart, or of the chart that it names for it.

    A chart that states one hold time for every thickness is followed with a warning. Raises OutOfRangeError where
    none is stated, or the named chart does not reach the thickness.
    """
    if carries(place, "hold"):
        return _read(HOLD, "hold", place, tools)
    named: str | None = getattr(place.table, "hold_from", None)
    if named is not None:
        other = approved.spot_charts[named]
        figure = _read(HOLD, "hold", locate(other, place.at), tools)
        words = f"the chart states no hold time; it is that of chart {named} at the same thickness"
        return replace(figure, remarks=(Remark(Weight.NOTE, words),))
    stated = _head(place, "hold")
    if stated is None:
        raise refusal(
            f"chart {place.table.table} states no hold time",
            "add the column 'hold' or the key 'hold from' to the chart, or 'hold' with its 'sequence source'",
        )
    return _one_for_all(HOLD, stated, place, tools)


def upslope(place: Place, tools: Tools) -> tuple[Figure, ...]:
    """Return the upslope time where the chart states one."""
    if carries(place, "upslope"):
        return (_read(UPSLOPE, "upslope", place, tools),)
    stated = _head(place, "upslope")
    return () if stated is None else (_one_for_all(UPSLOPE, stated, place, tools),)


def cool(place: Place, tools: Tools) -> Figure:
    """Return the time between two pulses; raise OutOfRangeError where the chart states none."""
    if not carries(place, "cool"):
        raise refusal(f"chart {place.table.table} states no {COOL.label.lower()}", "add the column 'cool' to the chart")
    return _read(COOL, "cool", place, tools)


def _head(place: Place, key: str) -> Quantity | None:
    table: Any = place.table
    stated: Quantity | None = getattr(table, key, None)
    return stated


def _read(name: Name, column: str, place: Place, tools: Tools) -> Figure:
    lookup = read(place, column)[0]
    return set_up_to_step(name, lookup.result, tools.time(), (lookup,), ())


def _one_for_all(name: Name, stated: Quantity, place: Place, tools: Tools) -> Figure:
    """Return a time that the head of the chart states, with a warning that it is one for every thickness."""
    source: str = getattr(place.table, "sequence_source", "")
    words = f"the chart states one {name.label.lower()} for every thickness and gun: {source}"
    origin = f"table {place.table.table}: {source}"
    return _set(name, stated, origin, tools, (Remark(Weight.WARNING, words, countermeasure=PEEL),))


def _set(name: Name, stated: Quantity, origin: str, tools: Tools, remarks: tuple[Remark, ...]) -> Figure:
    given = Given(name.label, stated, spelling(stated), origin)
    return set_up_to_step(name, stated, tools.time(), (given,), remarks)
