"""The settings of one group of seams: what is dialled, what follows, what was checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from generator.errors import Gathering, OutOfRangeError, located
from generator.model.charts import ArcSchedule
from generator.model.order import Seam
from generator.model.shop import Shop
from generator.model.tables import Material, Plant
from generator.process.acts import SECTION, SECTION_OF_ALL_PASSES
from generator.process.arc.asked import Ask
from generator.process.arc.consumption import consumption
from generator.process.arc.flare import FLARE, flare_throat
from generator.process.arc.flow import flow_of
from generator.process.arc.heat import EFFICIENCY, THERMAL_EFFICIENCY, arc_energy, heat_input
from generator.process.arc.machine import burn_off, duty, load_voltage, wire_current
from generator.process.arc.melting import laid_area, wire_section
from generator.process.arc.metal import metal_figures
from generator.process.arc.runs import Melt, Runs, balanced_runs, enough_wire, laid_share, middle_speed
from generator.process.arc.schedule import schedule_for
from generator.process.arc.sizes import Size, obtained, reinforcement, size_of, thickness_figure
from generator.process.arc.weld_size import EQUAL_RUNS
from generator.process.chart import Place, locate, read, windowed
from generator.process.dial import Setting, between, set_to_nearest, set_to_step
from generator.process.formula import Source, Standing, Worked
from generator.process.measure import as_written, spelling
from generator.process.plausibility import BOUNDED, check_plausible
from generator.process.readings import as_stated, charted, ordered, resting_on_memory, result, value_of
from generator.process.results import WeldSettings
from generator.process.spread import share_of
from generator.process.trace import Figure, Given, Name, Remark, Verdict, Weight
from generator.units import Quantity, kinds, magnitude, plain, quantity, with_unit

WIRE_FEED = Name("wire_feed_speed", "Wire feed speed", "w", kinds.WIRE_FEED)
VOLTAGE = Name("arc_voltage", "Arc voltage", "U", kinds.VOLTAGE)
CURRENT = Name("welding_current", "Welding current (displayed)", "I", kinds.CURRENT)
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
AMPERE = Decimal(1)
"""To which a power source shows its current."""
GAUGES = MappingProxyType({"mm": quantity(1.0, "mm"), "in": quantity(0.0625, "in")})
"""Marks of the rule or gauge with which the contact distance is set: common practice, no source."""
MOST_TURN = 15.0
"""Degrees by which an order may turn the torch from the schedule's angle without a warning."""


@dataclass(frozen=True)
class _Set:
    """The figures that the chart gives and the machines are set to."""

    wire_feed: Figure
    voltage: Figure
    current: Figure
    gas_flow: Figure
    distance: Figure


@dataclass(frozen=True)
class _Job:
    """Everything that decides what follows from the set values."""

    ask: Ask
    table: ArcSchedule
    shop: Shop
    chosen: _Set
    size: Size
    melt: Melt
    runs: Runs


def settings_of(ask: Ask, key: str, named: str | None, shop: Shop) -> WeldSettings:
    """Return the settings of seams that are set alike, from the named schedule or the only one that fits.

    Raises OutOfRangeError with every reason for which these seams cannot be set.
    """
    job = _job(ask, schedule_for(ask, named, shop), shop)
    chosen = job.chosen
    dialled = (chosen.wire_feed, chosen.voltage, job.runs.speed, chosen.gas_flow, chosen.distance, *_angles(job))
    derived, verdicts = _following(job)
    return WeldSettings(
        key=key,
        title=_title(ask),
        arm=ask.arm.id,
        welds=tuple(seam.id for seam in ask.seams),
        runs=job.runs.count,
        dialled=dialled,
        derived=derived,
        verdicts=(*verdicts, *_plausible(ask, (*dialled, *derived), shop)),
        set_number=ask.seam.set_number,
    )


