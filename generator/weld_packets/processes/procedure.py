"""What a welding procedure specification lists, item by item, and where an operation says it."""

from __future__ import annotations

from typing import Literal, NamedTuple

from weld_packets.calculation.qualification.rules import Proof
from weld_packets.model.tables.qualification import Mechanisation, Variable

AUTOMATIC: Mechanisation = "automatic"
"""A robot that runs its program, with nobody who corrects it during the weld."""
Fact = Literal[
    "manufacturer",
    "procedure",
    "records",
    "materials",
    "dimensions",
    "process",
    "joint",
    "passes",
    "position",
    "jigging",
    "machines",
    "consumables",
    "wires",
    "gas",
    "stack",
    "tests",
    "part",
    "sequence",
    "wear",
    "failure types",
    "strength",
]
"""What the order and its tables say besides settings and details."""


class ProcedureItem(NamedTuple):
    """One item of the list of a standard.

    ``clause`` is its clause, empty where that was not read. It is stated by the ``facts``, by the details of the welds
    of these keys, by the figures of these keys with their allowed ranges, and by ``variables`` of the qualification.
    """

    clause: str
    label: str
    facts: tuple[Fact, ...] = ()
    details: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    variables: tuple[Variable, ...] = ()


class Procedure(NamedTuple):
    """The list of a standard, with how far it is known; by which tests and to which standard a record is made."""

    standard: str
    source: str
    items: tuple[ProcedureItem, ...]
    tests: str
    proof: Proof


NO_PROCEDURE = Procedure("", "", (), "", Proof("", ""))
