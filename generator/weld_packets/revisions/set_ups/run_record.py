"""What somebody kept of a run at its cells, as the page saves it: who started which cell, part counts, what was done.

Strict, as a set-up record is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints

from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.records.record import Digest, OrderSlug, RevisionLetter, SetUpId
from weld_packets.revisions.set_ups.record import At, Key, Line, Many, Name, OperationNumber, Reason, StepDigest, moment
from weld_packets.units import Plain

RUN_FORM = "run record"

PartCount = Annotated[str, StringConstraints(pattern=r"^[0-9]{1,7}$")]


class Ticked(Plain):
    """A task of a list that starts a cell, when it was ticked: the digest is that of what it said."""

    key: Key
    digest: StepDigest
    done: At
    by: Name


class Start(Plain):
    """One start of a cell: its list was ticked to the end, which counts everybody out, by this revision.

    ``status_reason`` says why, where the revision was not in force.
    """

    list: Name
    operation: OperationNumber
    cell: Name
    revision: RevisionLetter | Literal[""]
    record_digest: Digest | Literal[""]
    status: Name
    status_reason: Reason
    at: At
    by: Name
    ticks: Many[Ticked]


class Counted(Plain):
    """What the part counter of a ``cell`` showed; empty where one count is that of every cell."""

    count: PartCount
    at: At
    by: Name
    cell: Name = ""


class EventDone(Plain):
    """What was due at a part count and was done at another; ``passed_over`` where a later turn of it took its place."""

    key: StepDigest
    due: Annotated[int, Field(ge=1, le=9_999_999)]
    what: Line
    at_count: PartCount
    passed_over: bool
    at: At
    by: Name


class Ended(Plain):
    """When somebody said that the run has ended, and who."""

    at: At
    by: Name


class Run(Plain):
    """The run of an order: to which record it belongs, and all that was kept of it.

    One that was saved before its run had ended is a record of its own, ``saved_during`` the run of that identifier. A
    record with neither that nor ``ended`` is of a program that did not have it, and counts as the end of its run.
    """

    form: Literal["run record"]
    version: Literal[1]
    id: SetUpId
    order: Name
    slug: OrderSlug
    revision: RevisionLetter | Literal[""]
    status: Name
    record_digest: Digest | Literal[""]
    packet_digest: Digest
    begun: At
    starts: Many[Start]
    counts: Many[Counted]
    events: Many[EventDone]
    ended: Ended | None = None
    saved_during: SetUpId | Literal[""] = ""

    @property
    def of_run(self) -> str:
        """The identifier of the run, which records that were saved during it share with that of its end."""
        return self.saved_during or self.id

    def counts_of(self, cell: str) -> tuple[int, ...]:
        """Return the part counts of a cell in the order of time, with those that are of every cell."""
        return tuple(int(one.count) for one in self.counts if one.cell in {"", cell})

    def last_count(self, cell: str) -> int:
        """Return the last part count of a cell, 0 before the first."""
        return (0, *self.counts_of(cell))[-1]

    @property
    def last_counts(self) -> dict[str, int]:
        """The last part count of each cell that has one; under an empty name one that is of every cell."""
        return {cell: self.last_count(cell) for cell in sorted({one.cell for one in self.counts})}

    @property
    def parts(self) -> int:
        """The highest of the last part counts, 0 before the first."""
        return max(self.last_counts.values(), default=0)


def parts_counted(runs: Iterable[Run], revision: str) -> int:
    """Return how many parts are counted in those ``runs`` that were started or ended by ``revision``."""
    counted: dict[str, int] = {}
    for run in runs:
        if revision in {run.revision, *(start.revision for start in run.starts)}:
            counted[run.of_run] = max(run.parts, counted.get(run.of_run, 0))
    return sum(counted.values())


def run_moments(run: Run) -> Iterator[tuple[str, datetime]]:
    """Yield every moment at which something was done, with the key at which it is."""
    for index, start in enumerate(run.starts):
        yield f"starts[{index}].at", moment(start.at)
        yield from ((f"starts[{index}].ticks[{at}].done", moment(one.done)) for at, one in enumerate(start.ticks))
    for name in ("counts", "events"):
        for index, entry in enumerate(getattr(run, name)):
            yield f"{name}[{index}].at", moment(entry.at)
    if run.ended is not None:
        yield "ended.at", moment(run.ended.at)


def run_data(run: Run) -> dict[str, Any]:
    """Return the record as its file has it: without the fields that it was saved without."""
    left_out: dict[str, Any] = {name: True for name in ("ended", "saved_during") if not getattr(run, name)}
    left_out["counts"] = {at: {"cell"} for at, one in enumerate(run.counts) if not one.cell}
    return run.model_dump(mode="json", by_alias=True, exclude=left_out)


def run_bytes(run: Run) -> bytes:
    """Return the record in its file: canonical JSON without a line end."""
    return canonical(run_data(run))
