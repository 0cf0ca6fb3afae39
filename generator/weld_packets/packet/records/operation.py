"""One operation of an order, as its setter reads it."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.forms import RequiredResult, SupplyCounter
from weld_packets.packet.records.qualification import Qualification
from weld_packets.packet.records.settings import (
    Check,
    ComponentLine,
    ComponentOutline,
    OperationWarning,
    Picture,
    SettingGroup,
    WeldDetail,
    WeldGeometry,
    WeldLimit,
    WeldLine,
)
from weld_packets.packet.records.steps import Action, TaskStage
from weld_packets.packet.records.values import Fact, Value
from weld_packets.units import Plain, range_text


class ProcedureLine(Plain):
    """What is stated of an item; ``of`` names the welds where not all are equal."""

    text: str
    of: str = ""


class ProcedureItemLine(Plain):
    """One item: clause, label, what is stated; no lines where order and tables say nothing."""

    clause: str
    label: str
    lines: tuple[ProcedureLine, ...]


class TestPiece(Plain):
    """What would have to be welded and tested to qualify welds that no record covers."""

    welds: tuple[str, ...]
    title: str
    weld: tuple[str, ...]
    tests: str


class ProcedureSheet(Plain):
    """A procedure specification by the list of a standard.

    It is preliminary while a weld of the operation is not inside a record; ``test_pieces`` would qualify those welds.
    """

    standard: str
    source: str
    preliminary: bool
    items: tuple[ProcedureItemLine, ...]
    pictures: tuple[Picture, ...] = ()
    test_pieces: tuple[TestPiece, ...] = ()


class Holder(Plain):
    """Somebody by number, with duties and dates; ``confirmed`` is empty where no confirmation is stated."""

    number: str
    duties: tuple[str, ...]
    tested: str
    valid_until: str
    confirmed: str = ""
    document: str = ""
    welded: str = ""
    """What the test was welded with: one pass or several, with a sensor or without."""


class People(Plain):
    """What an operation needs of its setter and operator, and who holds it.

    ``kept`` is no where the plant keeps no table of them; then there are no holders.
    """

    needs: str
    kept: bool
    holders: tuple[Holder, ...] = ()
    source: str = ""

    @property
    def setters(self) -> tuple[Holder, ...]:
        """Return who may set up, whatever the day."""
        return tuple(each for each in self.holders if "setter" in each.duties)

    def valid_on(self, day: str, duty: str) -> tuple[Holder, ...]:
        """Return who may do a duty on a day, as year-month-day."""
        return tuple(each for each in self.holders if duty in each.duties and each.valid_until >= day)


class SizeLine(Plain):
    """One size that an operation leaves: its nominal, the deviation of its class, and what it may measure.

    ``minimum`` is empty for a form; both are in ``unit`` as decimal text. ``tolerance`` is empty, and ``source`` says
    why, where no class is named or the standard gives none.
    """

    key: str
    name: str
    nominal: str
    tolerance: str
    minimum: str = ""
    maximum: str = ""
    unit: str = ""
    source: str = ""

    @property
    def limits(self) -> str:
        """What may be measured, in a line; empty where there is no tolerance."""
        return range_text(self.minimum, self.maximum, self.unit)


class SettersCard(Plain):
    """What a setter looks at before and while the values are set.

    ``clamps`` are in the order in which they close. ``fitted`` names wire and gas, or caps, with what each is; the
    note says at which robot, where the two differ. ``worn`` is what must be worn at the cell, ``shade`` the filter
    shade where an arc burns.
    """

    clamps: tuple[str, ...] = ()
    fitted: tuple[Fact, ...] = ()
    worn: tuple[str, ...] = ()
    shade: str = ""


class InterlockLine(Plain):
    """One signal between two robots: ``first`` releases, ``second`` requests before it goes on.

    ``wait`` is for how long the second one waits in a cycle as planned; empty where it comes later anyway.
    """

    number: int
    first: str
    release_after: str
    second: str
    request_before: str
    proof: str
    wait: str = ""


class PairSheet(Plain):
    """How the two robots of an operation keep clear of each other; ``pictures`` are for the calculation page.

    Where the tables say too little, only ``distance`` and ``limits`` are there: that it was not checked, and why.
    """

    is_checked: bool
    distance: str
    waits: tuple[str, ...] = ()
    interlocks: tuple[InterlockLine, ...] = ()
    limits: str = ""
    pictures: tuple[Picture, ...] = ()


class Program(Plain):
    """The program number of one robot; ``code`` is what the scannable code holds."""

    robot: str
    side: Literal["A", "B"]
    number: str
    code: str


class CouponProgram(Plain):
    """A program that welds test coupons: the weld schedule that it calls, and for which welds it proves that.

    ``weld_schedule`` is empty where the welds have no number and are all set the same.
    """

    robot: str
    weld_schedule: str
    program: str
    welds: str


NOT_STATED = "not stated"


class MachineLine(Plain):
    """One property of what both robots weld with; ``values`` in the order of the robots, "not stated" where to ask.

    ``source`` is where the values are from, empty where they are the table's own.
    """

    name: str
    values: tuple[str, str]
    source: str = ""

    @property
    def unstated(self) -> bool:
        """Whether no table states it for one of the robots."""
        return NOT_STATED in self.values


class FaultLine(Plain):
    """A fault sign, what to try in order inside the allowed ranges, and when to stop and call.

    ``limits`` are those of the operation's own quality level and thickness outside which the work stops.
    """

    sign: str
    remedies: tuple[str, ...]
    stop_when: str
    source: str
    limits: tuple[str, ...] = ()


class OperationSheet(Plain):
    """Everything about one operation, in the order in which the setter needs it."""

    key: str
    number: int
    name: str
    cell: str
    cell_name: str
    robots: tuple[str, str]
    process: str
    process_name: str
    fixture: str
    datum: str
    components: tuple[ComponentLine, ...]
    confirm: tuple[Action, ...]
    programs: tuple[Program, ...]
    groups: tuple[SettingGroup, ...]
    pictures: tuple[Picture, ...] = ()
    weld_columns: tuple[str, ...]
    welds: tuple[WeldLine, ...]
    geometry: tuple[WeldGeometry, ...]
    set_up: tuple[Action, ...]
    prove: tuple[Action, ...]
    faults: tuple[FaultLine, ...]
    checks: tuple[Check, ...]
    callouts: tuple[str, ...]
    times: tuple[Value, ...]
    notes: tuple[str, ...]
    outlines: tuple[ComponentOutline, ...] = ()
    coupon_programs: tuple[CouponProgram, ...] = ()
    warnings: tuple[OperationWarning, ...] = ()
    limits: tuple[WeldLimit, ...] = ()
    machines: tuple[MachineLine, ...] = ()
    details: tuple[WeldDetail, ...] = ()
    pair: PairSheet | None = None
    results: tuple[RequiredResult, ...] = ()
    set_up_stages: tuple[TaskStage, ...] = ()
    """The tasks of what is confirmed and of the set-up, as somebody ticks them who has done them often."""
    prove_stages: tuple[TaskStage, ...] = ()
    card: SettersCard = SettersCard()
    counters: tuple[SupplyCounter, ...] = ()
    qualification: Qualification | None = None
    """None in records that were made before it was recorded."""
    procedure: ProcedureSheet | None = None
    """None likewise, and for a process of which no list of a standard is known."""
    sizes: tuple[SizeLine, ...] = ()
    due_soon: tuple[str, ...] = ()
    """What falls due so few parts after the start that it is better done at set-up."""
    people: People | None = None
    """None in records that were made before it was recorded."""

    @property
    def unstated(self) -> tuple[str, ...]:
        """What of machines and welds no table states, each once: to be asked before anybody welds."""
        machines = (line.name for line in self.machines if line.unstated)
        return tuple(dict.fromkeys((*machines, *(each.label for each in self.details if not each.stated))))
