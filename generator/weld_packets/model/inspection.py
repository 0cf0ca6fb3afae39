"""What the plant inspects with: sample sizes by its own rule, and measuring instruments with their calibration."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Day, Mark, Name, Record, Share, Text, Whole
from weld_packets.model.tables import Table


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
