"""Write the JSON Schemas that editors use.

By them an editor completes and checks orders and tables while you type.
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.plant import in_plant, print_lines
from weld_packets.sources.schemas import write_schemas


@click.command(help=__doc__)
@in_plant
def command(root: Path) -> None:
    print_lines(f"wrote {path}" for path in write_schemas(root))
