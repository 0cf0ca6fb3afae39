"""Numbers with which nothing can be computed: a step of nothing, a share over the whole, ends swapped, no source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from weld_packets.calculation.places.millimetres import farthest, point_in_mm, within
from weld_packets.calculation.sentences import lengths, refused
from weld_packets.calculation.table_checks.figures import OwnRules, own_problems, table_problem
from weld_packets.errors import Problem, unplaced
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import ArcChart, SpotChart
from weld_packets.model.tables.inspection import Inspections
from weld_packets.model.tables.machines import Machines, Robot
from weld_packets.model.tables.materials import Caps, Gases, Materials, Melting, Wires
from weld_packets.model.tables.plant import Plant
from weld_packets.units import as_written, exact, magnitude, quantity, spelling
from weld_packets.units.digits import WHOLE

_POSITIVE: dict[type[Table], dict[str, tuple[str, ...]]] = {
    Machines: {
        "robots": ("reach", "travel_speed_step", "air_speed"),
        "power_sources": ("voltage_step", "wire_feed_step"),
        "guns": (
            *("force_repeatability", "force_step", "current_step", "time_step", "permanent_current"),
            *("maximum_duty", "throat_depth"),
        ),
    },
    Wires: {"entries": ("diameter", "density", "efficiency", "spool")},
    Gases: {"entries": ("cylinder",)},
    Caps: {"entries": ("face", "maximum_force")},
    Materials: {"entries": ("density",)},
}
_RISING: dict[type[Table], dict[str, tuple[str, ...]]] = {
    Machines: {"power_sources": ("current", "voltage", "wire_feed"), "guns": ("force", "current")},
    Wires: {"entries": ("current",)},
    Gases: {"entries": ("flow",)},
    Materials: {"entries": ("thickness",)},
}
CONTACT_GAUGES = MappingProxyType({"mm": quantity(1.0, "mm"), "in": quantity(0.0625, "in")})
"""Marks of the rule or gauge with which the contact distance is set: common practice, no source."""
_WHOLE_SHARE = 100.0
_CHECK = "check the number and its unit"
_MAXIMUM_TOLERANCE = 50.0
_MAXIMUM_MARGIN = 15.0
"""Share above the required size beyond which a target is another size."""
_FEWEST_POINTS = 2
_MAXIMUM_REPEATABILITY = 15.0
"""A gun that repeats its force no better than this share is broken: common practice, no source."""
_LONGEST_SQUEEZE = 2000.0
"""Milliseconds: no gun takes longer to build up its force (common practice, no source)."""
_REINFORCEMENT = (Decimal(1), Decimal(2))
"""From a flat fillet to twice its triangle."""
_MAXIMUM_FACTOR = Decimal(10)
"""No document requires a weld diameter of ten times the root of the thickness in mm."""
_SOURCE_OF: dict[type[Table], dict[str, dict[str, tuple[str, ...]]]] = {
    Machines: {
        "cells": {"margin_source": ("margin",)},
        "robots": {"keep_out_source": ("keep_out_radius",), "waiting_place_source": ("waiting_place",)},
        "guns": {"change_times_source": ("dressing_time", "cap_change_time")},
    },
    Plant: {"": {"change_times_source": ("wire_change_time", "contact_tip_change_time", "cylinder_change_time")}},
    Inspections: {"entries": {"stops_cell_source": ("stops_cell_for",)}},
}
"""Which source text each figure needs, by list of its table (none: the table itself)."""


def number_problems(table: Table) -> Iterator[Problem]:
    """Yield every number of a table with which nothing can be computed; keys are paths within the table."""
    for name, fields in _POSITIVE.get(type(table), {}).items():
        for key, entry in _entries(table, name):
            yield from (problem for field in fields for problem in _nothing(entry, field, key))
    for name, fields in _RISING.get(type(table), {}).items():
        for key, entry in _entries(table, name):
            yield from (problem for field in fields for problem in _swapped(entry, field, key))
    yield from own_problems(table, _OWN_RULES)


def _entries(table: Table, name: str) -> Iterator[tuple[str, Any]]:
    entries: Sequence[Any] = getattr(table, name)
    return ((f"{name.replace('_', ' ')}[{index}]", entry) for index, entry in enumerate(entries))


def _nothing(entry: Any, field: str, key: str) -> Iterator[Problem]:
    value = getattr(entry, field)
    if value is not None and value.magnitude <= 0:
        yield table_problem(f"{key}.{field}", as_written(value), "this must be above zero", "write the true value")


def _swapped(entry: Any, field: str, key: str) -> Iterator[Problem]:
    low, high = getattr(entry, f"{field}_from"), getattr(entry, f"{field}_to")
    if low > high:
        message = f"the range ends below its beginning {as_written(low)}"
        yield table_problem(f"{key}.{field}_to", as_written(high), message, "swap 'from' and 'to'")


def _above(share: Any, maximum: float, key: str) -> Iterator[Problem]:
    if magnitude(share, "%") > maximum:
        yield table_problem(
            key, as_written(share), f"this cannot be more than {maximum:g} %", "check the number and its unit"
        )


def _wires(table: Wires) -> Iterator[Problem]:
    for key, wire in _entries(table, "entries"):
        yield from _above(wire.efficiency, _WHOLE_SHARE, f"{key}.efficiency")
        for index, melting in enumerate(wire.melting):
            yield from _melting(melting, f"{key}.melting[{index}]")
        laws = [(gas, mode) for melting in wire.melting if melting.law
                for gas in melting.gases for mode in melting.law.arc_length]  # fmt: skip
        for gas, mode in dict.fromkeys(pair for pair in laws if laws.count(pair) > 1):
            message = f"the law under {gas} in {mode} is stated twice"
            yield table_problem(f"{key}.melting", gas, message, "keep the one that holds")


def _melting(melting: Melting, key: str) -> Iterator[Problem]:
    """Yield what is wrong with the melting data of a wire: neither or both forms, points that do not rise."""
    yield from _nothing(melting, "scatter", key)
    yield from _above(melting.scatter, _MAXIMUM_TOLERANCE, f"{key}.scatter")
    if (melting.law is None) == (not melting.points):
        remedy = "write the constants of a 'law', or 'points' with the range of contact distance of their trial"
        yield table_problem(key, "", "melting data are either a law or points", remedy)
    if melting.law is not None and not (melting.law.arc > 0 and melting.law.resistance > 0):
        yield table_problem(f"{key}.law", "", "both constants of a law must be above zero", "write the true values")
    if not melting.points:
        return
    if melting.contact_distance_from is None or melting.contact_distance_to is None:
        remedy = "state 'contact distance from' and 'contact distance to' of the trial"
        yield table_problem(key, "", "points hold at the contact distances of their trial", remedy)
    else:
        yield from _swapped(melting, "contact_distance", key)
    if len(melting.points) < _FEWEST_POINTS:
        yield table_problem(f"{key}.points", "", "one point ties no range of feed and current", "add a second point")
    for place, (before, after) in enumerate(pairwise(melting.points), 1):
        if not (before.wire_feed < after.wire_feed and before.current < after.current):
            written = f"{as_written(after.wire_feed)}, {as_written(after.current)}"
            remedy = "sort the points by wire feed; more wire takes more current"
            yield table_problem(
                f"{key}.points[{place}]", written, "feed and current must both rise from point to point", remedy
            )


def _guns(table: Machines) -> Iterator[Problem]:
    """Yield guns whose times are set in cycles of another mains than that of their cell, or whose force no gun has."""
    for key, gun in _entries(table, "guns"):
        if gun.force_repeatability is not None:
            yield from _above(gun.force_repeatability, _MAXIMUM_REPEATABILITY, f"{key}.force repeatability")
        if magnitude(gun.permanent_current, "kA") > magnitude(gun.current_to, "kA"):
            message = f"no gun carries more continuously than it gives at all, {as_written(gun.current_to)}"
            yield table_problem(f"{key}.permanent current", as_written(gun.permanent_current), message, _CHECK)
    mains = {cell.id: round(magnitude(cell.mains, "Hz")) for cell in table.cells}
    cells = {robot.equipment: robot.cell for robot in table.robots if robot.cell in mains}
    for key, gun in _entries(table, "guns"):
        unit = "" if gun.time_step is None else spelling(gun.time_step)
        if unit.startswith("cycles@") and gun.id in cells and unit != f"cycles@{mains[cells[gun.id]]}Hz":
            cell = cells[gun.id]
            message = f"the mains of cell {cell} have {mains[cell]} Hz: their cycles are of another length"
            remedy = f"write cycles@{mains[cell]}Hz, or ms for a control that is set in milliseconds"
            yield table_problem(f"{key}.time step", as_written(gun.time_step), message, remedy)


def _machines(table: Machines) -> Iterator[Problem]:
    yield from _guns(table)
    for key, source in _entries(table, "power_sources"):
        yield from _falling(dict(enumerate(source.duty)), f"{key}.duty")
        ratings = () if source.torch is None else source.torch.ratings
        for gas in dict.fromkeys(gas for rating in ratings for gas in rating.gases):
            own = {index: rating for index, rating in enumerate(ratings) if gas in rating.gases}
            yield from _falling(own, f"{key}.torch.ratings")


def _falling(ratings: Mapping[int, Any], key: str) -> Iterator[Problem]:
    """Yield a rating at less current than another one that allows less of the time: a slip, of no plate."""
    rising = sorted(ratings.items(), key=lambda each: magnitude(each[1].current, "A"))
    for (index, lower), (_, higher) in pairwise(rising):
        less = magnitude(lower.share, "%") < magnitude(higher.share, "%")
        if less and magnitude(lower.current, "A") < magnitude(higher.current, "A"):
            message = f"at {as_written(higher.current)} it is rated for {as_written(higher.share)}, at less for more"
            yield table_problem(f"{key}[{index}].share", as_written(lower.share), message, "compare with the plate")


def _materials(table: Materials) -> Iterator[Problem]:
    """Yield materials that may not be as warm between passes as they must be before the first one."""
    for key, each in _entries(table, "entries"):
        before, between = each.working_temperature_minimum, each.interpass_maximum
        if before is not None and between is not None and magnitude(before, "°C") >= magnitude(between, "°C"):
            message = f"before the first pass it has at least {as_written(before)} ('working temperature minimum')"
            yield table_problem(f"{key}.interpass maximum", as_written(between), message, "check both temperatures")


def _lives(table: Caps) -> Iterator[Problem]:
    for index, cap in enumerate(table.entries):
        if cap.face > cap.body:
            message, remedy = f"a face is no wider than its cap, {as_written(cap.body)}", "check both diameters"
            yield table_problem(f"entries[{index}].face", as_written(cap.face), message, remedy)
        for place, life in enumerate(cap.life):
            if life.welds_between_dressings < 1:
                key = f"entries[{index}].life[{place}].welds between dressings"
                yield table_problem(key, "0", "a cap welds at least once between dressings", "write the true value")


def _plant(table: Plant) -> Iterator[Problem]:
    minimum, maximum = _REINFORCEMENT
    if not minimum <= table.reinforcement <= maximum:
        message = f"the reinforcement of a fillet is from {minimum} (flat) to {maximum}"
        yield table_problem("reinforcement", str(table.reinforcement), message, "check the number")
    for field in ("reduced_speed", "contact_tip_after"):
        yield from (
            table_problem(field, problem.value, problem.message, problem.remedy)
            for problem in _nothing(table, field, "")
        )
    yield from _above(table.duty_planning_share, _WHOLE_SHARE, "duty planning share")
    for field in ("squeeze_servo", "squeeze_pneumatic"):
        squeeze = getattr(table, field)
        if squeeze is not None and magnitude(squeeze, "ms") > _LONGEST_SQUEEZE:
            message = f"no gun takes more than {_LONGEST_SQUEEZE:g} ms to build up its force"
            yield table_problem(field, as_written(squeeze), message, "check the number and its unit")
    if table.visible_indentation is not None:
        yield from _above(table.visible_indentation, _WHOLE_SHARE, "visible indentation")
    yield from _gauge(table)
    yield from _worn_face(table.cap_face_at_most)
    if table.size_margin is not None:
        yield from _above(table.size_margin, _MAXIMUM_MARGIN, "size margin")
        yield from (
            table_problem("size margin", problem.value, problem.message, problem.remedy)
            for problem in _nothing(table, "size_margin", "")
        )


def _gauge(table: Plant) -> Iterator[Problem]:
    """Yield a problem for a tolerance of the contact distance that is smaller than a mark of the plant's gauge."""
    tolerance, unit = table.contact_distance_tolerance, "in" if table.show_first == "US customary" else "mm"
    if tolerance is not None and exact(tolerance, unit) < exact(CONTACT_GAUGES[unit], unit):
        written = as_written(CONTACT_GAUGES[unit])
        message = f"the gauge for it has marks every {written}: this leaves one mark, and no allowed range"
        remedy = f"write {written} or more, or leave the key out where no range is allowed"
        yield table_problem("contact distance tolerance", as_written(tolerance), message, remedy)


