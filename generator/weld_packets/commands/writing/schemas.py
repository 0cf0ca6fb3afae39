"""Print the settings by which an editor checks your files.

The JSON Schemas come with the program. Put what is printed into the settings of an editor that reads YAML by schemas:
it then completes and checks while you type. In a plant's folder the schema of orders is written to .editor/, with the
names of its cells, robots, materials, wires, gases and charts; check and serve keep it up to date.

Example: packets schemas
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.root import find_root
from weld_packets.commands.shared.terminal import print_json, print_lines
from weld_packets.errors import PacketError
from weld_packets.sources.folders import INSTRUCTIONS, ORDER_FILE, TABLES
from weld_packets.sources.schemas import (
    EDITOR,
    ORDER_SCHEMA,
    SCHEMA_FOLDER,
    TABLE_SCHEMA,
    write_plant_schema,
    write_schemas,
)
from weld_packets.sources.tables.tables import load_workspace


@click.command(help=__doc__)
@click.option("--write", is_flag=True, help="For contributors: write the schemas anew after a change of the model.")
def command(*, write: bool) -> None:
    if write:
        print_lines(f"wrote {path}" for path in write_schemas())
    else:
        print_json({"yaml.schemas": editor_settings(_of_plant(click.get_current_context().obj))})


def _of_plant(given: Path | None) -> Path:
    """Return the schema of the orders of the plant that is named or around; the program's where there is none."""
    try:
        root = find_root(given)
        return write_plant_schema(load_workspace(root).approved, root / EDITOR)
    except PacketError:
        return SCHEMA_FOLDER / ORDER_SCHEMA


def editor_settings(orders: Path) -> dict[str, str]:
    """Return for each schema, by its address on this computer, which files of a plant's folder it describes."""
    described = {orders: f"{INSTRUCTIONS}/*/{ORDER_FILE}", SCHEMA_FOLDER / TABLE_SCHEMA: f"{TABLES}/*.yaml"}
    return {schema.as_uri(): files for schema, files in described.items()}
