"""The second part of the register: a file for each entry, so that two branches that release two orders merge.

An entry names the digests of the newest entries when it was made (``after``). So each of them binds all before it,
and the order of all follows from the files alone. After a merge there are two newest; the next entry names both.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from weld_packets.errors import PacketError, Problem
from weld_packets.grouping import grouped
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.records.record import Digest
from weld_packets.revisions.records.versions import is_older, upgraded_line
from weld_packets.revisions.register.entries import Entry
from weld_packets.units import Plain

FOLDER = "register"
"""The folder of the entries below the instructions folder; no order may be called so."""
CONTENTS = "tables"
"""The folder, in that of the register, of what tables held, each file named by its SHA-256."""
_IN_NAME = 12
_RESTORE = "restore the file from a copy, or with git"


class _EntryFile(Plain):
    register_version: Literal[2] = 2
    after: tuple[Digest, ...]
    entry: Annotated[Entry, Field(discriminator="kind")]


@dataclass(frozen=True)
class Filed:
    """An entry in a file of its own: the digest of the file, and those of the entries that it was added after."""

    entry: Entry
    after: tuple[str, ...]
    digest: str

    @property
    def name(self) -> str:
        """Return the name of its file."""
        return _name(self.entry, self.digest)


def filed(entry: Entry, after: Iterable[str]) -> Filed:
    """Return ``entry`` as it is filed after the entries with the digests ``after``."""
    sorted_after = tuple(sorted(after))
    return Filed(entry, sorted_after, sha256(_bytes(entry, sorted_after)))


def filed_bytes(of: Filed) -> bytes:
    """Return the content of its file."""
    return _bytes(of.entry, of.after)


def content_path(digest: str) -> str:
    """Return the file of a table's content below the instructions folder."""
    return f"{FOLDER}/{CONTENTS}/{digest}.json"


def read_filed(data: bytes, name: str) -> Filed:
    """Return the entry in the file ``name`` of the register's folder.

    Raises PacketError where the file is not what the program writes.
    """
    shown = f"{FOLDER}/{name}"
    try:
        content = json.loads(data)
        if isinstance(entry := content["entry"], dict) and is_older(entry.get("record_version")):
            content = {**content, "entry": upgraded_line(entry)}
        read = _EntryFile.model_validate_json(json.dumps(content), strict=True)
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        message = f"is not an entry of the register as the program writes it: {_said(error)}"
        raise PacketError([Problem(shown, 0, "", "", message, _RESTORE)]) from None
    found = Filed(read.entry, read.after, sha256(data))
    if found.name != name:
        message = f"is altered or renamed: by its content its name is {found.name}"
        raise PacketError([Problem(shown, 0, "", "", message, _RESTORE)])
    return found


@dataclass(frozen=True)
class Unread:
    """An entry that is missing, altered or no plain file; ``order`` is that of its file's name, empty where none is."""

    order: str
    problem: Problem


def unread(name: str, problems: Iterable[Problem]) -> Iterator[Unread]:
    """Yield why the entry in the file ``name`` cannot be taken, with the order in its name."""
    order = name.partition(".")[0]  # the name of a file
    yield from (Unread(order, problem) for problem in problems)


def missing_entries(entries: Sequence[Filed], first: str, found: Iterable[str] = ()) -> Iterator[Unread]:
    """Yield the problem of each entry that another one names and that is missing.

    ``first`` is the digest of the first part of the register, empty where there is none; ``found`` are the names of
    files that are there and were not taken: what is wrong with them is said already.
    """
    known = {first, *(each.digest for each in entries)}
    begun = {name.rpartition("-")[2].removesuffix(".json") for name in found}  # names of files
    for file, digest in sorted((each.name, digest) for each in entries for digest in each.after if digest not in known):
        if digest[:_IN_NAME] not in begun:
            yield Unread("", _missing(file, digest))


def in_order(entries: Sequence[Filed]) -> tuple[Filed, ...]:
    """Return ``entries`` in the order of their making: each after those that it names, else by time, then by digest."""
    known = {each.digest: each for each in entries}
    followers = grouped((name, each) for each in entries for name in each.after)
    waits = {each.digest: len([name for name in each.after if name in known]) for each in entries}
    ready = [(each.entry.at, each.digest) for each in entries if not waits[each.digest]]
    heapify(ready)
    ordered: list[Filed] = []
    while ready:
        each = known[heappop(ready)[1]]
        ordered.append(each)
        for follower in followers.get(each.digest, ()):
            waits[follower.digest] -= 1
            if not waits[follower.digest]:
                heappush(ready, (follower.entry.at, follower.digest))
    return tuple(ordered)


def ancestry(entries: Sequence[Filed], first: str) -> Mapping[str, int]:
    """Return, for each digest, the entries up to and with it as a set of bits: bit 0 is the first part.

    ``entries`` are in their order; what is before one that is missing is not known.
    """
    masks = {first: 1} if first else {}
    for place, each in enumerate(entries, start=1):
        mask = 1 << place
        for name in each.after:
            mask |= masks.get(name, 0)
        masks[each.digest] = mask
    return masks


def _bytes(entry: Entry, after: tuple[str, ...]) -> bytes:
    return canonical(_EntryFile(after=after, entry=entry).model_dump(mode="json"))


def _name(entry: Entry, digest: str) -> str:
    """Return the name of an entry's file: of what it is, so that a build sees which order it concerns; time; digest."""
    return f"{entry.order}.{entry.at.replace('-', '').replace(':', '')}-{digest[:_IN_NAME]}.json"


def _said(error: Exception) -> str:
    if isinstance(error, ValidationError):
        detail = error.errors()[0]
        return f"{'.'.join(str(part) for part in detail['loc'])}: {detail['msg']}"
    return f"{type(error).__name__}"


def _missing(file: str, digest: str) -> Problem:
    message = f"follows an entry that is missing or altered: the one with the digest {digest}"
    return Problem(
        f"{FOLDER}/{file}", 0, "after", digest, message, "restore the whole register from a copy, or with git"
    )