def _worn_face(share: Any) -> Iterator[Problem]:
    if share is not None and magnitude(share, "%") < _WHOLE_SHARE:
        message = "a worn face is never smaller than the chart's"
        yield table_problem("cap face at most", as_written(share), message, "write 100 % or more")


def _arc(table: ArcChart) -> Iterator[Problem]:
    yield from _tolerances(table)
    counts = [len(plan.passes) for plan in table.pass_plans]
    for index, count in enumerate(counts):
        if count in counts[:index]:
            message = f"there is already a plan of {count} passes"
            yield table_problem(f"pass plans[{index}]", "", message, "keep one plan for each number of passes")


def _tolerances(table: SpotChart | ArcChart) -> Iterator[Problem]:
    for column, share in table.tolerance.items():
        yield from _above(share, _MAXIMUM_TOLERANCE, f"tolerance.{column}")


def _spot(table: SpotChart) -> Iterator[Problem]:
    yield from _tolerances(table)
    yield from _worn_face(table.cap_face_at_most)
    factors, limits = table.weld_diameter, table.stack_limits
    if not 0 < factors.minimum <= factors.target <= _MAXIMUM_FACTOR:
        message = f"minimum and target factor must rise from above 0 to at most {_MAXIMUM_FACTOR}"
        yield table_problem(
            "weld diameter.target", str(factors.target), message, "check both factors, such as 3.5 and 5"
        )
    for field in ("thickness_ratio", "total_to_thinnest_outside"):
        value = getattr(limits, field)
        if value is not None and value < 1:
            yield table_problem(
                f"stack limits.{field}", str(value), "a limit below 1 allows no stack", "check the number"
            )


