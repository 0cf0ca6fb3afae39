"""What is wrong with a chart as a table states it, reported all at once when the table is loaded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from weld_packets.calculation.chart import row_label, worded
from weld_packets.calculation.plausibility import admitting_limit
from weld_packets.calculation.table_checks.figures import table_problem
from weld_packets.errors import PacketError, Problem, located
from weld_packets.model.tables.charts import Chart, ChartRow, Limit
from weld_packets.units import Quantity, as_written, exceeds, in_mm, same

_MAY_BE_NOTHING = ("squeeze", "cool", "hold")
_FORMS: dict[tuple[bool, ...], str] = {
    (True, False, False): "single",
    (False, True, True): "range",
    (False, False, False): "absent",
}


@dataclass(frozen=True)
class _Extent:
    """A row's place along the thickness in mm; both ends equal for a point."""

    index: int
    row: ChartRow
    low: float
    high: float


def chart_problems(table: Chart) -> tuple[Problem, ...]:
    """Return what is wrong in a chart: thicknesses, gaps, overlaps, incomplete columns, ends that are swapped.

    ``Problem.key`` is the path within the table, such as ``rows[3].over``; file and line are the caller's to fill in.
    """
    problems: list[Problem] = []
    extents = list(_extents(table, problems))
    problems.extend(_order_problems(table, extents))
    for stem in _stems(table):
        problems.extend(_column_problems(table, stem))
    problems.extend(_absent_problems(table))
    return tuple(problems)


def _absent_problems(table: Chart) -> Iterator[Problem]:
    for stems in table.one_of:
        if all(_form(table.rows[0], stem) == "absent" for stem in stems):
            either = " nor ".join(worded(stem) for stem in stems)
            message = f"the chart states neither {either}"
            yield table_problem(
                "columns", worded(stems[0]), message, "add the one that the document prints, with its unit"
            )


def _extents(table: Chart, problems: list[Problem]) -> Iterator[_Extent]:
    for index, row in enumerate(table.rows):
        if table.form == "points" and row.thickness is not None and row.over is None and row.up_to is None:
            yield _Extent(index, row, in_mm(row.thickness), in_mm(row.thickness))
        elif table.form == "bands" and row.thickness is None and row.over is not None and row.up_to is not None:
            yield _Extent(index, row, in_mm(row.over), in_mm(row.up_to))
        else:
            problems.append(_form_fault(table, index))


def _form_fault(table: Chart, index: int) -> Problem:
    wanted = "'thickness' alone" if table.form == "points" else "'over' and 'up to', without 'thickness'"
    return table_problem(
        f"rows[{index}]", "", f"a row of a chart of {table.form} needs {wanted}", f"write {wanted} in this row"
    )


def _order_problems(table: Chart, extents: list[_Extent]) -> Iterator[Problem]:
    for extent in extents:
        if table.form == "bands" and extent.low >= extent.high:
            yield table_problem(
                f"rows[{extent.index}]",
                row_label(extent.row),
                "the band ends before it begins",
                "swap 'over' and 'up to'",
            )
    for before, after in pairwise(extents):
        if table.form == "points":
            yield from _point_fault(before, after)
        else:
            yield from _band_fault(before, after)


def _point_fault(before: _Extent, after: _Extent) -> Iterator[Problem]:
    if not exceeds(after.low, before.low):
        yield table_problem(
            f"rows[{after.index}].thickness",
            row_label(after.row),
            f"not above the row before it ({row_label(before.row)})",
            "sort the rows by thickness and give each thickness once",
        )


def _band_fault(before: _Extent, after: _Extent) -> Iterator[Problem]:
    if same(before.high, after.low):
        return
    name = "a gap" if after.low > before.high else "an overlap"
    yield table_problem(
        f"rows[{after.index}].over",
        row_label(after.row),
        f"{name} between this band and the one before it ({row_label(before.row)})",
        "let each band begin where the one before it ends",
    )


def _stems(table: Chart) -> list[str]:
    fields = set(type(table.rows[0]).model_fields) - set(ChartRow.model_fields)
    return sorted({name.removesuffix("_from").removesuffix("_to") for name in fields})


