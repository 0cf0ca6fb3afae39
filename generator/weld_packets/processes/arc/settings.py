"""The settings of one group of seams: what is dialled, what follows, what was checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from weld_packets.calculation.acts import SECTION, SECTION_OF_ALL_PASSES
from weld_packets.calculation.chart import Place, locate, read, windowed
from weld_packets.calculation.dial import Setting, at_step, between, set_to_nearest
from weld_packets.calculation.formula import Source, Standing
from weld_packets.calculation.plausibility import BOUNDED, check_plausible
from weld_packets.calculation.readings import as_stated, ordered, resting_on_memory, result, value_of
from weld_packets.calculation.results import PassAim, SeamKind, WeldSettings
from weld_packets.calculation.spread import share_of
from weld_packets.calculation.trace import Figure, Given, Name, Remark, Verdict, Weight
from weld_packets.errors import Gathering, OutOfRangeError, located, refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.charts import ArcChart, PassPlan
from weld_packets.model.order import Seam
from weld_packets.model.tables import Material
from weld_packets.processes.arc.asked import Ask
from weld_packets.processes.arc.chart_choice import chart_for
from weld_packets.processes.arc.checks import fit_up_figures, joint_checks, upper_checks
from weld_packets.processes.arc.details import details_of
from weld_packets.processes.arc.heat.heat import EFFICIENCY, THERMAL_EFFICIENCY, arc_energy, heat_input
from weld_packets.processes.arc.heat.metal import metal_figures
from weld_packets.processes.arc.heat.temperatures import temperature_figures
from weld_packets.processes.arc.machine import duty, load_voltage, wire_current
from weld_packets.processes.arc.passes import (
    SPEED,
    Bench,
    Dial,
    Melt,
    Passes,
    Sections,
    free_pass,
    nominal_by,
    nominal_share,
    sized_passes,
    throats_made,
    told_faults,
)
from weld_packets.processes.arc.size.fit_up import toleranced
from weld_packets.processes.arc.size.flare import FLARE, flare_throat
from weld_packets.processes.arc.size.sections import charted_throats, drawn_sizes, sections_of, tried
from weld_packets.processes.arc.size.sizes import Nominal, Size, obtained, reinforcement, size_of, thickness_figure
from weld_packets.processes.arc.size.upper_sizes import AllNominal
from weld_packets.processes.arc.size.weld_size import throat_from_area
from weld_packets.processes.arc.wire.consumption import consumption
from weld_packets.processes.arc.wire.feed import current_of, feed_of
from weld_packets.processes.arc.wire.flow import flow_of
from weld_packets.processes.arc.wire.melting import wire_section
from weld_packets.processes.arc.wire.wire_data import WireData, wire_data
from weld_packets.units import Quantity, as_written, kinds, magnitude, plain, quantity, spelling, with_unit

VOLTAGE = Name("arc_voltage", "Arc voltage", "U", kinds.VOLTAGE)
GAS_FLOW = Name("gas_flow", "Gas flow", "g", kinds.GAS_FLOW)
DISTANCE = Name("contact_distance", "Contact tip to work", "L", kinds.LENGTH)
WORK_ANGLE = Name("work_angle", "Work angle", "β", kinds.ANGLE)
TRAVEL_ANGLE = Name("travel_angle", "Travel angle", "τ", kinds.ANGLE)
RUNS = Name("runs", "Passes", "n", kinds.NUMBER)
ENERGY = Name("arc_energy", "Arc energy (heat input of US codes)", "E", kinds.HEAT)
HEAT = Name("heat_input", "Heat input", "Q", kinds.HEAT)

USUAL_HEAT = (0.1, 2.0)
COURSE = Source("TWI, MIG/MAG welding course text", "heat input 0.1 to 2 kJ/mm")
_UNUSUAL = Remark(Weight.WARNING, "outside the usual 0.1 to 2 kJ/mm", COURSE, SECTION)
PULSED = Source("ISO/TR 18491", "methods B and C for pulsed arcs", Standing.FROM_MEMORY)
ANGLES = Source("BOC 250C machine manual", "butt ± 15°, fillet at 45°")
GAUGES = MappingProxyType({"mm": quantity(1.0, "mm"), "in": quantity(0.0625, "in")})
"""Marks of the rule or gauge with which the contact distance is set: common practice, no source."""
MAXIMUM_TURN = 15.0
"""Degrees by which an order may turn the torch from the schedule's angle without a warning."""


