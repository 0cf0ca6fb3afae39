"""The schema of a plant's orders for editors, in the plant's folder; kept up to date once it is there."""

from __future__ import annotations

from pathlib import Path

from weld_packets.errors import PacketError
from weld_packets.sources.schemas import write_plant_schema
from weld_packets.sources.tables.tables import Workspace, load_workspace

EDITOR = ".editor"
"""The folder of the plant that holds it."""


def refresh(workspace: Workspace) -> None:
    """Write the schema anew where `packets schemas` has put one."""
    if (workspace.root / EDITOR).is_dir():
        write_plant_schema(workspace.approved, workspace.root / EDITOR)


def refresh_from(root: Path) -> None:
    """Do the same from the plant's files; where its tables are wrong, the schema stays as it is."""
    if (root / EDITOR).is_dir():
        try:
            refresh(load_workspace(root))
        except PacketError:
            return
