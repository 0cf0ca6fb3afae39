"""Bounds of what tables say of machines and technique, so that a slip of a digit or a unit is refused at loading.

The bounds are wide: they hold back what no work does, and judge nothing. Common practice, no source. What a law or a
standard bounds is in `safety_bounds`, what a chart sets in the plant's own table of limits.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from weld_packets.calculation.table_checks.figures import Bounds, Figures, outside, table_problem, written
from weld_packets.errors import Problem
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import ArcChart, SpotChart, SpotSpacing
from weld_packets.model.tables.inspection import Imperfections, Inspections
from weld_packets.model.tables.machines import Machines
from weld_packets.model.tables.materials import Caps, Gases, Materials, Wires
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.qualification import QualificationRecord
from weld_packets.units import as_written, magnitude, quantity

_COATING = Bounds(5, 1000, "g/m²")
_FACE = Bounds(2, 25, "mm")
_FEED = Bounds(0.1, 60, "m/min")
_FIGURE_OF_ARC = Bounds(1, 1000, "A")
_FLOW_TIME = Bounds(0, 60, "s")
_FORCE = Bounds(0.05, 15, "kN")
_HOLD = Bounds(1, 5000, "ms")
_LEG = Bounds(0.5, 50, "mm")
_SHARE_OF_CYCLE = Bounds(10, 100, "%")
_SPEED = Bounds(0.5, 200, "mm/s")
_SPOT_CURRENT = Bounds(0.5, 100, "kA")
_SQUEEZE = Bounds(20, 2000, "ms")
_STEEL_INTERPASS = Bounds(40, 400, "°C")
_TIME_OF_MOVE = Bounds(0, 60, "s")
_VOLTAGE = Bounds(5, 60, "V")
_WELD_TIME = Bounds(5, 5000, "ms")
_WIRE = Bounds(0.5, 6, "mm")


def _ends(field: str, bounds: Bounds) -> dict[str, Bounds]:
    """Return both ends of a range with the same bounds."""
    return {f"{field}_from": bounds, f"{field}_to": bounds}


FIGURES: Figures = {
    Plant: {
        "": {
            "cap_face_at_most": Bounds(100, 200, "%"),  # at twice the diameter a face has four times the area
            "clock_allowance": Bounds(24, 26_280, "h"),
            "closed_seam_overlap": Bounds(1, 50, "mm"),
            "contact_distance_tolerance": Bounds(0.1, 5, "mm"),  # finer than a gauge reads; a third of a usual distance
            "contact_tip_after": Bounds(0.1, 200, "h"),
            "coupon_seam": Bounds(10, 5000, "mm"),
            "duty_planning_share": Bounds(20, 100, "%"),
            "flare_bevel_throat": Bounds(0.1, 1),
            "purge_time": Bounds(1, 1800, "s"),
            "seam_refused_over": Bounds(0.1, 50, "mm"),
            "seam_tolerance": Bounds(0.05, 10, "mm"),
            "set_up_weld_diameter": Bounds(2, 8),
            "shift_length": Bounds(1, 24, "h"),
            "spot_pitch_three_sheets_more": Bounds(0, 100, "%"),
            "squeeze_pneumatic": _SQUEEZE,
            "squeeze_servo": _SQUEEZE,
            "visible_indentation": Bounds(1, 50, "%"),
        },
        "unequal_thickness": {"ratio": Bounds(1, 10)},
        "root_gap": {"of_wire": Bounds(0.1, 2), "added_over": Bounds(0.5, 8, "mm")},
    },
    Machines: {
        "cells": {"load_time": Bounds(0, 3600, "s")},
        "robots": {
            "air_speed": Bounds(10, 5000, "mm/s"),
            "approach": _TIME_OF_MOVE,
            "reach": Bounds(200, 6000, "mm"),
            "travel_speed_step": Bounds(0.01, 10, "mm/s"),
            "weld_overhead": _TIME_OF_MOVE,
        },
        "power_sources": {
            "current_from": _FIGURE_OF_ARC,
            "current_to": Bounds(20, 2000, "A"),
            "voltage_from": _VOLTAGE,
            "voltage_step": Bounds(0.01, 2, "V"),
            "voltage_to": Bounds(10, 100, "V"),
            "wire_feed_from": _FEED,
            "wire_feed_step": Bounds(0.005, 1, "m/min"),
            "wire_feed_to": _FEED,
        },
        "power_sources.duty": {"current": Bounds(20, 2000, "A"), "share": _SHARE_OF_CYCLE},
        "power_sources.torch": {"nozzle_bore": Bounds(6, 30, "mm"), "contact_tip_setback": Bounds(-15, 15, "mm")},
        "power_sources.torch.ratings": {"current": Bounds(20, 1000, "A"), "share": _SHARE_OF_CYCLE},
        "guns": {
            "current_from": Bounds(0.1, 50, "kA"),
            "current_step": Bounds(0.005, 2, "kA"),
            "force_from": _FORCE,
            "force_repeatability": Bounds(0.1, 100, "%"),
            "force_step": Bounds(0.001, 1, "kN"),
            "maximum_duty": Bounds(0.5, 100, "%"),
            "opening": Bounds(5, 2000, "mm"),
            "permanent_current": Bounds(0.2, 50, "kA"),
            "throat_depth": Bounds(20, 3000, "mm"),
            "time_step": Bounds(0.5, 40, "ms"),
        },
    },
    Materials: {
        "entries": {
            "coating_mass": _COATING,
            "density": Bounds(7, 8.5, "g/cm³"),  # of steels, which are all that is known here
            "interpass_maximum": _STEEL_INTERPASS,
            "tensile_strength": Bounds(100, 2500, "N/mm²"),
            "working_temperature_minimum": Bounds(-20, 60, "°C"),  # neither far below freezing nor too hot for a hand
            "yield_strength": Bounds(50, 2000, "N/mm²"),
        },
        "entries.composition": {  # of steels that are welded in cells; chromium is bounded by its law
            "B": Bounds(0, 0.1),
            "C": Bounds(0, 0.6),
            "Cu": Bounds(0, 5),
            "Mn": Bounds(0, 30),
            "Mo": Bounds(0, 8),
            "Nb": Bounds(0, 2),
            "Ni": Bounds(0, 40),
            "Si": Bounds(0, 6),
            "V": Bounds(0, 1),
        },
    },
    Wires: {
        "entries": {
            **_ends("current", _FIGURE_OF_ARC),
            "density": Bounds(4, 9, "g/cm³"),  # a tube filled with flux is lighter than steel
            "diameter": _WIRE,
            "efficiency": Bounds(50, 100, "%"),
            "spool": Bounds(0.5, 1000, "kg"),
        },
        "entries.melting": _ends("contact_distance", Bounds(3, 60, "mm")),
        "entries.melting.law": {"arc": Bounds(0.02, 5), "resistance": Bounds(1e-6, 0.002)},
        "entries.melting.law.arc_length": dict.fromkeys(
            ("short arc", "globular", "spray", "pulsed"), Bounds(0.1, 20, "mm")
        ),
        "entries.melting.points": {"current": _FIGURE_OF_ARC, "wire_feed": _FEED},
    },
    Gases: {
        "entries": {
            "cylinder": Bounds(100, 1e6, "l"),
            **_ends("flow", Bounds(1, 100, "l/min")),
        }
    },
    Caps: {
        "entries": {
            "body": Bounds(5, 50, "mm"),
            "dressings": Bounds(0, 1000),
            "face": _FACE,
            "maximum_force": Bounds(0.3, 15, "kN"),
        },
        "entries.life": {"welds_between_dressings": Bounds(1, 20_000)},
    },
    Inspections: {"entries": {"after_parts": Bounds(1, 100_000), "interval": Bounds(1, 60_000, "min")}},
    Imperfections: {
        "entries.limits": {
            "angle": Bounds(1, 180, "°"),
            "at_most": Bounds(0.02, 50, "mm"),
            "over": Bounds(0, 100, "mm"),
            "plus": Bounds(0.02, 20, "mm"),
            "share": Bounds(0.005, 5),
        }
    },
    SpotSpacing: {"rows": {"overlap": Bounds(2, 200, "mm"), "pitch": Bounds(2, 500, "mm")}},
    SpotChart: {
        "": {"hold": _HOLD, "squeeze": _SQUEEZE, "upslope": Bounds(0, 5000, "ms")},
        "rows": {
            "cap_face": _FACE,
            "cool": Bounds(0, 5000, "ms"),
            "hold": _HOLD,
            "pulses": Bounds(1, 50),
            "squeeze": _SQUEEZE,
            "upslope": Bounds(0, 5000, "ms"),
        },
        "stack_limits": {
            "thickness_ratio": Bounds(1, 10),
            "total": Bounds(0.2, 30, "mm"),
            "total_to_thinnest_outside": Bounds(1, 20),
        },
        "weld_diameter": {"minimum": Bounds(1, 10)},
    },
    ArcChart: {
        "": {"post_flow": _FLOW_TIME, "pre_flow": _FLOW_TIME, "wire_diameter": _WIRE},
        "rows": {
            **_ends("leg", _LEG),
            "thickness": Bounds(0.2, 200, "mm"),
            **_ends("throat", _LEG),
        },
    },
    QualificationRecord: {
        "": {
            "cap_face": _FACE,
            **_ends("current", _FIGURE_OF_ARC),
            **_ends("electrode_force", _FORCE),
            "filler_diameter": _WIRE,
            **_ends("heat_input", Bounds(0.005, 20, "kJ/mm")),
            "interpass": Bounds(-20, 500, "°C"),
            "preheat": Bounds(-20, 400, "°C"),
            "pulses": Bounds(1, 50),
            "thermal_efficiency": Bounds(0.3, 1),
            "throat": _LEG,
            **_ends("travel_speed", _SPEED),
            **_ends("voltage", _VOLTAGE),
            **_ends("weld_current", _SPOT_CURRENT),
            **_ends("weld_time", _WELD_TIME),
            **_ends("wire_feed", _FEED),
        },
        "sheets": {"coating_mass": _COATING, "thickness": Bounds(0.1, 200, "mm")},
    },
}
BASE = Bounds(-30_000, 30_000, "mm")
"""Each coordinate of a robot's base: a cell with a long track is no longer."""


