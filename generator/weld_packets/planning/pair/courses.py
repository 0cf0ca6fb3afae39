"""From an operation with its settings and machines to the courses of both robots, in whole µm and ms."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import ceil, cos, pi

from weld_packets.calculation.places.millimetres import point_in_mm
from weld_packets.calculation.places.path import length_mm, pieces_of, points_mm
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.geometry.arcs import Arc
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Path
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Cell, Robot
from weld_packets.planning.pair.blocks import Bead, Course, Pace, Place, course
from weld_packets.planning.pair.planning import plan_pair
from weld_packets.planning.pair.records import Clearance, NotChecked, PairPlan
from weld_packets.processes.family import family_of
from weld_packets.units import Quantity, in_mm, magnitude

_CHORD = pi / 12
"""Largest angle of a chord of a circular piece: 15°, which leaves out under 0.9 % of the radius."""
_ROUNDED = 2
"""µm by which whole micrometres of two places can shorten their distance: half the diagonal of 1 µm at each."""


def pair_of(found: OperationResult, approved: ApprovedTables) -> PairPlan | NotChecked:
    """Return the plan of both robots of an operation, or what the tables lack for it.

    Raises OutOfRangeError where no order of going first keeps the tools apart.
    """
    first, second = (approved.robots[name] for name in found.operation.robots)
    cell = approved.cells[found.operation.cell]
    known = _known(cell, first, second)
    if isinstance(known, NotChecked):
        return known
    settings = {weld: group for group in found.settings for weld in group.welds}
    one, other = (_course(found, robot, settings, place) for robot, place in ((first, known[1]), (second, known[2])))
    missed = sum(max(map(_left_out, _paths(found, name)), default=0.0) for name in found.operation.robots)
    clearance = replace(known[0], slack=_ROUNDED + ceil(1000 * missed))
    return plan_pair(found.operation.robots, (one, other), clearance)


def _known(cell: Cell, *robots: Robot) -> tuple[Clearance, Place, Place] | NotChecked:
    """Return what the tables say about the distance of two robots, or what they lack."""
    missing = [f"keep out radius of {robot.id}" for robot in robots if robot.keep_out_radius is None]
    missing += [f"waiting place of {robot.id}" for robot in robots if robot.waiting_place is None]
    missing += [] if cell.margin is not None else [f"margin of cell {cell.id}"]
    radii = [_micrometres(robot.keep_out_radius) for robot in robots if robot.keep_out_radius is not None]
    places = [point_in_mm(each.at, each.unit) for robot in robots if (each := robot.waiting_place) is not None]
    if missing or cell.margin is None:
        return NotChecked(tuple(missing))
    sources = [cell.margin_source, *(robot.keep_out_source for robot in robots)]
    sources += [robot.waiting_place_source for robot in robots]
    stated = tuple(dict.fromkeys(source for source in sources if source))
    clearance = Clearance((radii[0], radii[1]), _micrometres(cell.margin), sources=stated)
    return clearance, _place(places[0]), _place(places[1])


def _micrometres(length: Quantity) -> int:
    return ceil(round(1000 * in_mm(length), 6))


def _place(point: Point) -> Place:
    x, y, z = (round(1000 * each) for each in point)
    return x, y, z


def _milliseconds(seconds: float) -> int:
    return ceil(round(1000 * seconds, 6))


def _course(found: OperationResult, robot: Robot, settings: Mapping[str, WeldSettings], waiting: Place) -> Course:
    pace = Pace(
        air_speed=max(1, int(1000 * magnitude(robot.air_speed, "mm/s"))),
        approach=_milliseconds(magnitude(robot.approach, "s")),
    )
    return course(waiting, list(_beads(found, robot, settings)), pace)


def _beads(found: OperationResult, robot: Robot, settings: Mapping[str, WeldSettings]) -> Iterator[Bead]:
    """Yield what a robot welds in the order of the operation; passes of a seam follow each other.

    Half of what a weld takes besides its arc or sequence is spent before it and half after it.
    """
    besides = _milliseconds(magnitude(robot.weld_overhead, "s"))
    before, after = besides // 2, besides - besides // 2
    family = family_of(found.operation.process)
    welds = family.welds(found.operation)
    lengths = {weld.id: length_mm(weld.path) for weld in welds if weld.path is not None}
    for weld in (weld for weld in welds if weld.robot == robot.id):
        group = settings[weld.id]
        seconds = magnitude(value_of(group.figure(family.duration_key)), "s")
        if weld.path is None:
            yield Bead(weld.id, 1, (_place(weld.ends[0]),), before, _milliseconds(seconds), after)
            continue
        whole = sum(lengths[each] for each in group.welds)
        burning = seconds * lengths[weld.id] / whole / group.pass_count
        points = tuple(map(_place, points_mm(weld.path, _CHORD)))
        for number in range(1, group.pass_count + 1):
            yield Bead(weld.id, number, points, before, _milliseconds(burning), after)


def _left_out(path: Path) -> float:
    """Return by how many mm the chords of a path miss it at most."""
    curves = [piece for piece in pieces_of(path) if isinstance(piece, Arc)]
    return max((_sagitta(curve) for curve in curves), default=0.0)


def _sagitta(curve: Arc) -> float:
    return curve.radius * (1 - cos(curve.sweep / ceil(curve.sweep / _CHORD) / 2))


def _paths(found: OperationResult, robot: str) -> Iterator[Path]:
    for weld in family_of(found.operation.process).welds(found.operation):
        if weld.robot == robot and weld.path is not None:
            yield weld.path
