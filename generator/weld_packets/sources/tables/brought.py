"""Tables that the program brings: ranges of qualification, groups of materials, general tolerances.

They are data of the package and are never copied into a plant's folder, where they would go stale. A plant replaces a
line of theirs in a table of its own.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TypeVar

from weld_packets.model.qualification import MaterialGroups, QualificationRules
from weld_packets.model.tables import Table
from weld_packets.model.tolerances import GeneralTolerances
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import read_text
from weld_packets.sources.reading.strict_yaml import read_yaml

_FOLDER = Path(__file__).parent.parent / "qualification"
_GROUPS = "material_groups.yaml"
_TOLERANCES = "iso_13920.yaml"
T = TypeVar("T", bound=Table)


@cache
def brought_rules() -> tuple[QualificationRules, ...]:
    """Return the ranges that the program knows, a table for each standard, edition and level."""
    names = (path.name for path in sorted(_FOLDER.glob("*.yaml")) if path.name not in (_GROUPS, _TOLERANCES))
    return tuple(_read(name, QualificationRules) for name in names)


@cache
def brought_groups() -> MaterialGroups:
    """Return the groups of materials that the program knows."""
    return _read(_GROUPS, MaterialGroups)


@cache
def brought_tolerances() -> GeneralTolerances:
    """Return the general tolerances that the program knows."""
    return _read(_TOLERANCES, GeneralTolerances)


def _read(name: str, record: type[T]) -> T:
    return bind(read_yaml(read_text(_FOLDER / name, name), name), record)
