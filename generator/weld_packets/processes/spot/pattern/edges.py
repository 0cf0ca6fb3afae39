"""Where spots are on their sheets: inside the outline, far enough from the edge, within the gun's throat."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from weld_packets.calculation.countermeasures import EDGES
from weld_packets.calculation.places.millimetres import flat_shapes, within
from weld_packets.calculation.places.wrong_unit import Drawing, drawings, wrong_scale
from weld_packets.calculation.sentences import length, lengths, likewise, refused
from weld_packets.calculation.trace import Measured, Verdict, Words
from weld_packets.errors import Gathering, OutOfRangeError, Problem, unplaced
from weld_packets.geometry.outlines import FlatShape
from weld_packets.model.order import Component
from weld_packets.processes.spot.gun.tools import Tools
from weld_packets.processes.spot.pattern.pitch_and_reach import Placed
from weld_packets.units import in_mm
from weld_packets.units.digits import TENTH, WHOLE


@dataclass(frozen=True)
class Inside:
    """How far a spot is inside the nearest edge of one sheet, in mm."""

    item: Placed
    component: str
    inside: float

    @property
    def name(self) -> str:
        """Return the name of the component of the sheet."""
        return _name(self.item, self.component)


_SEVERAL = 3
"""Spots outside one outline from which on the outline is thought wrong, not the spots."""


class OutsideError(OutOfRangeError):
    """A spot that is outside the outline of one of its sheets."""


@dataclass(frozen=True)
class _Bad:
    """A spot at a bad place on its sheets: how far it is from the edge, what that breaks, and what to do.

    ``rule`` is equal for all spots that break one rule at one component: they are one mistake.
    """

    rule: tuple[str, ...]
    index: int
    spot: str
    found: Measured
    said: Words
    remedy: str


_Faults = list["OutsideError | _Bad"]


def edge_verdicts(
    placed: Sequence[Placed], components: Sequence[Component], tools: Mapping[str, Tools]
) -> tuple[Verdict, ...]:
    """Return edge distance and throat depth by stack and robot, and what no outline allowed to check.

    A sheet is checked by the outlines whose plane passes the spot within the thickness of the stack.
    Raises OutOfRangeError with every spot outside a sheet, too near to an edge, or deeper than the gun's throat.
    """
    shapes = {component.id: flat_shapes(component.outlines) for component in components}
    faults: dict[tuple[str, int], _Faults] = {}
    found: list[Inside] = []
    unchecked: Counter[str] = Counter()
    for item in placed:
        for component in _sheets(item):
            near = _near(item, shapes[component])
            unchecked[component] += not near
            if near:
                entry, wrong = _looked_at(item, component, near, tools)
                found += [entry] if entry else []
                faults |= {(component, item.index): wrong} if wrong else {}
    _refuse(faults, placed, components, tools)
    return (
        *_nearest(found),
        *_deepest(found, tools),
        *_not_checked(unchecked, shapes, {component.id: component.name for component in components}),
    )


def _name(item: Placed, component: str) -> str:
    return next(sheet.component.name for sheet in item.work.stack.sheets if sheet.component.id == component)


def _sheets(item: Placed) -> Iterator[str]:
    yield from dict.fromkeys(sheet.component.id for sheet in item.work.stack.sheets)


def _looked_at(
    item: Placed, component: str, near: Sequence[FlatShape], tools: Mapping[str, Tools]
) -> tuple[Inside | None, _Faults]:
    """Return how far a spot is inside a sheet, None where it is outside, and what is wrong with its place."""
    try:
        entry = _on_sheet(item, component, near)
    except OutsideError as outside:
        return None, [outside]
    return entry, list(_faults(entry, tools[item.spot.robot]))


def _refuse(
    faults: Mapping[tuple[str, int], _Faults],
    placed: Sequence[Placed],
    components: Sequence[Component],
    tools: Mapping[str, Tools],
) -> None:
    """Raise every fault of a place, and one alone for all of a drawing whose unit is wrong."""
    gathering = Gathering()
    misread: set[str] = set()
    for drawing in drawings(components) if faults else ():
        mine = [item for item in placed if _on_any(item, drawing)]
        wrong = {index for component, index in faults if component in drawing.components}
        found = wrong_scale(
            drawing, [item.spot.id for item in mine], len(wrong), _fits(drawing, mine, components, tools)
        )
        if found:
            gathering.problems += found.problems
            misread.update(drawing.components)
    left = {place: wrong_places for place, wrong_places in faults.items() if place[0] not in misread}
    gathering.problems += _short_outlines(left, placed, components)
    bad: dict[tuple[str, ...], list[_Bad]] = {}
    for (_, index), wrong_places in left.items():
        for fault in wrong_places:
            if isinstance(fault, _Bad):
                bad.setdefault(fault.rule, []).append(fault)
                continue
            with gathering.step(key=f"spots[{index}]"):
                raise fault
    for of_one_rule in bad.values():
        with gathering.step():
            raise _refused(of_one_rule)
    gathering.finish(OutOfRangeError)


def _refused(bad: Sequence[_Bad]) -> OutOfRangeError:
    """Return the refusal of spots that break one rule, at the first of them."""
    first, *others = bad
    said = (
        f"spot {first.spot} is ",
        first.found,
        *first.said,
        *likewise((f"{each.spot} ", each.found) for each in others),
    )
    return refused(said, first.remedy, key=f"spots[{first.index}]", value=first.found)


def _short_outlines(
    faults: dict[tuple[str, int], _Faults], placed: Sequence[Placed], components: Sequence[Component]
) -> Iterator[Problem]:
    """Yield one problem for each component that has several spots outside, and take those from ``faults``.

    A spot that is outside all its sheets is said to be so once.
    """
    spots = {item.index: item for item in placed}
    outside = [place for place, wrong in faults.items() if any(isinstance(fault, OutsideError) for fault in wrong)]
    for number, component in enumerate(components):
        mine = [index for name, index in outside if name == component.id]
        if len(mine) >= _SEVERAL:
            names = ", ".join(spots[index].spot.id for index in mine)
            message = f"{len(mine)} spots are outside the outline of {component.name}: {names}"
            yield unplaced(f"components[{number}]", component.id, message, "correct the outline, or the spots")
            for index in mine:
                del faults[component.id, index]
    for index in {index for _, index in outside}:
        sheets = [name for name, each in outside if each == index and (name, index) in faults]
        for name in sheets[1:]:
            del faults[name, index]
        if len(sheets) > 1:
            names = " and of ".join(_name(spots[index], name) for name in sheets)
            text = (f"spot {spots[index].spot.id} is outside the outline of {names}",)
            faults[sheets[0], index] = [_outside(text, spots[index])]


def _on_any(item: Placed, drawing: Drawing) -> bool:
    return any(component in drawing.components for component in _sheets(item))


def _fits(
    drawing: Drawing, mine: Sequence[Placed], components: Sequence[Component], tools: Mapping[str, Tools]
) -> Callable[[float], bool]:
    """Return whether every spot would have a good place on the components of a drawing read at another scale."""

    def fits(scale: float) -> bool:
        shapes = {
            component.id: flat_shapes(component.outlines, scale)
            for component in components
            if component.id in drawing.components
        }
        places = (
            (item, component, _near(item, shapes[component]))
            for item in mine
            for component in _sheets(item)
            if component in shapes
        )
        looked = (_looked_at(item, component, near, tools) for item, component, near in places if near)
        return all(not wrong for _, wrong in looked)

    return fits


def distances(placed: Sequence[Placed], components: Sequence[Component]) -> list[Inside]:
    """Return how far each spot is inside the nearest edge of each of its sheets that has an outline there.

    A spot outside a sheet is left out: ``edge_verdicts`` refuses it.
    """
    shapes = {component.id: flat_shapes(component.outlines) for component in components}
    near = ((item, component, _near(item, shapes[component])) for item in placed for component in _sheets(item))
    return [entry for item, component, found in near if found for entry in _if_inside(item, component, found)]


def _if_inside(item: Placed, component: str, near: Sequence[FlatShape]) -> Iterator[Inside]:
    try:
        yield _on_sheet(item, component, near)
    except OutsideError:
        return


def _near(item: Placed, shapes: Sequence[FlatShape]) -> list[FlatShape]:
    thickness = sum(item.work.stack.thicknesses)
    return [shape for shape in shapes if within(shape.height(item.point), thickness)]


def _on_sheet(item: Placed, component: str, near: Sequence[FlatShape]) -> Inside:
    holding = [shape.edge_distance(item.point) for shape in near if shape.holds(item.point)]
    if not holding:
        where = f"spot {item.spot.id} is outside the outline of {_name(item, component)} in plane "
        planes = [part for shape in near for part in (", ", f"{shape.plane} at ", length(shape.offset, TENTH))][1:]
        raise _outside((where, *planes), item)
    return Inside(item, component, min(holding))


def _outside(said: Words, item: Placed) -> OutsideError:
    return OutsideError(
        refused(said, "correct the spot's point, its stack, or the outline", value=item.spot.id).problems
    )


def _faults(entry: Inside, tools: Tools) -> Iterator[_Bad]:
    index, spot = entry.item.index, entry.item.spot.id
    edge, throat = entry.item.work.edge, in_mm(tools.gun.throat_depth)
    if not within(edge, entry.inside):
        found, minimum = lengths(entry.inside, edge, TENTH)
        said = (
            f" from the edge of {entry.name}; at least ",
            minimum,
            f", half the overlap of {entry.item.work.spacing}",
        )
        rule = ("edge", entry.component, entry.item.work.stack.id)
        yield _Bad(rule, index, spot, found, said, "move the spot inwards, or widen the flange")
    if not within(entry.inside, throat):
        found, deep = lengths(entry.inside, throat, WHOLE)
        said = (f" inside the nearest edge of {entry.name}; the throat of gun {tools.gun.id} is ", deep, " deep")
        rule = ("throat", entry.component, tools.gun.id)
        yield _Bad(rule, index, spot, found, said, "give the spot to a gun with a deeper throat")


def _nearest(found: Sequence[Inside]) -> Iterator[Verdict]:
    for work in {entry.item.work.stack.id: entry.item.work for entry in found}.values():
        nearest = min((entry for entry in found if entry.item.work is work), key=lambda entry: entry.inside)
        inside, minimum = lengths(nearest.inside, work.edge, TENTH)
        said = (
            f"nearest edge: {nearest.item.spot.id}, ",
            inside,
            f" on {nearest.name}; at least ",
            minimum,
        )
        source = f"half the overlap of {work.spacing}"
        yield Verdict("edge_distance", f"stack {work.stack.id}", said, passed=True, source=source)


def _deepest(found: Sequence[Inside], tools: Mapping[str, Tools]) -> Iterator[Verdict]:
    for robot in dict.fromkeys(entry.item.spot.robot for entry in found):
        deepest = max((entry for entry in found if entry.item.spot.robot == robot), key=lambda entry: entry.inside)
        gun = tools[robot].gun
        inside, deep = lengths(deepest.inside, in_mm(gun.throat_depth), WHOLE)
        said = (
            f"deepest: {deepest.item.spot.id}, ",
            inside,
            f" inside the nearest edge of {deepest.name}; throat ",
            deep,
        )
        source = f"table of machines, gun {gun.id}"
        yield Verdict("throat_depth", f"gun {gun.id}", said, passed=True, source=source)


def _not_checked(
    unchecked: Counter[str], shapes: Mapping[str, Sequence[FlatShape]], names: Mapping[str, str]
) -> Iterator[Verdict]:
    for component, count in unchecked.items():
        if count:
            why = "no outline lies in their plane" if shapes[component] else "the component has no outline"
            text = f"{count} spots on {names[component]} not checked: {why}"
            yield Verdict("edge_distance", names[component], text, passed=None, source="order", countermeasure=EDGES)
