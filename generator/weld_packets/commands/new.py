"""Start a plant's folder.

FOLDER gets instructions/ for orders and, in tables/, a file to fill in for each kind of table; `packets check` then
says what is left to do. No file that is there already is changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.plant import INSTRUCTIONS, TABLES, print_lines
from weld_packets.model.approved_tables import TABLE_KINDS

_FILES = {
    ".gitignore": "/site/\n/*.zip\n",
    ".gitattributes": (
        "# Records are compared byte by byte: git must not change their line ends.\n"
        f"{INSTRUCTIONS}/*/released/** -text\n{INSTRUCTIONS}/register.jsonl -text\n{INSTRUCTIONS}/keys/** -text\n"
    ),
}


@click.command(help=__doc__)
@click.argument("folder", metavar="FOLDER", type=click.Path(path_type=Path, file_okay=False))
def command(folder: Path) -> None:
    print_lines(f"wrote {path}" for path in start_plant(folder))
    print(f"next: fill in {folder / TABLES}, write an order in {folder / INSTRUCTIONS}, then run packets check there")


def start_plant(folder: Path) -> Iterator[Path]:
    """Make the folders of a plant and yield each file that is written; what is there stays as it is."""
    (folder / INSTRUCTIONS).mkdir(parents=True, exist_ok=True)
    (folder / TABLES).mkdir(exist_ok=True)
    tables = {f"{TABLES}/{kind.replace(' ', '_')}.yaml": _table(kind) for kind in TABLE_KINDS}
    for name, text in {**_FILES, **tables}.items():
        path = folder / name
        if not path.exists():
            path.write_text(text, encoding="utf-8", newline="\n")
            yield path


def _table(kind: str) -> str:
    """Return the head of a table; its empty keys, and those that are missing, are what `packets check` asks for."""
    return f"table: {kind.replace(' ', '-')}\nkind: {kind}\ntitle:\nsource:\nrevision: A\n"
