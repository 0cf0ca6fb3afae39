"""The approvals of the plant's tables: which count, and whether a table still holds what was approved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from weld_packets.errors import Problem
from weld_packets.model.table import Approval, Table
from weld_packets.revisions.records.canonical import sha256
from weld_packets.revisions.records.effectivity import UTC_ZONE
from weld_packets.revisions.records.record import read_moment
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.table_contents import TableContent, approval_of
from weld_packets.revisions.store.approving import problems_of_contents
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.reading.places import KeyPath
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units.zones import day_at


def table_contents(workspace: Workspace) -> dict[str, TableContent]:
    """Return what each table of the plant holds, by its name."""
    return {name: _content(workspace, name) for name in workspace.contents}


def _content(workspace: Workspace, name: str) -> TableContent:
    file = workspace.places[name].file
    data = (workspace.root / file).read_bytes()
    revision = workspace.approved.tables[name].revision
    return TableContent(name, revision, workspace.contents[name], file, sha256(data))


FILL_IN = (
    "Your plant",
    "Starting values of the program until the plant has approved its own; each value names its source",
    "Starting text that came with the program. The plant must make it its own by its risk assessment.",
    "number to be written here",
    "Name of the welding engineer",
    "Name of the quality lead",
    "Name of the shift supervisor",
    "Organisation chart of your plant, with its number and date",
    "Invented examples that came with the program; write the rating plates and the survey of your cells here",
    "An invented example; write the rating plate of the torch here",
    "an example for path repeatability and spatter, to be measured",
    "an example, to be measured at the torch with its cable",
    "an example, to be measured at the jaws of the gun",
    "an example clear of fixture and clamps, to be taught and read back",
)
"""What a new plant's tables say in place of what only the plant knows: whom to call, and what its machines can do.

Whoever writes a rating plate, or how a distance was measured, in place of an invented source has read or measured it:
from radii, margins and waiting places follows how two robots keep clear of each other.
"""


def not_filled_in(workspace: Workspace, chosen: Iterable[TableContent]) -> list[Problem]:
    """Return a problem for each value of the tables that is still what ``packets init`` wrote to be replaced."""
    remedy = "write what holds in your plant, or take out a note that no longer does, then approve the table"
    return [
        workspace.places[content.table].problem(path, text, "this was to be filled in by the plant", remedy)
        for content in chosen
        for path, text in _texts(content.content)
        if text in FILL_IN
    ]


def _texts(node: Any, path: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(node, str):
        yield path, node
    elif isinstance(node, Mapping):
        for key, value in node.items():
            yield from _texts(value, (*path, key))
    elif isinstance(node, Sequence):
        for index, value in enumerate(node):
            yield from _texts(value, (*path, index))


def with_approvals(workspace: Workspace, register: Register) -> Workspace:
    """Return the workspace with the approvals that count: the register's before that of a table's own file.

    That of the file does not count where the plant approves in the register alone, and where it names another plant.
    """
    contents = table_contents(workspace)
    tables = {
        name: table.model_copy(update={"approved": _approval(table, contents[name], workspace, register)})
        for name, table in workspace.approved.tables.items()
    }
    return replace(workspace, approved=replace(workspace.approved, tables=tables))


def counting_approval(workspace: Workspace, register: Register, table: Table) -> Approval | None:
    """Return the approval of a table of the plant that counts, None where there is none."""
    return _approval(table, _content(workspace, table.table), workspace, register)


def _approval(table: Table, content: TableContent, workspace: Workspace, register: Register) -> Approval | None:
    plant = workspace.approved.plant
    entry = approval_of(register, plant.name, content)
    if entry is not None:
        return Approval(by=entry.approver, date=day_at(read_moment(entry.recorded_at), plant.time_zone or UTC_ZONE))
    own = table.approved
    if own is None or plant.approvals == "in the register" or own.plant not in (None, plant.name):
        return None
    return own


def changed_tables(workspace: Workspace, register: Register, names: Iterable[str] | None = None) -> list[Problem]:
    """Return a problem for each table that does not hold what was approved under its revision, placed in its file."""
    contents = table_contents(workspace)
    chosen = tuple(contents[name] for name in (contents if names is None else names) if name in contents)
    tables = {content.file: content.table for content in chosen}
    plant = workspace.approved.plant.name
    found = problems_of_contents(workspace.root / INSTRUCTIONS, register, plant, chosen)
    return [workspace.placed(tables[problem.file], replace(problem, file="")) for problem in found]