@dataclass(frozen=True)
class _Chosen:
    """What the chart gives besides feed and speed, set to the machines' steps."""

    voltage: Figure
    gas_flow: Figure
    distance: Figure


@dataclass(frozen=True)
class _Job:
    """Everything that decides what follows from the set values."""

    ask: Ask
    table: ArcChart
    approved: ApprovedTables
    chosen: _Chosen
    current: Figure
    size: Size
    melt: Melt
    passes: Passes


def settings_of(ask: Ask, key: str, named: str | None, approved: ApprovedTables) -> WeldSettings:
    """Return the settings of seams that are set alike, from the named schedule or the only one that fits.

    Raises OutOfRangeError with every reason for which these seams cannot be set.
    """
    job = _job(ask, chart_for(ask, named, approved), approved)
    chosen, passes = job.chosen, job.passes
    dialled = (passes.feed, chosen.voltage, passes.speed, chosen.gas_flow, chosen.distance, *_angles(job))
    derived, verdicts = _following(job)
    return WeldSettings(
        key=key,
        kind=_kind(ask),
        robot=ask.robot.id,
        welds=tuple(seam.id for seam in ask.seams),
        runs=passes.count,
        dialled=dialled,
        derived=derived,
        verdicts=(*verdicts, *_plausible(ask, (*dialled, *derived), approved)),
        weld_schedule=ask.seam.weld_schedule,
        details=details_of(ask, job.table, approved, (*dialled, *derived), passes.count),
        coupling=passes.coupling,
        passes=tuple(_pass_aims(job)),
        pass_source=_plan(job.table, passes.count).source if passes.count > 1 else "",
        travel_direction=job.table.travel_direction,
    )


def _job(ask: Ask, table: ArcChart, approved: ApprovedTables) -> _Job:
    place = locate(table, ask.governing)
    distance = _gauged(place)
    data = wire_data(ask.wire, ask.gas.id, table.transfer, value_of(distance), approved.owner("wires"))
    gathering = Gathering()
    chosen, benches = [], []
    with gathering.step():
        chosen.append(_chosen(ask, place, toleranced(distance, approved.plant)))
    with gathering.step():
        benches.append(_bench(ask, table, place, data))
    gathering.finish(OutOfRangeError)
    bench, size = benches[0], size_of(ask, approved.plant)
    passes = _passes(ask, bench, size, approved)
    melt = Melt(value_of(passes.feed), bench.section, ask.wire.efficiency, share_of(passes.feed))
    return _Job(ask, table, approved, chosen[0], current_of(place, passes.feed, data), size, melt, passes)


def _kind(ask: Ask) -> SeamKind:
    seam = ask.seam
    sizes = (("a", seam.throat), ("z", seam.leg), ("b", seam.gap))
    return SeamKind(
        joint=seam.joint,
        sizes=tuple((letter, size) for letter, size in sizes if size is not None),
        position=seam.position,
        sheets=tuple(component.thickness for component in ask.components),
    )


def _chosen(ask: Ask, place: Place, distance: Figure) -> _Chosen:
    """Return what the chart gives besides feed and speed; every one that cannot be set is told."""
    gathering = Gathering()
    found: dict[str, Figure] = {}
    machine = ask.machine
    volts = between(machine.name, machine.voltage_from, machine.voltage_to, machine.voltage_step)
    with gathering.step():
        found["voltage"] = _dialled(VOLTAGE, place, "voltage", volts)
    with gathering.step():
        found["gas_flow"] = flow_of(ask.gas, _metered(place))
    gathering.finish(OutOfRangeError)
    return _Chosen(**found, distance=distance)


