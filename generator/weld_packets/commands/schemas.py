"""Print the settings by which an editor checks orders and tables.

The JSON Schemas come with the program. Put what is printed into the settings of an editor that reads YAML by schemas:
it then completes and checks while you type, and follows each new version of the program.

Example: packets schemas
"""

from __future__ import annotations

import json

import click

from weld_packets.commands.shared.plant import INSTRUCTIONS, TABLES, print_lines
from weld_packets.sources.schemas import ORDER_SCHEMA, SCHEMA_FOLDER, TABLE_SCHEMA, write_schemas


@click.command(help=__doc__)
@click.option("--write", is_flag=True, help="For contributors: write the schemas anew after a change of the model.")
def command(*, write: bool) -> None:
    if write:
        print_lines(f"wrote {path}" for path in write_schemas())
    else:
        print(json.dumps({"yaml.schemas": editor_settings()}, indent=2))


def editor_settings() -> dict[str, str]:
    """Return for each schema, by its address on this computer, which files of a plant's folder it describes."""
    described = {ORDER_SCHEMA: f"{INSTRUCTIONS}/*/order.yaml", TABLE_SCHEMA: f"{TABLES}/*.yaml"}
    return {(SCHEMA_FOLDER / name).as_uri(): files for name, files in described.items()}
