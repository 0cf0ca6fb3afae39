"""What a stack requires of every gun: its chart row, weld diameters, pitch, overlap and edge distance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from weld_packets.calculation.chart import Place, locate
from weld_packets.calculation.countermeasures import INDENTATION as MARK
from weld_packets.calculation.countermeasures import PEEL, PEEL_OUTSIDE, TARGET
from weld_packets.calculation.formula import Source, Worked
from weld_packets.calculation.plausibility import check_plausible
from weld_packets.calculation.readings import MINIMUM, Shown, doubts, resting_on_memory, rounded_result
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Verdict, Weight
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import SpotChart
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.spot.formulas import design_weld_diameter, indentation, weld_diameter
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.processes.spot.stack.sheets import SheetStack, governing, limit_verdicts, stretched
from weld_packets.processes.spot.stack.spacing import spacing_of
from weld_packets.processes.spot.stack.strength import strength_figures
from weld_packets.units import exact, exceeds, in_mm, kinds, quantity, spelling
from weld_packets.units.digits import HUNDREDTH

GOVERNING = Name("governing_thickness", "Governing thickness", "t", kinds.THICKNESS)
MINIMUM_DIAMETER = Name("minimum_weld_diameter", "Minimum weld diameter, production", "d_min", kinds.LENGTH)
SET_UP_DIAMETER = Name("set_up_weld_diameter", "Minimum weld diameter, prove-out", "d_set", kinds.LENGTH)
TARGET_DIAMETER = Name("target_weld_diameter", "Target weld diameter", "d", kinds.LENGTH)
INDENTATION = Name("visible_indentation", "Largest indentation, visible side", "h", kinds.LENGTH)
_DEMAND = Source("ISO 14373:2015", "table B.2, and BS 1140:1993: currents by coating at one thickness")
_MARK = Shown("mm", HUNDREDTH, ROUND_FLOOR, "rounded down, so that what is measured is never too deep")
_MAXIMUM_MULTIPLE = 4.0
_FOUR_TIMES = Source("RWMA-type table, notes", "total at most 4 times the thinnest outside sheet")


@dataclass(frozen=True)
class StackRequirements:
    """What a stack requires of every gun; ``pitch`` and ``edge`` are minimum values in mm, unrounded.

    ``design`` is the weld diameter of EN 1993-1-3 in mm.
    """

    stack: SheetStack
    chart: SpotChart
    place: Place
    minimum_diameter: Figure
    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    pitch: float
    edge: float
    spacing: str
    design: float


def stack_requirements(stack: SheetStack, operation: SpotOperation, approved: ApprovedTables) -> StackRequirements:
    """Return what a stack requires; raise OutOfRangeError where no chart, chart row, limit or spacing allows it."""
    chart = choose_chart(stack, operation.chart, approved)
    governed = governing(stack, chart)
    gathering = Gathering()
    with gathering.step():
        verdicts = (*limit_verdicts(stack, chart), *_plausible_sheets(stack, operation, approved))
    with gathering.step():
        place = locate(chart, governed.result)
    with gathering.step():
        spaced = spacing_of(stack, chart, governed.result, approved)
    with gathering.step():
        seen = _visible(stack, approved)
    gathering.finish(OutOfRangeError)
    minimum, target = (
        _diameter(name, factor, _cited(chart), _doubts(chart), governed)
        for name, factor in (
            (MINIMUM_DIAMETER, chart.weld_diameter.minimum),
            (TARGET_DIAMETER, chart.weld_diameter.target),
        )
    )
    return StackRequirements(
        stack=stack,
        chart=chart,
        place=place,
        minimum_diameter=minimum,
        figures=(
            _governing_figure(stack, chart, governed),
            target,
            _set_up_diameter(chart, governed, approved.plant),
            minimum,
            *seen,
            *spaced.figures,
            *strength_figures(stack),
        ),
        verdicts=(*verdicts, *stretched(stack, chart), *resting_on_memory(chart, f"stack {stack.id}", PEEL)),
        pitch=in_mm(spaced.pitch),
        edge=in_mm(spaced.edge),
        spacing=spaced.source,
        design=in_mm(design_weld_diameter(governing_thickness=governed.result)),
    )


def _plausible_sheets(stack: SheetStack, operation: SpotOperation, approved: ApprovedTables) -> tuple[Verdict, ...]:
    thinnest_first = sorted(stack.sheets, key=lambda sheet: in_mm(sheet.component.thickness))
    return tuple(
        check_plausible(
            "thickness", sheet.component.thickness, operation.process, stack.base, (stack.coating,), approved.limits
        )
        for sheet in (thinnest_first[0], thinnest_first[-1])
    )


def _governing_figure(stack: SheetStack, chart: SpotChart, governed: Worked) -> Figure:
    unit = spelling(governed.result)
    words = f"rule of chart {chart.table}: {chart.governing_thickness} sheet ({chart.governing_source})"
    remarks = [Remark(Weight.NOTE, words, reader="auditor")]
    if any(sheet.material.coating != stack.coating for sheet in stack.sheets):
        words = f"chart {chart.table} is that of {stack.coating}, the most demanding coating in the stack"
        remarks.append(Remark(Weight.NOTE, words, _DEMAND))
    remarks.extend(_thin_outside(stack))
    text = exact(governed.result, unit)
    return GOVERNING.figure(unit, governed.result, text, trace=(governed,), remarks=tuple(remarks))


def _thin_outside(stack: SheetStack) -> Iterator[Remark]:
    """Yield a warning for three sheets that another published rule would refuse; the chart's own limits decide."""
    multiple = sum(stack.thicknesses) / min(stack.thicknesses[0], stack.thicknesses[-1])
    if stack.has_three and exceeds(multiple, _MAXIMUM_MULTIPLE):
        words = (
            f"the stack is {multiple:.3g} times its thinner outside sheet, RWMA-type notes allow {_MAXIMUM_MULTIPLE:g}"
        )
        yield Remark(Weight.WARNING, words, _FOUR_TIMES, PEEL_OUTSIDE)


