"""The nonconformities of an order, as the register holds them, and what speaks against a change of one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from weld_packets.errors import Problem, unplaced
from weld_packets.grouping import grouped
from weld_packets.revisions.records.nonconformity import Nonconformity, PartsAffected, is_number
from weld_packets.revisions.records.texts import text_problems
from weld_packets.revisions.register.entries import NonconformityEntry, RegisterEntry
from weld_packets.revisions.register.register import Register

_OPTIONS = {
    "--parts": "parts",
    "--containment": "containment",
    "--concerns": "concerned",
    "--cause": "cause",
    "--corrective-action": "corrective_action",
}
"""What people state of a nonconformity, by the option with which they do."""
_STATED_LATE = {"--cause": "cause", "--corrective-action": "corrective_action"}
"""What may become known of one that is closed."""
NOT_KNOWN = "not known"
"""What is stated of a cause that nobody knows."""
Said = RegisterEntry | NonconformityEntry
"""What can say something of a nonconformity."""


@dataclass(frozen=True)
class Reported:
    """What somebody states of the nonconformity ``number``; None leaves what is known of it.

    ``concerned`` is what it concerns as it is typed, such as ``4:A07`` or ``4:weld time``.
    """

    number: str
    parts: PartsAffected | None = None
    containment: str | None = None
    concerned: tuple[str, ...] | None = None
    cause: str | None = None
    corrective_action: str | None = None


@dataclass(frozen=True)
class Statement:
    """What an entry states of a nonconformity; ``at`` is its place in the register."""

    at: int
    entry: Said
    known: Nonconformity

    @property
    def stated(self) -> Mapping[str, object]:
        """What people stated, by the option with which they do."""
        return _stated(self.entry.revision, self.known)

    def __str__(self) -> str:
        """Return it in a line, with who said it."""
        known = self.known
        facts = (
            f"revision {self.entry.revision} at fault",
            f"parts affected: {known.parts}",
            f"containment: {known.containment or 'none recorded yet'}",
            f"concerns: {'; '.join(map(str, known.concerned)) or 'all settings and welds'}",
            *((f"cause: {known.cause}",) if known.cause else ()),
            *((f"corrective action: {known.corrective_action}",) if known.corrective_action else ()),
            f"why: {self.entry.reason}",
        )
        return f"{', '.join(facts)} ({self.entry.author}, {self.entry.recorded_at})"


@dataclass(frozen=True)
class NonconformityState:
    """One nonconformity of an order: the revision at fault, what is known of it now, who opened it.

    ``corrected_by`` are the revisions that say so, and those that the closing names; ``closed`` is the entry that
    closed it, None while it is open. ``added_to`` are the entries in which more of it was recorded later, also once it
    was closed.
    ``unaware`` are closings of one branch that do not count: more of it was recorded on another branch. ``apart`` is
    what other branches stated otherwise, each without the others, until an entry is made after all of them.
    """

    order: str
    revision: str
    known: Nonconformity
    opened: Said
    corrected_by: tuple[str, ...] = ()
    added_to: tuple[Said, ...] = ()
    closed: NonconformityEntry | None = None
    unaware: tuple[NonconformityEntry, ...] = ()
    apart: tuple[Statement, ...] = ()

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
    entries = register.nonconforming.get(order, ())
    stated = (Statement(at, entry, entry.nonconformity) for at, entry in entries if entry.nonconformity)
    said = grouped((each.known.number, each) for each in stated)
    releases = [entry for _, entry in entries if isinstance(entry, RegisterEntry)]
    corrected = grouped((number, entry.revision) for entry in releases for number in entry.corrects)
    return tuple(_state(register, found, corrected.get(number, [])) for number, found in said.items())


def orders_with_nonconformities(register: Register) -> tuple[str, ...]:
    """Return the orders that have any, sorted."""
    return tuple(order for order, said in register.nonconforming.items() if any(each.nonconformity for _, each in said))


def nonconformity_findings(register: Register) -> Iterator[tuple[str, str]]:
    """Yield the order and what is wrong for each nonconformity that two branches stated otherwise.

    A later entry, made after all of them, settles it.
    """
    for order in register.nonconforming:
        for state in nonconformities_of(register, order):
            if state.apart:
                yield order, apart_message(state)


def _stated(revision: str | None, known: Nonconformity | Reported) -> Mapping[str, object]:
    return {"--revision": revision, **{option: getattr(known, name) for option, name in _OPTIONS.items()}}


def _state(register: Register, said: Sequence[Statement], corrected: Sequence[str]) -> NonconformityState:
    """Return the state of one nonconformity, of which ``said`` is every entry, oldest first."""
    closings = [(each, each.entry) for each in said if isinstance(each.entry, NonconformityEntry) and each.entry.closed]
    stated = [each for each in said if all(each is not closing for closing, _ in closings)] or said
    newest = [each for each in stated if not any(register.follows(later.at, each.at) for later in stated)]

    def knew_all(closing: Statement) -> bool:
        return all(register.follows(closing.at, each.at) or closing.stated == each.stated for each in newest)

    counting = [closing for closing, _ in closings if knew_all(closing)]
    late = [each for each in counting if any(register.follows(each.at, closing.at) for closing in counting)]
    closed_by = [entry for closing, entry in closings if closing in counting and closing not in late]
    newest = [each for each in late if not any(register.follows(later.at, each.at) for later in late)] or newest
    last = newest[-1]
    return NonconformityState(
        order=last.entry.order,
        revision=last.entry.revision,
        known=last.known,
        opened=stated[0].entry,
        corrected_by=tuple(dict.fromkeys((*corrected, *(name for entry in closed_by for name in entry.corrected_by)))),
        added_to=tuple(each.entry for each in (*stated[1:], *late)),
        closed=closed_by[-1] if closed_by else None,
        unaware=tuple(entry for closing, entry in closings if not knew_all(closing)),
        apart=tuple(each for each in newest if each.stated != last.stated),
    )


def apart_message(state: NonconformityState) -> str:
    """Return what branches stated otherwise of a nonconformity, and what to do."""
    also = "; ".join(map(str, state.apart))
    return (
        f"nonconformity {state.number} was recorded on two branches, each without the other: beside what is listed, "
        f"{also}. Record it anew with what counts, stating {', '.join(to_settle(state))}; "
        "where they are two faults, record one of them under a number of its own first"
    )


def to_settle(state: NonconformityState) -> tuple[str, ...]:
    """Return what branches stated otherwise, as the options that state it; none where nothing is."""
    here = _stated(state.revision, state.known)
    return tuple(option for option, value in here.items() if any(each.stated[option] != value for each in state.apart))


def numbered(known: Sequence[NonconformityState], number: str) -> NonconformityState | None:
    """Return the one of a number, None where there is none."""
    return next((each for each in known if each.number == number), None)


def nonconformity_problems(wanted: Nonconformity, *, quantity: int, counted: int) -> Iterator[Problem]:
    """Yield what speaks against recording ``wanted`` for an order of ``quantity`` parts.

    ``counted`` is how many parts the run records of the revision at fault count.
    """
    if not is_number(wanted.number):
        remedy = "letters, digits, blank, dot, dash, slash; at most 40 of them, beginning with a letter or digit"
        yield unplaced("nonconformity", wanted.number, "is not a number of a nonconformity", remedy)
    yield from stated_text_problems(wanted)
    yield from _parts_problems(wanted.parts, quantity, counted)


def stated_text_problems(wanted: Nonconformity) -> Iterator[Problem]:
    """Yield what speaks against the texts of a nonconformity; each may be empty, as nothing may be decided yet."""
    for name in ("containment", "cause", "corrective_action"):
        if text := getattr(wanted, name):
            yield from text_problems(name.replace("_", " "), text)


def late_problems(reported: Reported, revision: str, before: NonconformityState | None) -> Iterator[Problem]:
    """Yield why something cannot be stated any more of one that is closed: all but a cause and what follows from it.

    Either can be stated once, where it is not known so far, and once more where two branches stated it otherwise.
    """
    if before is None or before.closed is None:
        return
    unknown = [name for name, key in _STATED_LATE.items() if getattr(before.known, key).casefold() in ("", NOT_KNOWN)]
    open_ones = {*unknown, *to_settle(before)} & _STATED_LATE.keys()
    given = {option for option, said in _stated(revision or None, reported).items() if said}
    if not given or given - open_ones:
        message = f"is closed since {before.closed.recorded_at[:10]}"
        may = f"; what can be added to this one: {', '.join(sorted(open_ones))}" if open_ones else ""
        yield unplaced("nonconformity", reported.number, message, f"open another one under its own number{may}")


def correction_problems(corrects: Sequence[str], known: Sequence[NonconformityState]) -> Iterator[Problem]:
    """Yield a problem for each number that a release says it corrects and that is not open."""
    open_ones = [each.number for each in known if not each.closed]
    for number in corrects:
        before = numbered(known, number)
        if number not in open_ones:
            remedy = f"open are: {', '.join(open_ones) or 'none'}; 'packets nonconformity record' opens one"
            yield unplaced("corrects", number, "is not an open nonconformity of this order", remedy)
        elif before is not None:
            yield from _apart_problems(before)


def closing_problems(number: str, known: Sequence[NonconformityState]) -> Iterator[Problem]:
    """Yield what speaks against closing the nonconformity ``number``."""
    before = numbered(known, number)
    if before is None or before.closed is not None:
        open_ones = ", ".join(each.number for each in known if not each.closed) or "none"
        message = "is closed already" if before else "is not a nonconformity of this order"
        yield unplaced("nonconformity", number, message, f"open are: {open_ones}")
        return
    yield from _apart_problems(before)
    record = "state it first: packets nonconformity record"
    if before.known.parts.kind == "not known":
        yield unplaced("parts", number, "it is not known which parts are affected", record)
    if not before.known.containment:
        yield unplaced("containment", number, "no containment is recorded", record)
    if not before.known.cause:
        remedy = f"{record} with --cause, or with --cause '{NOT_KNOWN}' where nobody knows it"
        yield unplaced("cause", number, "no cause is recorded", remedy)


def settling_problems(reported: Reported, revision: str, before: NonconformityState | None) -> Iterator[Problem]:
    """Yield a problem for each thing that branches stated otherwise and that an entry after them leaves open."""
    given = _stated(revision or None, reported)
    for option in to_settle(before) if before else ():
        if given[option] is None:
            message = "two branches recorded it otherwise, and this does not say which counts"
            yield unplaced(option, "", message, f"state it with {option}")


def _apart_problems(before: NonconformityState) -> Iterator[Problem]:
    if before.apart:
        yield unplaced("nonconformity", before.number, "is not settled", apart_message(before))


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
