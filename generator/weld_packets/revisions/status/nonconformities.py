"""The nonconformities of an order, as the register holds them, and what speaks against a change of one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from weld_packets.errors import Problem, unplaced
from weld_packets.revisions.records.nonconformity import (
    Nonconformity,
    PartsAffected,
    is_number,
)
from weld_packets.revisions.records.texts import text_problems
from weld_packets.revisions.register.entries import NonconformityEntry, RegisterEntry
from weld_packets.revisions.register.register import Register

Said = RegisterEntry | NonconformityEntry
"""What can say something of a nonconformity."""


@dataclass(frozen=True)
class Reported:
    """What somebody states of the nonconformity ``number``; None leaves what is known of it.

    ``named`` is what it concerns, such as ``4:A07`` or ``4:weld time``.
    """

    number: str
    parts: PartsAffected | None = None
    containment: str | None = None
    named: tuple[str, ...] | None = None
    cause: str | None = None
    corrective_action: str | None = None


@dataclass(frozen=True)
class NonconformityState:
    """One nonconformity of an order: the revision at fault, what is known of it now, who opened it.

    ``corrected_by`` are the revisions that say so, and those that the closing names; ``closed`` is the entry that
    closed it, None while it is open. ``added_to`` are the entries in which more of it was recorded later.
    ``unaware`` are closings of one branch that do not count: more of it was recorded on another branch.
    """

    order: str
    revision: str
    known: Nonconformity
    opened: Said
    corrected_by: tuple[str, ...] = ()
    added_to: tuple[Said, ...] = ()
    closed: NonconformityEntry | None = None
    unaware: tuple[NonconformityEntry, ...] = ()

    @property
    def number(self) -> str:
        """Its number at the plant."""
        return self.known.number

    @property
    def status(self) -> str:
        """``open`` or ``closed``."""
        return "closed" if self.closed else "open"


def nonconformities_of(register: Register, order: str) -> tuple[NonconformityState, ...]:
    """Return the nonconformities of an order, in the order of their opening."""
    found: dict[str, NonconformityState] = {}
    for entry in register.nonconforming.get(order, ()):
        if isinstance(entry, RegisterEntry):
            _take_record(found, entry)
        else:
            _take(found, entry, entry.nonconformity)
    return tuple(found.values())


def open_nonconformities(register: Register, order: str) -> tuple[NonconformityState, ...]:
    """Return those of an order that are not closed."""
    return tuple(each for each in nonconformities_of(register, order) if not each.closed)


def orders_with_nonconformities(register: Register) -> tuple[str, ...]:
    """Return the orders that have any, sorted."""
    return tuple(order for order, said in register.nonconforming.items() if any(each.nonconformity for each in said))


def _take_record(found: dict[str, NonconformityState], entry: RegisterEntry) -> None:
    if entry.nonconformity:
        _take(found, entry, entry.nonconformity)
    for number in entry.corrects:
        if number in found:
            found[number] = replace(found[number], corrected_by=(*found[number].corrected_by, entry.revision))


def _take(found: dict[str, NonconformityState], entry: Said, known: Nonconformity) -> None:
    before = found.get(known.number)
    if before is None:
        found[known.number] = NonconformityState(entry.order, entry.revision, known, entry)
    elif isinstance(entry, NonconformityEntry) and entry.closed:
        if known != before.known:  # a closing repeats what is known: this one did not know of another branch
            found[known.number] = replace(before, unaware=(*before.unaware, entry))
            return
        corrected = tuple(dict.fromkeys((*before.corrected_by, *entry.corrected_by)))
        found[known.number] = replace(before, closed=entry, corrected_by=corrected)
    else:
        added = (*before.added_to, entry)
        unaware = (*before.unaware, before.closed) if before.closed else before.unaware
        state = replace(before, known=known, revision=entry.revision, added_to=added, closed=None, unaware=unaware)
        found[known.number] = state


def numbered(known: Sequence[NonconformityState], number: str) -> NonconformityState | None:
    """Return the one of a number, None where there is none."""
    return next((each for each in known if each.number == number), None)


def nonconformity_problems(
    wanted: Nonconformity, *, quantity: int, counted: int, known: Sequence[NonconformityState]
) -> Iterator[Problem]:
    """Yield what speaks against recording ``wanted`` for an order of ``quantity`` parts.

    ``counted`` is how many parts the run records of the revision at fault count; ``known`` are those of the order.
    """
    before = numbered(known, wanted.number)
    if not is_number(wanted.number):
        remedy = "letters, digits, blank, dot, dash, slash; at most 40 of them, beginning with a letter or digit"
        yield unplaced("nonconformity", wanted.number, "is not a number of a nonconformity", remedy)
    elif before is not None and before.closed is not None:
        message = f"is closed since {before.closed.recorded_at[:10]}"
        yield unplaced("nonconformity", wanted.number, message, "open another one under its own number")
    texts = (
        ("containment", wanted.containment),
        ("cause", wanted.cause),
        ("corrective action", wanted.corrective_action),
    )
    for key, text in texts:
        if text:  # nothing may be decided yet
            yield from text_problems(key, text)
    yield from _parts_problems(wanted.parts, quantity, counted)


def correction_problems(corrects: Sequence[str], known: Sequence[NonconformityState]) -> Iterator[Problem]:
    """Yield a problem for each number that a release says it corrects and that is not open."""
    open_ones = [each.number for each in known if not each.closed]
    for number in corrects:
        if number not in open_ones:
            remedy = f"open are: {', '.join(open_ones) or 'none'}; 'packets nonconformity record' opens one"
            yield unplaced("corrects", number, "is not an open nonconformity of this order", remedy)


def closing_problems(number: str, known: Sequence[NonconformityState]) -> Iterator[Problem]:
    """Yield what speaks against closing the nonconformity ``number``."""
    before = numbered(known, number)
    if before is None or before.closed is not None:
        open_ones = ", ".join(each.number for each in known if not each.closed) or "none"
        message = "is closed already" if before else "is not a nonconformity of this order"
        yield unplaced("nonconformity", number, message, f"open are: {open_ones}")
        return
    record = "state it first: packets nonconformity record"
    if before.known.parts.kind == "not known":
        yield unplaced("parts", number, "it is not known which parts are affected", record)
    if not before.known.containment:
        yield unplaced("containment", number, "no containment is recorded", record)


def corrected_problems(
    corrected_by: Sequence[str], before: NonconformityState | None, released: Sequence[str]
) -> Iterator[Problem]:
    """Yield a problem for each revision that cannot correct one: it is none of ``released``, or no later one."""
    at_fault = before.revision if before else ""
    later = released[released.index(at_fault) + 1 :] if at_fault in released else ()
    for revision in corrected_by:
        if revision not in later:
            message = f"is not a revision that was released after {at_fault or 'the one'}, which is at fault"
            remedy = f"name one of: {', '.join(later)}" if later else "leave it out: none was released after it"
            yield unplaced("corrected by", revision, message, remedy)


def _parts_problems(parts: PartsAffected, quantity: int, counted: int) -> Iterator[Problem]:
    if parts.kind == "part" and int(parts.last) > quantity:
        yield unplaced("parts", str(parts), f"the order has parts 1 to {quantity}", "name parts of it")
    if parts.kind == "none made" and counted:
        message = f"run records of the revision at fault count {counted} parts"
        yield unplaced("parts", str(parts), message, "state which of them are affected: 'part 1 to 12'")
