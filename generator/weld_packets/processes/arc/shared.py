"""What the settings of seams share, however the arc gets its filler."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from weld_packets.calculation.acts import SECTION
from weld_packets.calculation.chart import Place, read, windowed
from weld_packets.calculation.dial import Setting, at_step, between, set_to_nearest
from weld_packets.calculation.formula import Source
from weld_packets.calculation.measure import refused, shown_value, stated_range
from weld_packets.calculation.plausibility import BOUNDED, check_plausible
from weld_packets.calculation.readings import as_stated, ordered, result, share_of, value_of
from weld_packets.calculation.results import SeamKind
from weld_packets.calculation.trace import AllowedRange, Figure, Given, InBoth, Name, Remark, Verdict, Weight
from weld_packets.errors import Gathering, OutOfRangeError, located, refusal
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.charts import SeamChart
from weld_packets.model.materials import Gas, Material
from weld_packets.model.order import Seam
from weld_packets.model.plant import Plant
from weld_packets.model.processes import arc_process
from weld_packets.processes.arc.heat.heat import arc_energy, heat_input
from weld_packets.processes.arc.passes.bench import Bench, Sections
from weld_packets.processes.arc.passes.deposited import Melt, nominal_by, nominal_share
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.passes.passes import SPEED, Passes, free_pass, sized_passes
from weld_packets.processes.arc.passes.refused import LEG_SIZE, THROAT_SIZE, sizes_made, unmade_sizes
from weld_packets.processes.arc.seam_groups import SeamGroup, sizes_by_letter
from weld_packets.processes.arc.size.sections import charted_throats, drawn_sizes, sections_of, tried
from weld_packets.processes.arc.size.sizes import Nominal, Size, reinforcement
from weld_packets.processes.arc.wire.melting import wire_section
from weld_packets.units import Kind, Quantity, as_written, kinds, magnitude, quantity, spelling

GAS_FLOW = Name("gas_flow", "Gas flow", "g", kinds.GAS_FLOW)
WORK_ANGLE = Name("work_angle", "Work angle", "β", kinds.ANGLE)
TRAVEL_ANGLE = Name("travel_angle", "Travel angle", "τ", kinds.ANGLE)
ENERGY = Name("arc_energy", "Arc energy (heat input of US codes)", "E", kinds.HEAT)
HEAT = Name("heat_input", "Heat input", "Q", kinds.HEAT)

USUAL_HEAT = (0.1, 2.0)
COURSE = Source("TWI, MIG/MAG welding course text", "heat input 0.1 to 2 kJ/mm")
_UNUSUAL = Remark(
    Weight.WARNING,
    (
        "outside the usual ",
        stated_range(quantity(USUAL_HEAT[0], "kJ/mm"), quantity(USUAL_HEAT[1], "kJ/mm"), kinds.HEAT, "0.1 to 2 kJ/mm"),
    ),
    COURSE,
    SECTION,
)
ANGLES = Source("a power-source maker's manual", "butt ± 15°, fillet at 45°")
MAXIMUM_TURN = 15.0
"""Degrees by which an order may turn the torch from the chart's angle without a warning."""


def kind_of(group: SeamGroup) -> SeamKind:
    """Return what kind of seams these are."""
    return SeamKind(
        joint=group.seam.joint,
        sizes=sizes_by_letter(group.seam),
        position=group.seam.position,
        sheets=tuple(component.thickness for component in group.components),
    )


def inside(dial: Dial) -> Figure:
    """Return a figure at the step nearest to its middle that lies well inside its range."""
    return at_step(dial.name, dial.middle, dial.nearest(), dial.window, dial.setting, dial.trace)


def metered(place: Place, plant: Plant) -> Figure:
    """Return the gas flow, set on a flow meter that is read to one of its own units: common practice, no source.

    A plant of US customary units has meters and gauges of these, whatever the units of its charts.
    """
    lookup, window = windowed(place, "gas_flow")
    meter = Setting("flow meter", quantity(1.0, _read_in(lookup.result, plant, kinds.GAS_FLOW)))
    return inside(Dial(GAS_FLOW, lookup.result, window, meter, (lookup,)))


def _read_in(value: Quantity, plant: Plant, kind: Kind) -> str:
    return kind.customary if plant.show_first == "US customary" else spelling(value)


