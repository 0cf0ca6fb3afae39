"""The seams of an operation held against the outlines of its components."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress

from weld_packets.calculation.acts import SEAM_PLACE, SEAM_PLACE_OF_ELECTRODE
from weld_packets.calculation.path import pieces_of
from weld_packets.calculation.trace import Act, Verdict
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import ArcOperation, Seam
from weld_packets.model.processes import arc_process
from weld_packets.processes.arc.seams.corners import corner_verdicts
from weld_packets.processes.arc.seams.on_edges import Limits, Seen, edge_verdicts, seen_seams
from weld_packets.processes.arc.seams.passing import passing_verdicts
from weld_packets.processes.arc.seams.placing import Body
from weld_packets.processes.arc.seams.twice import twice_verdicts
from weld_packets.units import in_mm

_MISREAD = (".unit", ".file")
"""Ends of the keys of problems after which nothing more is known of where seams run."""
_ALL = "seams are not compared with the outlines of their components"


def seam_verdicts(operation: ArcOperation, approved: ApprovedTables, gathering: Gathering) -> tuple[Verdict, ...]:
    """Return the checks of where the seams of an operation run; problems go to ``gathering``.

    A seam whose path makes no line is left to those who compute its length. Where the plant states no tolerance,
    nothing is compared, which is said. Seams or outlines that are read in a wrong unit are reported alone.
    """
    act = SEAM_PLACE if arc_process(operation.process).filler == "melting wire" else SEAM_PLACE_OF_ELECTRODE
    limits = _limits(approved, act)
    if limits is None:
        return _not_compared(f"{_ALL}: the plant's table states no seam tolerance", "table plant", act)
    components = {component.id: Body(component) for component in operation.components}
    seams = {index: seam for index, seam in enumerate(operation.seams) if _is_a_line(seam)}
    seen: list[Seen] = []
    with gathering.step():
        seen += seen_seams(seams, components)
    found: list[Verdict] = []
    with gathering.step():
        found += edge_verdicts(seen, components, limits)
    if any(problem.key.endswith(_MISREAD) for problem in gathering.problems):
        return ()
    checks: tuple[Callable[[], Iterable[Verdict]], ...] = (
        lambda: passing_verdicts(seen, components, limits),
        lambda: corner_verdicts(seen, approved.materials),
        lambda: twice_verdicts(seams, components),
    )
    for check in checks:
        with gathering.step():
            found += check()
    return (*found, *_without_outline(operation, components, act))


def _is_a_line(seam: Seam) -> bool:
    with suppress(OutOfRangeError):
        pieces_of(seam.path)
        return True
    return False


def _limits(approved: ApprovedTables, act: Act) -> Limits | None:
    plant = approved.plant
    if plant.seam_tolerance is None or plant.seam_refused_over is None:
        return None
    source = f"table {plant.table}: {plant.seam_source}"
    return Limits(in_mm(plant.seam_tolerance), in_mm(plant.seam_refused_over), source, act)


def _without_outline(operation: ArcOperation, components: Mapping[str, Body], act: Act) -> tuple[Verdict, ...]:
    welded = dict.fromkeys(name for seam in operation.seams for name in seam.components)
    names = [components[name].component.name for name in welded if not components[name].shapes]
    if not names:
        return ()
    return _not_compared(
        f"seams are not compared with components that have no outline: {', '.join(names)}", "order", act
    )


def _not_compared(text: str, source: str, act: Act) -> tuple[Verdict, ...]:
    return (Verdict("seam_on_edge", "seams", text, passed=None, source=source, act=act),)
