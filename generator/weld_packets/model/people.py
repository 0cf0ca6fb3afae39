"""Qualifications of those who set up and operate the robots, by role numbers; no name is kept."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Day, Flag, Mark, Name, Record, Text
from weld_packets.model.processes import ProcessNumber
from weld_packets.model.tables import Table

Duty = Literal["operator", "setter"]


class PersonQualification(Record):
    """One qualification of somebody, known by a number of the plant.

    ``passes`` is what was welded in the test: several passes cover one. ``sensor`` is whether an arc or joint sensor
    was used. ``cells`` are those whose welding units it holds for, none named for all. ``confirmed`` is the last day
    on which it was confirmed, ``valid_until`` its last day.
    """

    id: Mark
    duties: Annotated[tuple[Duty, ...], Field(min_length=1)]
    process: ProcessNumber
    passes: Literal["one", "several"] = "one"
    sensor: Flag = False
    cells: tuple[Mark, ...] = ()
    tested: Day
    confirmed: Day | None = None
    valid_until: Day
    document: Text


class PeopleQualifications(Table):
    """Qualifications to one standard and edition, such as ISO 14732."""

    kind: Literal["people qualifications"]
    standard: Name
    edition: Name
    entries: Annotated[tuple[PersonQualification, ...], Field(min_length=1)]