def _job(ask: Ask, table: ArcSchedule, shop: Shop) -> _Job:
    plant = shop.plant
    place = locate(table, ask.governing)
    chosen = _chosen(ask, place)
    size = size_of(ask, plant)
    section = wire_section(wire_diameter=ask.wire.diameter)
    melt = Melt(value_of(chosen.wire_feed), section, ask.wire.efficiency, share_of(chosen.wire_feed))
    runs = _runs(ask, place, melt, size, plant)
    if size.area is not None:
        chosen = replace(chosen, wire_feed=enough_wire(chosen.wire_feed, melt, runs, size.area))
    return _Job(ask, table, shop, chosen, size, melt, runs)


def _title(ask: Ask) -> str:
    seam = ask.seam
    sizes = (("a", seam.throat), ("z", seam.leg), ("b", seam.gap))
    size = " ".join(f"{symbol} {as_written(value)}" for symbol, value in sizes if value is not None)
    sheets = " + ".join(as_written(part.thickness) for part in ask.parts)
    return f"{seam.joint} {size}, {seam.position}, {sheets}"


def _chosen(ask: Ask, place: Place) -> _Set:
    """Return what the chart gives, set to the machines' steps; every one that cannot be set is told."""
    gathering = Gathering()
    found: dict[str, Figure] = {}
    machine = ask.machine
    feeds = between(machine.name, machine.wire_feed_from, machine.wire_feed_to, machine.wire_feed_step)
    volts = between(machine.name, machine.voltage_from, machine.voltage_to, machine.voltage_step)
    with gathering.step():
        found["wire_feed"] = _dialled(WIRE_FEED, place, "wire_feed", feeds)
    with gathering.step():
        found["voltage"] = _dialled(VOLTAGE, place, "voltage", volts)
    with gathering.step():
        found["current"] = charted(CURRENT, *windowed(place, "current"), AMPERE)
    with gathering.step():
        found["gas_flow"] = flow_of(ask.gas, _metered(place))
    with gathering.step():
        found["distance"] = _gauged(place)
    gathering.finish(OutOfRangeError)
    return _Set(**found)


def _metered(place: Place) -> Figure:
    """Return the gas flow, set on a flow meter that is read to one of its own units: common practice, no source."""
    lookup, window = windowed(place, "gas_flow")
    meter = Setting("flow meter", quantity(1.0, spelling(lookup.result)))
    return set_to_step(GAS_FLOW, lookup.result, window, meter, (lookup,))


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
    return set_to_step(name, lookup.result, window, setting, (lookup,))


def _runs(ask: Ask, place: Place, melt: Melt, size: Size, plant: Plant) -> Runs:
    still = quantity(0.0, "mm/s")
    arm = between(ask.arm.name, still, ask.arm.air_speed, ask.arm.travel_speed_step)
    if size.area is None:
        return middle_speed(place, arm)
    key, asked = _asked(ask.seam)
    with located(key=key):
        return balanced_runs(place, arm, melt, size.area, reinforcement(plant), asked=asked)


def _asked(seam: Seam) -> tuple[str, Quantity]:
    """Return the key and the value by which the order states how much weld it wants."""
    sizes = (("throat", seam.throat), ("leg", seam.leg), ("cap width", seam.cap_width))
    return next((key, size) for key, size in sizes if size is not None)


def _angles(job: _Job) -> tuple[Figure, Figure]:
    ask, table = job.ask, job.table
    chart = f"table {table.table} revision {table.revision}: {table.angles_source}"
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
    if abs(magnitude(angle, "°") - magnitude(usual, "°")) > MOST_TURN:
        words = f"more than {MOST_TURN:g}° from the {as_written(usual)} of the chart"
        yield Remark(Weight.WARNING, words, ANGLES, SECTION)


