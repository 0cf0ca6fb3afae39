"""Settings of seams held against the plausible ranges of each of their base metals."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.plausibility import admitting_limit, check_plausible
from weld_packets.calculation.sentences import shown_value
from weld_packets.calculation.trace import Figure, InBoth, Verdict
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.processes import bounded_kinds
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.materials import Material
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity


def plausible(group: SeamGroup, figures: tuple[Figure, ...], approved: ApprovedTables) -> tuple[Verdict, ...]:
    """Return the verdict on each bounded figure for each base metal; raises with every bound that is broken.

    The ends of an allowed range are held to the same bounds: a setter may turn to them.
    """
    gathering = Gathering()
    found: dict[Verdict, None] = {}
    for key, shown, (value, *ends), material in _bounded(group, figures):
        scope = group.process, material.base, (material.coating,), approved.limits
        with gathering.step():
            bounds = check_plausible(key, value, *scope, shown)
            found[bounds] = None
            for end in ends:
                admitting_limit(key, end, *scope)
    gathering.finish(OutOfRangeError)
    return tuple(found)


def _bounded(
    group: SeamGroup, figures: tuple[Figure, ...]
) -> Iterator[tuple[str, InBoth | None, list[Quantity], Material]]:
    for material in {entry.id: entry for entry in group.materials}.values():
        for figure in figures:
            if figure.key in bounded_kinds() and figure.value is not None:
                ends = (figure.allowed_range.low, figure.allowed_range.high) if figure.allowed_range else ()
                shown = None if figure.text is None else shown_value(figure.text, figure.unit, figure.kind)
                yield figure.key, shown, [figure.value, *(end for end in ends if end is not None)], material
    for component, material in zip(group.components, group.materials, strict=True):
        yield "thickness", None, [component.thickness], material
