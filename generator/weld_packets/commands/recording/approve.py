"""Approve tables as they are.

TABLE is the name of a table, as its file gives it; --all means every table that is not approved yet. Without --by the
command shows what is to be approved, with every difference from what was approved last, and records nothing. The
approval names the plant and what each table holds. A value that is changed under the same revision is refused from then
on.

Example: packets approve spot-uncoated --author "welding engineer" --by "quality lead" --reason "read against ISO 14373"
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.releasing.responsible import Responsible, line_to_keep, signer_of, signing_options
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import print_lines
from weld_packets.errors import Problem, SourceError
from weld_packets.plant.approvals import not_filled_in, table_contents
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.table_contents import TableContent, approval_of, content_changes, last_approved
from weld_packets.revisions.store.approving import TableApproval, record_approval
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.table_contents import read_content
from weld_packets.sources.folders import INSTRUCTIONS
from weld_packets.sources.tables.tables import Workspace
from weld_packets.wording.english import counted, joined
from weld_packets.wording.revisions import not_shown_words


@click.command(help=__doc__)
@click.argument("tables", metavar="[TABLE]...", nargs=-1)
@click.option("--all", "everything", is_flag=True, help="Every table that is not approved yet.")
@click.option("--author", default="", metavar="NAME", help="Who answers for the values: wrote or changed them.")
@click.option("--by", default="", metavar="NAME", help="Who checked and approves them.")
@click.option("--reason", default="", metavar="TEXT", help="What was checked, and against which document.")
@signing_options
@in_plant
def command(root: Path, /, tables: Sequence[str], *, everything: bool, **who: Any) -> None:
    if bool(tables) == everything:
        raise click.UsageError("name tables, or give --all")
    workspace = open_workspace(root)
    register = load_register(root / INSTRUCTIONS)
    chosen = _chosen(workspace, register, tables)
    open_values = not_filled_in(workspace, chosen)
    if not who["by"]:
        print_lines(_to_be_approved(workspace, register, chosen))
        print_lines(_next(tables, open_values))
        return
    if open_values:
        raise SourceError(open_values)
    answering = Responsible(author=who["author"], reason=who["reason"], approver=who["by"])
    wanted = TableApproval(workspace.approved.plant.name, chosen, answering.signatures_today(workspace))
    entry, after = record_approval(root / INSTRUCTIONS, wanted, signer_of(root, who["key"], who["private"]))
    print_lines(
        f"approved {each.table}, revision {each.revision}, {short(each.content_digest)}" for each in entry.tables
    )
    print(line_to_keep(after))


def _chosen(workspace: Workspace, register: Register, names: Sequence[str]) -> tuple[TableContent, ...]:
    """Return the tables of these names, or of no name those that are not approved; raise SourceError where none is."""
    contents = table_contents(workspace)
    unknown = [name for name in names if name not in contents]
    if unknown:
        remedy = f"name one of: {', '.join(sorted(contents))}"
        raise SourceError(Problem("tables", 0, "table", name, "there is no such table", remedy) for name in unknown)
    plant = workspace.approved.plant.name
    open_ones = [name for name, content in contents.items() if approval_of(register, plant, content) is None]
    chosen = tuple(contents[name] for name in dict.fromkeys(names or open_ones))
    if not chosen:
        message, remedy = "every table is approved as it is", "there is nothing to approve"
        raise SourceError([Problem("tables", 0, "", "", message, remedy)])
    return chosen


def _to_be_approved(workspace: Workspace, register: Register, chosen: Sequence[TableContent]) -> Iterator[str]:
    plant = workspace.approved.plant.name
    for content in chosen:
        yield f"table {content.table}, revision {content.revision}, {short(content.digest)}: {content.file}"
        last = last_approved(register, plant, content.table)
        before = read_content(workspace.root / INSTRUCTIONS, last) if last else None
        if last == content.digest:
            yield "  is approved as it is"
        elif before is None:
            yield from _held(content.content)
            said = not_shown_words(was_kept=True) if last else "nothing of it is approved in the register yet"
            yield f"  {said.rstrip('.')}: compare every value in its file with its source"
        else:
            yield from (f"  {change}" for change in content_changes(before, content.content))


def _next(tables: Sequence[str], open_values: Sequence[Problem]) -> Iterator[str]:
    """Yield what the plant has to fill in before it approves these tables, and the command that records it."""
    yield from (f"to be filled in first: {each.file}:{each.line}: {each.key}" for each in open_values)
    yield f"once it is right: packets approve {' '.join(tables) or '--all'} --author NAME --by NAME --reason TEXT"


def _held(content: Mapping[str, Any]) -> Iterator[str]:
    """Yield what a table is of that is approved for the first time: title, source, and how much it holds."""
    yield f"  title: {content['title']}"
    yield f"  source: {content['source']}"
    lists = ((key, value) for key, value in content.items() if isinstance(value, list))
    of_several = [f"{key}: {len(value)}" for key, value in lists if value and not isinstance(value[0], str)]
    yield f"  holds: {joined([counted(len(content), 'key'), *of_several])}"
