"""Compare records, tables and websites with the register.

Every built site of a released order is rendered anew from its records, and every file is compared. A table is compared
with what was approved or released under its revision. Exit status 1 where anything differs.

Example: packets verify
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.releasing.responsible import clock_allowance_of
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.sites.site_checks import SiteChecks
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.errors import PacketError
from weld_packets.plant.approvals import changed_tables
from weld_packets.revisions.register.integrity import Finding
from weld_packets.revisions.register.register import Register, register_state_text
from weld_packets.revisions.status.clock_behind import behind_problems
from weld_packets.revisions.status.record_rules import Rules
from weld_packets.revisions.store.clock import machine_clock, moment_now
from weld_packets.revisions.store.verification import Verification, verify_records
from weld_packets.site.build.verification import built_sites
from weld_packets.sources.folders import INSTRUCTIONS, SITES
from weld_packets.sources.tables.tables import Workspace, load_workspace
from weld_packets.wording.english import counted

_NOTHING_NOTED = (
    "not compared with any line noted earlier (--known): that the newest records, or all, were removed or made anew "
    "would not be seen"
)


@click.command(help=__doc__)
@click.option(
    "--known", multiple=True, metavar="LINE", help="A line that `packets register` or `packets key` printed earlier."
)
@json_option
@in_plant
def command(root: Path, known: tuple[str, ...], *, as_json: bool) -> int:
    now = moment_now()
    workspace, unread = _workspace(root)
    rules = replace(_rules(workspace), machine_clock=machine_clock(), now=now)
    records = verify_records(root / INSTRUCTIONS, known, rules)
    is_behind = bool(behind_problems(records.register, now))  # a finding already, and no clock to judge pages by
    today = date.max if is_behind else now.date() + timedelta(days=1)  # a plant's day may be ahead of UTC
    pages = SiteChecks(root, records.register, today, records.uncompared)
    on_pages = tuple(pages.findings()) if records.is_readable else ()
    on_tables = tuple(_table_findings(workspace, records.register)) if workspace else ()
    notes = (*records.notes, *unread, *pages.notes, *(() if known else (_NOTHING_NOTED,)))
    found = replace(records, findings=(*records.findings, *on_tables, *on_pages), notes=notes)
    built = {site.name for site in built_sites(root / SITES)} if records.is_readable else set()
    sites = len(built - records.uncompared)
    if as_json:
        print_json(verification_data(found, sites))
    else:
        print_lines(verification_lines(found, sites))
    return 1 if found.findings else 0


def _workspace(root: Path) -> tuple[Workspace | None, tuple[str, ...]]:
    """Return the plant's tables, and what to note where they cannot be read: records are verified all the same."""
    try:
        return load_workspace(root), ()
    except PacketError:
        return None, ("tables were not compared, since they cannot be read: packets check says why",)


def _rules(workspace: Workspace | None) -> Rules:
    """Return what the plant's table says today; the strictest where it cannot be read."""
    if workspace is None:
        return Rules()
    plant = workspace.approved.plant
    return Rules(
        one_person=plant.one_person_may_release,
        must_sign=plant.signatures == "required",
        clock_allowance=clock_allowance_of(plant),
    )


def _table_findings(workspace: Workspace, register: Register) -> Iterator[Finding]:
    """Yield each table that does not hold what was approved or released under its revision, as a release refuses it."""
    for problem in changed_tables(workspace, register):
        yield Finding(problem.place, f"{problem.message}; {problem.remedy}")


def verification_data(verification: Verification, sites: int) -> dict[str, Any]:
    """Return the same as data for JSON."""
    return {
        "findings": [{"file": str(finding.file), "message": finding.message} for finding in verification.findings],
        "notes": list(verification.notes),
        "records": len(verification.register.listed),
        "orders": verification.orders,
        "sites": sites,
        "register": _state(verification),
    }


def verification_lines(verification: Verification, sites: int) -> Iterator[str]:
    """Yield what differs, what could not be looked at, and what was compared."""
    yield from (f"{finding.file}: {finding.message}" for finding in verification.findings)
    yield from verification.notes
    records = f"{counted(len(verification.register.listed), 'record')} of {counted(verification.orders, 'order')}"
    outcome = f"{len(verification.findings)} differ" if verification.findings else "nothing differs"
    yield f"compared {records}, {counted(sites, 'site')}: {outcome}"
    if state := _state(verification):
        yield f"register {state}"


def _state(verification: Verification) -> str:
    """Return the state of the register for writing down, empty where it is not as it was made."""
    is_known = verification.is_readable and verification.register.is_whole
    return register_state_text(verification.register) if is_known else ""
