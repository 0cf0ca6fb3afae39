"""Differences between two packets, each a small record that says itself in the trade's words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from weld_packets.grouping import grouped

FieldPath = tuple[str, ...]
"""Names of fields and keys of items from the packet down to what changed."""
Where = tuple[str, ...]
"""The same in words, from the operation down."""


@dataclass(frozen=True)
class Change:
    """One difference. ``where`` is its place in words; ``paths`` are the places in the packet that differ."""

    where: Where
    paths: tuple[FieldPath, ...]

    @property
    def saying(self) -> str:
        """Return what changed, without the place."""
        raise NotImplementedError

    def __str__(self) -> str:
        """Return the change in a line."""
        return f"{', '.join(self.where)}: {self.saying}" if self.where else self.saying


@dataclass(frozen=True)
class SettingChanged(Change):
    """A figure that is set or follows has another value; ``because`` are the causes found in its two traces."""

    label: str
    before: str
    after: str
    because: tuple[str, ...]

    @property
    def saying(self) -> str:
        """Return label, both values and the causes."""
        cause = f", because {'; '.join(self.because)}" if self.because else ""
        return f"{self.label} {self.before} -> {self.after}{cause}"


@dataclass(frozen=True)
class CalculationChanged(Change):
    """Values stay the same and are calculated differently."""

    labels: tuple[str, ...]
    because: tuple[str, ...]

    @property
    def saying(self) -> str:
        """Return the labels and what is new in their traces."""
        return f"same value, calculated differently: {', '.join(self.labels)} ({'; '.join(self.because)})"


@dataclass(frozen=True)
class _OfAWeld(Change):
    """A weld came or went; ``verb`` says which."""

    weld: str
    robot: str
    at: str
    verb: ClassVar[str]

    @property
    def saying(self) -> str:
        """Return weld, robot and place."""
        return f"weld {self.weld} {self.verb} robot {self.robot}, at {self.at}"


class WeldAdded(_OfAWeld):
    """A weld that was not there before."""

    verb = "added,"


class WeldRemoved(_OfAWeld):
    """A weld that is not made any more, with its old robot and place."""

    verb = "removed, was"


@dataclass(frozen=True)
class WeldChanged(Change):
    """A weld was moved by ``distance`` mm (empty where it stays) or differs in ``details``."""

    weld: str
    distance: str
    details: tuple[str, ...]

    @property
    def saying(self) -> str:
        """Return the distance and the details."""
        moved = (f"moved {self.distance} mm",) if self.distance else ()
        return f"weld {self.weld} {'; '.join((*moved, *self.details))}"


@dataclass(frozen=True)
class WeldsRenumbered(Change):
    """Welds have other numbers in their robot's sequence and are otherwise the same."""

    marks: tuple[tuple[str, str, str], ...]

    @property
    def saying(self) -> str:
        """Return each weld with both numbers."""
        return "renumbered: " + ", ".join(f"{weld} {before} -> {after}" for weld, before, after in self.marks)


@dataclass(frozen=True)
class _OfAThing(Change):
    """Something happened to a thing: ``what`` it is, and the verb of its kind."""

    what: str
    verb: ClassVar[str]

    @property
    def saying(self) -> str:
        """Return it with the verb."""
        return f"{self.what} {self.verb}"


class Added(_OfAThing):
    """Something that was not there before."""

    verb = "added"


class Removed(_OfAThing):
    """Something that is gone."""

    verb = "removed"


class Replaced(_OfAThing):
    """Something that is another thing of the same name now, or several."""

    verb = "replaced"


@dataclass(frozen=True)
class Altered(Change):
    """A text or a number that reads differently."""

    what: str
    before: str
    after: str

    @property
    def saying(self) -> str:
        """Return both readings."""
        return f"{self.what} {self.before or '(nothing)'} -> {self.after or '(nothing)'}".lstrip()


class Redrawn(_OfAThing):
    """A diagram that looks different."""

    verb = "redrawn"


class Reordered(_OfAThing):
    """The same things in another order."""

    verb = "in another order"


@dataclass(frozen=True)
class TableRevisionCited(Change):
    """Texts and traces that name another revision of a table and are otherwise the same."""

    tables: tuple[str, ...]

    @property
    def saying(self) -> str:
        """Return the tables with both revisions, and how many places name them."""
        return f"{'; '.join(self.tables)}: named so in {len(self.paths)} places that are otherwise the same"


def change_lines(changes: Iterable[Change]) -> tuple[str, ...]:
    """Return the changes line by line, in one line what reads the same in several places."""
    places = grouped((change.saying, change.where) for change in changes)
    return tuple(_line(saying, dict.fromkeys(where)) for saying, where in places.items())


def _line(saying: str, where: Iterable[Where]) -> str:
    """Return a line; a place that continues the one before, as in the same operation, leaves out what they share."""
    shown, operation = [], ""
    for place in where:
        head, rest = place[:1], place[1:]
        shown.append(", ".join(rest if rest and head == (operation,) else place))
        operation = "".join(head)
    return f"{'; '.join(shown)}: {saying}" if any(shown) else saying
