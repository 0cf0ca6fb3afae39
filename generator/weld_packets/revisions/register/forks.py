"""Two records in one place, made or filed on two branches: which they are, and what is done about it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.errors import Problem
from weld_packets.grouping import grouped
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
    at = grouped((entry.sequence, entry) for entry in entries)
    return next((tuple(same) for _, same in sorted(at.items()) if len(same) > 1), ())


def filed_fork_message(entries: Sequence[FiledEntry]) -> str:
    """Return how two records from the cells came to have one place."""
    filed = " and ".join(f"that of {entry.filed_at}, {short(entry.file_digest)}" for entry in entries)
    return f"two branches each filed another record of this {entries[0].kind}: {filed}"


FILED_FORK_REMEDY = (
    "choose the one that counts, have its file here, and take the other out with 'packets set-aside ORDER DIGEST'"
)


def filed_fork_problem(entries: Sequence[FiledEntry]) -> Problem:
    """Return the problem of a set-up or run of which several records are filed."""
    return Problem(entries[0].path, 0, "", "", filed_fork_message(entries), FILED_FORK_REMEDY)


def filed_twice(entries: Iterable[FiledEntry]) -> tuple[tuple[FiledEntry, ...], ...]:
    """Return the records from the cells that have one place, for each such place."""
    at = grouped((entry.path, entry) for entry in entries)
    return tuple(tuple(same) for _, same in sorted(at.items()) if len(same) > 1)


def counts(entry: RegisterEntry | FiledEntry, set_aside: frozenset[str]) -> bool:
    """Return whether an entry counts: not where its record, by its digest, was set aside."""
    digest = entry.record_digest if isinstance(entry, RegisterEntry) else entry.file_digest
    return digest not in set_aside
