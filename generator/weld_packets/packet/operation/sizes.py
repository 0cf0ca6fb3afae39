"""The sizes of the part that an operation leaves, held to the general tolerances of their classes."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from weld_packets.calculation.general_tolerances import Tolerance, tolerance_of
from weld_packets.calculation.results import safe_name
from weld_packets.model.tolerances import NominalSize, ToleranceClasses
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import RequiredResult, SizeLine
from weld_packets.units import in_unit, plain, rounded, working
from weld_packets.units.digits import STATED_DIGITS, THOUSANDTH
from weld_packets.units.scales import converted
from weld_packets.wording.inspection import (
    NO_TOLERANCE,
    accepted_words,
    nominal_words,
    tolerance_source,
    tolerance_words,
)


def size_lines(view: OperationView) -> tuple[SizeLine, ...]:
    """Return the sizes that the order lists for an operation, each with its tolerance."""
    classes = view.operation.tolerances or ToleranceClasses()
    table = view.approved.tolerances[0] if view.approved.tolerances else None
    return tuple(
        _line(number, size, None if table is None else tolerance_of(size, classes, table), view)
        for number, size in enumerate(view.operation.sizes, 1)
    )


def _line(number: int, size: NominalSize, found: Tolerance | None, view: OperationView) -> SizeLine:
    key = safe_name("size", str(number), size.name)
    nominal = nominal_words(size.kind, view.length(size.size), "" if size.angle is None else view.stated(size.angle))
    if found is None:
        return SizeLine(key=key, name=size.name, nominal=nominal, tolerance="", source=NO_TOLERANCE)
    unit = "°" if size.kind == "angle" else {"metric": "mm", "US customary": "in"}[view.order.show_first]
    deviation = working(found.deviation, STATED_DIGITS)
    return SizeLine(
        key=key,
        name=size.name,
        nominal=nominal,
        tolerance=tolerance_words(found, f"{deviation}′" if size.kind == "angle" else in_unit(deviation, "mm")),
        minimum="" if found.low is None else _inside(found.low, unit, ROUND_CEILING),
        maximum=_inside(found.high, unit, ROUND_FLOOR),
        unit=unit,
        source=tolerance_source(found),
    )


def _inside(number: Decimal, unit: str, rounding: str) -> str:
    """Return an end in the unit in which it is measured; inches are rounded into what is allowed."""
    return plain(rounded(converted(number, "mm", "in"), THOUSANDTH, rounding) if unit == "in" else number)


def size_results(view: OperationView) -> Iterator[RequiredResult]:
    """Yield each size that has a tolerance as something to measure on the first part."""
    for line in size_lines(view):
        if line.tolerance:
            yield RequiredResult(
                key=f"first-off/{line.key}",
                stage="first-off",
                what=line.name,
                unit=line.unit,
                minimum=line.minimum,
                maximum=line.maximum,
                accept=accepted_words(line.nominal, line.tolerance),
                source=line.source,
            )