def _metered(place: Place) -> Figure:
    """Return the gas flow, set on a flow meter that is read to one of its own units: common practice, no source."""
    lookup, window = windowed(place, "gas_flow")
    meter = Setting("flow meter", quantity(1.0, spelling(lookup.result)))
    return _inside(Dial(GAS_FLOW, lookup.result, window, meter, (lookup,)))


def _gauged(place: Place) -> Figure:
    """Return the contact distance as a gauge sets it: in whole steps between two rows, as stated on a row."""
    lookup = read(place, "contact_distance")[0]
    stated = as_stated(lookup.result, spelling(lookup.result))
    gauge = Setting("gauge", GAUGES.get(spelling(lookup.result), GAUGES["mm"]))
    if len(lookup.rows) == 1 and spelling(lookup.result) == gauge.unit:
        step = min(gauge.width, Decimal(1).scaleb(int(stated.as_tuple().exponent)))
        return replace(ordered(DISTANCE, lookup.result, ""), step=step, trace=(lookup,))
    return set_to_nearest(DISTANCE, lookup.result, gauge, (lookup,))


def _dialled(name: Name, place: Place, column: str, setting: Setting) -> Figure:
    lookup, window = windowed(place, column)
    return _inside(Dial(name, lookup.result, window, setting, (lookup,)))


def _inside(dial: Dial) -> Figure:
    """Return a figure at the step nearest to its middle that lies well inside its range."""
    return at_step(dial.name, dial.middle, dial.nearest(), dial.window, dial.setting, dial.trace)


def _bench(ask: Ask, table: ArcChart, place: Place, data: WireData | None) -> Bench:
    """Return what the seams are laid with; raises OutOfRangeError with every dial on which nothing can be set."""
    still = quantity(0.0, "mm/s")
    lookup, window = windowed(place, "travel_speed")
    robot = between(ask.robot.name, still, ask.robot.air_speed, ask.robot.travel_speed_step)
    dials = feed_of(ask, place, data), Dial(SPEED, lookup.result, window, robot, (lookup,))
    gathering = Gathering()
    for dial in dials:
        with gathering.step():
            _ = dial.target_steps
    gathering.finish(OutOfRangeError)
    return Bench(
        *dials,
        section=wire_section(wire_diameter=ask.wire.diameter),
        efficiency=ask.wire.efficiency,
        throats=charted_throats(place) if ask.is_fillet else None,
        counts=(1, *sorted(len(plan.passes) for plan in table.pass_plans)),
    )


def _passes(ask: Ask, bench: Bench, size: Size, approved: ApprovedTables) -> Passes:
    if size.area is None or size.target is None:
        return free_pass(bench)
    key, asked = _asked(ask.seam)
    sections = sections_of(ask, size, approved)
    with located(key=key):
        found = sized_passes(bench, sections, drawn_sizes(size, sections, reinforcement(approved.plant)))
        if found is None:
            raise _no_fit(ask, bench, sections, approved, asked)
        return found


def _no_fit(ask: Ask, bench: Bench, sections: Sections, approved: ApprovedTables, asked: Quantity) -> OutOfRangeError:
    made = throats_made(bench, tried(ask, bench, approved)) if ask.is_fillet else ""
    sizes = f"change the size (this chart makes throats of {made}; a leg is 1.41 times its throat)" if made else ""
    return refusal(
        f"the chart does not make this size: {told_faults(bench, sections)}",
        f"{sizes}, or use another chart" if sizes else "change the size, or use another chart",
        value=as_written(asked),
    )


