"""Figures of tables: as they are written in a message, and those that lie outside their bounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from weld_packets.errors import Problem, unplaced
from weld_packets.model.table import Table
from weld_packets.units import as_written, exceeds, magnitude, plain


@dataclass(frozen=True)
class Bounds:
    """The smallest and the largest figure that is believed, both admitted themselves, in ``unit``; None is open.

    A bare number has no unit. ``source`` is who says so; empty where it is common practice.
    """

    lowest: float | None
    highest: float | None
    unit: str = ""
    source: str = ""

    def admit(self, number: float) -> bool:
        """Return whether ``number`` of the unit lies inside, float noise of a conversion apart."""
        above = self.lowest is None or not exceeds(self.lowest, number)
        return above and (self.highest is None or not exceeds(number, self.highest))

    def hold(self, value: Any) -> bool:
        """Return whether a quantity or bare number lies inside; one that is not given breaks nothing."""
        if value is None:
            return True
        return self.admit(float(value) if _is_bare(value) else magnitude(value, self.unit))


Figures = Mapping[type[Table], Mapping[str, Mapping[str, Bounds]]]
"""Which figures of which tables are bounded: by the lists and records that lead to them, joined by dots, and field."""


OwnRules = Mapping[type[Table], Callable[[Any], Iterator[Problem]]]
"""What one kind of table alone is asked, by its kind."""


def own_problems(table: Table, rules: OwnRules) -> Iterator[Problem]:
    """Yield what the rule for its kind finds in a table; nothing of a kind without a rule."""
    rule = rules.get(type(table))
    return iter(()) if rule is None else rule(table)


def outside(table: Table, figures: Figures) -> Iterator[tuple[str, Any, Bounds]]:
    """Yield every figure of a table that lies outside its bounds, with its key path within the table."""
    for route, fields in figures.get(type(table), {}).items():
        for key, entry in _at(table, route.split(".") if route else [], ""):
            for field, bounds in fields.items():
                value = entry.get(field) if isinstance(entry, Mapping) else getattr(entry, field)
                if not bounds.hold(value):
                    yield f"{key}{field}", value, bounds


def _at(entry: Any, route: Sequence[str], key: str) -> Iterator[tuple[str, Any]]:
    """Yield every record at the end of a route of lists and records, with the beginning of its key path."""
    if entry is None:
        return
    if not route:
        yield key, entry
        return
    below = getattr(entry, route[0])
    if isinstance(below, tuple):
        for index, each in enumerate(below):
            yield from _at(each, route[1:], f"{key}{route[0]}[{index}].")
    else:
        yield from _at(below, route[1:], f"{key}{route[0]}.")


def _is_bare(value: Any) -> bool:
    return isinstance(value, int | Decimal)


def written(value: Any) -> str:
    """Return a quantity or bare number as a message shows it."""
    return plain(Decimal(value)) if _is_bare(value) else as_written(value)


def table_problem(key: str, value: str, message: str, remedy: str = "check the number and its unit") -> Problem:
    """Return a problem of a table: key path and value as its file has them, fields with blanks for underscores."""
    return unplaced(key.replace("_", " "), value.replace("\N{NO-BREAK SPACE}", " "), message, remedy)
