"""Tables of an arc from a tungsten electrode: electrodes, power sources, charts."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from weld_packets.model.charts import Chart, ChartRow
from weld_packets.model.fields import (
    Angle,
    Current,
    Duration,
    GasFlow,
    Length,
    Mark,
    Name,
    Record,
    Share,
    Size,
    Text,
    TravelSpeed,
    Voltage,
    Whole,
    WireFeed,
)
from weld_packets.model.machines import DutyPoint, Torch
from weld_packets.model.processes import ArcNumber
from weld_packets.model.tables import Table
from weld_packets.model.trade import BaseMetal, Coating, Joint, Polarity, Position


class Electrode(Record):
    """One tungsten electrode.

    ``tip`` says in words how it is ground. ``current_from`` and ``current_to`` hold for its diameter, that grinding and
    ``polarity``. It is ground after ``grind_after`` of arc-on time, and changed once it was ground ``grinds`` times.
    """

    id: Mark
    designation: Name
    standard: Name
    diameter: Size
    tip: Text
    polarity: Polarity
    current_from: Current
    current_to: Current
    current_source: Text
    grind_after: Duration
    grinds: Whole
    life_source: Text


class Electrodes(Table):
    """Table of tungsten electrodes."""

    kind: Literal["tungsten electrodes"]
    entries: Annotated[tuple[Electrode, ...], Field(min_length=1)]


class Feeder(Record):
    """A feeder of cold wire: what it can be set to."""

    wire_feed_from: WireFeed
    wire_feed_to: WireFeed
    wire_feed_step: WireFeed


class TungstenSource(Record):
    """A power source for a tungsten electrode with its torch, and the feeder of cold wire where there is one.

    ``ignition`` by high frequency makes the arc jump the gap; by lift the electrode touches the work.
    """

    id: Mark
    name: Name
    current_from: Current
    current_to: Current
    current_step: Current
    duty: Annotated[tuple[DutyPoint, ...], Field(min_length=1)]
    ignition: Literal["high frequency", "lift"]
    feeder: Feeder | None = None
    torch: Torch | None = None
    work_lead: Text | None = None


class TungstenSources(Table):
    """Table of power sources for tungsten electrodes."""

    kind: Literal["tungsten sources"]
    entries: Annotated[tuple[TungstenSource, ...], Field(min_length=1)]


class TungstenRow(ChartRow):
    """Settings for one thickness, of one pass. Without a wire feed it is for welding without filler.

    The arc voltage is what the source then shows; nobody sets it.
    """

    throat_from: Length | None = None
    throat_to: Length | None = None
    leg_from: Length | None = None
    leg_to: Length | None = None
    current: Current | None = None
    current_from: Current | None = None
    current_to: Current | None = None
    voltage: Voltage | None = None
    voltage_from: Voltage | None = None
    voltage_to: Voltage | None = None
    wire_feed: WireFeed | None = None
    wire_feed_from: WireFeed | None = None
    wire_feed_to: WireFeed | None = None
    travel_speed_from: TravelSpeed
    travel_speed_to: TravelSpeed
    gas_flow: GasFlow | None = None
    gas_flow_from: GasFlow | None = None
    gas_flow_to: GasFlow | None = None
    arc_length: Length


class TungstenChart(Chart):
    """Settings by thickness for joints, positions, gas, electrode and cold wire, of one pass.

    ``wire_diameter`` is left out where the chart is for welding without filler.
    """

    needed: ClassVar[tuple[str, ...]] = ("current", "voltage", "gas_flow")
    dialled: ClassVar[tuple[str, ...]] = ("current", "voltage", "wire_feed", "gas_flow")
    bounded: ClassVar[dict[str, str]] = {
        "current": "welding_current",
        "voltage": "arc_voltage",
        "wire_feed": "wire_feed_speed",
        "travel_speed": "travel_speed",
        "gas_flow": "gas_flow",
        "arc_length": "arc_length",
    }

    kind: Literal["tungsten chart"]
    process: ArcNumber
    bases: tuple[BaseMetal, ...]
    joints: tuple[Joint, ...]
    positions: tuple[Position, ...]
    gas: Mark
    electrode_diameter: Size
    polarity: Polarity
    wire_diameter: Size | None = None
    work_angle: Angle
    travel_angle: Angle
    travel_direction: Literal["push", "drag", "perpendicular"]
    angles_source: Text
    arc_start: Text | None = None
    crater_fill: Text | None = None
    start_source: Text = "not stated"
    pre_flow: Duration | None = None
    post_flow: Duration | None = None
    flow_source: Text = "not stated"
    tolerance: dict[Literal["current", "voltage", "wire feed", "gas flow", "leg"], Share] = {}
    tolerance_source: Text = "not stated"
    rows: Annotated[tuple[TungstenRow, ...], Field(min_length=1)]

    @property
    def subject(self) -> tuple[str, tuple[BaseMetal, ...], tuple[Coating, ...]]:
        """Its process on its bare base metals."""
        return self.process, self.bases, ("none",)
