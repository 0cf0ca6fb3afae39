"""The passes of seams that are set the same: their dials, and how many make the size that is required."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from weld_packets.calculation.chart import Place, read_range
from weld_packets.calculation.dial import between
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.sentences import refused
from weld_packets.calculation.trace import Remark, Weight, Words
from weld_packets.errors import Gathering, OutOfRangeError, located
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.processes.arc.melting import Melt, nominal_by, nominal_share, wire_section
from weld_packets.processes.arc.passes.dials import Dial, Dials, Sections
from weld_packets.processes.arc.passes.passes import SPEED, DrawnSize, Passes, free_pass, sized_passes
from weld_packets.processes.arc.passes.refused import LEG_SIZE, THROAT_SIZE, SizeMeasure, sizes_made, unmade_sizes
from weld_packets.processes.arc.passes.sections import charted_throats, drawn_sizes, sections_of, tried
from weld_packets.processes.arc.records import Seam
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.lap_edge import longest_leg
from weld_packets.processes.arc.size.sizes import Nominal, Size, reinforcement
from weld_packets.units import Quantity, as_written, quantity

_LARGER = Remark(
    Weight.NOTE, "the weld is larger than its target: the chart makes none as small as the edge of the lap carries"
)


def travel_speed_dial(group: SeamGroup, place: Place) -> Dial:
    """Return the travel speeds that the chart gives and the robot reaches, at the robot's steps."""
    lookup, allowed_range = read_range(place, "travel_speed")
    robot = group.robot
    speeds = between(robot.name, quantity(0.0, "mm/s"), robot.air_speed, robot.travel_speed_step)
    return Dial(SPEED, lookup.result, allowed_range, speeds, (lookup,))


def dials_of(group: SeamGroup, place: Place, feed: Dial, speed: Dial, counts: tuple[int, ...] = (1,)) -> Dials:
    """Return what seams are made with from a wire; ``counts`` are the numbers of passes that the chart is for.

    Raises OutOfRangeError with every dial on which nothing can be set.
    """
    gathering = Gathering()
    for dial in (feed, speed):
        with gathering.step():
            _ = dial.target_steps
    gathering.finish(OutOfRangeError)
    return Dials(
        feed,
        speed,
        section=wire_section(wire_diameter=group.wire.diameter),
        efficiency=group.wire.efficiency,
        throats=charted_throats(place) if group.is_fillet else None,
        counts=counts,
    )


def passes_of(group: SeamGroup, dials: Dials, size: Size, approved: ApprovedTables) -> Passes:
    """Return the passes that make the required size, or one at the middle of the chart where none is required.

    Raises OutOfRangeError where the chart does not make this size.
    """
    if size.area is None or size.target is None:
        return free_pass(dials)
    key, required = _required(group.seam)
    sections = sections_of(group, size, approved)
    with located(key=key):
        drawn = drawn_sizes(size, sections, reinforcement(approved.plant))
        found = sized_passes(dials, sections, drawn)
        if found is not None:
            return found
        measure = LEG_SIZE if group.seam.leg is not None else THROAT_SIZE
        made = sizes_made(dials, tried(group, dials, approved), measure) if group.is_fillet else ()
        larger = None if made or longest_leg(group) is None else _larger(dials, sections, drawn)
        if larger is None:
            raise _no_fit(dials, sections, made, measure, required)
        return larger


def _larger(dials: Dials, sections: Sections, drawn: Sequence[DrawnSize]) -> Passes | None:
    """Return the pass of a lap on sheet so thin that the chart makes no weld as small as its edge carries.

    It is as small as the chart makes it near the middle of its feeds, inside the largest that is allowed; what the edge
    does not carry lies on the other component, and the check of the edge warns of it. None where there is none.
    """
    found = sized_passes(replace(dials, throats=None, counts=(1,)), replace(sections, over=1.0), drawn)
    if found is None:
        return None
    return replace(found, speed=replace(found.speed, remarks=(*found.speed.remarks, _LARGER)))


def _no_fit(dials: Dials, sections: Sections, made: Words, size: SizeMeasure, required: Quantity) -> OutOfRangeError:
    makes = (f" (this chart makes {size.word}s of ", *made, ")") if made else ()
    return refused(
        ("the chart does not make this size: ", *unmade_sizes(dials, sections, size)),
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