def _following(job: _Job) -> tuple[tuple[Figure, ...], tuple[Verdict, ...]]:
    """Return everything that follows from the set values, and the checks of them; raises what must not be."""
    current, laid = value_of(job.chosen.current), _laid(job)
    known = laid_share(job.melt, job.runs.speed, laid)
    heat = _heat(job)
    gathering = Gathering()
    figures: list[Figure] = [job.chosen.current, thickness_figure(job.ask), *job.size.figures, _count(job.runs)]
    verdicts: list[Verdict] = [wire_current(job.ask, current), *resting_on_memory(job.table, "chart", SECTION)]
    with gathering.step():
        made, enough = obtained(job.ask, job.size, laid, job.runs.count, job.shop, known)
        figures += made
        verdicts.append(enough)
    if job.ask.seam.joint == FLARE:
        ruled, decided = flare_throat(job.ask.parts, value_of(job.size.figures[0]), job.table, job.shop.plant)
        figures += ruled
        verdicts.append(decided)
    with gathering.step():
        share, rated = duty(job.ask.machine, current, job.shop.plant)
        figures.append(share)
        verdicts.append(rated)
    gathering.finish(OutOfRangeError)
    figures += [*heat, *metal_figures(job.ask, value_of(heat[1]), share_of(heat[1])), *_comparisons(job)]
    figures += consumption(job.ask, job.melt, job.runs, laid, job.chosen.gas_flow)
    return tuple(figures), tuple(verdicts)


def _laid(job: _Job) -> Worked:
    return laid_area.work(
        wire_feed=job.melt.wire_feed,
        section=job.melt.section,
        efficiency=job.melt.efficiency,
        travel_speed=value_of(job.runs.speed),
    )


def _comparisons(job: _Job) -> Iterator[Figure]:
    current, distance = value_of(job.chosen.current), value_of(job.chosen.distance)
    known = share_of(job.chosen.current)
    yield load_voltage(current, value_of(job.chosen.voltage), known)
    yield from burn_off(job.ask, current, job.melt.wire_feed, distance, known)


def _count(runs: Runs) -> Figure:
    origin = "smallest number of equal runs whose travel speed lies in the schedule's window"
    words = f"the chart states single passes only, this weld has {runs.count} passes"
    several = Remark(Weight.WARNING, words, EQUAL_RUNS, SECTION_OF_ALL_PASSES)
    return ordered(RUNS, quantity(runs.count, "1"), origin, remarks=(several,) if runs.count > 1 else ())


def _heat(job: _Job) -> tuple[Figure, Figure]:
    current, voltage = value_of(job.chosen.current), value_of(job.chosen.voltage)
    speed = value_of(job.runs.speed)
    share = quantity(THERMAL_EFFICIENCY[job.ask.wire.process], "1")
    energy = arc_energy.work(arc_voltage=voltage, welding_current=current, travel_speed=speed)
    heat = heat_input.work(thermal_efficiency=share, arc_voltage=voltage, welding_current=current, travel_speed=speed)
    pulsed = Remark(Weight.WARNING, "mean voltage and current are only approximate for a pulsed arc", PULSED)
    remarks = (pulsed,) if job.table.transfer == "pulsed" else ()
    usual = () if USUAL_HEAT[0] <= heat.result.magnitude <= USUAL_HEAT[1] else (_UNUSUAL,)
    factor = Given("thermal efficiency", share, "1", str(EFFICIENCY))
    chosen = job.chosen
    shares = {
        "welding_current": share_of(chosen.current),
        "arc_voltage": share_of(chosen.voltage),
        "travel_speed": share_of(job.runs.speed),
    }
    return (
        result(ENERGY, energy, remarks=remarks, shares=shares),
        result(HEAT, heat, before=(factor,), remarks=(*remarks, *usual), shares=shares),
    )


def _plausible(ask: Ask, figures: tuple[Figure, ...], shop: Shop) -> tuple[Verdict, ...]:
    """Return the verdict on each bounded figure for each base metal; raises with every bound that is broken.

    The ends of a window are held to the same bounds: a setter may turn to them.
    """
    gathering = Gathering()
    found: dict[Verdict, None] = {}
    for key, text, (value, *ends), material in _bounded(ask, figures):
        asked = ask.wire.process, material.base, (material.coating,), shop.limits
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
    for part, material in zip(ask.parts, ask.materials, strict=True):
        yield "thickness", "", [part.thickness], material
