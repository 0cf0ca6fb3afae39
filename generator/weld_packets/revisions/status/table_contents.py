"""What a table held when it was approved or released, and how it differs now. Nothing here reads a file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest
from typing import Any

from weld_packets.errors import Problem
from weld_packets.revisions.records.canonical import canonical, sha256
from weld_packets.revisions.register.entries import ApprovalEntry, RegisterEntry
from weld_packets.revisions.register.register import Register

_SHOWN = 5
_NAMES = ("id", "over", "thickness", "name")
"""The keys by which a reader recognises a row or an entry, the first that it has."""

ReadContent = Callable[[str], Mapping[str, Any] | None]
"""Returns the content of a digest, None where it is not kept."""
ReadSources = Callable[[RegisterEntry], Mapping[str, str]]
"""Returns the SHA-256 of each source file of a release, by path."""


@dataclass(frozen=True)
class TableContent:
    """What a table of the plant's folder holds now, without its approval, and its file with the SHA-256 of that."""

    table: str
    revision: str
    content: Mapping[str, Any]
    file: str
    file_digest: str

    @cached_property
    def data(self) -> bytes:
        """Return the content as canonical JSON."""
        return canonical(self.content)

    @cached_property
    def digest(self) -> str:
        """Return the digest of the content."""
        return sha256(self.data)


@dataclass(frozen=True)
class Bound:
    """A content that a revision of a table had when it was approved or released: its digest, and its record."""

    digest: str
    where: str


@dataclass(frozen=True)
class ContentChange:
    """One value that differs: where it is, and what it was and is; empty where there was or is none."""

    where: str
    before: str
    after: str

    def __str__(self) -> str:
        """Return it in a line."""
        if not self.before:
            return f"{self.where}: {self.after} added"
        return f"{self.where}: {self.before} -> {self.after}" if self.after else f"{self.where}: {self.before} removed"


def approval_of(register: Register, plant: str, content: TableContent) -> ApprovalEntry | None:
    """Return the first entry by which ``plant`` approved this very content under its revision."""
    for entry in register.listed:
        if isinstance(entry, ApprovalEntry) and entry.plant == plant:
            wanted = (content.table, content.revision, content.digest)
            if any((each.table, each.revision, each.content_digest) == wanted for each in entry.tables):
                return entry
    return None


def last_approved(register: Register, plant: str, table: str) -> str:
    """Return the digest of what was last approved of ``table``, under any revision; empty where nothing was."""
    found = ""
    for entry in register.listed:
        if isinstance(entry, ApprovalEntry) and entry.plant == plant:
            found = next((each.content_digest for each in entry.tables if each.table == table), found)
    return found


def bound_contents(register: Register, plant: str) -> Mapping[tuple[str, str], tuple[Bound, ...]]:
    """Return, for table and revision, each content that ``plant`` approved or released under it."""
    found: dict[tuple[str, str], dict[str, Bound]] = {}
    for entry in register.listed:
        for key, bound in _bound_by(entry, plant):
            found.setdefault(key, {}).setdefault(bound.digest, bound)
    return {key: tuple(bounds.values()) for key, bounds in found.items()}


def _bound_by(entry: object, plant: str) -> Iterator[tuple[tuple[str, str], Bound]]:
    match entry:
        case ApprovalEntry() if entry.plant == plant:
            where = f"approved by {entry.approver} on {entry.recorded_at[:10]}"
            yield from (((each.table, each.revision), Bound(each.content_digest, where)) for each in entry.tables)
        case RegisterEntry() if len(entry.contents) == len(entry.tables):
            where = f"released with {entry.order}, revision {entry.revision}"
            for table, digest in zip(entry.tables, entry.contents, strict=True):
                yield table, Bound(digest, where)


