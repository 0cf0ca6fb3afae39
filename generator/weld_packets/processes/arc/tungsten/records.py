"""Tables of an arc from a tungsten electrode: electrodes, power sources, charts."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Current,
    Duration,
    Length,
    Mark,
    Name,
    Record,
    Size,
    Text,
    Whole,
    WireFeed,
)
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import SeamChart, SeamRow
from weld_packets.model.tables.machines import ArcSource
from weld_packets.model.trade import Polarity


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


class TungstenSource(ArcSource):
    """A power source for a tungsten electrode, and its feeder of cold wire where there is one.

    ``ignition`` by high frequency makes the arc jump the gap; by lift the electrode touches the work.
    """

    current_step: Current
    ignition: Literal["high frequency", "lift"]
    feeder: Feeder | None = None


class TungstenSources(Table):
    """Table of power sources for tungsten electrodes."""

    kind: Literal["tungsten sources"]
    entries: Annotated[tuple[TungstenSource, ...], Field(min_length=1)]


class TungstenRow(SeamRow):
    """Settings of an arc from a tungsten electrode, for one thickness."""

    arc_length: Length


class TungstenChart(SeamChart):
    """Settings by thickness for joints, positions, gas, electrode and cold wire, of one pass.

    ``wire_diameter`` is left out where the chart is for welding without filler.
    """

    needed: ClassVar[tuple[str, ...]] = ("current", "voltage", "gas_flow")

    kind: Literal["tungsten chart"]
    electrode_diameter: Size
    polarity: Polarity
    wire_diameter: Size | None = None
    rows: Annotated[tuple[TungstenRow, ...], Field(min_length=1)]
