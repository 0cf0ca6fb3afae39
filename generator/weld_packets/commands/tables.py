"""The plant's tables, opened for work: read, and free of faults that would only show in a computation."""

from __future__ import annotations

from pathlib import Path

from weld_packets.calculation.table_checks.table_faults import table_problems
from weld_packets.errors import SourceError
from weld_packets.sources.tables.tables import Workspace, load_workspace


def open_workspace(root: Path) -> Workspace:
    """Return the workspace at ``root``; raise SourceError with every problem of its tables, placed in their files."""
    workspace = load_workspace(root)
    found = sorted(workspace.placed(table, problem) for table, problem in table_problems(workspace.approved))
    if found:
        raise SourceError(found)
    return workspace
