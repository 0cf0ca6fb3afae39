"""The plant's list of responsible people: which one counts, and what of it must be corrected before others use it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from weld_packets.errors import Problem, unplaced
from weld_packets.model.tables.people import ResponsiblePeople
from weld_packets.plant.approvals import changed_tables, counting_approval
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.people import People, Person
from weld_packets.revisions.status.table_contents import last_approved, names_approved
from weld_packets.revisions.store.contents import read_content
from weld_packets.revisions.store.files import load_register
from weld_packets.sources.folders import INSTRUCTIONS, TABLES
from weld_packets.sources.tables.tables import Workspace

_KIND = "responsible people"


@dataclass(frozen=True)
class Listed:
    """The list that counts, None where the plant has none, and what is wrong with the one in the plant's tables.

    While the list in the tables is not approved, the one that was approved last counts: so nobody lets themselves in.
    """

    people: People | None = None
    problems: tuple[Problem, ...] = ()


def listed_people(workspace: Workspace, register: Register) -> Listed:
    """Return the plant's list of responsible people."""
    table, before = workspace.approved.responsible, _approved_before(workspace, register)
    if table is None:
        if before is None:
            return Listed()
        message = "the list of responsible people that the plant approved has no file any more"
        return Listed(before, (Problem(TABLES, 0, "kind", _KIND, message, "restore it with git or from a copy"),))
    file = workspace.places[table.table].file
    wrong = changed_tables(workspace, register, [table.table])
    if not wrong and counting_approval(workspace, register, table) is None:
        remedy = f"have it approved by somebody of the list before it: packets approve {table.table}"
        message = "the list of responsible people is not approved"
        wrong = [workspace.placed(table.table, unplaced("revision", table.revision, message, remedy))]
    return Listed((before if wrong else None) or _people(table, file), tuple(wrong))


def people_of(workspace: Workspace) -> People | None:
    """Return the list that counts by the register as it is now; None where the plant has none."""
    return listed_people(workspace, load_register(workspace.root / INSTRUCTIONS)).people


def people_lines(workspace: Workspace, register: Register) -> Iterator[str]:
    """Yield what ``check`` prints of who may author, approve and withdraw."""
    listed = listed_people(workspace, register)
    if listed.people is None:
        yield "plant: it has no list of responsible people, so that any two names may release, approve and withdraw"
    for problem in listed.problems:
        yield f"plant: nothing can be released yet: {problem.message}"


def _approved_before(workspace: Workspace, register: Register) -> People | None:
    """Return the list that was approved last in the register."""
    plant = workspace.approved.plant.name
    here = workspace.approved.responsible
    names = [here.table] if here else sorted(names_approved(register, plant) - workspace.contents.keys())
    for name in names:
        digest = last_approved(register, plant, name)
        content = read_content(workspace.root / INSTRUCTIONS, digest) if digest else None
        if content is not None and content.get("kind") == _KIND:
            return _people(ResponsiblePeople.model_validate(content), f"{TABLES}, as approved last")
    return None


def _people(table: ResponsiblePeople, file: str) -> People:
    persons = (
        Person(each.name, frozenset(each.may), each.valid_from, each.valid_until, each.key or "")
        for each in table.entries
    )
    return People(tuple(persons), file)