def technique_problems(table: Table) -> Iterator[Problem]:
    """Yield every figure of technique in a table that lies outside its bounds; keys are paths within the table."""
    bases = _bases(table) if isinstance(table, Machines) else ()
    for key, value, bounds in (*outside(table, FIGURES), *bases):
        ends = f"{bounds.lowest:g} to {bounds.highest:g} {bounds.unit}".rstrip()
        yield table_problem(key, written(value), f"this is from {ends}")
    if isinstance(table, Plant):
        yield from _tolerances(table)


def _bases(table: Machines) -> Iterator[tuple[str, Any, Bounds]]:
    """Yield each coordinate of a robot's base that is too far off."""
    for index, robot in enumerate(table.robots):
        for axis, number in enumerate(robot.base):
            value = quantity(float(number), robot.base_unit)
            if not BASE.hold(value):
                yield f"robots[{index}].base[{axis}]", value, BASE


def _tolerances(table: Plant) -> Iterator[Problem]:
    """Yield a seam that would be refused before it is warned of."""
    warned, refused = table.seam_tolerance, table.seam_refused_over
    if warned is not None and refused is not None and magnitude(refused, "mm") < magnitude(warned, "mm"):
        message = f"a seam is refused from here on, before 'seam tolerance', {as_written(warned)}, warns of it"
        yield table_problem("seam refused over", as_written(refused), message, "write the larger one here")