def _cited(chart: SpotChart) -> str:
    return f"table {chart.table}: {chart.weld_diameter.source}"


def _set_up_diameter(chart: SpotChart, governed: Worked, plant: Plant) -> Figure:
    """Return the diameter that a coupon of a set-up must reach: the plant's, at most the chart's target.

    Raises OutOfRangeError where the plant requires less of a coupon than the chart of a component.
    """
    factor, target = plant.set_up_weld_diameter, chart.weld_diameter.target
    if factor is not None and factor < chart.weld_diameter.minimum:
        raise refusal(
            f"the table of plant accepts coupons of {factor} √t, chart {chart.table} "
            f"requires {chart.weld_diameter.minimum} √t of components",
            "write a greater 'set up weld diameter' in the table of plant",
            value=str(factor),
        )
    if factor is None or factor >= target:
        return _diameter(SET_UP_DIAMETER, target, _cited(chart), _doubts(chart), governed)
    source = plant.set_up_weld_diameter_source
    origin = f"table {plant.table}: {source}"
    remarks = doubts(source, plant.set_up_weld_diameter_reliability, TARGET)
    return _diameter(SET_UP_DIAMETER, factor, origin, remarks, governed)


def _doubts(chart: SpotChart) -> tuple[Remark, ...]:
    return doubts(chart.weld_diameter.source, chart.weld_diameter.reliability, TARGET)


def _diameter(name: Name, factor: Decimal, cited: str, remarks: tuple[Remark, ...], governed: Worked) -> Figure:
    number = quantity(float(factor), "1")
    worked = weld_diameter.work(factor=number, governing_thickness=governed.result)
    given = Given("factor", number, "1", cited)
    return rounded_result(name, worked.result, MINIMUM, (given, worked), remarks=remarks)


def _visible(stack: SheetStack, approved: ApprovedTables) -> tuple[Figure, ...]:
    """Return how deep the electrode may mark the visible side; nothing where no side is visible.

    Raises OutOfRangeError for an inner sheet, and where the plant states no limit.
    """
    if stack.visible is None:
        return ()
    outer = {sheet.component.id: sheet.component for sheet in (stack.sheets[0], stack.sheets[-1])}
    if stack.visible not in outer:
        raise refusal(
            f"component {stack.visible} is not an outer sheet of stack {stack.id}; only those have a visible side",
            f"name one of {' and '.join(outer)}, or leave 'visible' out",
            key="visible",
            value=stack.visible,
        )
    plant = approved.plant
    if plant.visible_indentation is None:
        raise refusal(
            "the plant states no limit of indentation for a visible side",
            "add 'visible indentation' with 'visible indentation source' to the plant's table, or leave 'visible' out",
            key="visible",
            value=stack.visible,
        )
    source = plant.visible_indentation_source
    origin = f"table {plant.table}: {source}"
    given = Given("share of the sheet", plant.visible_indentation, "%", origin)
    worked = indentation.work(thickness=outer[stack.visible].thickness, share_of_sheet=plant.visible_indentation)
    words = f"visible side: outside of {outer[stack.visible].name}"
    remarks = (Remark(Weight.NOTE, words), *doubts(source, plant.visible_indentation_reliability, MARK))
    return (rounded_result(INDENTATION, worked.result, _MARK, (given, worked), remarks=remarks),)


def fits(chart: SpotChart, stack: SheetStack) -> bool:
    """Return whether a chart is for the stack's base metal and its most demanding coating."""
    return chart.base == stack.base and stack.coating in chart.coatings


def choose_chart(stack: SheetStack, wanted: str | None, approved: ApprovedTables) -> SpotChart:
    """Return the chart that the operation names, or else the only one that fits.

    Raises OutOfRangeError where the named one does not fit the stack, and with the candidates where none or several do.
    """
    fitting = {mark: chart for mark, chart in approved.spot_charts.items() if fits(chart, stack)}
    described = f"{stack.base} with coating {stack.coating}" if stack.coating != "none" else f"uncoated {stack.base}"
    if wanted is not None:
        return _named(wanted, fitting, described, approved)
    if len(fitting) == 1:
        return next(iter(fitting.values()))
    if fitting:
        raise refusal(
            f"{len(fitting)} charts fit {described}: {', '.join(sorted(fitting))}",
            "name one of them as the operation's 'chart'",
        )
    raise refusal(
        f"no spot chart fits {described}; the tables hold {', '.join(sorted(approved.spot_charts)) or 'none'}",
        "add an approved chart for it, or change the material",
    )


def _named(wanted: str, fitting: Mapping[str, SpotChart], described: str, approved: ApprovedTables) -> SpotChart:
    if wanted in fitting:
        return fitting[wanted]
    chart = approved.spot_charts[wanted]
    raise refusal(
        f"chart {wanted} is for {chart.base}, coating {' or '.join(chart.coatings)}; this stack is {described}",
        f"put stacks of different metal or coating into different operations; {described} is welded by "
        f"{', '.join(sorted(fitting)) or 'no chart of the tables'}",
        value=wanted,
    )
