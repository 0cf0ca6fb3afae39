"""Whether the seams of an operation lie on the edges of their components as drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import get_args

from weld_packets.calculation.places.millimetres import within
from weld_packets.calculation.places.path import stations_mm
from weld_packets.calculation.places.wrong_unit import Drawing, drawings, wrong_scale
from weld_packets.calculation.sentences import length, lengths
from weld_packets.calculation.trace import Countermeasure, Measured, Verdict, warned
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.geometry.vectors import Point
from weld_packets.grouping import grouped
from weld_packets.model.order import LengthUnit
from weld_packets.processes.arc.records import Seam
from weld_packets.processes.arc.seams.placing import APART, Body, Fit, bodies_of, fit
from weld_packets.units import exact, plain, quantity, rounded, with_unit
from weld_packets.units.digits import TENTH, THOUSANDTH

_UNITS: tuple[LengthUnit, ...] = get_args(LengthUnit)


@dataclass(frozen=True)
class Limits:
    """How far off an edge a seam may lie in mm before it warns and is refused, on what authority, and how to look."""

    warns: float
    refuses: float
    source: str
    countermeasure: Countermeasure


@dataclass(frozen=True)
class Seen:
    """A seam with its place in the order, its components, the places looked at, and how it lies."""

    index: int
    seam: Seam
    bodies: tuple[Body, Body]
    stations: tuple[Point, ...]
    fit: Fit


def seen_seams(seams: Mapping[int, Seam], components: Mapping[str, Body]) -> Iterator[Seen]:
    """Yield every seam, given by its place in the order, of whose two components at least one has an outline.

    Raises OutOfRangeError with every flare bevel along a component that is no tube with corners.
    """
    gathering = Gathering()
    for index, seam in seams.items():
        bodies = bodies_of(seam, components)
        if any(body.shapes for body in bodies):
            stations = stations_mm(seam.path, APART)
            with gathering.step(key=f"seams[{index}]"):
                yield Seen(index, seam, bodies, stations, fit(seam, bodies, stations))
    gathering.finish(OutOfRangeError)


def edge_verdicts(seen: Sequence[Seen], components: Mapping[str, Body], limits: Limits) -> Iterator[Verdict]:
    """Yield how far off its edge the farthest seam lies, and a warning for each seam that is a little off.

    Raises OutOfRangeError with every seam that is far off: one problem for all that are read in a wrong unit, and one
    for all of a drawing that is.
    """
    far = [each for each in seen if not within(each.fit.off, limits.refuses)]
    _refuse(far, seen, components, limits)
    for each in seen:
        if not within(each.fit.off, limits.warns):
            yield _a_little_off(each, limits)
    good = [each for each in seen if within(each.fit.off, limits.warns)]
    if good:
        worst = max(good, key=lambda each: each.fit.off)
        found, maximum = lengths(worst.fit.off, limits.warns, TENTH)
        said = (
            f"{_counted(len(good))} on an edge of the components; largest deviation: {worst.seam.id}, ",
            found,
            "; at most ",
            maximum,
        )
        yield Verdict("seam_on_edge", "seams", said, passed=True, source=limits.source)


def _counted(count: int) -> str:
    return "1 seam lies" if count == 1 else f"{count} seams lie"


def _a_little_off(each: Seen, limits: Limits) -> Verdict:
    found, maximum = lengths(each.fit.off, limits.warns, TENTH)
    x, y, z = _measured_place(each.fit.at)
    names = " and ".join(body.component.name for body in each.bodies if body.shapes)
    said = (found, f" off the edge of {names} at x ", x, ", y ", y, ", z ", z, "; at most ", maximum)
    return warned("seam_on_edge", f"seam {each.seam.id}", said, limits.source, limits.countermeasure)


def _refuse(far: Sequence[Seen], seen: Sequence[Seen], components: Mapping[str, Body], limits: Limits) -> None:
    gathering = Gathering()
    left = list(far)
    for drawing in _files(components):
        mine = [each for each in seen if _touches(each, drawing)]
        faults = [each for each in left if _touches(each, drawing)]
        wrong = _drawn_wrong(drawing, mine, len(faults), limits)
        if wrong:
            gathering.problems += wrong.problems
            left = [each for each in left if not _touches(each, drawing)]
    for (_, other), members in grouped((_units(each, limits), each) for each in left).items():
        refusals = [_wrong_unit(members, other, limits)] if other else [_off_edge(each, limits) for each in members]
        gathering.problems += [problem for found in refusals for problem in found.problems]
    gathering.finish(OutOfRangeError)


def _files(components: Mapping[str, Body]) -> list[Drawing]:
    """Return the files that outlines come from; for what an order writes itself the unit of the paths is looked at."""
    order = [body.component for body in components.values()]
    files = {outline.file for component in order for outline in component.outlines}
    return [drawing for drawing in drawings(order) if drawing.name in files]


def _touches(each: Seen, drawing: Drawing) -> bool:
    return any(body.component.id in drawing.components for body in each.bodies)


def _drawn_wrong(drawing: Drawing, mine: Sequence[Seen], faults: int, limits: Limits) -> OutOfRangeError | None:
    def is_right_at(scale: float) -> bool:
        return all(within(_rescaled(each, drawing, scale), limits.warns) for each in mine)

    return wrong_scale(drawing, [each.seam.id for each in mine], faults, is_right_at)


def _rescaled(each: Seen, drawing: Drawing, scale: float) -> float:
    first, second = (
        Body(body.component, scale) if body.component.id in drawing.components else body for body in each.bodies
    )
    return fit(each.seam, (first, second), each.stations).off


def _units(each: Seen, limits: Limits) -> tuple[LengthUnit, str]:
    """Return the unit of a path, and the other one in which it would lie on an edge; none where there is none."""
    own = each.seam.path.unit
    others = (unit for unit in _UNITS if unit != own and within(_read_in(each, unit), limits.warns))
    return own, next(others, "")


def _read_in(each: Seen, unit: LengthUnit) -> float:
    path = each.seam.path.model_copy(update={"unit": unit})
    return fit(each.seam, each.bodies, stations_mm(path, APART)).off


def _wrong_unit(members: Sequence[Seen], unit: str, limits: Limits) -> OutOfRangeError:
    first = members[0]
    own = first.seam.path.unit
    names = ", ".join(each.seam.id for each in members)
    which = f"seam {names} lies" if len(members) == 1 else f"{len(members)} seams ({names}) lie"
    farthest = max(each.fit.off for each in members)
    return refusal(
        f"as written in {own} {which} up to {_distance_in(farthest, own)} off the edges of the components; "
        f"with 'unit: {unit}' {'it lies' if len(members) == 1 else 'they lie'} on them "
        f"within {_distance_in(limits.warns, own)}",
        f"write 'unit: {unit}' for the path, or correct the unit of the outlines",
        key=f"seams[{first.index}].path.unit",
        value=own,
    )


def _off_edge(each: Seen, limits: Limits) -> OutOfRangeError:
    unit, found = each.seam.path.unit, each.fit
    names = " and ".join(body.component.name for body in each.bodies if body.shapes)
    where = place_in(found.at, unit)
    if not within(found.air, limits.refuses):
        start = f"seam {each.seam.id} runs through the air"
        message = f"{start}: at {where} it is {_distance_in(found.air, unit)} from {names}"
    else:
        start = f"seam {each.seam.id} lies on no edge of {names}"
        message = f"{start}: at {where} it is {_distance_in(found.off, unit)} off"
    drawn = dict.fromkeys(outline.file for body in each.bodies for outline in body.component.outlines if outline.file)
    units = f", or correct the unit of {' and '.join(drawn)}" if drawn else ""
    return refusal(
        message,
        f"correct the path, name the components that the seam joins, or draw the edge that is missing{units}",
        key=f"seams[{each.index}].path",
        value=each.seam.id,
    )


def _distance_in(millimetres: float, unit: LengthUnit) -> str:
    """Return a distance: mm to a tenth, and before it inches to a thousandth where the path is written in inches."""
    metric = length(millimetres, TENTH).text
    return f"{_inches(millimetres)} ({metric})" if unit == "in" else metric


def place_in(point: Point, unit: LengthUnit) -> str:
    """Return a place in the fixture datum."""
    if unit == "in":
        return f"x {_inches(point[0])}, y {_inches(point[1])}, z {_inches(point[2])}"
    return "x {}, y {}, z {}".format(*(each.text for each in _measured_place(point)))


def _measured_place(point: Point) -> tuple[Measured, Measured, Measured]:
    """Return the coordinates of a place as lengths that a check can show in either system of units."""
    x, y, z = (length(coordinate, TENTH) for coordinate in point)
    return x, y, z


def _inches(millimetres: float) -> str:
    return with_unit(plain(rounded(exact(quantity(millimetres, "mm"), "in"), THOUSANDTH)), "in")
