"""Charts of settings by thickness: points that are interpolated, or bands that are not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Angle,
    Current,
    Duration,
    Force,
    GasFlow,
    Length,
    Mark,
    Name,
    Number,
    Record,
    Share,
    Size,
    SpotCurrent,
    Text,
    Thickness,
    Time,
    TravelSpeed,
    Voltage,
    Whole,
    WireFeed,
)
from weld_packets.model.processes import ArcNumber, Bounded, ProcessNumber, numbers
from weld_packets.model.table import Table
from weld_packets.model.trade import (
    BaseMetal,
    Coating,
    GoverningRule,
    Joint,
    Position,
    Reliability,
    TransferMode,
    TravelDirection,
)

ChartForm = Literal["points", "bands"]


class ChartRow(Record):
    """One row by thickness: ``thickness`` in a point chart; ``over`` and ``up to`` (inclusive) in a band chart."""

    thickness: Thickness | None = None
    over: Thickness | None = None
    up_to: Thickness | None = None


class Chart(Table):
    """What charts of settings share; ``form`` is how their rows lie along the thickness.

    Attributes:
        needed: columns that a chart must state; ``one_of`` are columns of which it states at least one.
        dialled: columns that are set or read, and so have a range or a tolerance.
        bounded: columns that physics bounds, with what the table of limits calls them.

    """

    needed: ClassVar[tuple[str, ...]] = ()
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = ()
    dialled: ClassVar[tuple[str, ...]] = ()
    bounded: ClassVar[Mapping[str, str]] = {}

    form: ChartForm
    columns: dict[str, str]
    rows: tuple[ChartRow, ...]

    @property
    def subject(self) -> tuple[str, tuple[BaseMetal, ...], tuple[Coating, ...]] | None:
        """The process, base metals and coatings for which physics bounds it; None where nothing bounds it."""
        return None


class SpotRowOfChart(ChartRow):
    """Spot settings; a value is one number or a range ``from``/``to``."""

    cap_face: Length
    force: Force | None = None
    force_from: Force | None = None
    force_to: Force | None = None
    weld_time: Time | None = None
    weld_time_from: Time | None = None
    weld_time_to: Time | None = None
    current: SpotCurrent | None = None
    current_from: SpotCurrent | None = None
    current_to: SpotCurrent | None = None
    squeeze: Time | None = None
    hold: Time | None = None
    pulses: Whole | None = None
    cool: Time | None = None
    upslope: Time | None = None


class StackLimits(Record):
    """Limits of a stack: maximum ratio of two thicknesses, maximum total, total over the thinnest outside sheet."""

    thickness_ratio: Number
    total: Thickness | None = None
    total_to_thinnest_outside: Number | None = None
    source: Text


class WeldDiameter(Record):
    """Weld diameter as a factor on the square root of thickness in mm: 3.5, 4 or 5."""

    minimum: Number
    target: Number
    source: Text
    reliability: Reliability = "published"


class SpotChart(Chart):
    """Spot settings by governing thickness for a base metal and its coatings.

    ``cap face is`` says whether the document gives its column of cap faces as minimum or as maximum;
    ``cap face at most`` up to which share of it a worn face is good, where the document says. ``hold from`` names
    the chart whose column of hold times is read at the same thickness, where this one has none. Of the pitch and
    overlap of ``spacing`` and ``spacing also`` the larger ones apply.
    """

    needed: ClassVar[tuple[str, ...]] = ("force", "weld_time", "current")
    dialled: ClassVar[tuple[str, ...]] = ("force", "weld_time", "current")
    bounded: ClassVar[Mapping[str, str]] = {
        "force": "electrode_force",
        "weld_time": "weld_time",
        "current": "weld_current",
    }

    kind: Literal["spot chart"]
    base: BaseMetal
    coatings: tuple[Coating, ...]
    governing_thickness: GoverningRule
    governing_source: Text
    stack_limits: StackLimits
    weld_diameter: WeldDiameter
    spacing: Mark
    spacing_also: tuple[Mark, ...] = ()
    cap_face_is: Literal["minimum", "maximum"] = "minimum"
    tolerance: dict[Literal["force", "weld time", "current"], Share] = {}
    tolerance_source: Text = "not stated"
    cap_face_at_most: Share | None = None
    squeeze: Time | None = None
    hold: Time | None = None
    hold_from: Mark | None = None
    upslope: Time | None = None
    sequence_source: Text = "not stated"
    rows: Annotated[tuple[SpotRowOfChart, ...], Field(min_length=1)]

    @property
    def subject(self) -> tuple[str, tuple[BaseMetal, ...], tuple[Coating, ...]]:
        """Spot welding of its base metal in its coatings."""
        return numbers("spot")[0], (self.base,), self.coatings


class SpacingRow(ChartRow):
    """Pitch and overlap for one thickness."""

    pitch: Length
    overlap: Length


class SpotSpacing(Chart):
    """Minimum pitch and minimum overlap by thickness; edge distance is half the overlap."""

    kind: Literal["spot spacing"]
    rows: Annotated[tuple[SpacingRow, ...], Field(min_length=1)]


class SeamRow(ChartRow):
    """Settings of an arc for one thickness; throat or leg, whichever the document prints, is what one pass makes.

    Where it states no wire feed, that follows from the current and the melting data of the wire, or there is no filler.
    The voltage is set where a wire melts in the arc; a power source for a tungsten electrode only shows it.
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


