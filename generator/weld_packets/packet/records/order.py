"""One order's whole packet: operations, changeover, run and document control."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.settings import OperationWarning
from weld_packets.packet.records.steps import Action, Callout, Procedure, TaskStage
from weld_packets.packet.records.values import Fact, TableUse, Value
from weld_packets.units import Amount, Plain
from weld_packets.wording.changeover import CHANGEOVER_LABELS
from weld_packets.wording.english import counted
from weld_packets.wording.phrases import YOUR_SUPERVISOR


class RunEvent(Plain):
    """Something that falls due during the run, after so many parts or while the last of them is welded.

    After 0 parts is before the first one. ``supply`` is the consumable that it is for, ``places`` the robots or the
    cell; ``dressing`` where it does not renew it. Records from before these were kept hold none of the three.
    """

    part_number: int
    operation: str
    operation_name: str
    cell: str
    robot: str
    what: str
    basis: str
    when: Literal["after", "during"] = "after"
    supply: str = ""
    places: tuple[str, ...] = ()
    dressing: bool = False


class RunRule(Plain):
    """What recurs every so many parts on one or both robots of a cell, such as dressing, in a sentence.

    ``what`` is done ``every`` so many parts, after each part number of ``turns``. ``supply`` is the consumable.
    """

    operation: str
    operation_name: str
    cell: str
    robots: tuple[str, ...]
    text: str
    basis: str
    what: str = ""
    every: int = 0
    turns: tuple[int, ...] = ()
    supply: str = ""


class FittedAtEnd(Plain):
    """A consumable as the order leaves it: at a robot, or in a cell, also where only earlier orders used it.

    ``item`` is its identifier in its table. ``used`` is the exact share of one spool, cylinder, contact tip, or of the
    welds between two dressings, as a fraction; ``share`` is the same for a reader. ``order`` used it last; its
    ``revision`` is empty where that is this packet itself, or was computed from sources. ``wear`` is the exact share
    that one part of ``order`` takes; ``counted`` says what was counted of it at the cell, if anything. ``begun`` and
    ``dressings_begun`` are the state before the prove-out of ``order``, ``turns`` how often it is dressed before it is
    changed, and ``lesser_noun`` what that is called; ``proof`` is the share that the prove-out of ``order`` takes.
    A change of what is ``renewed_with`` at the same place brings a new one. ``begun``, ``lesser_noun``, ``proof`` and
    ``renewed_with`` are empty in records from before they were kept.
    """

    place: str
    what: str
    item: str
    used: str
    share: str
    dressings: int
    order: str
    revision: str = ""
    wear: str = "0"
    counted: str = ""
    begun: str = ""
    dressings_begun: int = 0
    turns: int = 0
    lesser_noun: str = ""
    proof: str = ""
    renewed_with: str = ""

    @property
    def turns_done(self) -> str:
        """How often it was dressed or ground since it was new, such as ``27 dressings``; empty for not at all."""
        return counted(self.dressings, self.lesser_noun or "dressing") if self.dressings else ""


class ConsumableLine(Plain):
    """What the run takes of one consumable on each of some robots; ``robots`` is empty where a whole cell shares it.

    ``due`` says what falls due how often, and first at which part. ``anchor`` is the place of its first figure.
    ``in_prove_out`` is what of ``over_run`` the prove-out takes, without what ``not_counted`` names; None in records
    that count no prove-out. ``start`` says how far one is used before it, and on what that rests.
    """

    operation: str
    operation_name: str
    cell: str
    robots: tuple[str, ...]
    what: str
    per_part: Amount
    over_run: Amount
    due: tuple[str, ...]
    anchor: str
    start: str = ""
    in_prove_out: Amount | None = None
    not_counted: tuple[str, ...] = ()

    @property
    def starts_at(self) -> str:
        """Before what its start is."""
        return "Before the first part" if self.in_prove_out is None else "Before the prove-out"


class RunPlan(Plain):
    """Times and consumables of the whole quantity; ``time_per_part`` is that of the slowest operation.

    ``rules`` say in short what recurs, ``events`` what else falls due, ``first_due`` which of all that is first.
    ``fitted_at_end`` is what the next order starts from.
    """

    values: tuple[Value, ...]
    bottleneck: str
    model: str
    events: tuple[RunEvent, ...]
    events_note: str = ""
    time_per_part: Value | None = None
    consumables: tuple[ConsumableLine, ...] = ()
    rules: tuple[RunRule, ...] = ()
    first_due: str = ""
    fitted_at_end: tuple[FittedAtEnd, ...] = ()
    warnings: tuple[OperationWarning, ...] = ()

    @property
    def common_start(self) -> str:
        """Before what and from what all consumables start; empty where they differ, and of one alone."""
        starts = {(line.starts_at, line.start) for line in self.consumables}
        if not self.consumables[1:] or len(starts) > 1:
            return ""
        (at, start), *_ = starts
        return f"{at}, each: {start}" if start else ""

    @property
    def not_counted(self) -> tuple[str, ...]:
        """What of the prove-out is not counted of any consumable, each once."""
        return tuple(dict.fromkeys(words for line in self.consumables for words in line.not_counted))


class ChangeLine(Plain):
    """One line of the changeover sheet for a cell: what was, what will be; ``stays`` where they agree."""

    cell: str
    what: str
    before: str
    after: str
    stays: bool
    do: str = ""

    @property
    def is_whole_cell(self) -> bool:
        """Whether the cell falls out of use, or is used for the first time: nothing else of it is then compared."""
        return self.what == CHANGEOVER_LABELS["cell"]


class Changeover(Plain):
    """What to change from the previous order, and what stays; ``basis`` is what of that order was compared."""

    previous_order: str
    previous_title: str
    lines: tuple[ChangeLine, ...]
    steps: tuple[Action, ...]
    basis: str = ""
    stages: tuple[TaskStage, ...] = ()

    def was_used(self, cell: str) -> bool:
        """Return whether the previous order used a cell: then what changes there is changed over."""
        return any(line.cell == cell and not line.is_whole_cell for line in self.lines)


class Control(Plain):
    """What document control says of a packet; the same packet may be a draft today and in force tomorrow.

    ``digest`` is that of the record; of a draft, which has none, that of the packet. ``packet_digest`` is what was
    approved, ``code`` the program that made the record; both are empty for a draft.
    """

    revision: str
    status: Literal["draft", "proposed", "in force", "superseded", "withdrawn", "not yet in force"]
    superseded_by: str = ""
    effective_from: str = ""
    author: str = ""
    approver: str = ""
    reason: str = ""
    released_on: str = ""
    digest: str
    packet_digest: str = ""
    code: str = ""


class CellStart(Plain):
    """The steps that start the run of one operation, by the key of its operation."""

    operation: str
    steps: tuple[Action, ...]
    stages: tuple[TaskStage, ...] = ()


class InspectionLine(Plain):
    """One check of the inspection plan for one operation; ``limits`` are those that the operation's welds are held to.

    ``sample`` is how many parts of the order it looks at, and after which; empty where the plant counts none.
    """

    operation: str
    operation_name: str
    stage: str
    what: str
    how: str
    accept: str
    every: str
    source: str
    limits: tuple[str, ...] = ()
    sample: str = ""


class OrderHead(Plain):
    """What identifies the order on every page."""

    slug: str
    number: str
    title: str
    part_number: str
    part_name: str
    quantity: int
    due: str
    revision_intent: str
    previous_order: str
    plant: str
    show_first: str
    supervisor: str = ""
    """Whom to call when work stops, and how; empty in records that were made before plants named one."""
    shift_hours: str = ""
    """How long a shift of the plant lasts, in hours as decimal text; empty where the plant does not say."""
    time_zone: str = ""
    """The plant's time zone by its IANA name, in which times at the cell are noted; empty where the plant names none:
    a device then notes them by its own clock. Every time carries its offset."""
    copy_days: str = ""
    """How many days pages may say after their building that a revision is in force; empty where none is stated."""
    risk_assessment: str = ""
    """Number, day and holder of the plant's risk assessment, in words; empty where the plant does not name it."""

    @property
    def call(self) -> str:
        """Whom a page says to call, also where the record names nobody."""
        return self.supervisor or YOUR_SUPERVISOR


