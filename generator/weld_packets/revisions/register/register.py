"""The register over all orders: an entry for each record, in the order of their making, under one digest.

It has two parts. The first, which older programs wrote, is one file (``first_part.py``). New entries are files of their
own (``filed.py``).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeGuard, TypeVar

from weld_packets.errors import PacketError, unplaced
from weld_packets.grouping import grouped
from weld_packets.revisions.records.canonical import SHORT_DIGEST, sha256, short
from weld_packets.revisions.records.record import RegisterState
from weld_packets.revisions.register.entries import (
    Entry,
    FiledEntry,
    NonconformityEntry,
    ProposalEntry,
    ProposalWithdrawalEntry,
    RegisterEntry,
    RunEntry,
    SetAsideEntry,
    SetUpEntry,
)
from weld_packets.revisions.register.filed import FOLDER, Filed, ancestry, filed
from weld_packets.revisions.register.forks import counts, filed_fork_problem, filed_twice, fork_problem, made_twice
from weld_packets.revisions.register.hash_tree import EMPTY, tree_digest, tree_digests

_STATE = re.compile(r"\s*(?:register\s+)?([0-9]{1,9})\s*:\s*([0-9A-Fa-f\s+-]+)")  # what a person typed, or pasted
_Item = TypeVar("_Item")


@dataclass(frozen=True)
class Register:
    """All that the register lists, in the order of filing.

    ``first`` are the entries of the first part with the ``lines`` that spell them; ``filed`` those with their own file.
    Where it ``is_whole``, none that another one names is missing.
    """

    first: tuple[RegisterEntry | SetUpEntry, ...] = ()
    lines: tuple[bytes, ...] = ()
    filed: tuple[Filed, ...] = ()
    is_whole: bool = True

    @cached_property
    def listed(self) -> tuple[Entry, ...]:
        """Return all entries, those that are set aside too."""
        return (*self.first, *(each.entry for each in self.filed))

    @cached_property
    def entries(self) -> tuple[RegisterEntry, ...]:
        """Return releases and withdrawals, without those that are set aside."""
        records = (entry for entry in self.listed if isinstance(entry, RegisterEntry))
        return tuple(entry for entry in records if entry.record_digest not in self.set_aside)

    @cached_property
    def set_aside(self) -> frozenset[str]:
        """Return the digests of the records that are set aside."""
        asides = (entry for entry in self.listed if isinstance(entry, SetAsideEntry))
        return frozenset(digest for entry in asides for digest in entry.record_digests)

    @cached_property
    def _from_cells(self) -> tuple[FiledEntry, ...]:
        """Return what was filed from the cells and counts, one entry of a record that two branches filed."""
        filed_first: dict[tuple[str, str], FiledEntry] = {}
        for entry in self.listed:
            if isinstance(entry, FiledEntry) and counts(entry, self.set_aside):
                filed_first.setdefault((entry.path, entry.file_digest), entry)
        return tuple(filed_first.values())

    @cached_property
    def set_ups(self) -> Mapping[str, tuple[SetUpEntry, ...]]:
        """Return the set-up records of each order, in the order of filing."""
        return _by_order((entry.order, entry) for entry in self._from_cells if isinstance(entry, SetUpEntry))

    @cached_property
    def runs(self) -> Mapping[str, tuple[RunEntry, ...]]:
        """Return the records of runs of each order, in the order of filing."""
        return _by_order((entry.order, entry) for entry in self._from_cells if isinstance(entry, RunEntry))

    @cached_property
    def nonconforming(self) -> Mapping[str, tuple[tuple[int, RegisterEntry | NonconformityEntry], ...]]:
        """Return for each order what says anything of a nonconformity and counts, with its place, oldest first."""
        return _by_order(
            (entry.order, (at, entry))
            for at, entry in enumerate(self.listed)
            if isinstance(entry, NonconformityEntry)
            or (
                isinstance(entry, RegisterEntry)
                and counts(entry, self.set_aside)
                and (entry.nonconformity or entry.corrects)
            )
        )

    @cached_property
    def proposals(self) -> Mapping[str, tuple[tuple[ProposalEntry, str], ...]]:
        """Return every proposal of each order with the digest of its entry, oldest first."""
        proposed = ((each.entry, each.digest) for each in self.filed if isinstance(each.entry, ProposalEntry))
        return _by_order((entry.order, (entry, digest)) for entry, digest in proposed)

    @cached_property
    def proposals_gone(self) -> frozenset[str]:
        """Return the digests of the proposals that another one replaced, or that were withdrawn."""
        replaced = (each.replaces for each in self.listed if isinstance(each, ProposalEntry))
        withdrawn = (each.proposals for each in self.listed if isinstance(each, ProposalWithdrawalEntry))
        return frozenset(digest for digests in (*replaced, *withdrawn) for digest in digests)

    def filed_from_cells(self, order: str) -> tuple[FiledEntry, ...]:
        """Return what was filed from the cells for an order: set-ups, then runs."""
        return (*self.set_ups.get(order, ()), *self.runs.get(order, ()))

    def filed_twice(self, order: str) -> tuple[tuple[FiledEntry, ...], ...]:
        """Return the set-ups and runs of an order of which two branches filed different records, until one is aside."""
        return filed_twice(self.filed_from_cells(order))

    def filed_once(self, order: str) -> tuple[FiledEntry, ...]:
        """Return what was filed from the cells for an order; raise PacketError where two records have one place."""
        if made := self.filed_twice(order):
            raise PacketError(filed_fork_problem(entries) for entries in made)
        return self.filed_from_cells(order)

    @cached_property
    def first_digest(self) -> str:
        """Return the digest over all lines of the first part, empty where there is none."""
        return tree_digest(self.lines) if self.lines else ""

    @cached_property
    def digests(self) -> tuple[str, ...]:
        """Return the digest over the lines of the first part down to each."""
        return tuple(tree_digests(self.lines))

    @cached_property
    def heads(self) -> tuple[str, ...]:
        """Return the digests of the newest entries, sorted: one, or after a merge several, which bind all others."""
        followed = {name for each in self.filed for name in each.after}
        known = [each.digest for each in self.filed] + ([self.first_digest] if self.lines else [])
        return tuple(sorted(digest for digest in known if digest not in followed))

    @property
    def last_at(self) -> str:
        """Return the moment of the last record or approval among the newest entries and before, empty for none.

        Where a withdrawal is earlier than a record before it, that record was made under a wrong clock, and time goes
        on from the withdrawal.
        """
        return _last_after(*self._clock[-1]) if self._clock else ""

    @cached_property
    def latest_at(self) -> str:
        """Return the latest moment of any record or approval, also of one made under a wrong clock; empty for none."""
        return max((entry.at for _, entry in self._clock), default="")

    @property
    def last_place(self) -> str:
        """Return the file of the record or approval of the moment ``last_at``; of an empty register there is none."""
        return next(place for place, entry in reversed(self.placed) if entry.at == self.last_at)

    @cached_property
    def placed(self) -> tuple[tuple[str, Entry], ...]:
        """Return every entry that is not from the cells, with the file that holds it."""
        names = [*("" for _ in self.first), *(f"{FOLDER}/{each.name}" for each in self.filed)]
        return tuple(
            (entry.path if isinstance(entry, RegisterEntry) else name, entry)
            for name, entry in zip(names, self.listed, strict=True)
            if not isinstance(entry, FiledEntry)
        )

    @cached_property
    def _clock(self) -> tuple[tuple[str, Entry], ...]:
        """Each entry that is not from the cells, after the last moment of those before it, empty for the first."""
        found: list[tuple[str, Entry]] = []
        for entry in self.listed:
            if not isinstance(entry, FiledEntry):
                found.append((_last_after(*found[-1]) if found else "", entry))
        return tuple(found)

    def backward(self) -> Iterator[Entry]:
        """Yield each entry that is earlier than one before it, withdrawals and what cells filed aside."""
        return (entry for last, entry in self._clock if entry.at < last and not _is_withdrawal(entry))

    def wrong_clocks(self) -> Iterator[RegisterEntry]:
        """Yield each withdrawal that is earlier than an entry before it."""
        return (entry for last, entry in self._clock if entry.at < last and _is_withdrawal(entry))

    @property
    def state(self) -> RegisterState:
        """Return number of records and digest, which the next record carries."""
        return RegisterState(records=len(self.listed), register_digest=joined(self.heads))

    @cached_property
    def ancestry(self) -> Mapping[str, int]:
        """Return, for each digest, the entries up to and with it as a set of bits; bit 0 is the first part."""
        return ancestry(self.filed, self.first_digest)

    def follows(self, at: int, earlier: int) -> bool:
        """Return whether the entry at place ``at`` was made after that at ``earlier``, and not on another branch."""
        if at < len(self.first):
            return earlier < at
        bit = max(earlier - len(self.first) + 1, 0)
        return at > earlier and bool(self.ancestry[self.filed[at - len(self.first)].digest] >> bit & 1)

    def state_before(self, at: int) -> RegisterState:
        """Return the register as the entry at place ``at`` found it."""
        if at < len(self.first):
            return RegisterState(records=at, register_digest=self.digests[at - 1] if at else EMPTY)
        after = self.filed[at - len(self.first)].after
        return RegisterState(records=self.count(after), register_digest=joined(after))

    def count(self, heads: Iterable[str]) -> int:
        """Return how many entries there are up to and with those of the digests ``heads``."""
        mask = 0
        for head in heads:
            mask |= self.ancestry[head]
        return (mask >> 1).bit_count() + (len(self.first) if mask & 1 else 0)

    @cached_property
    def places(self) -> Mapping[str, int]:
        """Return the place of each record that counts among all entries, by its file."""
        placed = (
            (entry, at)
            for at, entry in enumerate(self.listed)
            if isinstance(entry, RegisterEntry | SetUpEntry | RunEntry)
        )
        return {entry.path: at for entry, at in placed if counts(entry, self.set_aside)}

    @cached_property
    def _gathered(self) -> Mapping[str, tuple[RegisterEntry, ...]]:
        return _by_order((entry.order, entry) for entry in self.entries)

    @cached_property
    def forks(self) -> Mapping[str, tuple[RegisterEntry, ...]]:
        """Return, for each order of which two branches made a record, the records that were made in one place."""
        found = {order: made_twice(entries) for order, entries in self._gathered.items()}
        return {order: entries for order, entries in found.items() if entries}

    @cached_property
    def by_order(self) -> Mapping[str, tuple[RegisterEntry, ...]]:
        """Return the entries of each order, oldest first; none of an order of which two branches made a record."""
        return {order: entries for order, entries in self._gathered.items() if order not in self.forks}

    def of(self, order: str) -> tuple[RegisterEntry, ...]:
        """Return the entries of one order, oldest first; none for an order without releases.

        Raises PacketError where two branches made a record of it.
        """
        if order in self.forks:
            raise PacketError([fork_problem(order, self.forks[order])])
        return self.by_order.get(order, ())

    def every(self, order: str) -> tuple[RegisterEntry, ...]:
        """Return all entries of an order, also those that are set aside or were made on two branches."""
        return tuple(entry for entry in self.listed if isinstance(entry, RegisterEntry) and entry.order == order)

    def with_entry(self, entry: Entry) -> Register:
        """Return the register with one more entry, after all that it holds."""
        return Register(self.first, self.lines, (*self.filed, filed(entry, self.heads)))


def _by_order(found: Iterable[tuple[str, _Item]]) -> Mapping[str, tuple[_Item, ...]]:
    return {order: tuple(same) for order, same in sorted(grouped(found).items())}


def _is_withdrawal(entry: Entry) -> TypeGuard[RegisterEntry]:
    return isinstance(entry, RegisterEntry) and entry.kind == "withdrawal"


def _last_after(last: str, entry: Entry) -> str:
    """Return the last moment once ``entry`` is made: time goes on from a withdrawal, whatever was before it."""
    return entry.at if _is_withdrawal(entry) else max(last, entry.at)


def joined(heads: Sequence[str]) -> str:
    """Return one digest for the newest entries: the one, or over all of them; of none that of an empty list."""
    if len(heads) == 1:
        return heads[0]
    return sha256("\n".join(sorted(heads)).encode()) if heads else EMPTY


# ---------------------------------------------------------------- the state of a register as people note it


def register_state_text(register: Register) -> str:
    """Return the state of a register for writing down: how many entries, and the short digest of each newest one."""
    return f"{len(register.listed)}:{' + '.join(short(head) for head in register.heads or (EMPTY,))}"


def read_register_state(text: str) -> tuple[int, tuple[str, ...]]:
    """Return number of entries and digests in a text that ``register_state_text`` printed, or with whole digests.

    Raises PacketError for any other text.
    """
    # A person types it from a page or pastes it.
    found = _STATE.fullmatch(text)
    typed = found[2].split("+") if found else [""]  # of a register of several branches, one digest each
    digests = tuple(re.sub(r"[\s-]", "", each).lower() for each in typed)  # spaces as the reader likes
    if found is None or any(len(digest) < SHORT_DIGEST for digest in digests):
        message = "this is not a register digest"
        remedy = "write it as 'packets register' prints it, such as 12:1a2b 3c4d 5e6f"
        raise PacketError([unplaced("register digest", text, message, remedy)])
    return int(found[1]), digests
