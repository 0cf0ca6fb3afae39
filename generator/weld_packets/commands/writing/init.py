"""Start a plant that checks and builds at once.

FOLDER gets instructions/ with one order of an invented maker, and tables/ with every table that it needs, each value
with its source. Nothing in it is approved: check it, make it your own, approve it. With --weld, only the tables of that
kind of welding are written.

Example: packets init our-plant --units "US customary" --weld arc --mains 60
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Literal, get_args

import click
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from weld_packets.commands.shared.root import NAMED_FOLDER
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.errors import Problem, SourceError
from weld_packets.files import remove, remove_left, unfinished
from weld_packets.revisions.register.entries import RUNS, SET_UPS
from weld_packets.sources.folders import INSTRUCTIONS, TABLES
from weld_packets.units import SystemOfUnits

Welded = Literal["arc", "spot", "both"]
_BEGUN = "init"
"""What a folder is called in which a plant is made, until it is put in place."""
_STARTER = Path(__file__).parent / "starter"
_ARC_CELL, _SPOT_CELL = "W1", "W2"
_ONLY_FOR = {
    "arc": ("arc_co2_fillet_1_0", "gases", "imperfections", "shades", "wires"),
    "spot": ("caps", "spacing_low_carbon", "spacing_metric", "spot_uncoated", "spot_uncoated_points"),
}
"""Tables that only one kind of process needs."""
_ONLY_METRIC = ("spot_uncoated",)
_SPOTS = {
    "metric": (("A", (60, 100, 140, 180)), ("B", (340, 300, 260, 220))),
    "US customary": (("A", (2.4, 4, 5.6, 7.2)), ("B", (13.6, 12, 10.4, 8.8))),
}
"""Along the stiffener, from its ends to its middle."""
_FILES = {
    ".gitignore": "/site/\n/.editor/\n/*.zip\n",
    ".gitattributes": (
        "# Records are compared byte by byte: git must not change their line ends.\n"
        + "".join(f"{INSTRUCTIONS}/*/{folder}/** -text\n" for folder in ("released", "proposed", SET_UPS, RUNS))
        + f"{INSTRUCTIONS}/register/** -text\n{INSTRUCTIONS}/keys/** -text\n"
    ),
}


@click.command(help=__doc__)
@click.argument("folder", metavar="FOLDER", type=NAMED_FOLDER)
@click.option(
    "--units",
    type=click.Choice(get_args(SystemOfUnits), case_sensitive=False),
    default="metric",
    show_default=True,
    help="Units of the plant's tables and pages; the other system follows in small.",
)
@click.option(
    "--weld",
    type=click.Choice(get_args(Welded)),
    multiple=True,
    help="Kind of welding in the plant's cells; may be given twice.  [default: both]",
)
@click.option(
    "--mains",
    type=click.Choice(("50", "60")),
    default=None,
    help="Mains frequency in Hz.  [default: 50, or 60 with US customary units]",
)
def command(folder: Path, units: SystemOfUnits, weld: tuple[Welded, ...], mains: str | None) -> None:
    welded: Welded = weld[0] if len(set(weld)) == 1 else "both"
    files = {**_FILES, **starter_files(units, welded, mains or ("50" if units == "metric" else "60"))}
    written = tuple(write_plant(folder, files))
    print_lines(f"wrote {path}" for path in written)
    for name, text in _FILES.items():
        if folder / name not in written:
            print_lines(_left(folder / name, text))
    print(f"next: packets --root {folder} check, then build or serve; then make {folder / TABLES} your own")


def write_plant(folder: Path, files: dict[str, str]) -> Iterator[Path]:
    """Write ``files`` into ``folder`` and yield each; raise SourceError, and write nothing, where a plant is there."""
    remove_left(folder, _BEGUN)
    for name in (INSTRUCTIONS, TABLES):
        if os.path.lexists(folder / name) and not _is_empty(folder / name):
            remedy = "name a new folder, or move away what is there"
            raise SourceError([Problem(str(folder / name), 0, "", "", "there is a plant here already", remedy)])
    _make(folder)
    working = unfinished(folder / _BEGUN)
    try:
        for name, text in files.items():
            path = working / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        # each whole, and last what makes it a plant: what was begun is refused next time
        put = [name for name in (*_FILES, TABLES, INSTRUCTIONS) if _put(working / name, folder / name)]
    finally:
        remove(working)
    yield from (folder / name for name in files if name.partition("/")[0] in put)


def _left(path: Path, wanted: str) -> Iterator[str]:
    """Yield which lines a file that was there lacks of those that a new plant has."""
    try:
        held = path.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        held = []
    missing = [line for line in wanted.splitlines() if line not in held and not line.startswith("#")]
    if missing:
        yield f"left {path} as it was; add to it:"
        yield from (f"    {line}" for line in missing)


def _is_empty(folder: Path) -> bool:
    return folder.is_dir() and not folder.is_symlink() and not any(folder.iterdir())


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileNotFoundError:  # below a folder of the system that takes no files
        raise SourceError([Problem(str(folder), 0, "", "", "cannot be made there", "name another folder")]) from None


def _put(fresh: Path, target: Path) -> bool:
    """Put a file or folder in its place, which may hold an empty folder; return whether: a file that is there stays."""
    if target.is_dir():
        target.rmdir()
    free = not target.exists()
    if free:
        fresh.rename(target)
    return free


def starter_files(units: SystemOfUnits, weld: Welded, mains: str) -> dict[str, str]:
    """Return the text of each table and order of a new plant by its path, as chosen."""
    metric, arc, spot = units == "metric", weld != "spot", weld != "arc"
    cells = [{"id": _ARC_CELL, "name": "Foot cell", "arc": True}] * arc
    cells += [{"id": _SPOT_CELL, "name": "Shelf cell", "arc": False}] * spot
    chosen = {
        "units": units,
        "unit": "mm" if metric else "in",
        "customary": not metric,
        "arc": arc,
        "spot": spot,
        "mains": mains,
        "either": lambda this, other: this if metric else other,
        "cells": cells,
        "arc_cell": _ARC_CELL,
        "spot_cell": _SPOT_CELL,
        "spots": _SPOTS[units],
        "wire": "G3Si1-1.0" if metric else "ER70S-6-0.040",
        "arc_material": "S235JR" if metric else "A1008-CS",
        "spot_material": "DC01" if metric else "A1008-CS",
    }
    left_out = {*(() if arc else _ONLY_FOR["arc"]), *(() if spot else _ONLY_FOR["spot"])}
    left_out |= set() if metric else set(_ONLY_METRIC)
    paths = [path for path in sorted(_STARTER.rglob("*.yaml")) if path.stem not in left_out]
    names = [path.relative_to(_STARTER).as_posix() for path in paths]
    environment = _environment()
    return {name: environment.get_template(name).render(chosen) for name in names}


@cache
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(_STARTER),
        undefined=StrictUndefined,
        line_statement_prefix="%%",
        keep_trailing_newline=True,
        autoescape=False,  # noqa: S701 - the text is YAML, of our own values alone
    )
