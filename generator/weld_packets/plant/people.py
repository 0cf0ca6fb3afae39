"""The plant's list of responsible people: which one counts, and what of it must be corrected before others use it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.errors import PacketError, Problem, refuse, unplaced
from weld_packets.model.tables.people import ResponsiblePeople
from weld_packets.plant.approvals import changed_tables, counting_approval, table_contents
from weld_packets.revisions.register.entries import ApprovalEntry
from weld_packets.revisions.register.filed import content_path
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.people import People, Person
from weld_packets.revisions.status.table_contents import approval_of
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.table_contents import read_content
from weld_packets.sources.folders import INSTRUCTIONS, TABLES
from weld_packets.sources.tables.tables import Workspace

_KIND = "responsible people"
_RESTORE = "restore it with git or from a copy"


@dataclass(frozen=True)
class Listed:
    """The list that counts, None where the plant has none, and what is wrong with the one in the plant's tables.

    While the list in the tables is not approved, the one that was approved last counts: so nobody lets themselves in.
    Where nobody can know who is on that one, there are problems and no people.
    """

    people: People | None = None
    problems: tuple[Problem, ...] = ()


def listed_people(workspace: Workspace, register: Register) -> Listed:
    """Return the plant's list of responsible people."""
    table = workspace.approved.responsible
    try:
        before = _approved_before(workspace, register)
    except PacketError as error:
        return Listed(None, tuple(error.problems))
    if table is None:
        if before is None:
            return Listed()
        message = "the list of responsible people that the plant approved has no file any more"
        return Listed(before.people, (Problem(TABLES, 0, "kind", _KIND, message, _RESTORE),))
    file = workspace.places[table.table].file
    wrong = changed_tables(workspace, register, [table.table])
    if not wrong and not _is_approved(workspace, register, table, before):
        remedy = f"have it approved by somebody of the list before it: packets approve {table.table}"
        message = "the list of responsible people is not approved"
        wrong = [workspace.placed(table.table, unplaced("revision", table.revision, message, remedy))]
    return Listed(before.people if wrong and before else _people(table, file), tuple(wrong))


def _is_approved(workspace: Workspace, register: Register, table: ResponsiblePeople, before: _Before | None) -> bool:
    """Return whether the list in the tables is approved.

    Once the register holds a list, its last one alone counts, whatever name the table or the plant has got since, and
    whatever the table's own file says: an older one would let back in who has left.
    """
    if before is None:
        return counting_approval(workspace, register, table) is not None
    content = table_contents(workspace)[table.table]
    return content.digest == before.digest and approval_of(register, workspace.approved.plant.name, content) is not None


def people_of(workspace: Workspace) -> People | None:
    """Return the list that counts by the register as it is now; None where the plant has none.

    Raises PacketError where nobody can know who is on it.
    """
    listed = listed_people(workspace, load_register(workspace.root / INSTRUCTIONS))
    if listed.people is None:
        refuse(listed.problems)
    return listed.people


def people_lines(workspace: Workspace, register: Register) -> Iterator[str]:
    """Yield what ``check`` prints of who may author, approve and withdraw."""
    listed = listed_people(workspace, register)
    if listed == Listed():
        yield "plant: it has no list of responsible people, so that any two names may release, approve and withdraw"
    for problem in listed.problems:
        yield f"plant: nothing can be released yet: {problem.message}"


@dataclass(frozen=True)
class _Before:
    """The list that was approved last, and the digest of what it held."""

    people: People
    digest: str


def _approved_before(workspace: Workspace, register: Register) -> _Before | None:
    """Return the list that was approved last in the register, by whatever name of table or plant; None for none.

    Raises PacketError where what was approved since, which may be that list, is missing or altered.
    """
    own = {content.digest: content.content for content in table_contents(workspace).values()}
    for digest in _approved_digests(register):
        content = own.get(digest) or read_content(workspace.root / INSTRUCTIONS, digest)
        if content is None:
            message = "is missing or altered, and may be the list of responsible people that counts"
            raise PacketError([Problem(content_path(digest), 0, "", "", message, _RESTORE)])
        if content.get("kind") == _KIND:
            table = ResponsiblePeople.model_validate(content)
            return _Before(_people(table, f"{TABLES}, as approved last"), digest)
    return None


def _approved_digests(register: Register) -> Iterator[str]:
    """Yield the digest of each content that was approved, the last one first, each once."""
    approvals = (entry for entry in reversed(register.listed) if isinstance(entry, ApprovalEntry))
    yield from dict.fromkeys(table.content_digest for entry in approvals for table in entry.tables)


def _people(table: ResponsiblePeople, file: str) -> People:
    persons = (
        Person(each.name, frozenset(each.may), each.valid_from, each.valid_until, each.key or "")
        for each in table.entries
    )
    return People(tuple(persons), file)
