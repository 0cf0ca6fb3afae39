"""Options that state a nonconformity, and how one is printed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import wraps
from typing import Any

import click

from weld_packets.commands.shared.terminal import Command
from weld_packets.revisions.records.nonconformity import read_parts
from weld_packets.revisions.status.nonconformities import NonconformityState, Reported, Said, to_settle

STATED = ("concerns", "parts", "containment", "cause", "corrective_action")
"""What the options state of a nonconformity beside its number."""


def stated_options(command: Command) -> Command:
    """Add what is stated of a nonconformity: parts, what holds them, what it concerns, its cause, what was done."""
    concerns = (
        "What is at fault: a weld, 4:A07, or a setting, '4:weld time', after the number of its operation. Repeat it "
        "for more. Without it, all settings and welds are compared with the other revisions."
    )
    for add in (
        click.option("--concerns", metavar="OPERATION:NAME", multiple=True, help=concerns),
        click.option("--corrective-action", metavar="TEXT", default=None, help="What keeps it from happening again."),
        click.option("--cause", metavar="TEXT", default=None, help="Why it could happen, or 'not known'."),
        click.option("--containment", metavar="TEXT", default=None, help="What keeps affected parts in the plant."),
        click.option("--parts", metavar="WHICH", default=None,
                     help="'part 12 to 40', 'serial LC-0450 to LC-0470', 'none made' or 'not known'."),
    ):  # fmt: skip
        command = add(command)
    return command


def reported_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the option that names a nonconformity, with what is stated of it; ``command`` takes them as ``reported``."""

    @click.option("--nonconformity", metavar="NUMBER", default="", help="Number of the nonconformity at the plant.")
    @stated_options
    @wraps(command)
    def collected(*args: Any, **options: Any) -> Any:
        number = options.pop("nonconformity")
        given = {name: options.pop(name) for name in STATED}
        if not number and any(given.values()):
            first, *others = (f"--{name.replace('_', '-')}" for name in STATED)
            raise click.UsageError(f"{', '.join(others)} and {first} go with --nonconformity")
        return command(*args, reported=reported(number, **given) if number else None, **options)

    return collected


def reported(number: str, parts: str | None, concerns: Sequence[str], **texts: str | None) -> Reported:
    """Return what is stated; raise PacketError where the parts cannot be read."""
    return Reported(
        number=number.strip(),
        parts=read_parts(parts) if parts is not None else None,
        concerned=tuple(concerns) or None,
        **{name: text if text is None else text.strip() for name, text in texts.items()},
    )


def state_lines(state: NonconformityState) -> Iterator[str]:
    """Yield what is known of a nonconformity."""
    known = state.known
    yield f"nonconformity {state.number}: {state.status}, revision {state.revision} at fault"
    yield f"  opened {_who(state.opened)}"
    yield f"  why: {state.opened.reason}"
    yield f"  parts affected: {known.parts}"
    yield f"  containment: {known.containment or 'none recorded yet'}"
    yield from (f"  concerns {each}" for each in known.concerned)
    yield from (f"  {each}" for each in known.also_in)
    yield f"  cause: {known.cause or 'none recorded'}"
    yield f"  corrective action: {known.corrective_action or 'none recorded'}"
    for added in state.added_to:
        yield f"  added to {_who(added)}: {added.reason}"
    yield from (f"  another branch recorded: {each}" for each in state.apart)
    if state.apart:
        yield f"  not settled: record it anew with what counts, stating {', '.join(to_settle(state))}"
    if state.corrected_by:
        yield f"  corrected by revision {', '.join(state.corrected_by)}"
    for closing in state.unaware:
        yield f"  the closing {_who(closing)} does not count: more was recorded on another branch; close it anew"
    if state.closed:
        yield f"  closed {_who(state.closed)}: {state.closed.reason}"


def _who(entry: Said) -> str:
    signed = f", signed with {entry.signed_with}" if entry.signed_with else ""
    return f"{entry.recorded_at} by {entry.author}, approved by {entry.approver}{signed}"


def state_data(state: NonconformityState) -> dict[str, Any]:
    """Return what is known of a nonconformity as data for JSON."""
    return {
        "number": state.number,
        "order": state.order,
        "revision": state.revision,
        "status": state.status,
        "parts": state.known.parts.model_dump() | {"says": str(state.known.parts)},
        "containment": state.known.containment,
        "concerned": [each.model_dump() for each in state.known.concerned],
        "also_in": [each.model_dump() for each in state.known.also_in],
        "cause": state.known.cause,
        "corrective_action": state.known.corrective_action,
        "corrected_by": list(state.corrected_by),
        "opened": _answered(state.opened),
        "added_to": [_answered(each) for each in state.added_to],
        "closed": _answered(state.closed) if state.closed else None,
        "recorded_on_other_branches": [_answered(each.entry) | {"says": str(each)} for each in state.apart],
        "closings_that_do_not_count": [_answered(each) for each in state.unaware],
    }


def _answered(entry: Said) -> dict[str, Any]:
    said = entry.model_dump(include={"author", "approver", "reason", "recorded_at"})
    return said | {"signed_with": entry.signed_with}
