"""What an order says: its head, and its operations of paired robots with components and welds."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, Literal, Union

from pydantic import Discriminator, Field, Tag, create_model
from pydantic.json_schema import SkipJsonSchema

from weld_packets.model.fields import (
    Coordinate,
    Day,
    Duration,
    Length,
    Mark,
    Mass,
    Name,
    Record,
    Size,
    Slug,
    Text,
    Thickness,
    Volume,
    WeldScheduleNumber,
    Whole,
)
from weld_packets.model.processes import Consumable, written
from weld_packets.model.sheet_gauges import Gauge
from weld_packets.model.tolerances import NominalSize, ToleranceClasses
from weld_packets.model.trade import Coating
from weld_packets.units import SystemOfUnits

LengthUnit = Literal["mm", "cm", "m", "in"]
Coordinates = tuple[Coordinate, Coordinate, Coordinate]
PlanePoint = tuple[Coordinate, Coordinate]


class PartNumber(Record):
    """The product that leaves the cell line."""

    number: Mark
    name: Name


class Outline(Record):
    """A closed outline of a component in a plane of the fixture datum, in ``points`` or from a DXF file."""

    plane: Literal["XY", "XZ", "YZ"] = "XY"
    offset: Length | None = None
    unit: LengthUnit | None = None
    points: tuple[PlanePoint, ...] = ()
    file: Name | None = None
    layer: Name | None = None


class Section(Record):
    """The section of a component that is a tube.

    ``outside_diameter`` is that of a round tube; of another it is its smaller side. ``corner_radius`` is that of the
    outside of a square or rectangular tube; ``axis`` is the axis of the datum along which the tube runs, left out where
    it runs along none.
    """

    form: Literal["cold-formed tube", "hot-finished tube", "round tube"]
    outside_diameter: Size | None = None
    corner_radius: Size | None = None
    axis: Literal["X", "Y", "Z"] | None = None


class Component(Record):
    """One sheet, profile or sub-assembly that goes into an operation's fixture.

    An outline may be drawn in either face of its sheet or in the middle of it. ``section`` is that of a tube.
    """

    id: Mark
    name: Name
    material: Mark
    thickness: Thickness
    gauge: SkipJsonSchema[Gauge | None] = None  # kept where an order gives the thickness by it; not a key of an order
    outlines: tuple[Outline, ...] = ()
    section: Section | None = None


class Line(Record):
    """A straight piece of a path, to a point."""

    to: Coordinates


class Arc(Record):
    """A circular piece of a path, through ``via`` to ``to``."""

    via: Coordinates
    to: Coordinates


class Path(Record):
    """A torch path in the fixture datum: where it starts, then straight and circular pieces."""

    unit: LengthUnit
    start: Coordinates
    pieces: Annotated[tuple[Arc | Line, ...], Field(min_length=1, max_length=500)]


def _form_of(programs: Any) -> str:
    return "by weld schedule" if isinstance(programs, Mapping) else "alone"


_ByWeldSchedule = Annotated[dict[WeldScheduleNumber, Mark], Field(min_length=1), Tag("by weld schedule")]
CouponPrograms = Annotated[_ByWeldSchedule | Annotated[Mark, Tag("alone")], Discriminator(_form_of)]
"""The coupon programs of a robot by the weld schedule that each calls; one alone where its welds have no number."""


class Operation(Record):
    """What operations of every process say; what an optional key means is beside it, and so in the schema of orders.

    ``programs`` weld the part. Without ``wpqr`` the nearest records are looked up. ``required_tests`` are those that
    the contract asks of the procedure, because they bound its heat input and position. ``sizes`` are measured on the
    first part and held to the general ``tolerances`` of the drawing.
    """

    process: str
    name: Name
    cell: Mark
    robots: tuple[Mark, Mark]
    programs: dict[Mark, Mark]
    coupon_programs: Annotated[
        dict[Mark, CouponPrograms],
        Field(
            description="programs that weld the test coupons: for each robot one for each weld schedule, or one alone"
        ),
    ] = {}
    datum: Text
    fixture: Name
    components: Annotated[tuple[Component, ...], Field(min_length=1)]
    clamps: Annotated[
        tuple[Name, ...],
        Field(max_length=40, description="clamps of the fixture in the order in which they close"),
    ] = ()
    notes: Annotated[tuple[Text, ...], Field(description="sentences for the setter that nothing else says")] = ()
    wps: Annotated[Mark | None, Field(description="number of the welding procedure specification")] = None
    wpqr: Annotated[tuple[Mark, ...], Field(description="record that qualifies the procedure")] = ()
    required_tests: Annotated[
        tuple[Literal["impact", "hardness"], ...],
        Field(description="tests that the qualification of the procedure must hold"),
    ] = ()
    tolerances: Annotated[ToleranceClasses | None, Field(description="classes of general tolerances")] = None
    sizes: Annotated[
        tuple[NominalSize, ...],
        Field(max_length=40, description="sizes of the finished component that are measured"),
    ] = ()

    def weld_schedules(self, robot: str) -> frozenset[int | None]:
        """Return the numbers of the weld schedules that a robot's welds use; None for a weld without one."""
        raise NotImplementedError(type(self).__name__)

    def coupon_programs_of(self, robot: str) -> tuple[tuple[int | None, str], ...]:
        """Return the coupon programs of a robot, each with the number of the weld schedule that it calls, if any."""
        named = self.coupon_programs.get(robot, {})
        return ((None, named),) if isinstance(named, str) else tuple(sorted(named.items()))


class FittedAtStart(Record):
    """What was read at a robot or in a cell before the order; it counts in place of what the previous order leaves.

    ``contact_tip_used`` is the arc-on time so far, ``electrode_used`` that since the last of ``grindings``, ``coating``
    that of the sheets on which ``welds_since_dressing`` were made; ``new`` lists what was fitted new.
    """

    robot: Mark | None = None
    cell: Mark | None = None
    new: tuple[Consumable, ...] = ()
    wire_left: Mass | None = None
    contact_tip_used: Duration | None = None
    electrode_used: Duration | None = None
    grindings: Whole | None = None
    gas_left: Volume | None = None
    dressings: Whole | None = None
    welds_since_dressing: Whole | None = None
    coating: Coating | None = None


class Order(Record):
    """A work order: one product, a quantity, and the operations that make it."""

    order: Mark
    title: Name
    part: PartNumber
    quantity: Whole
    due: Day
    revision_intent: Text
    previous_order: Slug | None = None
    fitted_at_start: Annotated[tuple[FittedAtStart, ...], Field(max_length=200)] = ()
    show_first: SystemOfUnits = "metric"
    operations: Annotated[tuple[Operation, ...], Field(min_length=1, max_length=60)]


def order_record() -> type[Order]:
    """Return the record by which an order is read: each operation as its process says, by the table of processes."""
    return _order_record(tuple(each.operation for each in written()))


@cache
def _order_record(operations: tuple[type[Operation], ...]) -> type[Order]:
    union: Any = Union[operations]  # noqa: UP007 - of as many as there are families
    one: Any = Annotated[union, Field(discriminator="process")] if len(operations) > 1 else union
    many: Any = Annotated[tuple[one, ...], Field(min_length=1, max_length=60)]
    return create_model("Order", __base__=Order, __doc__=Order.__doc__, operations=(many, ...))
