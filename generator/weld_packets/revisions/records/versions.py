"""Readers of older records: each version of the format names how it becomes the next one.

A record and the line of the register that lists it carry ``record_version``. Their bytes never change, and everything
that proves them (digests, links, signatures) is computed from those bytes. What is shown is today's model, so a record
of an older version is brought up to it, version by version, after it is read. When a field of a record, of the packet
in it or of the register's lines is renamed, moved, or added without a default:

1. raise ``RECORD_VERSION`` by one and add the upgrade from the version before it to ``UPGRADES``;
2. freeze a record of the new version (``python tests/revisions/frozen/freeze.py``).

The frozen records of all earlier versions stay as they are; a test renders and verifies each of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

RECORD_VERSION: Final = 1
"""The version that this program writes."""

RecordVersion = Literal[1]
"""Its type in the models; always the number above."""

Json = dict[str, Any]


@dataclass(frozen=True)
class Upgrade:
    """How a record (with the packet in it, if any) and a line of the register become those of the next version.

    Both take and return parsed JSON and may change it in place. ``record`` also gets records whose ``packet`` is None:
    a withdrawal, or the cover of a release.
    """

    record: Callable[[Json], Json]
    line: Callable[[Json], Json]


UPGRADES: Mapping[int, Upgrade] = {}
"""The upgrade from each older version to the one after it."""


def is_older(version: object) -> bool:
    """Return whether ``version`` is one that this program reads and no longer writes."""
    return isinstance(version, int) and version in UPGRADES


def upgraded_record(record: Json) -> Json:
    """Return ``record``, of an older version, as it would be written today."""
    return _upgraded(record, lambda upgrade: upgrade.record)


def upgraded_line(line: Json) -> Json:
    """Return a line of the register, of an older version, as it would be written today."""
    return _upgraded(line, lambda upgrade: upgrade.line)


def _upgraded(content: Json, part: Callable[[Upgrade], Callable[[Json], Json]]) -> Json:
    while is_older(version := content["record_version"]):
        content = {**part(UPGRADES[version])(content), "record_version": version + 1}
    return content
