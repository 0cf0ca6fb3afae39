"""Compare records and websites with what was released.

Exit status 1 where anything differs.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from weld_packets.commands.shared.plant import INSTRUCTIONS, SITES, in_plant, print_lines
from weld_packets.revisions.queries.verification import Verification, point_text, verify


@click.command(help=__doc__)
@click.option("--known", multiple=True, metavar="LINE", help="A line that `packets register` printed earlier.")
@in_plant
def command(root: Path, known: tuple[str, ...]) -> int:
    verification = verify(root / INSTRUCTIONS, root / SITES, known)
    print_lines(verification_lines(verification))
    return 1 if verification.findings else 0


def verification_lines(verification: Verification) -> Iterator[str]:
    """Yield what differs, what could not be looked at, and what was compared."""
    yield from (f"{finding.file}: {finding.message}" for finding in verification.findings)
    yield from verification.notes
    counted = f"{verification.register.records} records of {verification.orders} orders, {verification.sites} sites"
    outcome = f"{len(verification.findings)} differ" if verification.findings else "nothing differs"
    yield f"compared {counted}: {outcome}"
    yield f"register {point_text(verification.register)}"
