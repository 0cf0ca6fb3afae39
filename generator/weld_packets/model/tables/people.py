"""Who answers for records, by name; qualifications of those who set up and operate the robots, by numbers alone."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Day, Flag, Mark, Name, Record, Slug, Text
from weld_packets.model.processes import ProcessNumber
from weld_packets.model.table import Table

Duty = Literal["operator", "setter"]
Permission = Literal["author", "approve releases", "approve tables", "withdraw"]


class ResponsiblePerson(Record):
    """Somebody who may make records of the plant, from a first day to a last, both included, where they are named."""

    name: Annotated[Name, Field(description="name, as records and pages are to show it")]
    role: Annotated[Name, Field(description="position in the plant, such as quality lead")]
    may: Annotated[
        tuple[Permission, ...],
        Field(
            min_length=1,
            description="author: write orders and tables, propose releases; approve releases; approve tables; withdraw "
            "revisions. Nobody approves what they wrote themselves",
        ),
    ]
    valid_from: Annotated[Day | None, Field(description="first day on which this holds")] = None
    valid_until: Annotated[Day | None, Field(description="last day on which this holds")] = None
    key: Annotated[Slug | None, Field(description="name of this person's own key, as 'packets key' made it")] = None


class ResponsiblePeople(Table):
    """Who may author, approve and withdraw. A name that is not in it is refused."""

    kind: Literal["responsible people"]
    entries: Annotated[tuple[ResponsiblePerson, ...], Field(min_length=1)]


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
