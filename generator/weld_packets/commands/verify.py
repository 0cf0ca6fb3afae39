"""Compare records and websites with what was released.

Exit status 1 where anything differs.

Example: packets verify
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.changed import json_option
from weld_packets.commands.shared.plant import INSTRUCTIONS, SITES, in_plant, print_lines
from weld_packets.revisions.register.register import register_state_text
from weld_packets.revisions.store.verification import Verification, verify_records
from weld_packets.site.build.verification import built_sites, list_findings, site_findings


@click.command(help=__doc__)
@click.option("--known", multiple=True, metavar="LINE", help="A line that `packets register` printed earlier.")
@json_option
@in_plant
def command(root: Path, known: tuple[str, ...], *, as_json: bool) -> int:
    records = verify_records(root / INSTRUCTIONS, known)
    sites = built_sites(root / SITES)
    on_pages = [finding for site in sites for finding in site_findings(site)]
    found = replace(records, findings=(*records.findings, *on_pages, *list_findings(root / SITES)))
    if as_json:
        print(json.dumps(verification_data(found, len(sites)), indent=2))
    else:
        print_lines(verification_lines(found, len(sites)))
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
