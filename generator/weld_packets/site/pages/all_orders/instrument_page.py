"""The page of what the plant measures and calculates with: calibrations, power sources and spot guns, this program."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from weld_packets import __version__
from weld_packets.revisions.register.register import Register


@dataclass(frozen=True)
class KeptInstrument:
    """An instrument as the plant's table has it, or what a machine shows: days as year-month-day.

    ``of`` is the power source or spot gun, empty for an instrument of its own; ``document`` is empty if not stated.
    """

    number: str
    what: str
    calibrated: str
    due: str
    document: str
    of: str = ""


@dataclass(frozen=True)
class KeptMachine:
    """The power source or spot gun of a robot."""

    cell: str
    robot: str
    id: str


@dataclass(frozen=True)
class KeptValidation:
    """A version of the program that the plant has validated; ``document`` is empty if not stated."""

    version: str
    date: str
    by: str
    document: str


@dataclass(frozen=True)
class KeptInstruments:
    """What the plant's tables say of instruments, machines and this program, whose ``version`` makes the pages.

    ``table`` is the name of the table of instruments, empty where the plant has none; ``unread`` where a table cannot
    be read.
    """

    table: str = ""
    instruments: Sequence[KeptInstrument] = ()
    machines: Sequence[KeptMachine] = ()
    validations: Sequence[KeptValidation] = ()
    unread: bool = False
    version: str = __version__


@dataclass(frozen=True)
class VersionLine:
    """A version of the program: how many records it made, whether it makes these pages, and its validation, if any."""

    version: str
    records: int
    makes_pages: bool
    validation: KeptValidation | None


def instrument_context(kept: KeptInstruments, register: Register) -> Mapping[str, Any]:
    """Return what the page's template shows of what is kept; versions are those of the records, the newest first."""
    known = {each.version: each for each in kept.validations}
    made = Counter(entry.code.version for entry in reversed(register.entries))
    return {
        "instruments": [each for each in kept.instruments if not each.of],
        "machines": [(each, [found for found in kept.instruments if found.of == each.id]) for each in kept.machines],
        "versions": [
            VersionLine(version, made[version], version == kept.version, known.get(version))
            for version in dict.fromkeys((kept.version, *made))
        ],
        "table": kept.table,
        "unread": kept.unread,
    }
