"""What cannot be right in a table of imperfections: two forms in one limit, gaps, a stricter level that allows more."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from weld_packets.calculation.imperfections import size_allowed
from weld_packets.calculation.table_checks.figures import table_problem
from weld_packets.errors import Problem
from weld_packets.model.tables.inspection import Imperfection, ImperfectionLimit, Imperfections
from weld_packets.units import as_written, in_mm, quantity

LEVELS = ("B", "C", "D")
"""From the strictest on."""
_TRIED = (0.6, 3.0, 12.0, 50.0)
"""Measures in mm at which two levels are compared: the ends of what robots weld, and what lies between."""
_MAXIMUM_SHARE = 1
_EVERYTHING, _NOTHING = float("inf"), 0.0
_RIGHT_ANGLE, _FLAT = 90.0, 180.0


def imperfection_problems(table: Imperfections) -> Iterator[Problem]:
    """Yield every problem of the limits, with its key path within the table."""
    for index, entry in enumerate(table.entries):
        key = f"entries[{index}]"
        for place, limit in enumerate(entry.limits):
            yield from _form(limit, f"{key}.limits[{place}]")
        yield from _ranges(entry, key)
        yield from _stricter(entry, key)


def _form(limit: ImperfectionLimit, key: str) -> Iterator[Problem]:
    sized = limit.plus is not None or limit.share is not None
    forms = [limit.permitted is not None, sized, limit.area is not None, limit.angle is not None]
    if sum(forms) != 1:
        message = "a limit has one form: permitted, a size (plus and share), an area, or an angle"
        yield table_problem(key, "", message, "keep the one that the source gives")
    if limit.at_most is not None and not sized:
        message = "'at most' caps a size, and this limit gives none"
        yield table_problem(
            f"{key}.at most", as_written(limit.at_most), message, "delete it, or give 'plus' or 'share'"
        )
    if limit.share is not None and not 0 < limit.share <= _MAXIMUM_SHARE:
        message = f"a share is more than 0 and at most {_MAXIMUM_SHARE}"
        yield table_problem(f"{key}.share", str(limit.share), message, "write it as in the standard, such as 0.1")
    if limit.angle is not None and not _RIGHT_ANGLE <= limit.angle.magnitude <= _FLAT:
        message = f"the angle at the toe of a weld is from {_RIGHT_ANGLE:g}° to {_FLAT:g}°"
        yield table_problem(f"{key}.angle", as_written(limit.angle), message, "check the number")
    if limit.up_to is not None and in_mm(limit.up_to) <= in_mm(limit.over):
        message = f"the range ends at or below its beginning {as_written(limit.over)}"
        yield table_problem(f"{key}.up to", as_written(limit.up_to), message, "swap 'over' and 'up to'")


def _ranges(entry: Imperfection, key: str) -> Iterator[Problem]:
    """Yield levels without a limit, and ranges of a level that leave a gap, overlap or end somewhere."""
    for level, passes in product(LEVELS, _passes(entry)):
        limits = sorted(_limits(entry, level, passes), key=lambda limit: in_mm(limit.over))
        what = f"level {level}" + (f" with {passes} passes" if passes == "several" else "")
        if not limits:
            yield table_problem(
                f"{key}.limits", entry.id, f"there is no limit for {what}", "add it, or 'permitted: yes'"
            )
        for first, second in pairwise(limits):
            if first.up_to is None or in_mm(first.up_to) != in_mm(second.over):
                message = f"the ranges of {what} do not follow one another at {as_written(second.over)}"
                yield table_problem(f"{key}.limits", entry.id, message, "let each begin where the one before ends")
        if limits and limits[-1].up_to is not None:
            message = f"the last range of {what} ends at {as_written(limits[-1].up_to)}"
            yield table_problem(f"{key}.limits", entry.id, message, "leave out its 'up to'")


def _passes(entry: Imperfection) -> tuple[str, ...]:
    return ("one", "several") if any(limit.passes for limit in entry.limits) else ("one",)


def _limits(entry: Imperfection, level: str, passes: str) -> list[ImperfectionLimit]:
    return [limit for limit in entry.limits if limit.level == level and limit.passes in (None, passes)]


def _stricter(entry: Imperfection, key: str) -> Iterator[Problem]:
    """Yield pairs of neighbouring levels of which the stricter one allows more at some measure."""
    for (strict, loose), passes in product(pairwise(LEVELS), _passes(entry)):
        pairs = product(_limits(entry, strict, passes), _limits(entry, loose, passes))
        if any(_allowed(one, at) > _allowed(two, at) for one, two in pairs if one.over == two.over for at in _TRIED):
            message = f"level {strict} allows more than level {loose}"
            yield table_problem(f"{key}.limits", entry.id, message, "compare both levels with the source")


def _allowed(limit: ImperfectionLimit, millimetres: float) -> float:
    """Return how much a limit allows at a measure, as a number that grows with what is allowed."""
    if limit.permitted is not None:
        return _EVERYTHING if limit.permitted else _NOTHING
    if limit.area is not None:
        return float(limit.area.magnitude)
    if limit.angle is not None:
        return -float(limit.angle.magnitude)
    size = size_allowed(limit, quantity(millimetres, "mm"))
    return _NOTHING if size is None else in_mm(size)