class SeamChart(Chart):
    """What charts of seams share, whatever their arc burns from; each is for one pass.

    ``arc_start`` and ``crater_fill`` say in words how the arc begins and how its crater is filled; ``pre_flow`` and
    ``post_flow`` are how long gas flows before and after it.
    """

    dialled: ClassVar[tuple[str, ...]] = ("current", "voltage", "wire_feed", "gas_flow")
    bounded: ClassVar[Mapping[str, str]] = {
        "current": "welding_current",
        "voltage": "arc_voltage",
        "wire_feed": "wire_feed_speed",
        "travel_speed": "travel_speed",
        "gas_flow": "gas_flow",
        "contact_distance": "contact_distance",
    }

    process: ArcNumber
    bases: tuple[BaseMetal, ...]
    joints: tuple[Joint, ...]
    positions: tuple[Position, ...]
    gas: Mark
    work_angle: Angle
    travel_angle: Angle
    travel_direction: TravelDirection
    angles_source: Text
    arc_start: Text | None = None
    crater_fill: Text | None = None
    start_source: Text = "not stated"
    pre_flow: Duration | None = None
    post_flow: Duration | None = None
    flow_source: Text = "not stated"
    tolerance: dict[Literal["current", "voltage", "wire feed", "gas flow", "leg"], Share] = {}
    tolerance_source: Text = "not stated"

    @property
    def subject(self) -> tuple[str, tuple[BaseMetal, ...], tuple[Coating, ...]]:
        """Its process on its bare base metals."""
        return self.process, self.bases, ("none",)


class ArcRowOfChart(SeamRow):
    """Settings of an arc in which a wire melts, for one thickness."""

    contact_distance: Length


class Pass(Record):
    """One pass of a weld of several: where it lies, where the wire points, what is cleaned before it."""

    place: Name
    aim: Text
    cleaning: Text = "not stated"


class PassPlan(Record):
    """How a weld of several passes of one size is built up, in sequence."""

    passes: Annotated[tuple[Pass, ...], Field(min_length=2)]
    source: Text


class ArcChart(SeamChart):
    """Settings by thickness for joints, positions, gas, wire and mode of transfer, of an arc in which a wire melts.

    It serves for as many passes as it has a plan for.
    """

    needed: ClassVar[tuple[str, ...]] = ("voltage", "gas_flow")
    one_of: ClassVar[tuple[tuple[str, ...], ...]] = (("current", "wire_feed"),)

    kind: Literal["arc chart"]
    wire_diameter: Size
    transfer: TransferMode
    pass_plans: tuple[PassPlan, ...] = ()
    rows: Annotated[tuple[ArcRowOfChart, ...], Field(min_length=1)]


class Limit(Record):
    """A plausibility bound of one quantity, per process and base metal, with its source."""

    quantity: Bounded
    processes: tuple[ProcessNumber, ...]
    bases: tuple[BaseMetal, ...]
    coatings: tuple[Coating, ...] = ()
    lowest: Text
    highest: Text
    source: Text


class Limits(Table):
    """Table of physical bounds: values are text with a unit, read by the kind of their quantity."""

    kind: Literal["limits"]
    entries: Annotated[tuple[Limit, ...], Field(min_length=1)]
