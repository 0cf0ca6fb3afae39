"""Make a key pair for signing releases and withdrawals.

NAME is what the pair is called: the public key is kept in instructions/keys/ under it. The last line is its
fingerprint: keep a copy elsewhere, and give it to `packets verify --known LINE`.

Example: packets key quality-lead --private quality-lead.pem
"""

from __future__ import annotations

from pathlib import Path

import click

from weld_packets.commands.shared.root import NAMED_PATH, in_plant
from weld_packets.revisions.register.signing import fingerprint
from weld_packets.revisions.store.keys import key_line, make_key
from weld_packets.sources.folders import INSTRUCTIONS


@click.command(help=__doc__)
@click.argument("name", metavar="NAME")
@click.option(
    "--private",
    type=NAMED_PATH,
    required=True,
    metavar="FILE",
    help="The file of the private key, outside the plant's folder.",
)
@in_plant
def command(root: Path, name: str, private: Path) -> None:
    public = make_key(root / INSTRUCTIONS, name, private)
    print(f"public key {public}; keep {private} to yourself")
    print(f"keep a copy of this line elsewhere: {key_line(name, fingerprint(public.read_bytes()))}")
