"""What must agree in an order that could be read: pairs of robots, equipment, sizes and shapes of welds."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from weld_packets.errors import Problem
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.machines import Robot
from weld_packets.model.order import ArcOperation, Component, Order, Outline, Seam, SpotOperation
from weld_packets.model.trade import Joint
from weld_packets.sources.orders.coupon_checks import coupon_problems
from weld_packets.sources.orders.fitted_checks import fitted_problems
from weld_packets.sources.reading.places import KeyPath, Places, typed
from weld_packets.sources.reading.references import unknown
from weld_packets.units import Quantity, magnitude

_MINIMUM_CORNERS = 3
_SIZES: dict[Joint, tuple[str, ...]] = {"square butt": ("gap",), "flare bevel": ("throat",)}
"""By which size an order states a weld; a fillet by either of two."""


def order_problems(order: Order, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield what an order's pairs of robots cannot do, and every outline and weld that says too much or too little."""
    for index, operation in enumerate(order.operations):
        path: KeyPath = ("operations", index)
        yield from _equipment(operation, path, approved, places)
        for number, component in enumerate(operation.components):
            yield from _sheet(component, (*path, "components", number), approved, places)
            for position, outline in enumerate(component.outlines):
                yield from _outline(outline, (*path, "components", number, "outlines", position), places)
        if isinstance(operation, ArcOperation):
            yield from _arc(operation, path, approved, places)
    yield from coupon_problems(order, places)
    yield from fitted_problems(order, approved, places)


def _equipment(
    operation: ArcOperation | SpotOperation, path: KeyPath, approved: ApprovedTables, places: Places
) -> Iterator[Problem]:
    for index, name in enumerate(operation.robots):
        robot, cell = approved.robots.get(name), approved.cells.get(operation.cell)
        if robot and cell and robot.cell != cell.id:
            message = f"this robot is in cell {robot.cell!r}, not in {cell.id!r}"
            remedy = f"the robots of cell {cell.id!r} are: {', '.join(cell.robots)}"
            yield places.problem((*path, "robots", index), name, message, remedy)
        yield from _carried(operation, robot, (*path, "robots", index), approved, places)
        if name not in operation.programs:
            message = f"robot {name!r} has no program number"
            yield places.problem((*path, "programs"), "", message, f"add '{name}: ...' under 'programs'")
    for key, programs in (("programs", operation.programs), ("coupon programs", operation.coupon_programs)):
        for name in programs:
            yield from unknown(places, (*path, key, name), name, operation.robots, "robot in this operation")


def _carried(
    operation: ArcOperation | SpotOperation,
    robot: Robot | None,
    path: KeyPath,
    approved: ApprovedTables,
    places: Places,
) -> Iterator[Problem]:
    fitting = approved.power_sources if isinstance(operation, ArcOperation) else approved.guns
    if robot and robot.equipment not in fitting:
        others = [other.id for other in approved.robots.values() if other.equipment in fitting]
        message = f"this robot carries {robot.equipment!r}, which does not do process {operation.process}"
        yield places.problem(path, robot.id, message, f"robots that do it are: {', '.join(others)}")


def _sheet(component: Component, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    material = approved.materials.get(component.material)
    if material is None:
        return
    if not material.is_supplied_in(component.thickness):
        message = f"{material.id} is listed from {typed(material.thickness_from)} to {typed(material.thickness_to)}"
        remedy = "check the thickness and the material of the part"
        yield places.problem((*path, "thickness"), typed(component.thickness), message, remedy)


def _outline(outline: Outline, path: KeyPath, places: Places) -> Iterator[Problem]:
    if outline.unit is None:
        yield places.problem(path, "", "the outline does not say its unit", "add 'unit: mm'")
    if len(outline.points) < _MINIMUM_CORNERS:
        message = f"an outline needs at least {_MINIMUM_CORNERS} points"
        yield places.problem(path, "", message, "add 'points' as [[x, y], ...], or name a drawing with 'file'")
    elif not _doubled_area(outline):
        message = "the outline encloses nothing: its points lie on one line, or it crosses itself"
        yield places.problem(path, "", message, "write the corners in the order in which they follow one another")


def _doubled_area(outline: Outline) -> Decimal:
    following = (*outline.points[1:], outline.points[0])
    return sum((x * v - u * y for (x, y), (u, v) in zip(outline.points, following, strict=True)), Decimal(0))


def _arc(operation: ArcOperation, path: KeyPath, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    wire = approved.wires.get(operation.wire)
    if wire and wire.process != operation.process:
        message = f"this wire is for process {wire.process}, and the operation's is {operation.process}"
        yield places.problem((*path, "wire"), operation.wire, message, "choose a wire of the operation's process")
    for index, seam in enumerate(operation.seams):
        yield from _seam_size(seam, (*path, "seams", index), places)
        yield from _seam_numbers(seam, (*path, "seams", index), places)
        yield from _seam_path(seam, (*path, "seams", index), places)
        yield from _seam_technique(seam, (*path, "seams", index), places)


def _seam_size(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    given = [key for key in ("throat", "leg", "gap") if getattr(seam, key) is not None]
    wanted = _SIZES.get(seam.joint, ("throat", "leg"))
    if len(given) != 1 or given[0] not in wanted:
        given_text = " and ".join(given) or "neither of them"
        message = f"a {seam.joint} needs {' or '.join(wanted)} alone; {given_text} is given"
        yield places.problem(path, "", message, f"write {' or '.join(repr(key) for key in wanted)}, and no other size")


def _seam_numbers(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    for key in ("throat", "leg", "gap", "weld_cap_width", "weld_cap_height"):
        size: Quantity | None = getattr(seam, key)
        if size is None:
            continue
        plain = magnitude(size, "mm")
        if plain < 0 or (plain == 0 and key != "gap"):
            name = key.replace("_", " ")
            fault = f"a {name} of {typed(size)} makes no weld"
            yield places.problem((*path, name), typed(size), fault, f"write the {name} of the drawing, above 0 mm")


def _seam_technique(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    if seam.edge is not None and seam.joint != "lap fillet":
        message = f"a {seam.joint} has no edge that is melted along"
        yield places.problem((*path, "edge"), seam.edge, message, "remove 'edge': it is for a lap fillet")
    elif seam.edge is not None:
        yield from unknown(places, (*path, "edge"), seam.edge, seam.components, "component of this seam")
    if seam.flush is not None and seam.joint != "square butt":
        message = f"the components of a {seam.joint} do not lie in one plane"
        yield places.problem((*path, "flush"), seam.flush, message, "remove 'flush': it is for a butt")


def _seam_path(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    points = [seam.path.start, *(piece.to for piece in seam.path.pieces)]
    for index, (before, after) in enumerate(pairwise(points)):
        if before == after:
            here = (*path, "path", "pieces", index)
            yield places.problem(here, "", "this piece ends where it begins", "delete it, or correct its end point")
