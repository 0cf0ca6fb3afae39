"""The group of a parent material after ISO/TR 15608."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from weld_packets.model.tables.qualification import Certainty, Grade, MaterialGroups


@dataclass(frozen=True)
class Grouped:
    """The subgroup of a material; nothing where no table lists it."""

    group: str | None
    certainty: Certainty

    @property
    def sure(self) -> str | None:
        """The subgroup where it was read or is the plant's own; None where it is only remembered."""
        return self.group if self.certainty in ("read", "plant") else None


_UNLISTED = Grouped(None, "unread")
_MARKS = "-+"
"""What follows the grade in the identifier of a coated or treated material."""


class Groups:
    """The groups that tables give to materials; an earlier table goes before a later one."""

    def __init__(self, tables: Iterable[MaterialGroups]) -> None:
        """Take the tables."""
        self._grades: dict[str, Grade] = {}
        for table in tables:
            for entry in table.entries:
                for grade in entry.grades:
                    self._grades.setdefault(grade, entry)

    def of(self, material: str) -> Grouped:
        """Return the group of a material by its identifier, or by the grade with which that begins."""
        names = (material, *(material[:at] for at, sign in reversed(list(enumerate(material))) if sign in _MARKS))
        found = next((self._grades[name] for name in names if name in self._grades), None)
        return _UNLISTED if found is None else Grouped(found.group, found.certainty)


def group_of_subgroup(subgroup: str | None) -> str | None:
    """Return the group of a subgroup: 1 for 1.2."""
    return None if subgroup is None else subgroup.split(".", 1)[0]
