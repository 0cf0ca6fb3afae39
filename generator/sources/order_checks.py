"""What must agree within an order, and between an order and the shop's tables."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.errors import Problem
from generator.model.machines import Arm
from generator.model.order import ArcRow, Order, Outline, Seam, SpotRow
from generator.model.shop import Shop
from generator.sources.places import KeyPath, Places
from generator.sources.references import repeated, unknown

_LEAST_CORNERS = 3


def order_problems(order: Order, shop: Shop, places: Places) -> Iterator[Problem]:
    """Yield each name in ``order`` that leads nowhere or stands twice, and each weld that says too much or little."""
    yield from repeated(places, [(("rows", n, "name"), row.name) for n, row in enumerate(order.rows)], "row")
    for index, row in enumerate(order.rows):
        path: KeyPath = ("rows", index)
        yield from _equipment(row, path, shop, places)
        yield from _parts(row, path, shop, places)
        if isinstance(row, ArcRow):
            yield from _arc(row, path, shop, places)
        else:
            yield from _spot(row, path, shop, places)


def _equipment(row: ArcRow | SpotRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    yield from unknown(places, (*path, "cell"), row.cell, shop.cells, "cell")
    yield from repeated(places, [((*path, "arms", n), arm) for n, arm in enumerate(row.arms)], "arm")
    for index, name in enumerate(row.arms):
        yield from unknown(places, (*path, "arms", index), name, shop.arms, "arm")
        arm = shop.arms.get(name)
        if arm and arm.cell != row.cell and row.cell in shop.cells:
            message = f"this arm stands in cell {arm.cell!r}, not in {row.cell!r}"
            remedy = f"the arms of cell {row.cell!r} are: {', '.join(shop.cells[row.cell].arms)}"
            yield places.problem((*path, "arms", index), name, message, remedy)
        yield from _carried(row, arm, (*path, "arms", index), shop, places)
        if name not in row.programs:
            message = f"arm {name!r} has no program number"
            yield places.problem((*path, "programs"), "", message, f"add '{name}: ...' under 'programs'")
    for name in row.programs:
        yield from unknown(places, (*path, "programs", name), name, row.arms, "arm in this row")


def _carried(row: ArcRow | SpotRow, arm: Arm | None, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    fitting = shop.power_sources if isinstance(row, ArcRow) else shop.guns
    if arm and arm.equipment not in fitting:
        others = [other.id for other in shop.arms.values() if other.equipment in fitting]
        message = f"this arm carries {arm.equipment!r}, which does not do process {row.process}"
        yield places.problem(path, arm.id, message, f"arms that do it are: {', '.join(others)}")


def _parts(row: ArcRow | SpotRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    parts = (*path, "parts")
    yield from repeated(places, [((*parts, n, "id"), part.id) for n, part in enumerate(row.parts)], "part")
    for index, part in enumerate(row.parts):
        yield from unknown(places, (*parts, index, "material"), part.material, shop.materials, "material")
        for number, outline in enumerate(part.outlines):
            yield from _outline(outline, (*parts, index, "outlines", number), places)


def _outline(outline: Outline, path: KeyPath, places: Places) -> Iterator[Problem]:
    if outline.unit is None:
        yield places.problem(path, "", "the outline does not say its unit", "add 'unit: mm'")
    if len(outline.points) < _LEAST_CORNERS:
        message = f"an outline needs at least {_LEAST_CORNERS} points"
        yield places.problem(path, "", message, "add 'points' as [[x, y], ...], or name a drawing with 'file'")


def _arc(row: ArcRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    yield from unknown(places, (*path, "wire"), row.wire, shop.wires, "wire")
    wire = shop.wires.get(row.wire)
    if wire and wire.process != row.process:
        message = f"this wire is for process {wire.process}, and the row's is {row.process}"
        yield places.problem((*path, "wire"), row.wire, message, "choose a wire of the row's process")
    yield from unknown(places, (*path, "gas"), row.gas, shop.gases, "gas")
    yield from unknown(places, (*path, "schedule"), row.schedule, shop.arc_schedules, "arc schedule")
    seams, parts = (*path, "seams"), {part.id for part in row.parts}
    yield from repeated(places, [((*seams, n, "id"), seam.id) for n, seam in enumerate(row.seams)], "seam")
    for index, seam in enumerate(row.seams):
        here = (*seams, index)
        yield from unknown(places, (*here, "arm"), seam.arm, row.arms, "arm in this row")
        for side, part in enumerate(seam.parts):
            yield from unknown(places, (*here, "parts", side), part, parts, "part in this row")
        yield from _seam_size(seam, here, places)
        yield from _seam_path(seam, here, places)


def _seam_size(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    given = [key for key in ("throat", "leg", "gap") if getattr(seam, key) is not None]
    wanted = ("gap",) if seam.joint == "square butt" else ("throat", "leg")
    if len(given) != 1 or given[0] not in wanted:
        told = " and ".join(given) or "neither of them"
        message = f"a {seam.joint} needs {' or '.join(wanted)} alone; {told} is given"
        yield places.problem(path, "", message, f"write {' or '.join(repr(key) for key in wanted)}, and no other size")


def _seam_path(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    points = [seam.path.start, *(piece.to for piece in seam.path.pieces)]
    for index, (before, after) in enumerate(pairwise(points)):
        if before == after:
            here = (*path, "path", "pieces", index)
            yield places.problem(here, "", "this piece ends where it begins", "delete it, or mend its end point")


def _spot(row: SpotRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    yield from unknown(places, (*path, "schedule"), row.schedule, shop.spot_schedules, "spot schedule")
    stacks, parts = (*path, "stacks"), {part.id for part in row.parts}
    yield from repeated(places, [((*stacks, n, "id"), stack.id) for n, stack in enumerate(row.stacks)], "stack")
    for index, stack in enumerate(row.stacks):
        for number, sheet in enumerate(stack.sheets):
            yield from unknown(places, (*stacks, index, "sheets", number), sheet, parts, "part in this row")
    yield from _spots(row, (*path, "spots"), places)


def _spots(row: SpotRow, path: KeyPath, places: Places) -> Iterator[Problem]:
    stacks = {stack.id for stack in row.stacks}
    yield from repeated(places, [((*path, n, "id"), spot.id) for n, spot in enumerate(row.spots)], "spot")
    for index, spot in enumerate(row.spots):
        yield from unknown(places, (*path, index, "arm"), spot.arm, row.arms, "arm in this row")
        yield from unknown(places, (*path, index, "stack"), spot.stack, stacks, "stack in this row")