def _column_problems(table: Chart, stem: str) -> Iterator[Problem]:
    forms = [_form(row, stem) for row in table.rows]
    for index, form in enumerate(forms):
        yield from _cell_problems(table.rows[index], f"rows[{index}]", stem, form, forms[0])
        yield from _nothing_problems(table.rows[index], f"rows[{index}]", stem)
    if forms[0] == "absent" and stem in table.needed:
        yield table_problem(
            "columns",
            worded(stem),
            f"the chart does not state {worded(stem)}",
            "add the column with its unit and values",
        )
    yield from _tolerance_problems(table, stem, forms[0])


def _tolerance_problems(table: Chart, stem: str, form: str) -> Iterator[Problem]:
    tolerance = getattr(table, "tolerance", {})
    if stem in table.dialled and form == "single" and worded(stem) not in tolerance:
        yield table_problem(
            "tolerance",
            "",
            f"{worded(stem)} is one value and has no tolerance, so no allowed range follows",
            f"state the tolerance of '{worded(stem)}' in per cent, with its source",
        )


def _form(row: ChartRow, stem: str) -> str:
    """Return which cells of a column a row fills: ``single``, ``range``, ``absent`` or ``mixed``."""
    filled = tuple(getattr(row, name, None) is not None for name in (stem, f"{stem}_from", f"{stem}_to"))
    return _FORMS.get(filled, "mixed")


def _cell_problems(row: ChartRow, key: str, stem: str, form: str, first: str) -> Iterator[Problem]:
    if form == "mixed":
        yield table_problem(
            f"{key}.{worded(stem)}",
            "",
            f"{worded(stem)} needs either one value or both ends of a range",
            f"write '{worded(stem)}', or '{worded(stem)} from' and '{worded(stem)} to'",
        )
    elif form != first:
        yield table_problem(
            f"{key}.{worded(stem)}",
            "",
            f"{worded(stem)} is {form} here but {first} in the first row",
            "fill the column in every row in one form",
        )
    if form == "range":
        yield from _range_problems(getattr(row, f"{stem}_from"), getattr(row, f"{stem}_to"), f"{key}.{worded(stem)}")


def _nothing_problems(row: ChartRow, key: str, stem: str) -> Iterator[Problem]:
    for name in (stem, f"{stem}_from", f"{stem}_to") if stem not in _MAY_BE_NOTHING else ():
        value = getattr(row, name, None)
        if value is not None and (value if isinstance(value, int) else value.magnitude) <= 0:
            written = str(value) if isinstance(value, int) else as_written(value)
            message = f"{worded(name)} must be above zero"
            yield table_problem(f"{key}.{worded(name)}", written, message, "write the value of the document")


def _range_problems(low: Quantity, high: Quantity, key: str) -> Iterator[Problem]:
    if low.m_as(low.units) > high.m_as(low.units):
        yield table_problem(
            f"{key} to",
            as_written(high),
            f"the range ends below its beginning {as_written(low)}",
            "swap 'from' and 'to'",
        )


# ---------------------------------------------------------------- against physics


def bound_problems(table: Chart, limits: Sequence[Limit]) -> tuple[Problem, ...]:
    """Return every value of a chart, and every end of a range, that the limits refuse.

    Each is reported once, for the first base metal of the chart that it cannot be meant for.
    """
    found: dict[Problem, None] = {}
    if table.subject is None:
        return ()
    process, bases, coatings = table.subject
    for key, quantity, value in _values(table, table.bounded):
        for base in bases:
            try:
                with located(key=key):
                    admitting_limit(quantity, value, process, base, coatings, limits)
            except PacketError as error:
                found |= dict.fromkeys(error.problems)
                break
    return tuple(found)


def _values(table: Chart, names: Mapping[str, str]) -> Iterator[tuple[str, str, Quantity]]:
    """Yield the key path, the quantity and the value of each bounded cell."""
    for index, row in enumerate(table.rows):
        for stem, quantity in names.items():
            for field in (stem, f"{stem}_from", f"{stem}_to"):
                value = getattr(row, field, None)
                if value is not None:
                    yield f"rows[{index}].{worded(field)}", quantity, value
