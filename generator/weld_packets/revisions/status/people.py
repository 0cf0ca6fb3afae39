"""Who of the plant may make which record, and with which key. Nothing here reads a file or the clock."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from weld_packets.errors import Problem, unplaced
from weld_packets.letters import as_person

Permission = Literal["author", "approve releases", "approve tables", "withdraw"]
"""What a person of the list may do."""


@dataclass(frozen=True)
class Person:
    """Somebody of the plant: what they may do, the first and the last day of it, and the name of their own key."""

    name: str
    may: frozenset[Permission]
    since: date | None = None
    until: date | None = None
    key: str = ""

    def is_listed_on(self, day: date) -> bool:
        """Return whether the entry holds on a day, its first and last day included."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)


@dataclass(frozen=True)
class People:
    """The plant's list of responsible people, and the file that it is in."""

    persons: tuple[Person, ...]
    file: str

    def named(self, name: str) -> Person | None:
        """Return whom ``name`` means, None where nobody of the list."""
        return next((person for person in self.persons if as_person(person.name) == as_person(name)), None)

    def as_listed(self, name: str) -> str:
        """Return a name as the list spells it; one that it does not hold as it is."""
        person = self.named(name)
        return person.name if person else name

    def who_may(self, acts: Collection[Permission], day: date) -> list[Person]:
        """Return who may do one of ``acts`` on a day."""
        return [person for person in self.persons if person.may.intersection(acts) and person.is_listed_on(day)]


@dataclass(frozen=True)
class Duties:
    """What author and approver of a record must each be allowed to do: one of several acts.

    What stops work is never refused for want of a key, nor for a date where nobody else may do it; ``stops`` says so.
    """

    author: tuple[Permission, ...]
    approver: tuple[Permission, ...]
    stops: bool = False


OF_RELEASE = Duties(("author",), ("approve releases",))
OF_TABLES = Duties(("author",), ("approve tables",))
OF_WITHDRAWAL = Duties(("author", "withdraw"), ("withdraw",), stops=True)
OF_NONCONFORMITY = Duties(("author", "withdraw"), ("withdraw",))


def listing_problems(
    people: People, key: str, name: str, acts: tuple[Permission, ...], day: date, *, stops: bool
) -> Iterator[Problem]:
    """Yield why the list does not let ``name``, the ``key`` of a record, do one of ``acts`` on a day, and who may."""
    person, able = people.named(name), people.who_may(acts, day)
    if person is None:
        message = f"is not in the plant's list of responsible people, {people.file}"
    elif not person.may.intersection(acts):
        message = f"may not {' or '.join(acts)} by the plant's list: {', '.join(sorted(person.may))} alone"
    elif not person.is_listed_on(day) and not (stops and not able):
        message = f"is listed {_period(person)}, and this is of {day}"
    else:
        return
    who = ", ".join(each.name for each in able) or "nobody on this day"
    remedy = f"who may {' or '.join(acts)}: {who}; or change the list and have it approved"
    yield unplaced(key, name, message, remedy)


def key_problems(people: People | None, name: str, used: str, *, required: bool) -> Iterator[Problem]:
    """Yield why a record of ``name`` may not be signed with the key ``used``, or may not be without one."""
    person = people.named(name) if people else None
    own = person.key if person else ""
    others = {each.key: each.name for each in people.persons if each.key and each is not person} if people else {}
    if used and own and used != own:
        yield _key_problem(used, f"is not the key of {name}", f"sign with --key {own} and its private key")
    elif used in others:
        yield _key_problem(used, f"is the key of {others[used]}, not of {name}", "sign with the key of that person")
    elif required and person and not own:
        remedy = "make one with 'packets key', enter its name in the list, and have the list approved"
        yield _key_problem(used, f"the list of responsible people names no key of {name}", remedy)
    elif required and not used:
        remedy = f"sign with --key {own or 'NAME'} --private FILE"
        yield _key_problem("", "the plant requires a signature", remedy)


def _key_problem(used: str, message: str, remedy: str) -> Problem:
    return unplaced("key", used, message, remedy)


def _period(person: Person) -> str:
    since = f"from {person.since}" if person.since else ""
    until = f"until {person.until}" if person.until else ""
    return " ".join(part for part in (since, until) if part)