def content_problems(
    contents: Iterable[TableContent], register: Register, plant: str, read: ReadContent, sources: ReadSources
) -> Iterator[Problem]:
    """Yield a problem for each table that holds something else than was approved or released under its revision."""
    bound = bound_contents(register, plant)
    for content in contents:
        others = [each for each in bound.get((content.table, content.revision), ()) if each.digest != content.digest]
        if others:
            yield _other_problem(content, others[0], read)
        elif (content.table, content.revision) not in bound and (entry := _other_file(content, register, sources)):
            yield _file_problem(content, entry)


def _other_problem(content: TableContent, bound: Bound, read: ReadContent) -> Problem:
    before = read(bound.digest)
    message = f"table {content.table}, revision {content.revision}, does not hold what was {bound.where}"
    if before is not None:
        changes = content_changes(before, content.content)
        more = f"; and {len(changes) - _SHOWN} more" if len(changes) > _SHOWN else ""
        message += f": {'; '.join(str(change) for change in changes[:_SHOWN])}{more}"
    return Problem(content.file, 0, "revision", content.revision, message, _remedy(content))


def _file_problem(content: TableContent, entry: RegisterEntry) -> Problem:
    message = (
        f"the file of table {content.table}, revision {content.revision}, is not that of {entry.order}, revision "
        f"{entry.revision}, which was released with it"
    )
    return Problem(content.file, 0, "revision", content.revision, message, _remedy(content))


def _remedy(content: TableContent) -> str:
    return (
        "take the change back, or raise the revision of the table and have it approved: "
        f"packets approve {content.table}"
    )


def _other_file(content: TableContent, register: Register, sources: ReadSources) -> RegisterEntry | None:
    """Return a release from before contents were kept that had another file under this revision of the table."""
    for entry in register.entries:
        if entry.kind == "release" and not entry.contents and (content.table, content.revision) in entry.tables:
            before = sources(entry).get(content.file)
            return entry if before not in {None, content.file_digest} else None
    return None


def content_changes(before: Any, after: Any, where: str = "") -> list[ContentChange]:
    """Return every value that differs between two contents of a table, in the order of the newer one."""
    if before == after:
        return []
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        keys = dict.fromkeys([*after, *before])
        return [
            change
            for key in keys
            for change in content_changes(before.get(key), after.get(key), f"{where}, {key}" if where else key)
        ]
    if _is_list(before) and _is_list(after):
        return [change for pair in _pairs(before, after) for change in content_changes(*pair[1:], _at(where, pair))]
    return [ContentChange(where, *("" if value is None else value_text(value) for value in (before, after)))]


def value_text(value: Any) -> str:
    """Return what a table holds at one place, in one line; it is never empty where there is a list or keys."""
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {value_text(inner)}" for key, inner in value.items()) or "none"
    if _is_list(value):
        return ", ".join(map(value_text, value)) or "none"
    return value if isinstance(value, str) else canonical(value).decode()


def _pairs(before: Sequence[Any], after: Sequence[Any]) -> Iterator[tuple[int, Any, Any]]:
    """Yield items that belong together: by their identifiers where all have one, else by their place."""
    old, new = _by_id(before), _by_id(after)
    if old is None or new is None:
        yield from ((at, *pair) for at, pair in enumerate(zip_longest(before, after), 1))
    else:
        for at, name in enumerate(dict.fromkeys([*new, *old]), 1):
            yield at, old.get(name), new.get(name)


def _by_id(items: Sequence[Any]) -> dict[str, Any] | None:
    if not all(isinstance(item, Mapping) and isinstance(item.get("id"), str) for item in items):
        return None
    return {item["id"]: item for item in items}


def _at(where: str, pair: tuple[int, Any, Any]) -> str:
    place, before, after = pair
    item = after if isinstance(after, Mapping) else before
    names = (
        [f"{key} {item[key]}" for key in _NAMES if isinstance(item.get(key), str)] if isinstance(item, Mapping) else []
    )
    return f"{where}, item {place}" + (f" ({names[0]})" if names else "")


def _is_list(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str)