def gauged(place: Place, name: Name, column: str, gauges: Mapping[str, Quantity], plant: Plant) -> Figure:
    """Return a distance as a gauge sets it: in whole steps between two rows, as stated on a row.

    ``gauges`` are the steps of the gauge in mm and in inches.
    """
    lookup = read(place, column)[0]
    stated = as_stated(lookup.result, spelling(lookup.result))
    gauge = Setting("gauge", gauges.get(_read_in(lookup.result, plant, kinds.LENGTH), gauges["mm"]))
    if len(lookup.rows) == 1 and spelling(lookup.result) == gauge.unit:
        step = min(gauge.width, Decimal(1).scaleb(int(stated.as_tuple().exponent)))
        return replace(ordered(name, lookup.result, ""), step=step, trace=(lookup,))
    return set_to_nearest(name, lookup.result, gauge, (lookup,))


def passes_of(group: SeamGroup, bench: Bench, size: Size, approved: ApprovedTables) -> Passes:
    """Return the passes that make the required size, or one at the middle of the chart where none is required.

    Raises OutOfRangeError where the chart does not make this size.
    """
    if size.area is None or size.target is None:
        return free_pass(bench)
    key, required = _required(group.seam)
    sections = sections_of(group, size, approved)
    with located(key=key):
        found = sized_passes(bench, sections, drawn_sizes(size, sections, reinforcement(approved.plant)))
        if found is None:
            raise _no_fit(group, bench, sections, approved, required)
        return found


def _no_fit(
    group: SeamGroup, bench: Bench, sections: Sections, approved: ApprovedTables, required: Quantity
) -> OutOfRangeError:
    size = LEG_SIZE if group.seam.leg is not None else THROAT_SIZE
    made = sizes_made(bench, tried(group, bench, approved), size) if group.is_fillet else ()
    makes = (f" (this chart makes {size.word}s of ", *made, ")") if made else ()
    return refused(
        ("the chart does not make this size: ", *unmade_sizes(bench, sections, size)),
        ("change the size", *makes, ", or use another chart"),
        value=as_written(required),
    )


def _required(seam: Seam) -> tuple[str, Quantity]:
    """Return the key and the value by which the order states how much weld it wants."""
    sizes = (("throat", seam.throat), ("leg", seam.leg), ("weld cap width", seam.weld_cap_width))
    return next((key, size) for key, size in sizes if size is not None)


def travel_speed_dial(group: SeamGroup, place: Place) -> Dial:
    """Return the travel speeds that the chart gives and the robot reaches, at the robot's steps."""
    lookup, window = windowed(place, "travel_speed")
    robot = group.robot
    speeds = between(robot.name, quantity(0.0, "mm/s"), robot.air_speed, robot.travel_speed_step)
    return Dial(SPEED, lookup.result, window, speeds, (lookup,))


def bench_of(group: SeamGroup, place: Place, feed: Dial, speed: Dial, counts: tuple[int, ...] = (1,)) -> Bench:
    """Return what seams are made with from a wire; ``counts`` are the numbers of passes that the chart is for.

    Raises OutOfRangeError with every dial on which nothing can be set.
    """
    gathering = Gathering()
    for dial in (feed, speed):
        with gathering.step():
            _ = dial.target_steps
    gathering.finish(OutOfRangeError)
    return Bench(
        feed,
        speed,
        section=wire_section(wire_diameter=group.wire.diameter),
        efficiency=group.wire.efficiency,
        throats=charted_throats(place) if group.is_fillet else None,
        counts=counts,
    )


def angles(group: SeamGroup, table: SeamChart) -> tuple[Figure, Figure]:
    """Return the angles of the torch: the order's own, else the chart's, with the direction of travel."""
    chart = f"table {table.table}: {table.angles_source}"
    found = []
    for name, own, usual in (
        (WORK_ANGLE, group.seam.work_angle, table.work_angle),
        (TRAVEL_ANGLE, group.seam.travel_angle, table.travel_angle),
    ):
        figure = ordered(name, usual if own is None else own, chart if own is None else "order")
        found.append(replace(figure, remarks=tuple(_turned(usual if own is None else own, usual))))
    direction = Remark(Weight.NOTE, table.travel_direction)
    return found[0], replace(found[1], remarks=(direction, *found[1].remarks))


def _turned(angle: Quantity, usual: Quantity) -> Iterator[Remark]:
    if abs(magnitude(angle, "°") - magnitude(usual, "°")) > MAXIMUM_TURN:
        words = f"more than {MAXIMUM_TURN:g}° from the {as_written(usual)} of the chart"
        yield Remark(Weight.WARNING, words, ANGLES, SECTION)


