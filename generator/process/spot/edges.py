"""Where spots stand on their sheets: inside the outline, far enough from the edge, within the gun's throat."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.errors import Gathering, OutOfRangeError, refusal
from generator.model.order import Part
from generator.process.acts import EDGES
from generator.process.measure import as_written, in_mm
from generator.process.reach import FlatShape, flat_shapes, within
from generator.process.spot.pattern import Placed, length, measured
from generator.process.spot.tools import Tools
from generator.process.trace import Verdict


@dataclass(frozen=True)
class _Found:
    """How far a spot stands inside the nearest edge of one sheet, in mm."""

    item: Placed
    part: str
    inside: float


def edge_verdicts(placed: Sequence[Placed], parts: Sequence[Part], tools: Mapping[str, Tools]) -> tuple[Verdict, ...]:
    """Return edge distance and throat depth by stack and arm, and what no outline allowed to check.

    A sheet is checked by the outlines whose plane passes the spot within the thickness of the stack.
    Raises OutOfRangeError with every spot outside a sheet, too near to an edge, or deeper than the gun's throat.
    """
    shapes = {part.id: flat_shapes(part.outlines) for part in parts}
    gathering = Gathering()
    found: list[_Found] = []
    unchecked: Counter[str] = Counter()
    for item in placed:
        for part in dict.fromkeys(sheet.part.id for sheet in item.work.stack.sheets):
            near = _near(item, shapes[part])
            unchecked[part] += not near
            if near:
                with gathering.step(key=f"spots[{item.index}]"):
                    found.append(_on_sheet(item, part, near))
    for entry in found:
        for fault in _faults(entry, tools[entry.item.spot.arm]):
            with gathering.step(key=f"spots[{entry.item.index}]"):
                raise fault
    gathering.finish(OutOfRangeError)
    return (*_nearest(found), *_deepest(found, tools), *_not_checked(unchecked, shapes))


def _near(item: Placed, shapes: Sequence[FlatShape]) -> list[FlatShape]:
    thickness = sum(item.work.stack.thicknesses)
    return [shape for shape in shapes if within(shape.height(item.point), thickness)]


def _on_sheet(item: Placed, part: str, near: Sequence[FlatShape]) -> _Found:
    holding = [shape.edge_distance(item.point) for shape in near if shape.holds(item.point)]
    if not holding:
        planes = ", ".join(f"{shape.plane} at {shape.offset:g} mm" for shape in near)
        raise refusal(
            f"spot {item.spot.id} is outside the outline of part {part} in plane {planes}",
            "correct the spot's point, its stack, or the outline",
            value=item.spot.id,
        )
    return _Found(item, part, min(holding))


def _faults(entry: _Found, tools: Tools) -> Iterator[OutOfRangeError]:
    spot, inside, least = entry.item.spot.id, length(entry.inside), entry.item.work.edge
    if not within(least, entry.inside):
        yield refusal(
            f"spot {spot} is {inside} from the edge of part {entry.part}; "
            f"at least {length(least)}, half the overlap of {entry.item.work.spacing}",
            "move the spot inwards, or widen the flange",
            value=inside,
        )
    if not within(entry.inside, in_mm(tools.gun.throat_depth)):
        yield refusal(
            f"spot {spot} is {inside} inside the nearest edge of part {entry.part}; "
            f"the throat of gun {tools.gun.id} is {as_written(tools.gun.throat_depth)} deep",
            "give the spot to a gun with a deeper throat",
            value=inside,
        )


def _nearest(found: Sequence[_Found]) -> Iterator[Verdict]:
    for work in {entry.item.work.stack.id: entry.item.work for entry in found}.values():
        least = min((entry for entry in found if entry.item.work is work), key=lambda entry: entry.inside)
        text = (
            f"nearest to an edge: {least.item.spot.id}, {length(least.inside)} on part {least.part}; "
            f"at least {length(work.edge)}"
        )
        source = f"half the overlap of {work.spacing}"
        lengths = measured(least.inside, work.edge)
        yield Verdict("edge_distance", f"stack {work.stack.id}", text, passed=True, source=source, measured=lengths)


def _deepest(found: Sequence[_Found], tools: Mapping[str, Tools]) -> Iterator[Verdict]:
    for arm in dict.fromkeys(entry.item.spot.arm for entry in found):
        most = max((entry for entry in found if entry.item.spot.arm == arm), key=lambda entry: entry.inside)
        gun = tools[arm].gun
        text = (
            f"deepest: {most.item.spot.id}, {length(most.inside)} inside the nearest edge of part {most.part}; "
            f"throat {as_written(gun.throat_depth)}"
        )
        source = f"machines table, gun {gun.id}"
        yield Verdict("throat_depth", f"gun {gun.id}", text, passed=True, source=source, measured=measured(most.inside))


def _not_checked(unchecked: Counter[str], shapes: Mapping[str, Sequence[FlatShape]]) -> Iterator[Verdict]:
    for part, count in unchecked.items():
        if count:
            why = "no outline lies in their plane" if shapes[part] else "the part has no outline"
            text = f"{count} spots on part {part} not checked: {why}"
            yield Verdict("edge_distance", f"part {part}", text, passed=None, source="order", act=EDGES)
