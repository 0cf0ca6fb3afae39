"""A nonconformity: its number at the plant, which parts it may have reached, what holds them, what it concerns."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import StringConstraints, model_validator

from weld_packets.errors import PacketError, unplaced
from weld_packets.units import Plain

_NUMBER = r"[A-Za-z0-9][A-Za-z0-9 ._/-]{0,39}"
NonconformityNumber = Annotated[str, StringConstraints(pattern=f"^{_NUMBER}$", strip_whitespace=False)]
"""What the plant numbers it by."""

# What a person typed.
_COUNTS = re.compile(r"parts?\s+([0-9]{1,9})(?:\s+to\s+([0-9]{1,9}))?", re.IGNORECASE)
_SERIALS = re.compile(r"serials?\s+(\S{1,40})(?:\s+to\s+(\S{1,40}))?", re.IGNORECASE)  # what a person typed
_WORDS: dict[str, Literal["none made", "not known"]] = {"none made": "none made", "not known": "not known"}


class PartsAffected(Plain):
    """The parts that a nonconformity may have reached: by part count, by serial number, none, or not known yet.

    ``first`` and ``last`` are both included, and empty where ``kind`` is a word.
    """

    kind: Literal["part", "serial", "none made", "not known"] = "not known"
    first: str = ""
    last: str = ""

    @model_validator(mode="after")
    def _is_whole(self) -> PartsAffected:
        ranged = self.kind in ("part", "serial")
        if bool(self.first) != ranged or bool(self.last) != ranged:
            raise ValueError("from and to go with part and serial alone")
        if self.kind == "part" and not 1 <= int(self.first) <= int(self.last):
            raise ValueError("parts run from 1 up")
        return self

    def __str__(self) -> str:
        """Return them as printed."""
        if not self.first:
            return {"none made": "none made", "not known": "not known yet"}[self.kind]
        name = "part" if self.kind == "part" else "serial number"
        return f"{name} {self.first}" if self.first == self.last else f"{name}s {self.first} to {self.last}"


class Concerned(Plain):
    """What a nonconformity concerns: a weld with its place, or a setting with its value, in an operation.

    ``group`` are the welds that a setting is for, empty at a weld. ``value`` is decimal text with its unit, or X, Y, Z
    in mm of each point of the weld.
    """

    operation: int
    kind: Literal["weld", "setting"]
    name: str
    group: str = ""
    value: str

    def __str__(self) -> str:
        """Return it as printed."""
        of = f" of {self.group}" if self.group else ""
        what = f"weld {self.name} at" if self.kind == "weld" else f"{self.name}{of}"
        return f"operation {self.operation}, {what} {self.value}"


class AlsoIn(Plain):
    """How another released revision compares: how many of the settings and welds that are concerned it holds too.

    ``same`` are those that were named, where any were.
    """

    revision: str
    settings_same: int
    settings: int
    welds_same: int
    welds: int
    same: tuple[Concerned, ...] = ()

    @property
    def holds(self) -> bool:
        """Return whether anything of it is the same."""
        return self.settings_same + self.welds_same > 0

    def __str__(self) -> str:
        """Return it as printed."""
        if self.same:
            return f"revision {self.revision} holds the same: {'; '.join(map(str, self.same))}"
        if not self.holds:
            return f"revision {self.revision} holds none of it"
        counts = ((self.settings_same, self.settings, "setting"), (self.welds_same, self.welds, "weld"))
        said = [f"{same} of {all_} {name}{'s' if all_ != 1 else ''}" for same, all_, name in counts if all_]
        return f"revision {self.revision} holds the same in {' and '.join(said)}"


class Nonconformity(Plain):
    """What is known of a nonconformity when a record says it.

    ``concerned`` is what was named as at fault, in ``also_in`` compared with every other revision released by then.
    Where nothing is named, all settings and welds are compared. ``cause`` and ``corrective_action``, which keeps it
    from happening again, are empty until somebody states them, and in records from before they could be.
    """

    number: NonconformityNumber
    parts: PartsAffected = PartsAffected()
    containment: str = ""
    concerned: tuple[Concerned, ...] = ()
    also_in: tuple[AlsoIn, ...] = ()
    cause: str = ""
    corrective_action: str = ""


def read_parts(text: str) -> PartsAffected:
    """Return what ``text`` says: ``none made``, ``not known``, ``part 12 to 40`` or ``serial LC-0450 to LC-0470``.

    Raises PacketError for anything else.
    """
    stripped = " ".join(text.split())  # as a person typed it
    kind = _WORDS.get(stripped.casefold())
    if kind:
        return PartsAffected(kind=kind)
    if found := _COUNTS.fullmatch(stripped):
        first, last = int(found[1]), int(found[2] or found[1])
        if 1 <= first <= last:
            return PartsAffected(kind="part", first=str(first), last=str(last))
    elif (found := _SERIALS.fullmatch(stripped)) and stripped.isprintable():
        return PartsAffected(kind="serial", first=found[1], last=found[2] or found[1])
    remedy = "write 'none made', 'not known', 'part 12 to 40' or 'serial LC-0450 to LC-0470', the lower one first"
    raise PacketError([unplaced("parts", text, "does not say which parts are affected", remedy)])


def is_number(text: str) -> bool:
    """Return whether ``text`` can be the number of a nonconformity."""
    return re.fullmatch(_NUMBER, text) is not None  # what a person typed
