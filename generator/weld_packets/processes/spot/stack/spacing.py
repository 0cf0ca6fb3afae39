"""How far spots stay from each other and from an edge: the greater of what the published charts require."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING

from weld_packets.calculation.chart import locate, read
from weld_packets.calculation.formula import Source, Standing
from weld_packets.calculation.readings import Shown, rounded_result
from weld_packets.calculation.trace import Figure, Given, Lookup, Name, Remark, Step, Weight
from weld_packets.errors import OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import SpotChart, SpotSpacing
from weld_packets.processes.spot.formulas import edge_distance, pitch_of_three_sheets
from weld_packets.processes.spot.stack.sheets import SheetStack
from weld_packets.units import Quantity, in_mm, kinds
from weld_packets.units.digits import TENTH, WHOLE

PITCH = Name("minimum_pitch", "Minimum pitch", "p", kinds.LENGTH)
OVERLAP = Name("minimum_overlap", "Minimum overlap", "o", kinds.LENGTH)
EDGE = Name("minimum_edge_distance", "Minimum edge distance", "e", kinds.LENGTH)
_UP = "rounded up, since charts of pitch go by sixteenths of an inch; the pattern is checked against the exact value"
_PLAN = Shown("mm", WHOLE, ROUND_CEILING, _UP)
_EDGE = Shown("mm", TENTH, ROUND_CEILING, _UP)
_OTHERS = Source("published design guides: 1, 1.5 or 2 weld diameters, or 3 mm of sheet outside the weld")
_COST = "guides ask for up to 2 weld diameters; nearer to the edge the metal is squeezed out at less current"
_CLOSER = Source("spacing columns of the charts", "own comparison", Standing.COMMON_PRACTICE)


@dataclass(frozen=True)
class Spaced:
    """Minimum pitch and edge distance of a stack, unrounded, the figures for them, and the charts that ask for them."""

    pitch: Quantity
    edge: Quantity
    figures: tuple[Figure, ...]
    source: str


def spacing_of(stack: SheetStack, chart: SpotChart, governing: Quantity, approved: ApprovedTables) -> Spaced:
    """Return what the spacing tables of a chart require at a thickness: of several the greater value.

    Raises OutOfRangeError where the chart's own spacing table does not reach the thickness. Another one that does
    not is left out, and said to be.
    """
    tables = [approved.spot_spacings[mark] for mark in (chart.spacing, *chart.spacing_also)]
    pitches, overlaps = _read(tables, "pitch", governing), _read(tables, "overlap", governing)
    steps, pitch = _of_stack(stack, pitches[-1], approved)
    overlap = overlaps[-1]
    edge = edge_distance.work(minimum_overlap=overlap.result)
    absent = tuple(
        Remark(Weight.NOTE, f"table {table.table} does not reach this thickness and was not compared")
        for table in tables
        if not any(lookup.table == table.table for lookup in pitches)
    )
    compared = (*_compared(pitches), *absent)
    cost = Remark(Weight.NOTE, _COST, _OTHERS)
    source = f"table {pitches[-1].table}"
    return Spaced(
        pitch=pitch,
        edge=edge.result,
        figures=(
            rounded_result(PITCH, pitch, _PLAN, (*pitches[:-1], *steps), remarks=compared),
            rounded_result(OVERLAP, overlap.result, _PLAN, tuple(overlaps), remarks=_compared(overlaps)),
            rounded_result(EDGE, edge.result, _EDGE, (overlap, edge), remarks=(cost,)),
        ),
        source=source,
    )


def _read(tables: Sequence[SpotSpacing], column: str, at: Quantity) -> list[Lookup]:
    """Return the value of each chart that reaches a thickness, the largest last."""
    found = [read(locate(tables[0], at), column)[0]]
    for table in tables[1:]:
        try:
            found.append(read(locate(table, at), column)[0])
        except OutOfRangeError:
            continue
    return sorted(found, key=lambda lookup: in_mm(lookup.result))


def _compared(lookups: Sequence[Lookup]) -> tuple[Remark, ...]:
    if len(lookups) == 1:
        return ()
    charts = "two" if len(lookups) == 2 else str(len(lookups))  # noqa: PLR2004 (a number in words)
    words = f"the largest value of the {charts} charts: {lookups[-1].table}"
    return (Remark(Weight.NOTE, words, _CLOSER),)


def _of_stack(stack: SheetStack, pitch: Lookup, approved: ApprovedTables) -> tuple[tuple[Step, ...], Quantity]:
    """Return how the minimum pitch of a stack is calculated, and its value."""
    if not stack.has_three:
        return (pitch,), pitch.result
    plant = approved.plant
    more = plant.spot_pitch_three_sheets_more
    given = Given("more for three sheets", more, "%", f"table {plant.table}: {plant.spot_pitch_source}")
    worked = pitch_of_three_sheets.work(pitch_of_two_sheets=pitch.result, more_for_three=more)
    return (pitch, given, worked), worked.result