def nominal_of(melt: Melt, passes: Passes) -> Nominal:
    """Return the cross-section of one pass as set, and the largest while feed or speed is at an end of its range."""
    speed = passes.speed
    at_set = nominal_by(melt.wire_feed, melt, value_of(speed))
    feeds, speeds = passes.feed.window, speed.window
    ends = []
    if feeds is not None and feeds.high is not None:
        ends.append(nominal_by(feeds.high, melt, value_of(speed)).result)
    if speeds is not None and speeds.low is not None:
        ends.append(nominal_by(melt.wire_feed, melt, speeds.low).result)
    return Nominal(at_set, max(ends, default=at_set.result), nominal_share(melt, speed, at_set))


def heat_of(
    number: str, current: Figure, voltage: Figure, speed: Figure, remarks: tuple[Remark, ...] = ()
) -> tuple[Figure, Figure]:
    """Return arc energy and heat input of a process by its number, by its thermal efficiency in the table."""
    process = arc_process(number)
    share = quantity(process.thermal_efficiency, "1")
    put_in = {"arc_voltage": value_of(voltage), "welding_current": value_of(current), "travel_speed": value_of(speed)}
    energy = arc_energy.work(**put_in)
    heat = heat_input.work(thermal_efficiency=share, **put_in)
    usual = () if USUAL_HEAT[0] <= heat.result.magnitude <= USUAL_HEAT[1] else (_UNUSUAL,)
    factor = Given("thermal efficiency", share, "1", process.efficiency_source)
    shares = {
        "welding_current": share_of(current),
        "arc_voltage": share_of(voltage),
        "travel_speed": share_of(speed),
    }
    return (
        result(ENERGY, energy, remarks=remarks, shares=shares),
        result(HEAT, heat, before=(factor,), remarks=(*remarks, *usual), shares=shares),
    )


def plausible(group: SeamGroup, figures: tuple[Figure, ...], approved: ApprovedTables) -> tuple[Verdict, ...]:
    """Return the verdict on each bounded figure for each base metal; raises with every bound that is broken.

    The ends of a window are held to the same bounds: a setter may turn to them.
    """
    gathering = Gathering()
    found: dict[Verdict, None] = {}
    for key, shown, (value, *ends), material in _bounded(group, figures):
        scope = group.process, material.base, (material.coating,), approved.limits
        with gathering.step():
            bounds = check_plausible(key, value, *scope, shown)
            found[bounds] = None
            for end in ends:
                check_plausible(key, end, *scope)
    gathering.finish(OutOfRangeError)
    return tuple(found)


def _bounded(
    group: SeamGroup, figures: tuple[Figure, ...]
) -> Iterator[tuple[str, InBoth | None, list[Quantity], Material]]:
    for material in {entry.id: entry for entry in group.materials}.values():
        for figure in figures:
            if figure.key in BOUNDED and figure.value is not None:
                ends = (figure.window.low, figure.window.high) if figure.window else ()
                shown = None if figure.text is None else shown_value(figure.text, figure.unit, figure.kind)
                yield figure.key, shown, [figure.value, *(end for end in ends if end is not None)], material
    for component, material in zip(group.components, group.materials, strict=True):
        yield "thickness", None, [component.thickness], material


def flow_of(gas: Gas, flow: Figure) -> Figure:
    """Return a gas flow with its window cut to what the gas is used at; raise OutOfRangeError for a flow outside."""
    found = value_of(flow)
    if not _litres(gas.flow_from) <= _litres(found) <= _litres(gas.flow_to):
        raise refusal(
            f"{flow.label} {as_written(found)} is outside what gas {gas.id} is used at, "
            f"{as_written(gas.flow_from)} to {as_written(gas.flow_to)}",
            "correct the chart, or the flow in the table of gases",
            value=as_written(found),
        )
    return replace(flow, window=None if flow.window is None else _cut(flow.window, gas))


def _cut(window: AllowedRange, gas: Gas) -> AllowedRange:
    low, high, origin = window.low, window.high, window.origin
    if low is not None and _litres(low) < _litres(gas.flow_from):
        low, origin = gas.flow_from, f"{origin}; lower end: gas {gas.id}"
    if high is not None and _litres(high) > _litres(gas.flow_to):
        high, origin = gas.flow_to, f"{origin}; upper end: gas {gas.id}"
    return AllowedRange(low, high, origin)


def _litres(flow: Quantity) -> float:
    return magnitude(flow, "l/min")
