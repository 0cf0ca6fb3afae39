"""Write one order's website as one zip file.

ORDER is the order's folder in instructions/ or its number. Its site is built anew first. A file is overwritten only
where it is an export that this program wrote.

Example: packets export LK-2041 --to stick.zip
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.building.build import build
from weld_packets.commands.shared.order_argument import order_argument
from weld_packets.commands.shared.root import NAMED_PATH, in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.errors import Problem, SourceError, refuse
from weld_packets.files import real_path
from weld_packets.plant.programs import clashes_with_released
from weld_packets.site.build.export import export_zip, is_export
from weld_packets.site.build.site_card import uses_of_site
from weld_packets.sources.folders import INSTRUCTIONS, SITES, TABLES


@click.command(help=__doc__)
@order_argument
@click.option(
    "--to",
    "target",
    type=NAMED_PATH,
    metavar="FILE",
    help="The zip file; else ORDER.zip in this folder.",
)
@in_plant
def command(root: Path, order: str, target: Path | None) -> None:
    print_lines(export(root, order, target or Path.cwd() / f"{order}.zip"))


def export(root: Path, slug: str, target: Path) -> list[str]:
    """Bring the site of ``slug`` up to date and write it as a zip file; return what to print.

    A program that another order uses otherwise is said there and in the file. Raises PacketError where it cannot be
    written.
    """
    _check_target(root, target)
    report = build(root, [slug], everything=True)  # what is shipped is what the record gives, whatever was edited
    refuse(report.problems)  # not for what is wrong between orders: one would keep another from the cell
    if report.faults:
        raise RuntimeError(report.faults[0])
    site = root / SITES / slug
    clashes = clashes_with_released(root, slug, uses_of_site(site))
    try:
        written = export_zip(site, target, clashes)
    except OSError as error:
        message, remedy = f"cannot be written: {error.strerror}", "name a file where you may write, with enough space"
        raise SourceError([Problem(str(target), 0, "", "", message, remedy)]) from None
    notes = (f"{slug}: {each.here.place} = {each.here.program!r}: {each.problem.message}" for each in clashes)
    return [*notes, f"wrote {written}"]


def _check_target(root: Path, target: Path) -> None:
    """Raise SourceError unless ``target`` may be written; what the plant keeps is never written over."""
    fault, remedy = "", "name a file"
    if not target.parent.is_dir():
        fault, remedy = "there is no such folder", "name a file in a folder that exists"
    elif target.exists() and not target.is_file():
        fault = "is not a regular file"
    elif any(real_path(target).is_relative_to(real_path(root / kept)) for kept in (INSTRUCTIONS, TABLES)):
        fault, remedy = "is among the plant's sources and records", "name a file outside instructions/ and tables/"
    elif target.exists() and not is_export(target):
        fault, remedy = "is not an export that this program wrote", "name another file, or move it away"
    if fault:
        raise SourceError([Problem(str(target), 0, "", "", fault, remedy)])
