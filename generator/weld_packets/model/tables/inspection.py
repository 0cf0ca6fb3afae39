"""What the plant inspects, by which limits, with which sample sizes and which measuring instruments."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import (
    Angle,
    Day,
    Duration,
    Flag,
    Mark,
    Name,
    Number,
    Record,
    Share,
    Size,
    Text,
    Thickness,
    Whole,
)
from weld_packets.model.processes import ProcessNumber
from weld_packets.model.table import Table
from weld_packets.model.trade import Joint, QualityLevel


class Instrument(Record):
    """An instrument with which settings are read or welds measured.

    ``calibrated`` is the last day on which it was compared, ``calibration due`` the last day on which that holds.
    """

    id: Annotated[Mark, Field(description="number on the instrument, as it is entered at the cell")]
    what: Annotated[Name, Field(description="what it is, such as force gauge 0 to 8 kN")]
    calibrated: Annotated[Day, Field(description="day of the last calibration")]
    calibration_due: Annotated[Day, Field(description="last day on which the calibration holds")]
    document: Annotated[Text | None, Field(description="certificate of the calibration: number and issuer")] = None
    of: Annotated[
        Mark | None,
        Field(description="power source or spot gun of the table of machines of which this is what it shows and keeps"),
    ] = None


class Validation(Record):
    """That the plant has validated a version of this program for its use."""

    version: Annotated[Name, Field(description="version, as 'packets --version' prints it, such as 0.3.0")]
    date: Annotated[Day, Field(description="day of the validation")]
    by: Annotated[Name, Field(description="who answers for it")]
    document: Annotated[Text | None, Field(description="record of the validation: number, and where it is kept")] = None


class Instruments(Table):
    """The instruments of the plant; set-up records name them by their numbers.

    ``validations`` are those of this program, which calculates what is set.
    """

    kind: Literal["instruments"]
    entries: Annotated[tuple[Instrument, ...], Field(min_length=1)]
    validations: Annotated[
        tuple[Validation, ...], Field(description="versions of this program that the plant has validated")
    ] = ()


class SampleSize(Record):
    """The parts that some checks look at in an order of over so many parts and up to and including so many.

    ``checks`` are identifiers of inspections in process. ``parts`` is their number, or ``share`` the part of the
    quantity, rounded up to a whole part.
    """

    id: Mark
    checks: Annotated[tuple[Mark, ...], Field(min_length=1)]
    over: Whole = 0
    up_to: Whole | None = None
    parts: Whole | None = None
    share: Share | None = None


class SampleSizes(Table):
    """The sample sizes of the plant by quantity; no standard that was read gives any for welds."""

    kind: Literal["sample sizes"]
    entries: Annotated[tuple[SampleSize, ...], Field(min_length=1)]


Occasion = Literal["shift start", "tip dress", "wire change", "contact-tip change", "cylinder change"]
"""What brings a check in process besides its frequency: the list of steps for it asks for the check."""


class Inspection(Record):
    """One check of the plan: what, how, how often, what is accepted, to which standard.

    ``joints`` are those that it looks at, none for all. ``limits`` names imperfections that it holds to their limits.
    ``weld_diameter`` says which minimum of the operation's weld diameters it holds to, where it measures them.
    ``stops_cell_for`` is for how long the cell stands still for one of them in process, ``after_parts`` or at an
    ``interval`` how often; left out where no time is known. ``occasions`` bring it besides. ``failure_types`` is
    whether it is said of each coupon how its weld failed.
    """

    id: Mark
    processes: tuple[ProcessNumber, ...]
    stage: Literal["coupon", "first-off", "in process", "last-off"]
    what: Text
    how: Text
    accept: Text
    every: Text
    levels: tuple[QualityLevel, ...] = ()
    source: Text
    joints: tuple[Joint, ...] = ()
    limits: tuple[Mark, ...] = ()
    weld_diameter: Literal["set-up", "production"] | None = None
    stops_cell_for: Duration | None = None
    stops_cell_source: Text | None = None
    after_parts: Whole | None = None
    interval: Duration | None = None
    occasions: tuple[Occasion, ...] = ()
    failure_types: Flag = False


class Inspections(Table):
    """Table of inspections."""

    kind: Literal["inspections"]
    entries: Annotated[tuple[Inspection, ...], Field(min_length=1)]


class ImperfectionLimit(Record):
    """What a quality level allows of an imperfection over one thickness and up to and including another.

    One of four forms: permitted or not; a size, ``plus`` and a ``share`` of what the imperfection is measured by, at
    most ``at_most``; an ``area`` of the weld; an ``angle`` from which on it is good. ``short``: only over a short
    length. ``passes`` where the number of passes decides. ``from_memory``: not read in any copy of the standard.
    """

    level: QualityLevel
    over: Thickness
    up_to: Thickness | None = None
    passes: Literal["one", "several"] | None = None
    permitted: Flag | None = None
    plus: Size | None = None
    share: Number | None = None
    at_most: Size | None = None
    area: Share | None = None
    angle: Angle | None = None
    short: Flag = False
    from_memory: Flag = False


MeasuredBy = Literal["thickness", "throat", "weld thickness", "face width", "root width"]
"""What a limit is a share of; the weld thickness is the throat of a fillet and the thickness of a butt."""


class Imperfection(Record):
    """One imperfection of arc welds by its ISO 6520-1 numbers, what of it is measured, and its limits."""

    id: Mark
    numbers: Annotated[tuple[Mark, ...], Field(min_length=1)]
    name: Name
    measure: Name = "size"
    share_of: MeasuredBy = "thickness"
    joints: tuple[Joint, ...] = ()
    limits: Annotated[tuple[ImperfectionLimit, ...], Field(min_length=1)]
    source: Text


class Imperfections(Table):
    """Limits of imperfections by quality level; ``short_length`` says in words how long a short imperfection may be."""

    kind: Literal["imperfections"]
    short_length: Text
    entries: Annotated[tuple[Imperfection, ...], Field(min_length=1)]
