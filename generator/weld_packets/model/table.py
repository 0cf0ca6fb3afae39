"""What every approved table says of itself, whatever it holds."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from weld_packets.model.fields import Day, Mark, Name, Record, Text
from weld_packets.model.trade import Reliability


class Approval(Record):
    """Who approved the table and when; ``plant`` is the plant for which, where it says so."""

    by: Name
    date: Day
    plant: Name | None = None


class SourceDocument(Record):
    """The issue of the document that a table was taken from: which one, of what date, and where a copy is kept."""

    issue: Name
    date: Name
    copy_at: Annotated[Name | None, Field(alias="copy")] = None


class Handled(Record):
    """Who did something with the values of a table, and on which day."""

    by: Name
    date: Day


class Table(Record):
    """The head that every table carries; ``reliability`` is that of its source as a whole.

    ``document`` is the issue of the source; ``transcribed`` and ``checked`` are by two people.
    """

    kind: str
    table: Mark
    title: Name
    source: Text
    reliability: Reliability = "published"
    revision: Mark
    approved: Approval | None = None
    document: SourceDocument | None = None
    transcribed: Handled | None = None
    checked: Handled | None = None
    notes: tuple[Text, ...] = ()
