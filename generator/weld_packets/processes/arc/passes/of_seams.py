"""The passes of seams that are set the same: their bench, and how many make the size that is required."""

from __future__ import annotations

from weld_packets.calculation.chart import Place, read_range
from weld_packets.calculation.dial import between
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.sentences import refused
from weld_packets.errors import Gathering, OutOfRangeError, located
from weld_packets.model.order import Seam
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.melting import wire_section
from weld_packets.processes.arc.passes.bench import Bench, Sections
from weld_packets.processes.arc.passes.deposited import Melt, nominal_by, nominal_share
from weld_packets.processes.arc.passes.dials import Dial
from weld_packets.processes.arc.passes.passes import SPEED, Passes, free_pass, sized_passes
from weld_packets.processes.arc.passes.refused import LEG_SIZE, THROAT_SIZE, sizes_made, unmade_sizes
from weld_packets.processes.arc.passes.sections import charted_throats, drawn_sizes, sections_of, tried
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.sizes import Nominal, Size, reinforcement
from weld_packets.units import Quantity, as_written, quantity


def travel_speed_dial(group: SeamGroup, place: Place) -> Dial:
    """Return the travel speeds that the chart gives and the robot reaches, at the robot's steps."""
    lookup, allowed_range = read_range(place, "travel_speed")
    robot = group.robot
    speeds = between(robot.name, quantity(0.0, "mm/s"), robot.air_speed, robot.travel_speed_step)
    return Dial(SPEED, lookup.result, allowed_range, speeds, (lookup,))


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


def nominal_of(melt: Melt, passes: Passes) -> Nominal:
    """Return the cross-section of one pass as set, and the largest while feed or speed is at an end of its range."""
    speed = passes.speed
    at_set = nominal_by(melt.wire_feed, melt, value_of(speed))
    feeds, speeds = passes.feed.allowed_range, speed.allowed_range
    ends = []
    if feeds is not None and feeds.high is not None:
        ends.append(nominal_by(feeds.high, melt, value_of(speed)).result)
    if speeds is not None and speeds.low is not None:
        ends.append(nominal_by(melt.wire_feed, melt, speeds.low).result)
    return Nominal(at_set, max(ends, default=at_set.result), nominal_share(melt, speed, at_set))
