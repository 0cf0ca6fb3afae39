"""Whose qualification covers the work of an operation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.calculation.results import OperationResult
from weld_packets.model.tables.people import PeopleQualifications, PersonQualification

_ONE_PASS = 1


@dataclass(frozen=True)
class Needed:
    """What the work of an operation needs: its process and cell, and whether a weld has several passes."""

    process: str
    cell: str
    several_passes: bool


def needed_for(found: OperationResult) -> Needed:
    """Return what the work of an operation needs."""
    operation = found.operation
    several = any(settings.pass_count > _ONE_PASS for settings in found.settings)
    return Needed(operation.process, operation.cell, several)


def holders(needed: Needed, table: PeopleQualifications) -> Iterator[PersonQualification]:
    """Yield the qualifications that cover the work, whatever the day.

    A single-run qualification does not cover multi-run; a multi-run one covers both (ISO 14732:2013, from memory).
    """
    for entry in table.entries:
        fits = entry.process == needed.process and (not entry.cells or needed.cell in entry.cells)
        if fits and (entry.passes == "several" or not needed.several_passes):
            yield entry