def _asked(seam: Seam) -> tuple[str, Quantity]:
    """Return the key and the value by which the order states how much weld it wants."""
    sizes = (("throat", seam.throat), ("leg", seam.leg), ("weld cap width", seam.weld_cap_width))
    return next((key, size) for key, size in sizes if size is not None)


def _plan(table: ArcChart, count: int) -> PassPlan:
    return next(plan for plan in table.pass_plans if len(plan.passes) == count)


def _pass_aims(job: _Job) -> Iterator[PassAim]:
    """Yield the passes of a weld of several, each with the throat of all so far as it is aimed at."""
    count, target = job.passes.count, job.size.target
    if count == 1 or target is None:
        return
    for number, each in enumerate(_plan(job.table, count).passes, 1):
        throat = None
        if job.size.throat is not None:
            so_far = target.result * (number / count)
            throat = throat_from_area(weld_area=so_far, reinforcement=reinforcement(job.approved.plant))
        yield PassAim(number, each.place, each.aim, each.cleaning, throat)


def _angles(job: _Job) -> tuple[Figure, Figure]:
    ask, table = job.ask, job.table
    chart = f"table {table.table}: {table.angles_source}"
    found = []
    for name, own, usual in (
        (WORK_ANGLE, ask.seam.work_angle, table.work_angle),
        (TRAVEL_ANGLE, ask.seam.travel_angle, table.travel_angle),
    ):
        figure = ordered(name, usual if own is None else own, chart if own is None else "order")
        found.append(replace(figure, remarks=tuple(_turned(usual if own is None else own, usual))))
    direction = Remark(Weight.NOTE, table.travel_direction)
    return found[0], replace(found[1], remarks=(direction, *found[1].remarks))


def _turned(angle: Quantity, usual: Quantity) -> Iterator[Remark]:
    if abs(magnitude(angle, "°") - magnitude(usual, "°")) > MAXIMUM_TURN:
        words = f"more than {MAXIMUM_TURN:g}° from the {as_written(usual)} of the chart"
        yield Remark(Weight.WARNING, words, ANGLES, SECTION)


def _following(job: _Job) -> tuple[tuple[Figure, ...], tuple[Verdict, ...]]:
    """Return everything that follows from the set values, and the checks of them; raises what must not be."""
    current, nominal = value_of(job.current), _nominal(job)
    heat = _heat(job)
    gathering = Gathering()
    figures: list[Figure] = [job.current, thickness_figure(job.ask), *job.size.figures, _count(job)]
    verdicts: list[Verdict] = [wire_current(job.ask, current), *resting_on_memory(job.table, "chart", SECTION)]
    with gathering.step():
        made, enough = obtained(job.ask, job.size, nominal, job.passes.count, job.approved)
        figures += made
        verdicts.append(enough)
        verdicts += upper_checks(job.ask, _all_passes(job, nominal), job.passes.count, job.approved)
    if job.ask.seam.joint == FLARE:
        ruled, decided = flare_throat(job.ask.components, value_of(job.size.figures[0]), job.table, job.approved.plant)
        figures += ruled
        verdicts.append(decided)
    with gathering.step():
        share, rated = duty(job.ask.machine, current, job.approved.plant)
        figures.append(share)
        verdicts.append(rated)
    with gathering.step():
        verdicts += joint_checks(job.ask, job.table, job.approved, current)
    gathering.finish(OutOfRangeError)
    figures += [
        *heat,
        *metal_figures(job.ask, value_of(heat[1]), share_of(heat[1]), job.passes.count),
        *temperature_figures(job.ask),
        *fit_up_figures(job.ask, figures, job.passes.count, job.approved),
        *_comparisons(job),
    ]
    figures += consumption(job.ask, job.melt, job.passes, nominal.set, job.chosen.gas_flow)
    return tuple(figures), tuple(verdicts)


