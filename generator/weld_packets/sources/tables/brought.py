"""Tables that the program brings: ranges of qualification and groups of materials, as far as they are known.

They are data of the package and are never copied into a plant's folder, where they would go stale. A plant replaces a
line of theirs in a table of its own.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from weld_packets.model.qualification import MaterialGroups, QualificationRules
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import read_text
from weld_packets.sources.reading.strict_yaml import read_yaml

_FOLDER = Path(__file__).parent.parent / "qualification"
_GROUPS = "material_groups.yaml"


@cache
def brought_rules() -> tuple[QualificationRules, ...]:
    """Return the ranges that the program knows, a table for each standard, edition and level."""
    paths = (path for path in sorted(_FOLDER.glob("*.yaml")) if path.name != _GROUPS)
    return tuple(bind(read_yaml(read_text(path, path.name), path.name), QualificationRules) for path in paths)


@cache
def brought_groups() -> MaterialGroups:
    """Return the groups of materials that the program knows."""
    return bind(read_yaml(read_text(_FOLDER / _GROUPS, _GROUPS), _GROUPS), MaterialGroups)
