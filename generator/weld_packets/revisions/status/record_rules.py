"""What the rules of a release say of records that exist: a forger who makes a chain anew may forget them.

Nothing here reads a file or the clock.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import islice

from weld_packets.letters import as_person
from weld_packets.revisions.records.record import Answered, read_moment
from weld_packets.revisions.register.entries import Entry, RegisterEntry, SignedInline
from weld_packets.revisions.register.integrity import Finding
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.clock_behind import behind_problems
from weld_packets.revisions.status.release_rules import CLOCK_ALLOWANCE

_NAMED = 5


@dataclass(frozen=True)
class Rules:
    """What the plant's table says today of who makes records and when; the clocks, where they are known.

    ``now`` is the moment for which pages are built, which may be fixed, ``machine_clock`` that of this computer.
    """

    one_person: bool = False
    must_sign: bool = False
    clock_allowance: timedelta = CLOCK_ALLOWANCE
    machine_clock: datetime | None = None
    now: datetime | None = None


def rule_findings(register: Register, rules: Rules) -> Iterator[Finding]:
    """Yield a clock that is before records; each entry of one person alone where two must make it, each far ahead."""
    for problem in behind_problems(register, rules.now) if rules.now else ():
        yield Finding(problem.key, f"{problem.message}; {problem.remedy}")
    last_at = register.last_at
    for place, entry in register.placed:
        if isinstance(entry, Answered) and _is_of_one_person(entry) and not rules.one_person:
            yield Finding(place, f"author and approver are the same person: {entry.author}")
        left_behind = entry.at > last_at  # a wrong clock, known since time went on from a withdrawal
        clock = rules.machine_clock
        if clock and read_moment(entry.at) > clock + rules.clock_allowance and not left_behind:
            yield Finding(
                place,
                f"is of {entry.at}, more than {rules.clock_allowance.days} days after the clock of this computer, "
                f"{clock:%Y-%m-%d}",
            )


def rule_notes(register: Register, rules: Rules) -> Iterator[str]:
    """Yield what may be right by rules that the plant had at the time, and is to be known."""
    last = ""
    for place, entry in register.placed:
        if isinstance(entry, Answered) and _is_of_one_person(entry) and rules.one_person:
            yield f"{place}: author and approver are the same person, {entry.author}, as the plant's table allows today"
        if last and read_moment(entry.at) > read_moment(last) + rules.clock_allowance:
            days = rules.clock_allowance.days
            yield f"{place} is of {entry.at}, more than {days} days after the record before it, {last}"
        last = entry.at
    unsigned = [place for place, entry in register.placed if _wants_signature(entry, register.set_aside)]
    if rules.must_sign and unsigned:
        more = f" and {len(unsigned) - _NAMED} more" if len(unsigned) > _NAMED else ""
        yield f"the plant requires signatures today; not signed: {', '.join(islice(unsigned, _NAMED))}{more}"


def _wants_signature(entry: Entry, set_aside: Collection[str]) -> bool:
    """Return whether a plant that requires signatures would refuse an entry as it is today."""
    if isinstance(entry, RegisterEntry):
        return entry.kind == "release" and not entry.signing and entry.record_digest not in set_aside
    return isinstance(entry, SignedInline) and not entry.signature


def _is_of_one_person(entry: Answered) -> bool:
    return as_person(entry.author) == as_person(entry.approver)
