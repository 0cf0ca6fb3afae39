"""The settings of seams from a tungsten electrode: what is dialled, what follows, what was checked.

The current is set and does not follow from a wire. With cold wire the size of a weld follows from wire feed and travel
speed as it does for a wire that melts in the arc. Without filler no size of a weld can be computed: only a butt without
gap and without cap is set, whose root and face the coupon shows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from weld_packets.calculation.chart import Place, locate, read_range
from weld_packets.calculation.countermeasures import SECTION
from weld_packets.calculation.dial import Bound, Setting, between
from weld_packets.calculation.readings import charted, highest, resting_on_memory, share_of, value_of
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Detail, Figure, Name, Said, Verdict
from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.heat.heat import heat_of, metal_figures
from weld_packets.processes.arc.heat.temperatures import temperature_figures
from weld_packets.processes.arc.melting import Melt, tungsten_load_voltage
from weld_packets.processes.arc.passes.dials import Dial, Dials
from weld_packets.processes.arc.passes.of_seams import dials_of, nominal_of, passes_of, travel_speed_dial
from weld_packets.processes.arc.passes.passes import Passes
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.settings.chart_choice import chart_for
from weld_packets.processes.arc.settings.consumption import consumption, consumption_without_wire
from weld_packets.processes.arc.settings.details import shared_details, temperatures_details
from weld_packets.processes.arc.settings.machine import duty, load_voltage, torch_duty
from weld_packets.processes.arc.settings.plausible import plausible
from weld_packets.processes.arc.settings.read_settings import angles, flow_of, gauged, inside, metered
from weld_packets.processes.arc.size.fit_up import butt_gap, tack_check
from weld_packets.processes.arc.size.sizes import Size, obtained, size_of, thickness_figure
from weld_packets.processes.arc.size.unequal import butt_step
from weld_packets.processes.arc.size.upper_sizes import AllNominal, upper_sizes
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenChart, TungstenSource
from weld_packets.processes.arc.wire.feed import WIRE_FEED
from weld_packets.units import Quantity, as_written, in_mm, kinds, magnitude, quantity, same
from weld_packets.units.digits import TENTH

CURRENT = Name("welding_current", "Welding current", "I", kinds.CURRENT)
VOLTAGE = Name("arc_voltage", "Arc voltage (displayed)", "U", kinds.VOLTAGE)
ARC_LENGTH = Name("arc_length", "Electrode to work", "l", kinds.LENGTH)
_GAUGES = {"mm": quantity(0.1, "mm"), "in": quantity(0.005, "in")}
"""Leaves of the feeler gauge with which the distance of the electrode is set: common practice, no source."""
_POLES = {
    "DC-": "electrode on the negative pole, work lead on the positive",
    "DC+": "electrode on the positive pole, work lead on the negative",
    "AC": "alternating current",
}
_IGNITION = {
    "high frequency": "high frequency, without touching the work",
    "lift": "the electrode touches the work and is lifted",
}


@dataclass(frozen=True)
class _Job:
    """Everything that decides what follows from the set values."""

    group: SeamGroup
    chart: TungstenChart
    approved: ApprovedTables
    current: Figure
    voltage: Figure
    gas_flow: Figure
    arc_length: Figure
    speed: Figure
    passes: Passes | None
    size: Size
    melt: Melt | None


def tungsten_settings(
    group: SeamGroup, electrode: Electrode, key: str, named: str | None, approved: ApprovedTables
) -> WeldSettings:
    """Return the settings of seams that are set the same, from the named chart or the only one that fits.

    Raises OutOfRangeError with every reason for which these seams cannot be set.
    """
    job = _job(group, electrode, tungsten_chart_for(group, electrode, named, approved), approved)
    dialled = tuple(_dialled(job))
    derived, verdicts = _following(job)
    figures = (*dialled, *derived)
    return WeldSettings(
        key=key,
        kind=group.kind,
        robot=group.robot.id,
        welds=tuple(seam.id for seam in group.seams),
        pass_count=1,
        dialled=dialled,
        derived=derived,
        verdicts=(*verdicts, *plausible(group, figures, approved)),
        weld_schedule=group.seam.weld_schedule,
        details=tungsten_details(group, electrode, job.chart, figures, approved),
        coupling=None if job.passes is None else job.passes.coupling,
    )


def _job(group: SeamGroup, electrode: Electrode, chart: TungstenChart, approved: ApprovedTables) -> _Job:
    source = source_of(group)
    place = locate(chart, group.governing)
    gathering = Gathering()
    found: dict[str, Figure] = {}
    with gathering.step():
        found["current"] = _current(place, source, electrode)
    with gathering.step():
        found["gas_flow"] = flow_of(group.gas, metered(place, approved.plant))
    with gathering.step():
        found["voltage"] = charted(VOLTAGE, *read_range(place, "voltage"), TENTH)
    with gathering.step():
        found["arc_length"] = gauged(place, ARC_LENGTH, "arc_length", _GAUGES, approved.plant)
    with gathering.step():
        if group.filler is None:
            _check_without_filler(group)
    gathering.finish(OutOfRangeError)
    size = size_of(group, approved.plant)
    if group.filler is None:
        speed = inside(travel_speed_dial(group, place))
        return _Job(group, chart, approved, **found, speed=speed, passes=None, size=size, melt=None)
    dials = _dials(group, place, source)
    passes = passes_of(group, dials, size, approved)
    melt = Melt(value_of(passes.feed), dials.section, group.filler.efficiency, share_of(passes.feed))
    return _Job(group, chart, approved, **found, speed=passes.speed, passes=passes, size=size, melt=melt)


def source_of(group: SeamGroup) -> TungstenSource:
    """Return the power source of the robot; names have been checked where the order was read."""
    if not isinstance(group.machine, TungstenSource):
        raise TypeError(group.machine.name)
    return group.machine


def _current(place: Place, source: TungstenSource, electrode: Electrode) -> Figure:
    """Return the current at a step well inside what chart, source and electrode allow."""
    lookup, allowed_range = read_range(place, "current")
    low = max((source.current_from, source.name), (electrode.current_from, _named(electrode)), key=_amperes)
    high = min((source.current_to, source.name), (electrode.current_to, _named(electrode)), key=_amperes)
    setting = Setting(source.name, source.current_step, Bound(*low), Bound(*high))
    return inside(Dial(CURRENT, lookup.result, allowed_range, setting, (lookup,)))


def _amperes(end: tuple[Quantity, str]) -> float:
    return magnitude(end[0], "A")


def _named(electrode: Electrode) -> str:
    return f"electrode {electrode.id} ({electrode.current_source})"


def _check_without_filler(group: SeamGroup) -> None:
    """Raise OutOfRangeError for a weld whose size nothing fills."""
    gap = group.seam.gap
    if not group.is_butt:
        raise refusal(
            f"process {group.process} adds no filler: no throat of a {group.seam.joint} can be computed",
            "choose a process with filler for this seam, or make it a square butt without gap",
            key="joint",
            value=group.seam.joint,
        )
    if gap is not None and in_mm(gap) > 0:
        raise refusal(
            f"process {group.process} adds no filler, and nothing fills a gap of {as_written(gap)}",
            "close the gap, or choose a process with filler",
            key="gap",
            value=as_written(gap),
        )
    if group.seam.weld_cap_width is not None:
        raise refusal(
            f"process {group.process} adds no filler, and no cap can be computed",
            "remove 'weld cap width' and 'weld cap height', or choose a process with filler",
            key="weld cap width",
            value=as_written(group.seam.weld_cap_width),
        )


def _dials(group: SeamGroup, place: Place, source: TungstenSource) -> Dials:
    """Return feeder, robot and wire; raise OutOfRangeError where the source feeds no wire, or nothing can be set."""
    if source.feeder is None:
        raise refusal(
            f"{source.name} has no feeder of cold wire",
            "use a robot whose power source has one, or a process without filler",
            key="robot",
            value=group.robot.id,
        )
    feeder = source.feeder
    lookup, allowed_range = read_range(place, "wire_feed")
    feeds = between(source.name, feeder.wire_feed_from, feeder.wire_feed_to, feeder.wire_feed_step)
    feed = Dial(WIRE_FEED, lookup.result, allowed_range, feeds, (lookup,))
    return dials_of(group, place, feed, travel_speed_dial(group, place))


def _dialled(job: _Job) -> Iterator[Figure]:
    """Yield what is set, in the order of setting."""
    yield job.current
    if job.passes is not None:
        yield job.passes.feed
    yield job.speed
    yield job.gas_flow
    yield job.arc_length
    yield from angles(job.group, job.chart)


def _following(job: _Job) -> tuple[tuple[Figure, ...], tuple[Verdict, ...]]:
    """Return everything that follows from the set values, and the checks of them; raises what must not be."""
    group, current = job.group, value_of(job.current)
    figures: list[Figure] = [job.voltage, thickness_figure(group), *job.size.figures]
    verdicts: list[Verdict] = [*butt_gap(group), *resting_on_memory(job.chart, "chart", SECTION)]
    gathering = Gathering()
    if job.melt is not None and job.passes is not None:
        deposit = nominal_of(job.melt, job.passes)
        with gathering.step():
            made, enough = obtained(group, job.size, deposit, 1, job.approved)
            figures += made
            verdicts.append(enough)
            verdicts += upper_sizes(group, AllNominal(deposit.set.result, deposit.maximum), 1, job.approved)
    with gathering.step():
        share, rated = duty(group.machine, current, job.approved.plant, highest(job.current))
        figures.append(share)
        verdicts.append(rated)
    with gathering.step():
        verdicts += torch_duty(group, current, job.approved.plant, highest(job.current))
    with gathering.step():
        verdicts += tack_check(group)
    verdicts += butt_step(group)
    gathering.finish(OutOfRangeError)
    heat = heat_of(group.process, job.current, job.voltage, job.speed)
    metal = metal_figures(group, value_of(heat[1]), share_of(heat[1]), 1)
    figures += [
        *heat,
        *metal,
        *temperature_figures(group, metal),
        load_voltage(tungsten_load_voltage, current, value_of(job.voltage), share_of(job.current)),
    ]
    if job.melt is not None and job.passes is not None:
        figures += consumption(group, job.melt, job.passes, deposit.set, job.gas_flow)
    else:
        figures += consumption_without_wire(group, job.speed, job.gas_flow)
    return tuple(figures), tuple(verdicts)


# ---------------------------------------------------------------- what a welder must know besides


def tungsten_details(
    group: SeamGroup, electrode: Electrode, chart: TungstenChart, figures: Iterable[Figure], approved: ApprovedTables
) -> tuple[Detail, ...]:
    """Return the details of seams that are set the same, in the order of the work; ``figures`` are all of theirs."""
    found = {figure.key: figure for figure in figures}
    return (
        *_electrode(group, electrode),
        *temperatures_details(group, found, 1),
        *shared_details(group, chart, approved),
    )


def _electrode(group: SeamGroup, electrode: Electrode) -> Iterator[Detail]:
    words = (f"{electrode.designation}, {electrode.standard}, diameter ", Said(electrode.diameter, kinds.SIZE))
    yield Detail("electrode", "Tungsten electrode", words, "table of tungsten electrodes")
    yield Detail("electrode_tip", "Electrode tip", (electrode.tip,), electrode.life_source)
    poles = f"{electrode.polarity}: {_POLES[electrode.polarity]}"
    yield Detail("polarity", "Polarity", (poles,), electrode.current_source)
    if isinstance(group.machine, TungstenSource):
        yield Detail("ignition", "Ignition", (_IGNITION[group.machine.ignition],), "table of tungsten sources")
    if group.filler is None:
        yield Detail("filler", "Filler", ("none",), "order")


def charts(approved: ApprovedTables) -> dict[str, TungstenChart]:
    """Return the charts of a plant by their table identifier."""
    return {name: table for name, table in approved.tables.items() if isinstance(table, TungstenChart)}


def tungsten_chart_for(
    group: SeamGroup, electrode: Electrode, named: str | None, approved: ApprovedTables
) -> TungstenChart:
    """Return the chart of a group by ``settings.chart_choice``, which raises OutOfRangeError where none fits."""
    wanted = "tungsten chart", f"with electrode {electrode.id}"
    return chart_for(group, charts(approved), named, lambda chart: _misfits(chart, group, electrode), wanted)


def _misfits(chart: TungstenChart, group: SeamGroup, electrode: Electrode) -> Iterator[str]:
    if not same(in_mm(chart.electrode_diameter), in_mm(electrode.diameter)):
        yield f"is for an electrode of {as_written(chart.electrode_diameter)}"
    if chart.polarity != electrode.polarity:
        yield f"is for {chart.polarity}"
    if group.filler is None:
        return
    if chart.wire_diameter is None:
        yield "is for welding without filler"
    elif not same(in_mm(chart.wire_diameter), in_mm(group.filler.diameter)):
        yield f"is for wire {as_written(chart.wire_diameter)}"
