"""Two records in one place of an order, made on two branches: which they are, and what is done about it."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.errors import Problem
from weld_packets.revisions.records.canonical import short
from weld_packets.revisions.register.entries import FiledEntry, RegisterEntry


def fork_message(entries: Sequence[RegisterEntry]) -> str:
    """Return how the records of one order came to contradict each other."""
    made = " and ".join(f"{_named(entry)}, {short(entry.record_digest)}" for entry in entries)
    return f"two branches each made a record in one place: {made}"


FORK_REMEDY = (
    "choose the one that counts, have its file in released/, and take the other out with "
    "'packets set-aside ORDER DIGEST'; what it held can then be released anew"
)


def _named(entry: RegisterEntry) -> str:
    what = "revision" if entry.kind == "release" else "withdrawal of"
    return f"{what} {entry.revision} of {entry.recorded_at} by {entry.author}"


def fork_problem(order: str, entries: Sequence[RegisterEntry]) -> Problem:
    """Return the problem of an order that has several records in one place."""
    return Problem(f"{order}/released", 0, "", "", fork_message(entries), FORK_REMEDY)


def made_twice(entries: Sequence[RegisterEntry]) -> tuple[RegisterEntry, ...]:
    """Return the first entries that have one place in their order."""
    at: dict[int, list[RegisterEntry]] = {}
    for entry in entries:
        at.setdefault(entry.sequence, []).append(entry)
    return next((tuple(same) for _, same in sorted(at.items()) if len(same) > 1), ())


def counts(entry: RegisterEntry | FiledEntry, set_aside: frozenset[str]) -> bool:
    """Return whether an entry counts: not where its record, by its digest, was set aside."""
    return not isinstance(entry, RegisterEntry) or entry.record_digest not in set_aside
