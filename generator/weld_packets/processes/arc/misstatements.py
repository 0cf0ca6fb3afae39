"""What an arc operation says and cannot mean: consumables of another process, sizes and shapes of its seams."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from weld_packets.model.processes import Misstatement, arc_process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.trade import Joint
from weld_packets.processes.arc.records import ArcOperation, Seam
from weld_packets.units import Quantity, as_written, in_mm, magnitude

_SIZES: dict[Joint, tuple[str, ...]] = {"square butt": ("gap",), "flare bevel": ("throat",)}
"""By which size an order states a weld; a fillet by either of two."""
_WORK_ANGLE, _TRAVEL_ANGLE = (5, 175), (-60, 60)
_IN_CORNER = (5, 85)
"""Work angles between the two components of a T joint, which are 90° apart."""
_INERT = "ISO 14175 I"
"""How the groups of inert gases begin."""


def wire_misstatements(operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
    """Yield a wire that is missing, and one that is for another process."""
    if operation.wire is None:
        yield Misstatement(
            (), "", f"process {operation.process} needs a wire", "add 'wire: ...', one of the table of wires"
        )
        return
    wire = approved.wires.get(operation.wire)
    if wire and wire.process != operation.process:
        message = f"this wire is for process {wire.process}, and the operation's is {operation.process}"
        yield Misstatement(("wire",), operation.wire, message, "choose a wire of the operation's process")


def gas_misstatements(operation: ArcOperation, approved: ApprovedTables) -> Iterator[Misstatement]:
    """Yield a gas that makes another process of it: one that is not inert for MIG and TIG, an inert one for MAG."""
    gas, arc = approved.gases.get(operation.gas), arc_process(operation.process)
    if gas and gas.group.startswith(_INERT) != arc.inert:
        message = f"{arc.name} needs an {'inert' if arc.inert else 'active'} gas, and {gas.id} is {gas.group}"
        groups = "group I, such as I1" if arc.inert else "group M or C, such as M21"
        yield Misstatement(("gas",), gas.id, message, f"choose a gas of an ISO 14175 {groups}, or correct the process")


def seam_misstatements(operation: ArcOperation) -> Iterator[Misstatement]:
    """Yield every size, edge and path of a seam that makes no weld."""
    for index, seam in enumerate(operation.seams):
        for found in (*_size(seam), *_numbers(seam), *_path(seam), *_angles(seam), *_technique(seam)):
            yield found._replace(path=("seams", index, *found.path))


def _typed(size: Quantity) -> str:
    return as_written(size).replace("\N{NO-BREAK SPACE}", " ")


def _size(seam: Seam) -> Iterator[Misstatement]:
    given = [key for key in ("throat", "leg", "gap") if getattr(seam, key) is not None]
    wanted = _SIZES.get(seam.joint, ("throat", "leg"))
    if len(given) != 1 or given[0] not in wanted:
        stated = " and ".join(given) or "neither of them"
        message = f"a {seam.joint} needs {' or '.join(wanted)} alone; {stated} is given"
        yield Misstatement((), "", message, f"write {' or '.join(repr(key) for key in wanted)}, and no other size")


def _numbers(seam: Seam) -> Iterator[Misstatement]:
    for key in ("throat", "leg", "gap", "weld_cap_width", "weld_cap_height"):
        size: Quantity | None = getattr(seam, key)
        if size is None:
            continue
        plain = in_mm(size)
        if plain < 0 or (plain == 0 and key != "gap"):
            name = key.replace("_", " ")
            message = f"a {name} of {_typed(size)} makes no weld"
            yield Misstatement((name,), size, message, f"write the {name} of the drawing, above 0 mm")


def _angles(seam: Seam) -> Iterator[Misstatement]:
    """Yield angles at which a torch would lie on a component, or along the seam (common practice, no source)."""
    across = _IN_CORNER if seam.joint == "T fillet" else _WORK_ANGLE
    bounds = (("work angle", seam.work_angle, across), ("travel angle", seam.travel_angle, _TRAVEL_ANGLE))
    for name, angle, (low, high) in bounds:
        if angle is not None and not low <= magnitude(angle, "°") <= high:
            yield Misstatement((name,), angle, f"a {name} is from {low} to {high}°", "write the angle of the torch")


def _technique(seam: Seam) -> Iterator[Misstatement]:
    if seam.edge is not None and seam.joint != "lap fillet":
        message = f"a {seam.joint} has no edge that is melted along"
        yield Misstatement(("edge",), seam.edge, message, "remove 'edge': it is for a lap fillet")
    elif seam.edge is not None and seam.edge not in seam.components:
        known = f"allowed: {', '.join(sorted(seam.components))}"
        yield Misstatement(("edge",), seam.edge, "there is no component of this seam of this name", known)
    if seam.flush is not None and seam.joint != "square butt":
        message = f"the components of a {seam.joint} do not lie in one plane"
        yield Misstatement(("flush",), seam.flush, message, "remove 'flush': it is for a butt")


def _path(seam: Seam) -> Iterator[Misstatement]:
    points = [seam.path.start, *(piece.to for piece in seam.path.pieces)]
    for index, (before, after) in enumerate(pairwise(points)):
        if before == after:
            here = ("path", "pieces", index)
            yield Misstatement(here, "", "this piece ends where it begins", "delete it, or correct its end point")
