"""The table of faults: what is seen of a weld, what it comes from, what helps."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Mark, Record, Text
from weld_packets.model.processes import ProcessNumber, SettingKey
from weld_packets.model.table import Table


class Remedy(Record):
    """One thing to try for a fault, at most to the end of the allowed range of a setting."""

    check: Text
    setting: SettingKey = "none"
    direction: Literal["up", "down", "none"] = "none"


class Fault(Record):
    """One fault sign, its remedies in order, and when to stop and call the supervisor.

    ``limits`` names the imperfections of which the work stops outside their limits.
    """

    id: Mark
    processes: tuple[ProcessNumber, ...]
    sign: Text
    remedies: Annotated[tuple[Remedy, ...], Field(min_length=1)]
    stop_when: Text
    source: Text
    limits: tuple[Mark, ...] = ()


class Faults(Table):
    """Table of faults and remedies."""

    kind: Literal["faults"]
    entries: Annotated[tuple[Fault, ...], Field(min_length=1)]