class Packet(Plain):
    """One order's whole packet.

    ``starts`` are the lists that start each cell; records that were made before they were written cell by cell hold one
    for all in ``start``. ``procedures`` are called for now and then during a run, ``stop_if`` are conditions on which
    the cell is stopped and the supervisor called, ``emergency_if`` those on which the emergency stop is pressed;
    records from before the two were separate have all of them in the former.
    """

    head: OrderHead
    operations: tuple[OperationSheet, ...]
    changeover: Changeover | None
    callouts: tuple[Callout, ...]
    cautions: tuple[str, ...]
    start: tuple[Action, ...]
    run: RunPlan
    run_steps: tuple[Action, ...]
    inspections: tuple[InspectionLine, ...]
    tables: tuple[TableUse, ...]
    formulas: tuple[Fact, ...]
    starts: tuple[CellStart, ...] = ()
    procedures: tuple[Procedure, ...] = ()
    stop_if: tuple[str, ...] = ()
    emergency_if: tuple[str, ...] = ()

    def replaces_set_up(self, operation: int) -> bool:
        """Return whether the changeover takes the place of an operation's set-up: the first in a cell used before."""
        cell = next((each.cell for each in self.operations if each.number == operation), "")
        first = next((each.number for each in self.operations if each.cell == cell), 0)
        return self.changeover is not None and operation == first and self.changeover.was_used(cell)

    @property
    def part_counters(self) -> dict[str, str]:
        """Return the part counter of each operation, by its key: that of its cell, which is set to 0 at every start.

        Where several operations follow each other in a cell, their numbers keep their counts apart.
        """
        cells = [each.cell for each in self.operations]
        return {
            each.key: each.cell if cells.count(each.cell) == 1 else f"{each.cell}, operation {each.number}"
            for each in self.operations
        }

    @property
    def cited(self) -> tuple[TableUse, ...]:
        """Every table that the packet rests on, also those behind the qualification of its operations, each once."""
        behind = (
            use for operation in self.operations if operation.qualification for use in operation.qualification.tables
        )
        return tuple(dict.fromkeys((*self.tables, *behind)))
