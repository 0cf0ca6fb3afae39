"""Compare records and websites with what was released.

Every built site of a released order is rendered anew from its records, and every file is compared.
Exit status 1 where anything differs.

Example: packets verify
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.changed import json_option
from weld_packets.commands.shared.plant import INSTRUCTIONS, SITES, in_plant, print_lines
from weld_packets.commands.shared.site_checks import SiteChecks
from weld_packets.revisions.register.register import register_state_text
from weld_packets.revisions.store.clock import moment_now
from weld_packets.revisions.store.verification import Verification, verify_records
from weld_packets.site.build.verification import built_sites


@click.command(help=__doc__)
@click.option("--known", multiple=True, metavar="LINE", help="A line that `packets register` printed earlier.")
@json_option
@in_plant
def command(root: Path, known: tuple[str, ...], *, as_json: bool) -> int:
    records = verify_records(root / INSTRUCTIONS, known)
    today = moment_now().date() + timedelta(days=1)  # a plant's day may be ahead of UTC
    pages = SiteChecks(root, records.register, today)
    on_pages = tuple(pages.findings())
    found = replace(records, findings=(*records.findings, *on_pages), notes=(*records.notes, *pages.notes))
    sites = len(built_sites(root / SITES))
    if as_json:
        print(json.dumps(verification_data(found, sites), indent=2))
    else:
        print_lines(verification_lines(found, sites))
    return 1 if found.findings else 0


def verification_data(verification: Verification, sites: int) -> dict[str, Any]:
    """Return the same as data for JSON."""
    return {
        "findings": [{"file": str(finding.file), "message": finding.message} for finding in verification.findings],
        "notes": list(verification.notes),
        "records": len(verification.register.listed),
        "orders": verification.orders,
        "sites": sites,
        "register": register_state_text(verification.register),
    }


def verification_lines(verification: Verification, sites: int) -> Iterator[str]:
    """Yield what differs, what could not be looked at, and what was compared."""
    yield from (f"{finding.file}: {finding.message}" for finding in verification.findings)
    yield from verification.notes
    counted = f"{len(verification.register.listed)} records of {verification.orders} orders, {sites} sites"
    outcome = f"{len(verification.findings)} differ" if verification.findings else "nothing differs"
    yield f"compared {counted}: {outcome}"
    yield f"register {register_state_text(verification.register)}"
