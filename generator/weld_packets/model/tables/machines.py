"""What the plant has: cells, robots, power sources and guns, with ranges, steps and ratings."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Current,
    Duration,
    Force,
    Frequency,
    Length,
    Mark,
    Name,
    Record,
    Share,
    Size,
    SoundLevel,
    SpotCurrent,
    Text,
    Time,
    TravelSpeed,
    Voltage,
    WaterFlow,
    WireFeed,
)
from weld_packets.model.order import Coordinates, LengthUnit
from weld_packets.model.table import Table


class Cell(Record):
    """One fenced cell with a pair of robots; ``noise`` and ``marked_line`` are left out where there is none.

    ``margin`` is kept between the keep-out spheres of both tools; without it their distance is not checked.
    ``marked_line`` is the line on the floor that nobody with an implant crosses without being individually cleared.
    """

    id: Mark
    name: Name
    mains: Frequency
    robots: tuple[Mark, Mark]
    noise: SoundLevel | None = None
    noise_measured_at: Text = "place not stated"
    magnetic_field: Text = "not measured"
    marked_line: Text | None = None
    extraction: Text = "not stated"
    load_time: Duration
    load_time_source: Text
    margin: Size | None = None
    margin_source: Text | None = None


class WaitingPlace(Record):
    """Where a robot's tool centre point waits and where it begins and ends a cycle, in the fixture datum."""

    unit: LengthUnit
    at: Coordinates


class Robot(Record):
    """One robot: where its base is in the fixture datum, how far it reaches, what it carries.

    ``approach`` is the time of one move to the next weld besides the air travel at ``air_speed``; ``weld_overhead``
    is the time each weld takes besides the arc or the spot sequence (gas pre-flow, arc start, crater; gun closing).
    ``keep_out_radius`` is that of a sphere round the tool centre point that holds the torch or gun near the weld with
    its cables; without it, or without a ``waiting_place``, the distance to the other robot is not checked.
    """

    id: Mark
    name: Name
    cell: Mark
    side: Literal["A", "B"]
    base: Coordinates
    base_unit: LengthUnit
    reach: Size
    equipment: Mark
    travel_speed_step: TravelSpeed
    air_speed: TravelSpeed
    weld_overhead: Duration
    approach: Duration
    times_source: Text
    keep_out_radius: Size | None = None
    keep_out_source: Text | None = None
    waiting_place: WaitingPlace | None = None
    waiting_place_source: Text | None = None


class DutyPoint(Record):
    """A rating plate's pair: share of a ten-minute cycle and current at it (IEC 60974-1)."""

    share: Share
    current: Current


class TorchRating(Record):
    """The rating of a torch: share of a ten-minute cycle and current at it, under these gases (IEC 60974-7)."""

    gases: Annotated[tuple[Mark, ...], Field(min_length=1)]
    share: Share
    current: Current


class Torch(Record):
    """The torch of a robot: its nozzle, how far the contact tip lies behind its end (negative: before it)."""

    name: Name
    source: Text
    nozzle_bore: Size | None = None
    contact_tip_setback: Length | None = None
    ratings: tuple[TorchRating, ...] = ()


class ArcSource(Record):
    """What every arc power source says of itself: its currents and rating plate, its torch and its return path.

    ``work_lead`` says how its return path is connected.
    """

    id: Mark
    name: Name
    current_from: Current
    current_to: Current
    duty: Annotated[tuple[DutyPoint, ...], Field(min_length=1)]
    torch: Torch | None = None
    work_lead: Text | None = None


class PowerSource(ArcSource):
    """A power source for a wire that melts in the arc, with its wire feeder."""

    voltage_from: Voltage
    voltage_to: Voltage
    voltage_step: Voltage
    wire_feed_from: WireFeed
    wire_feed_to: WireFeed
    wire_feed_step: WireFeed


class Gun(Record):
    """A spot gun with its transformer and control.

    ``dressing`` is how its caps are dressed: ``power`` by a dresser in automatic with the gate closed, ``hand`` under
    lockout. ``cooling_flow`` is what flows at least through each electrode. ``force_repeatability`` is the share of a
    set force by which the force at the caps differs from weld to weld. ``current_type`` is alternating current, or
    medium-frequency direct current. ``stepper`` says how the current rises as the caps wear, or that it is off.
    ``dressing_time`` and ``cap_change_time`` are for how long the cell stands still for one dressing and one change of
    caps of this gun.
    """

    id: Mark
    name: Name
    style: Literal["C", "X"]
    drive: Literal["servo", "pneumatic"]
    dressing: Literal["power", "hand"]
    cap: Mark
    force_from: Force
    force_to: Force
    force_step: Force
    current_from: SpotCurrent
    current_to: SpotCurrent
    current_step: SpotCurrent
    permanent_current: SpotCurrent
    maximum_duty: Share
    time_step: Time | None = None
    force_repeatability: Share | None = None
    force_repeatability_source: Text = "not stated"
    current_type: Literal["AC", "MFDC"] | None = None
    stepper: Text | None = None
    throat_depth: Size
    opening: Size
    cooling_flow: WaterFlow | None = None
    cooling_source: Text = "not stated"
    dressing_time: Duration | None = None
    cap_change_time: Duration | None = None
    change_times_source: Text | None = None


class Machines(Table):
    """Table of cells, robots, power sources and guns."""

    kind: Literal["machines"]
    cells: Annotated[tuple[Cell, ...], Field(min_length=1)]
    robots: Annotated[tuple[Robot, ...], Field(min_length=2)]
    power_sources: tuple[PowerSource, ...] = ()
    guns: tuple[Gun, ...] = ()
