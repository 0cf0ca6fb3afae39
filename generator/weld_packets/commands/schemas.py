"""Write the JSON Schemas that editors use."""

from __future__ import annotations

from pathlib import Path

from weld_packets.sources.schemas import write_schemas


def schemas(root: Path) -> tuple[Path, ...]:
    """Write the schemas of orders and tables and return their files."""
    return write_schemas(root)
