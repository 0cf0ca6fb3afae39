"""Record, close and list nonconformities of revisions.

`packets nonconformity list [ORDER]` lists what is open. `packets nonconformity record ORDER NUMBER` opens one of a
revision that stays in use, or adds what became known later; a withdrawal opens one by itself with --nonconformity.
`packets nonconformity close ORDER NUMBER` closes it. Until then the order's page and the list of orders show it.

Example: packets nonconformity list --all
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from weld_packets.commands.shared.order_argument import one_or_all_argument, order_argument
from weld_packets.commands.shared.releasing.nonconformity import (
    reported,
    state_data,
    state_lines,
    stated_options,
)
from weld_packets.commands.shared.releasing.responsible import Responsible, line_to_keep, naming_options
from weld_packets.commands.shared.root import in_plant
from weld_packets.commands.shared.terminal import json_option, print_json, print_lines
from weld_packets.revisions.status.nonconformities import (
    NonconformityState,
    Reported,
    nonconformities_of,
    orders_with_nonconformities,
)
from weld_packets.revisions.status.release_rules import Signatures
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.nonconforming import NonconformityChange, record_nonconformity
from weld_packets.sources.folders import INSTRUCTIONS

_WHO = ("Who wrote it.", "Who approved it.")


@click.group(help=__doc__)
def command() -> None:
    pass


@command.command()
@order_argument
@click.argument("number", metavar="NUMBER")
@click.option("--revision", default="", help="The revision at fault; needed to open one.")
@stated_options
@naming_options(*_WHO, "What was found.")
@in_plant
def record(root: Path, /, order: str, number: str, revision: str, who: Responsible, **stated: Any) -> None:
    """Open the nonconformity NUMBER of ORDER, or add to it what became known later.

    What is not stated stays as it is. Once it is closed, a cause or a corrective action that is not recorded can be
    added, and nothing else. The revisions that hold the same settings or places of welds are computed anew.

    Example: packets nonconformity record LK-2041 NC-26-031 --revision B --parts "none made"
    --containment "no part was welded" --concerns 4:A07 --author "cell lead" --approver "quality lead"
    --reason "spot A07 lies under the front clamp"
    """
    wanted = NonconformityChange(order, reported(number, **stated), _signatures(root, who), revision)
    print_lines(_recorded(root, wanted, who))


@command.command()
@order_argument
@click.argument("number", metavar="NUMBER")
@click.option("--corrected-by", metavar="REVISION", multiple=True, help="A later revision that corrected it.")
@naming_options(*_WHO, "Why it can be closed: what was done with the parts, and how the correction was proved.")
@in_plant
def close(root: Path, order: str, number: str, corrected_by: tuple[str, ...], who: Responsible) -> None:
    """Close the nonconformity NUMBER of ORDER; its parts, its containment and its cause must be stated by then.

    Where nobody knows the cause, "packets nonconformity record" states it as "not known", and can add it later.

    --corrected-by names the revision that corrected it, where its release did not say so; repeat it for more.

    Example: packets nonconformity close LK-2041 NC-26-031 --corrected-by C
    --author "quality lead" --approver "quality manager"
    --reason "first-off of revision C accepted on 10 November; no part of revision B was made"
    """
    wanted = NonconformityChange(
        order, Reported(number), _signatures(root, who), closed=True, corrected_by=corrected_by
    )
    print_lines(_recorded(root, wanted, who))


@command.command("list")
@one_or_all_argument
@click.option("--all", "everything", is_flag=True, help="Those that are closed too.")
@json_option
@in_plant
def list_(root: Path, order: str | None, *, everything: bool, as_json: bool) -> None:
    """List the open nonconformities of ORDER, or of all orders.

    Example: packets nonconformity list LK-2041 --all
    """
    found = [each for each in _states(root, order or "") if everything or not each.closed]
    if as_json:
        print_json([state_data(each) for each in found])
        return
    for state in found:
        print(f"{state.order}:")
        print_lines(f"  {line}" for line in state_lines(state))
    if not found:
        print("no nonconformity is recorded" if everything else "no nonconformity is open")


def _states(root: Path, order: str) -> Iterator[NonconformityState]:
    register = load_register(root / INSTRUCTIONS)
    if order and not register.every(order):
        from weld_packets.sources.orders.orders import known_order  # noqa: PLC0415 - slow to load, and seldom needed

        known_order(root, order)
    for name in [order] if order else orders_with_nonconformities(register):
        yield from nonconformities_of(register, name)


def _recorded(root: Path, wanted: NonconformityChange, who: Responsible) -> Iterator[str]:
    entry, after = record_nonconformity(root / INSTRUCTIONS, wanted, who.signer(root))
    for state in nonconformities_of(after, entry.order):
        if state.number == entry.nonconformity.number:
            yield from state_lines(state)
    yield line_to_keep(after)


def _signatures(root: Path, who: Responsible) -> Signatures:
    from weld_packets.sources.tables.tables import load_workspace  # noqa: PLC0415 - a list has no need of them

    return who.signatures_today(load_workspace(root))
