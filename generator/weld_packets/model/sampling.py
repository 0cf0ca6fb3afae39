"""How many parts of an order a check of the inspection plan looks at, by the plant's own rule."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Mark, Record, Share, Whole
from weld_packets.model.tables import Table


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