def _nominal(job: _Job) -> Nominal:
    melt, speed = job.melt, job.passes.speed
    at_set = nominal_by(melt.wire_feed, melt, value_of(speed))
    feeds, speeds = job.passes.feed.window, speed.window
    ends = []
    if feeds is not None and feeds.high is not None:
        ends.append(nominal_by(feeds.high, melt, value_of(speed)).result)
    if speeds is not None and speeds.low is not None:
        ends.append(nominal_by(melt.wire_feed, melt, speeds.low).result)
    return Nominal(at_set, max(ends, default=at_set.result), nominal_share(melt, speed, at_set))


def _all_passes(job: _Job, nominal: Nominal) -> AllNominal:
    count = float(job.passes.count)
    return AllNominal(nominal.set.result * count, nominal.maximum * count)


def _comparisons(job: _Job) -> Iterator[Figure]:
    yield load_voltage(value_of(job.current), value_of(job.chosen.voltage), share_of(job.current))


def _count(job: _Job) -> Figure:
    count = job.passes.count
    origin = "smallest number of equal passes for which the chart has settings"
    if count == 1:
        return ordered(RUNS, quantity(count, "1"), origin)
    source = Source(_plan(job.table, count).source)
    several = Remark(Weight.WARNING, f"{count} passes, from a chart for single passes", source, SECTION_OF_ALL_PASSES)
    return ordered(RUNS, quantity(count, "1"), origin, remarks=(several,))


def _heat(job: _Job) -> tuple[Figure, Figure]:
    current, voltage = value_of(job.current), value_of(job.chosen.voltage)
    speed = value_of(job.passes.speed)
    share = quantity(THERMAL_EFFICIENCY[job.ask.wire.process], "1")
    energy = arc_energy.work(arc_voltage=voltage, welding_current=current, travel_speed=speed)
    heat = heat_input.work(thermal_efficiency=share, arc_voltage=voltage, welding_current=current, travel_speed=speed)
    pulsed = Remark(Weight.WARNING, "mean voltage and current are only approximate for a pulsed arc", PULSED)
    remarks = (pulsed,) if job.table.transfer == "pulsed" else ()
    usual = () if USUAL_HEAT[0] <= heat.result.magnitude <= USUAL_HEAT[1] else (_UNUSUAL,)
    factor = Given("thermal efficiency", share, "1", str(EFFICIENCY))
    shares = {
        "welding_current": share_of(job.current),
        "arc_voltage": share_of(job.chosen.voltage),
        "travel_speed": share_of(job.passes.speed),
    }
    return (
        result(ENERGY, energy, remarks=remarks, shares=shares),
        result(HEAT, heat, before=(factor,), remarks=(*remarks, *usual), shares=shares),
    )


def _plausible(ask: Ask, figures: tuple[Figure, ...], approved: ApprovedTables) -> tuple[Verdict, ...]:
    """Return the verdict on each bounded figure for each base metal; raises with every bound that is broken.

    The ends of a window are held to the same bounds: a setter may turn to them.
    """
    gathering = Gathering()
    found: dict[Verdict, None] = {}
    for key, text, (value, *ends), material in _bounded(ask, figures):
        asked = ask.wire.process, material.base, (material.coating,), approved.limits
        with gathering.step():
            bounds = check_plausible(key, value, *asked, text)
            found[bounds] = None
            for end in ends:
                check_plausible(key, end, *asked)
    gathering.finish(OutOfRangeError)
    return tuple(found)


def _bounded(ask: Ask, figures: tuple[Figure, ...]) -> Iterator[tuple[str, str, list[Quantity], Material]]:
    for material in {entry.id: entry for entry in ask.materials}.values():
        for figure in figures:
            if figure.key in BOUNDED and figure.value is not None:
                ends = (figure.window.low, figure.window.high) if figure.window else ()
                text = "" if figure.text is None else with_unit(plain(figure.text), figure.unit)
                yield figure.key, text, [figure.value, *(end for end in ends if end is not None)], material
    for component, material in zip(ask.components, ask.materials, strict=True):
        yield "thickness", "", [component.thickness], material
