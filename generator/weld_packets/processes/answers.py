"""What a family of processes answers with: its welds, its words, what is fitted, measured and judged, its procedure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, NamedTuple

from weld_packets.calculation.imperfections import Measures
from weld_packets.calculation.places.path import end_mm, start_mm
from weld_packets.calculation.qualification.rules import Proof
from weld_packets.calculation.qualification.values import Case, Terms
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Remark
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Path
from weld_packets.model.tables.qualification import Mechanisation, Variable
from weld_packets.model.trade import Joint
from weld_packets.units import Quantity, in_mm


@dataclass(frozen=True)
class Weld:
    """One weld of an operation, whatever made it.

    Attributes:
        id: its identifier.
        robot: the robot that makes it.
        components: what it joins.
        path: where a weld along a line runs; None for one at a point.
        point: where a weld at a point is: x, y and z in the fixture datum; None for one along a line.
        joint: the joint of a weld along a line; None at a point.
        position: its ISO 6947 position; empty at a point.
        sizes: the sizes that the order requires, each with its letter.
        overlap: how far a weld along a closed line runs on over its start, if the order says it.
        leg: the leg of the fillet whose throat is required, by which it is drawn in US customary units; None of others.
        group: what a weld at a point belongs to, such as its stack; empty along a line.
        numbered_at: the key path within the operation of its weld schedule number.

    """

    id: str
    robot: str
    components: tuple[str, ...]
    path: Path | None = None
    point: tuple[Quantity, Quantity, Quantity] | None = None
    joint: Joint | None = None
    position: str = ""
    sizes: tuple[tuple[str, Quantity], ...] = ()
    overlap: Quantity | None = None
    leg: Quantity | None = None
    group: str = ""
    numbered_at: str = ""

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where it starts and stops, in mm; a weld at a point does both there."""
        if self.path is not None:
            return start_mm(self.path), end_mm(self.path)
        if self.point is None:
            raise ValueError(self.id)
        x, y, z = (in_mm(each) for each in self.point)
        return (x, y, z), (x, y, z)


@dataclass(frozen=True)
class FamilyWords:
    """Words of a family inside steps and tables that all families share.

    Attributes:
        weld: a weld in the singular, such as seam.
        group: what welds at points belong to, as the head of a column; empty for welds along lines.
        stops: the places of the welds that a dry run stops at.
        tool_point: what meets the pointer when the tool centre point is checked.
        closing: what moves besides the robot in a dry run, with where hands must not be; empty for nothing.
        runaway: what is seen of a weld that must be stopped at once, after ``Stop if``.
        tools: what hands go to, ``worn`` what is changed there, ``handed_over`` what is written down of it at the end.
        again: what to do with a coupon below its limit; empty where nothing is dressed.
        frees: how a robot is freed before it moves, and ``sticks`` what is done first where it cannot be; or nothing.
        on_fixture: what the family connects to a fixture besides air and plugs: off before it goes, on when one comes.
        opened: what is opened before anything welds; empty for nothing.
        shut_at: what of it is shut where when it leaks or fails; empty for nothing.

    """

    weld: str
    stops: str
    tool_point: str
    runaway: str
    tools: tuple[str, ...]
    worn: tuple[str, ...]
    handed_over: tuple[str, ...]
    group: str = ""
    closing: str = ""
    again: str = ""
    frees: str = ""
    sticks: str = ""
    on_fixture: tuple[str, ...] = ()
    opened: str = ""
    shut_at: str = ""


class Fitted(NamedTuple):
    """Something that is fitted: the word of the consumable, the robot or cell, its identifier in a ``kind`` of table.

    ``kind`` is empty for what is part of a machine.
    """

    word: str
    place: str
    item: str
    kind: str = ""


@dataclass(frozen=True)
class FittedFact:
    """Something fitted in a cell that a changeover compares: ``text``, with its ``size`` behind it, if any.

    ``robot`` is empty for what the whole cell shares.
    """

    label: str
    robot: str
    text: str
    size: Quantity | None = None


@dataclass(frozen=True)
class MeasuredSize:
    """A size of a weld that is measured on a coupon or on the first part.

    Attributes:
        what: what is measured.
        figure: the figure that is its minimum.
        stages: when it is measured.
        excess: the imperfection whose limit says how far it may be above that; empty where nothing limits it.
        in_plan: the minimum that a check of the stage must name for it to be measured then; None where it always is.

    """

    what: str
    figure: str
    stages: tuple[Literal["coupon", "first-off"], ...]
    excess: str = ""
    in_plan: Literal["set-up", "production"] | None = None


class MachineFact(NamedTuple):
    """Something that a setter must know of both machines: of each what is stated, empty for nothing, and by whom."""

    name: str
    values: tuple[str, str]
    source: str = ""


@dataclass(frozen=True)
class RowContradicted:
    """A row of a table whose values cannot be together by another table, and what is said of it."""

    table: str
    row: str
    remark: Remark


@dataclass(frozen=True)
class FailureType:
    """How a weld of a coupon may fail in a destructive test, whether that is accepted, and who names it so."""

    text: str
    accepted: bool
    source: str


@dataclass(frozen=True)
class Judged:
    """Welds that are set the same, their joint, and what the limits of their imperfections are shares of."""

    settings: WeldSettings
    joint: Joint
    measures: Measures


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
    ``of_welds`` are words of variables that a weld must have for the item to apply; without any it applies to all.
    """

    clause: str
    label: str
    facts: tuple[Fact, ...] = ()
    details: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    variables: tuple[Variable, ...] = ()
    of_welds: Mapping[Variable, tuple[str, ...]] = MappingProxyType({})

    def applies_to(self, case: Case) -> bool:
        """Return whether the item applies to some welds, or may: one of its variables is not known of them."""
        had = ((case.has.get(variable), words) for variable, words in self.of_welds.items())
        return all(not isinstance(value, Terms) or not set(value.terms).isdisjoint(words) for value, words in had)


class Procedure(NamedTuple):
    """The list of a standard, with how far it is known; by which tests and to which standard a record is made."""

    standard: str
    source: str
    items: tuple[ProcedureItem, ...]
    tests: str
    proof: Proof


NO_PROCEDURE = Procedure("", "", (), "", Proof("", ""))
