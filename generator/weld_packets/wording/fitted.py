"""On what the state of a consumable rests that one order leaves to the next: as the end of a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from weld_packets.wording.english import counted, listed


def as_planned(reason: str) -> str:
    """Return that what was recorded does not decide, and why."""
    return f"as planned: {reason}"


def from_set_up(day: str) -> str:
    """Return that a set-up counted it."""
    return f"from what its set-up of {day} counted"


def counted_twice(days: Sequence[str]) -> str:
    """Return why the counts of several set-ups do not decide."""
    return f"it was counted at the set-ups of {listed(days)}, and how many parts were made between them is not recorded"


def not_counted(day: str, what: str) -> str:
    """Return what a set-up would have had to count besides."""
    return f"the set-up of {day} did not count '{what}'"


def counted_in_run(day: str) -> str:
    """Return why a count that was made while the order ran does not decide."""
    return f"its set-up of {day} counted it after the run had begun, and at which part is not recorded"


def from_run(day: str, parts: int, quantity: int, changes: Sequence[int], turns: Sequence[int], *, noun: str) -> str:
    """Return that the record of a run says it: at which part counts it was changed, and dressed or ground since then.

    ``noun`` is what one of these ``turns`` is called, such as grinding; empty in records from before that was kept.
    """
    made = counted(parts, "part") if parts == quantity else f"{parts} of {counted(quantity, 'part')}"
    done = [f"changed at {listed(map(str, changes))}" if changes else "not changed"]
    if turns:
        since = " since" if changes else ""
        done.append(f"{counted(len(turns), noun or 'dressing')}{since}, last at {turns[-1]}")
    return f"from the record of its run of {day} ({made}: {', '.join(done)})"


def several_runs(days: Sequence[str]) -> str:
    """Return why the records of several runs do not decide."""
    return f"runs of {listed(days)} are recorded, and whether the part count went on between them is not"


def not_ended(day: str, parts: int) -> str:
    """Return why a record that was saved during a run does not decide."""
    return f"the record of its run of {day} was saved during the run, at part count {parts}"


NO_PART_COUNT = "the record of its run holds no part count"
COUNTS_FALL = "the part counts in the record of its run do not rise"
NOT_KEPT = "its revision was released by a program that did not keep what each event of a run is for"
SEVERAL_OPERATIONS = "several operations of the order used it, one after the other"