_OWN_RULES: OwnRules = {
    Wires: _wires,
    Machines: _machines,
    Materials: _materials,
    Caps: _lives,
    Plant: _plant,
    ArcChart: _arc,
    SpotChart: _spot,
}


# ---------------------------------------------------------------- what a pair and its stops need


def pair_problems(table: Table) -> Iterator[Problem]:
    """Yield every figure without its source, and every waiting place that its robot does not reach."""
    for name, sources in _SOURCE_OF.get(type(table), {}).items():
        for key, entry in _listed(table, name):
            for source, figures in sources.items():
                if getattr(entry, source) is None:
                    yield from _unsourced(entry, figures, source, key)
    if isinstance(table, Machines):
        for index, robot in enumerate(table.robots):
            yield from _unreached(robot, f"robots[{index}].waiting place")


def _listed(table: Any, name: str) -> Iterator[tuple[str, Any]]:
    if not name:
        return iter([("", table)])
    return ((f"{name}[{index}].", entry) for index, entry in enumerate(getattr(table, name)))


def _unsourced(entry: Any, figures: tuple[str, ...], source: str, key: str) -> Iterator[Problem]:
    for figure in figures:
        if getattr(entry, figure) is not None:
            words = figure.replace("_", " ")
            remedy = f"add '{source.replace('_', ' ')}', such as an estimate of the plant, to be measured"
            yield unplaced(f"{key}{words}", "", f"{words} is given without its source", remedy)


def _unreached(robot: Robot, key: str) -> Iterator[Problem]:
    if robot.waiting_place is None:
        return
    _, far = farthest(robot, [point_in_mm(robot.waiting_place.at, robot.waiting_place.unit)])
    reach = magnitude(robot.reach, "mm")
    if not within(far, reach):
        found, limit = lengths(far, reach, WHOLE)
        said = ("the waiting place is ", found, f" from the base of {robot.id}, which reaches ", limit)
        written = ", ".join(str(each) for each in robot.waiting_place.at)
        yield from refused(said, "check the coordinates and their unit", key=key, value=written).problems
