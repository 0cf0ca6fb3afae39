"""The settings of one group of seams: what is dialled, what follows, what was checked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from weld_packets.calculation.chart import Place, locate, read_range
from weld_packets.calculation.countermeasures import SECTION, SECTION_OF_ALL_PASSES
from weld_packets.calculation.dial import Setting, between
from weld_packets.calculation.formula import Source, Standing
from weld_packets.calculation.readings import highest, ordered, resting_on_memory, share_of, value_of
from weld_packets.calculation.results import PassAim, WeldSettings
from weld_packets.calculation.table_checks.number_problems import CONTACT_GAUGES
from weld_packets.calculation.trace import Figure, Name, Remark, Verdict, Weight
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart, PassPlan
from weld_packets.model.tables.materials import Wire
from weld_packets.processes.arc.heat.heat import heat_of, metal_figures
from weld_packets.processes.arc.heat.temperatures import temperature_figures
from weld_packets.processes.arc.melting import Melt, conventional_load_voltage
from weld_packets.processes.arc.passes.dials import Dial, Dials
from weld_packets.processes.arc.passes.of_seams import dials_of, nominal_of, passes_of, travel_speed_dial
from weld_packets.processes.arc.passes.passes import Passes
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.chart_choice import bases_of, chart_for
from weld_packets.processes.arc.settings.consumption import consumption
from weld_packets.processes.arc.settings.details import details_of
from weld_packets.processes.arc.settings.machine import duty, load_voltage, polarity, torch_duty, wire_current
from weld_packets.processes.arc.settings.plausible import plausible
from weld_packets.processes.arc.settings.read_settings import angles, flow_of, gauged, inside, metered
from weld_packets.processes.arc.size.fit_up import Fillet, butt_gap, gap_figures, tack_check, toleranced
from weld_packets.processes.arc.size.flare import FLARE, flare_throat
from weld_packets.processes.arc.size.formulas import throat_from_area
from weld_packets.processes.arc.size.sizes import (
    LEG,
    OBTAINED,
    THROAT,
    Nominal,
    Size,
    obtained,
    reinforcement,
    size_of,
    thickness_figure,
)
from weld_packets.processes.arc.size.unequal import unequal_thickness
from weld_packets.processes.arc.size.upper_sizes import AllNominal, upper_sizes
from weld_packets.processes.arc.wire.feed import current_of, feed_of
from weld_packets.processes.arc.wire.wire_data import WireData, wire_data
from weld_packets.units import as_written, in_mm, kinds, quantity, same

VOLTAGE = Name("arc_voltage", "Arc voltage", "U", kinds.VOLTAGE)
DISTANCE = Name("contact_distance", "Contact tip to work distance", "L", kinds.LENGTH)
PASSES = Name("passes", "Passes", "n", kinds.NUMBER)

PULSED = Source("ISO/TR 18491", "methods B and C for pulsed arcs", Standing.FROM_MEMORY)


@dataclass(frozen=True)
class _Job:
    """Everything that decides what follows from the set values."""

    group: SeamGroup
    table: ArcChart
    approved: ApprovedTables
    current: Figure
    voltage: Figure
    gas_flow: Figure
    distance: Figure
    size: Size
    melt: Melt
    passes: Passes


def settings_of(group: SeamGroup, key: str, named: str | None, approved: ApprovedTables) -> WeldSettings:
    """Return the settings of a group of seams, from the named chart or the only one that fits.

    Raises OutOfRangeError with every reason for which these seams cannot be set.
    """
    job = _job(group, arc_chart_for(group, named, approved), approved)
    passes = job.passes
    dialled = (passes.feed, job.voltage, passes.speed, job.gas_flow, job.distance, *angles(group, job.table))
    derived, verdicts = _following(job)
    return WeldSettings(
        key=key,
        kind=group.kind,
        robot=group.robot.id,
        welds=tuple(seam.id for seam in group.seams),
        pass_count=passes.count,
        dialled=dialled,
        derived=derived,
        verdicts=(*verdicts, *plausible(group, (*dialled, *derived), approved)),
        weld_schedule=group.seam.weld_schedule,
        details=details_of(group, job.table, approved, (*dialled, *derived), passes.count),
        coupling=passes.coupling,
        passes=tuple(_pass_aims(job)),
        pass_source=_plan(job.table, passes.count).source if passes.count > 1 else "",
        travel_direction=job.table.travel_direction,
    )


def arc_chart_for(group: SeamGroup, named: str | None, approved: ApprovedTables) -> ArcChart:
    """Return the arc chart of a group by ``chart_choice.chart_for``, which raises OutOfRangeError where none fits."""
    bases = " and ".join(bases_of(group))
    wanted = "arc chart", f"of {bases} with wire {group.wire.id} under {group.gas.id}"
    return chart_for(group, approved.arc_charts, named, lambda chart: _wire_misfits(chart, group.wire), wanted)


def _wire_misfits(chart: ArcChart, wire: Wire) -> Iterator[str]:
    if not same(in_mm(chart.wire_diameter), in_mm(wire.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"


def _job(group: SeamGroup, table: ArcChart, approved: ApprovedTables) -> _Job:
    place = locate(table, group.governing)
    distance = gauged(place, DISTANCE, "contact_distance", CONTACT_GAUGES, approved.plant)
    data = wire_data(group.wire, group.gas.id, table.transfer, value_of(distance), approved.owner("wires"))
    machine = group.feeder
    volts = between(machine.name, machine.voltage_from, machine.voltage_to, machine.voltage_step)
    gathering = Gathering()
    found = {"distance": toleranced(distance, approved.plant)}
    with gathering.step():
        found["voltage"] = _dialled(VOLTAGE, place, "voltage", volts)
    with gathering.step():
        found["gas_flow"] = flow_of(group.gas, metered(place, approved.plant))
    with gathering.step():
        dials = _dials(group, table, place, data)
    gathering.finish(OutOfRangeError)
    size = size_of(group, approved.plant)
    passes = passes_of(group, dials, size, approved)
    melt = Melt(value_of(passes.feed), dials.section, group.wire.efficiency, share_of(passes.feed))
    current = current_of(place, passes.feed, data)
    return _Job(group, table, approved, current, **found, size=size, melt=melt, passes=passes)


def _dialled(name: Name, place: Place, column: str, setting: Setting) -> Figure:
    lookup, allowed_range = read_range(place, column)
    return inside(Dial(name, lookup.result, allowed_range, setting, (lookup,)))


def _dials(group: SeamGroup, table: ArcChart, place: Place, data: WireData | None) -> Dials:
    """Return what the seams are made with; raises OutOfRangeError with every dial on which nothing can be set."""
    speed = travel_speed_dial(group, place)
    counts = (1, *sorted(len(plan.passes) for plan in table.pass_plans))
    return dials_of(group, place, feed_of(group, place, data), speed, counts)


def _plan(table: ArcChart, count: int) -> PassPlan:
    return next(plan for plan in table.pass_plans if len(plan.passes) == count)


def _pass_aims(job: _Job) -> Iterator[PassAim]:
    """Yield the passes of a weld of several, each with the target throat of all so far."""
    count, target = job.passes.count, job.size.target
    if count == 1 or target is None:
        return
    for number, each in enumerate(_plan(job.table, count).passes, 1):
        throat = None
        if job.size.throat is not None:
            so_far = target.result * (number / count)
            throat = throat_from_area(weld_area=so_far, reinforcement=reinforcement(job.approved.plant))
        yield PassAim(number, each.place, each.aim, each.cleaning, throat)


def _following(job: _Job) -> tuple[tuple[Figure, ...], tuple[Verdict, ...]]:
    """Return everything that follows from the set values, and the checks of them; raises what must not be."""
    current, nominal = value_of(job.current), nominal_of(job.melt, job.passes)
    heat = heat_of(job.group.process, job.current, job.voltage, job.passes.speed, _pulsed(job.table))
    gathering = Gathering()
    figures: list[Figure] = [job.current, thickness_figure(job.group), *job.size.figures, _count(job)]
    verdicts: list[Verdict] = [
        wire_current(job.group, current),
        *polarity(job.group),
        *butt_gap(job.group),
        *resting_on_memory(job.table, "chart", SECTION),
    ]
    with gathering.step():
        made, enough = obtained(job.group, job.size, nominal, job.passes.count, job.approved)
        figures += made
        verdicts.append(enough)
        verdicts += upper_sizes(job.group, _all_passes(job, nominal), job.passes.count, job.approved)
    if job.group.seam.joint == FLARE:
        ruled, decided = flare_throat(
            job.group.components, value_of(job.size.figures[0]), job.table, job.approved.plant
        )
        figures += ruled
        verdicts.append(decided)
    with gathering.step():
        share, rated = duty(job.group.machine, current, job.approved.plant, highest(job.current))
        figures.append(share)
        verdicts.append(rated)
    with gathering.step():
        verdicts += _joint_checks(job.group, job.table, job.approved, job.current)
    gathering.finish(OutOfRangeError)
    metal = metal_figures(job.group, value_of(heat[1]), share_of(heat[1]), job.passes.count)
    figures += [
        *heat,
        *metal,
        *temperature_figures(job.group, metal),
        *_fit_up_figures(job.group, figures, job.passes.count, job.approved),
        *_comparisons(job),
    ]
    figures += consumption(job.group, job.melt, job.passes, nominal.set, job.gas_flow)
    return tuple(figures), tuple(verdicts)


def _all_passes(job: _Job, nominal: Nominal) -> AllNominal:
    count = float(job.passes.count)
    return AllNominal(nominal.set.result * count, nominal.maximum * count)


def _comparisons(job: _Job) -> Iterator[Figure]:
    yield load_voltage(conventional_load_voltage, value_of(job.current), value_of(job.voltage), share_of(job.current))


def _count(job: _Job) -> Figure:
    count = job.passes.count
    origin = "smallest number of equal passes for which the chart has settings"
    if count == 1:
        return ordered(PASSES, quantity(count, "1"), origin)
    source = Source(_plan(job.table, count).source)
    several = Remark(Weight.WARNING, f"{count} passes, from a chart for single passes", source, SECTION_OF_ALL_PASSES)
    return ordered(PASSES, quantity(count, "1"), origin, remarks=(several,))


def _pulsed(table: ArcChart) -> tuple[Remark, ...]:
    if table.transfer != "pulsed":
        return ()
    words = "mean voltage and current are only approximate for a pulsed arc"
    return (Remark(Weight.WARNING, words, PULSED),)


def _joint_checks(group: SeamGroup, table: ArcChart, approved: ApprovedTables, current: Figure) -> tuple[Verdict, ...]:
    """Return the checks of unequal components, of the torch at its current, and of the tacks.

    Raises OutOfRangeError with every one of them that is not passed and refuses.
    """
    gathering = Gathering()
    found: list[Verdict] = []
    for checks in (
        unequal_thickness(group, table, approved.plant),
        torch_duty(group, value_of(current), approved.plant, highest(current)),
        tack_check(group),
    ):
        with gathering.step():
            found += checks
    gathering.finish(OutOfRangeError)
    return tuple(found)


def _fit_up_figures(
    group: SeamGroup, figures: Iterable[Figure], passes: int, approved: ApprovedTables
) -> Iterator[Figure]:
    """Yield the root gap of a fillet and what it costs; ``figures`` hold its leg and throats, of a butt none."""
    sizes = {figure.key: figure.value for figure in figures}
    leg, throat, expected = (sizes.get(name.key) for name in (LEG, THROAT, OBTAINED))
    if leg is not None and throat is not None and expected is not None:
        yield from gap_figures(group, Fillet(leg, throat, expected), passes, approved)
