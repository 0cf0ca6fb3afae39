"""What must agree in an order whose values are all readable: pairs of arms, equipment, sizes and shapes of welds."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from weld_packets.errors import Problem
from weld_packets.model.approved_tables import Shop
from weld_packets.model.machines import Arm
from weld_packets.model.order import ArcRow, Order, Outline, Part, Seam, SpotRow
from weld_packets.model.trade import Joint
from weld_packets.sources.orders.coupon_checks import coupon_problems
from weld_packets.sources.orders.fitted_checks import fitted_problems
from weld_packets.sources.reading.places import KeyPath, Places, typed
from weld_packets.sources.reading.references import unknown
from weld_packets.units import Quantity, magnitude

_LEAST_CORNERS = 3
_SIZES: dict[Joint, tuple[str, ...]] = {"square butt": ("gap",), "flare bevel": ("throat",)}
"""By which size an order states a weld; a fillet by either of two."""
_SLACK = 1e-6
"""Millimetres by which a conversion from inches may miss."""


def order_problems(order: Order, shop: Shop, places: Places) -> Iterator[Problem]:
    """Yield what an order's pairs of arms cannot do, and every outline and weld that says too much or too little."""
    for index, row in enumerate(order.rows):
        path: KeyPath = ("rows", index)
        yield from _equipment(row, path, shop, places)
        for number, part in enumerate(row.parts):
            yield from _sheet(part, (*path, "parts", number), shop, places)
            for position, outline in enumerate(part.outlines):
                yield from _outline(outline, (*path, "parts", number, "outlines", position), places)
        if isinstance(row, ArcRow):
            yield from _arc(row, path, shop, places)
    yield from coupon_problems(order, places)
    yield from fitted_problems(order, shop, places)


def _equipment(row: ArcRow | SpotRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    for index, name in enumerate(row.arms):
        arm, cell = shop.arms.get(name), shop.cells.get(row.cell)
        if arm and cell and arm.cell != cell.id:
            message = f"this arm stands in cell {arm.cell!r}, not in {cell.id!r}"
            remedy = f"the arms of cell {cell.id!r} are: {', '.join(cell.arms)}"
            yield places.problem((*path, "arms", index), name, message, remedy)
        yield from _carried(row, arm, (*path, "arms", index), shop, places)
        if name not in row.programs:
            message = f"arm {name!r} has no program number"
            yield places.problem((*path, "programs"), "", message, f"add '{name}: ...' under 'programs'")
    for key, programs in (("programs", row.programs), ("coupon programs", row.coupon_programs)):
        for name in programs:
            yield from unknown(places, (*path, key, name), name, row.arms, "arm in this row")


def _carried(row: ArcRow | SpotRow, arm: Arm | None, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    fitting = shop.power_sources if isinstance(row, ArcRow) else shop.guns
    if arm and arm.equipment not in fitting:
        others = [other.id for other in shop.arms.values() if other.equipment in fitting]
        message = f"this arm carries {arm.equipment!r}, which does not do process {row.process}"
        yield places.problem(path, arm.id, message, f"arms that do it are: {', '.join(others)}")


def _sheet(part: Part, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    material = shop.materials.get(part.material)
    if material is None:
        return
    least, most = material.thickness_from, material.thickness_to
    thick = magnitude(part.thickness, "mm")
    if not magnitude(least, "mm") - _SLACK <= thick <= magnitude(most, "mm") + _SLACK:
        message = f"{material.id} is listed from {typed(least)} to {typed(most)}"
        remedy = "check the thickness and the material of the part"
        yield places.problem((*path, "thickness"), typed(part.thickness), message, remedy)


def _outline(outline: Outline, path: KeyPath, places: Places) -> Iterator[Problem]:
    if outline.unit is None:
        yield places.problem(path, "", "the outline does not say its unit", "add 'unit: mm'")
    if len(outline.points) < _LEAST_CORNERS:
        message = f"an outline needs at least {_LEAST_CORNERS} points"
        yield places.problem(path, "", message, "add 'points' as [[x, y], ...], or name a drawing with 'file'")
    elif not _doubled_area(outline):
        message = "the outline encloses nothing: its points lie on one line, or it crosses itself"
        yield places.problem(path, "", message, "write the corners in the order in which they follow one another")


def _doubled_area(outline: Outline) -> Decimal:
    following = (*outline.points[1:], outline.points[0])
    return sum((x * v - u * y for (x, y), (u, v) in zip(outline.points, following, strict=True)), Decimal(0))


def _arc(row: ArcRow, path: KeyPath, shop: Shop, places: Places) -> Iterator[Problem]:
    wire = shop.wires.get(row.wire)
    if wire and wire.process != row.process:
        message = f"this wire is for process {wire.process}, and the row's is {row.process}"
        yield places.problem((*path, "wire"), row.wire, message, "choose a wire of the row's process")
    for index, seam in enumerate(row.seams):
        yield from _seam_size(seam, (*path, "seams", index), places)
        yield from _seam_numbers(seam, (*path, "seams", index), places)
        yield from _seam_path(seam, (*path, "seams", index), places)
        yield from _seam_technique(seam, (*path, "seams", index), places)


def _seam_size(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    given = [key for key in ("throat", "leg", "gap") if getattr(seam, key) is not None]
    wanted = _SIZES.get(seam.joint, ("throat", "leg"))
    if len(given) != 1 or given[0] not in wanted:
        told = " and ".join(given) or "neither of them"
        message = f"a {seam.joint} needs {' or '.join(wanted)} alone; {told} is given"
        yield places.problem(path, "", message, f"write {' or '.join(repr(key) for key in wanted)}, and no other size")


def _seam_numbers(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    for key in ("throat", "leg", "gap", "cap_width", "cap_height"):
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
        yield from unknown(places, (*path, "edge"), seam.edge, seam.parts, "component of this seam")
    if seam.flush is not None and seam.joint != "square butt":
        message = f"the components of a {seam.joint} do not lie in one plane"
        yield places.problem((*path, "flush"), seam.flush, message, "remove 'flush': it is for a butt")


def _seam_path(seam: Seam, path: KeyPath, places: Places) -> Iterator[Problem]:
    points = [seam.path.start, *(piece.to for piece in seam.path.pieces)]
    for index, (before, after) in enumerate(pairwise(points)):
        if before == after:
            here = (*path, "path", "pieces", index)
            yield places.problem(here, "", "this piece ends where it begins", "delete it, or mend its end point")
