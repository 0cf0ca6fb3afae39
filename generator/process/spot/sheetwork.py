"""What a stack asks of every gun alike: its chart row, weld diameters, pitch, overlap and edge distance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from generator.errors import Gathering, OutOfRangeError
from generator.model.charts import SpotSchedule
from generator.model.order import SpotRow
from generator.model.shop import Shop
from generator.process.acts import PEEL, PEEL_OUTSIDE, TARGET
from generator.process.chart import Place, locate, read
from generator.process.formula import Source, Worked
from generator.process.measure import in_mm, same, spelling
from generator.process.plausibility import check_plausible
from generator.process.readings import LEAST, Shown, doubts, resting_on_memory, rounded_result
from generator.process.spot.formulas import edge_distance, pitch_of_three_sheets, weld_diameter
from generator.process.spot.schedule import choose_schedule
from generator.process.spot.stack import Stack, governing, limit_verdicts
from generator.process.trace import Figure, Given, Lookup, Name, Remark, Step, Verdict, Weight
from generator.units import Quantity, exact, kinds, quantity

GOVERNING = Name("governing_thickness", "Governing thickness", "t", kinds.THICKNESS)
LEAST_DIAMETER = Name("least_weld_diameter", "Least weld diameter", "d_min", kinds.LENGTH)
AIMED_DIAMETER = Name("aimed_weld_diameter", "Weld diameter aimed at", "d", kinds.LENGTH)
PITCH = Name("least_pitch", "Least pitch", "p", kinds.LENGTH)
OVERLAP = Name("least_overlap", "Least overlap", "o", kinds.LENGTH)
EDGE = Name("least_edge_distance", "Least edge distance", "e", kinds.LENGTH)
_UP = "rounded up, since charts of pitch go by sixteenths of an inch; the pattern is checked against the exact value"
_PLAN = Shown("mm", Decimal(1), ROUND_CEILING, _UP)
_EDGE = Shown("mm", Decimal("0.1"), ROUND_CEILING, _UP)
_DEMAND = Source("ISO 14373:2015", "table B.2, and BS 1140:1993: currents by coating at one thickness")
_THREE_SHEETS = 3
_MOST_MULTIPLE = 4.0
_FOUR_TIMES = Source("RWMA-type schedule, notes", "total at most 4 times the thinnest outside sheet")


@dataclass(frozen=True)
class SheetWork:
    """What a stack asks of every gun alike; ``pitch`` and ``edge`` are the least ones in mm, unrounded."""

    stack: Stack
    schedule: SpotSchedule
    place: Place
    least_diameter: Figure
    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    pitch: float
    edge: float
    spacing: str


def sheet_work(stack: Stack, row: SpotRow, shop: Shop) -> SheetWork:
    """Return what a stack asks; raise OutOfRangeError where no schedule, chart row, limit or spacing allows it."""
    schedule = choose_schedule(stack, row.schedule, shop)
    governed = governing(stack, schedule)
    spacing = shop.spot_spacings[schedule.spacing]
    gathering = Gathering()
    with gathering.step():
        verdicts = (*limit_verdicts(stack, schedule), *_plausible_sheets(stack, row, shop))
    with gathering.step():
        place = locate(schedule, governed.result)
    with gathering.step():
        steps, pitch, overlap = _pitch(stack, locate(spacing, governed.result), shop)
    gathering.finish(OutOfRangeError)
    edge = edge_distance.work(least_overlap=overlap.result)
    least, aimed = (_diameter(name, schedule, governed) for name in (LEAST_DIAMETER, AIMED_DIAMETER))
    return SheetWork(
        stack=stack,
        schedule=schedule,
        place=place,
        least_diameter=least,
        figures=(
            _governing_figure(stack, schedule, governed),
            least,
            aimed,
            rounded_result(PITCH, pitch, _PLAN, steps),
            rounded_result(OVERLAP, overlap.result, _PLAN, (overlap,)),
            rounded_result(EDGE, edge.result, _EDGE, (overlap, edge)),
        ),
        verdicts=(*verdicts, *resting_on_memory(schedule, f"stack {stack.id}", PEEL)),
        pitch=in_mm(pitch),
        edge=in_mm(edge.result),
        spacing=f"table {spacing.table} revision {spacing.revision}",
    )


def _plausible_sheets(stack: Stack, row: SpotRow, shop: Shop) -> tuple[Verdict, ...]:
    thinnest_first = sorted(stack.sheets, key=lambda sheet: in_mm(sheet.part.thickness))
    return tuple(
        check_plausible("thickness", sheet.part.thickness, row.process, stack.base, (stack.coating,), shop.limits)
        for sheet in (thinnest_first[0], thinnest_first[-1])
    )


def _governing_figure(stack: Stack, schedule: SpotSchedule, governed: Worked) -> Figure:
    unit = spelling(governed.result)
    words = f"rule of schedule {schedule.table}: {schedule.governing_thickness} sheet ({schedule.governing_source})"
    remarks = [Remark(Weight.NOTE, words)]
    if any(sheet.material.coating != stack.coating for sheet in stack.sheets):
        words = f"schedule {schedule.table} is that of {stack.coating}, the most demanding coating in the stack"
        remarks.append(Remark(Weight.NOTE, words, _DEMAND))
    remarks.extend(_thin_outside(stack))
    text = exact(governed.result, unit)
    return Figure(
        GOVERNING.key,
        GOVERNING.label,
        GOVERNING.symbol,
        GOVERNING.kind,
        unit,
        governed.result,
        text,
        trace=(governed,),
        remarks=tuple(remarks),
    )


def _thin_outside(stack: Stack) -> Iterator[Remark]:
    """Yield a warning for three sheets that another published rule would refuse; the schedule's own limits decide."""
    multiple = sum(stack.thicknesses) / min(stack.thicknesses[0], stack.thicknesses[-1])
    if len(stack.sheets) >= _THREE_SHEETS and multiple > _MOST_MULTIPLE and not same(multiple, _MOST_MULTIPLE):
        words = f"the stack is {multiple:.3g} times its thinner outside sheet, RWMA-type notes allow {_MOST_MULTIPLE:g}"
        yield Remark(Weight.WARNING, words, _FOUR_TIMES, PEEL_OUTSIDE)


def _diameter(name: Name, schedule: SpotSchedule, governed: Worked) -> Figure:
    stated = schedule.weld_diameter
    factor = quantity(float(stated.least if name is LEAST_DIAMETER else stated.aimed), "1")
    worked = weld_diameter.work(factor=factor, governing_thickness=governed.result)
    given = Given("factor", factor, "1", f"table {schedule.table} revision {schedule.revision}: {stated.source}")
    return rounded_result(name, worked.result, LEAST, (given, worked), remarks=doubts(stated.source, TARGET))


def _pitch(stack: Stack, place: Place, shop: Shop) -> tuple[tuple[Step, ...], Quantity, Lookup]:
    """Return how the least pitch comes about, its value, and the least overlap."""
    pitch, overlap = (read(place, column)[0] for column in ("pitch", "overlap"))
    if len(stack.sheets) < _THREE_SHEETS:
        return (pitch,), pitch.result, overlap
    plant = shop.plant
    more = plant.spot_pitch_three_sheets_more
    origin = f"table {plant.table} revision {plant.revision}: {plant.spot_pitch_source}"
    given = Given("more for three sheets", more, "%", origin)
    worked = pitch_of_three_sheets.work(pitch_of_two_sheets=pitch.result, more_for_three=more)
    return (pitch, given, worked), worked.result, overlap
