"""What every reader of a packet sees, as plain data: all numbers are text already, nothing is computed later.

A packet is complete: the site renders these records and nothing else, and a released record holds exactly this.
Every text is the user's own and unescaped; the site escapes.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict


class Plain(BaseModel):
    """A frozen record of text, numbers of things, and further records."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Amount(Plain):
    """A number as printed, with its unit, first in the order's system and then in the other one.

    ``second`` and ``second_unit`` are empty where the two systems agree.
    """

    value: str
    unit: str
    second: str = ""
    second_unit: str = ""


class Span(Plain):
    """An allowed window; an open end is an empty text. In the unit of the amount that it belongs to."""

    low: str = ""
    high: str = ""
    second_low: str = ""
    second_high: str = ""
    origin: str = ""


class Remark(Plain):
    """A note or a warning with its authority."""

    weight: Literal["note", "warning"]
    text: str
    source: str = ""


class TracePoint(Plain):
    """One step of how a figure came about.

    ``given``: ``label`` is what, ``origin`` where it stands. ``lookup``: table, revision, source, column, rows, values,
    fraction. ``formula``: ``expression`` over symbols, ``numbers`` (symbol, name, amount) put in, ``clause``,
    ``validity``, ``standing``. ``rounded``: ``label`` is the machine, ``origin`` the step.
    """

    form: Literal["given", "lookup", "formula", "rounded"]
    label: str
    result: Amount
    symbol: str = ""
    origin: str = ""
    table: str = ""
    revision: str = ""
    source: str = ""
    column: str = ""
    at: str = ""
    rows: tuple[str, ...] = ()
    values: tuple[str, ...] = ()
    fraction: str = ""
    expression: str = ""
    numbers: tuple[PutIn, ...] = ()
    clause: str = ""
    validity: str = ""
    standing: str = ""


class PutIn(Plain):
    """One number put into a formula, in the unit that the printed form takes."""

    symbol: str
    name: str
    amount: Amount


class Value(Plain):
    """One figure: what is set or what follows, its window, step and whole trace.

    ``anchor`` is its place on the row's calculation page. ``amount`` is None where ``outside`` says why there is none.
    """

    key: str
    label: str
    symbol: str
    anchor: str
    amount: Amount | None
    outside: str = ""
    window: Span | None = None
    step: Amount | None = None
    remarks: tuple[Remark, ...] = ()
    trace: tuple[TracePoint, ...] = ()


class Check(Plain):
    """One check of the row with its outcome; ``outcome`` "not checked" says why in ``text``."""

    subject: str
    text: str
    outcome: Literal["passed", "not checked"]
    source: str


class SettingGroup(Plain):
    """Welds that are set alike on one or both arms."""

    key: str
    title: str
    arms: tuple[str, ...]
    welds: tuple[str, ...]
    runs: int
    dialled: tuple[Value, ...]
    derived: tuple[Value, ...]
    checks: tuple[Check, ...]


class Callout(Plain):
    """One safety message. ``signs`` are ISO 7010 codes; ``why`` says what in this order made it appear."""

    key: str
    word: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    signs: tuple[str, ...]
    hazard: str
    consequence: str
    avoid: str
    why: str
    source: str
    stages: tuple[str, ...]


class Action(Plain):
    """One step: one action, what to see when it is right, and messages that come before it.

    ``value`` is a setting or fact that the step uses, in large type; ``callouts`` are keys of ``Packet.callouts``.
    """

    do: str
    see: str = ""
    value: str = ""
    callouts: tuple[str, ...] = ()
    hold: bool = False
    """True where work stops until somebody signs or agrees."""


class Fact(Plain):
    """A name and what it is, to confirm or to look up."""

    name: str
    value: str
    note: str = ""


class Program(Plain):
    """The program number of one arm; ``code`` is what the scannable code holds."""

    arm: str
    slot: Literal["A", "B"]
    number: str
    code: str


class Picture(Plain):
    """One diagram as SVG that may stand inline; ``description`` says in words what it shows."""

    key: str
    title: str
    description: str
    caption: str
    svg: str


class WeldLine(Plain):
    """One weld in the table under the diagram: cells in the order of ``RowSheet.weld_columns``."""

    key: str
    cells: tuple[str, ...]


class FaultLine(Plain):
    """A fault sign, what to try in order inside the window, and when to stop and call."""

    sign: str
    remedies: tuple[str, ...]
    stop_when: str
    source: str


class WeldGeometry(Plain):
    """Where one weld is, as decimal text in mm in the fixture datum, for comparing revisions and drawing ghosts.

    ``pieces``: for a spot one point; for a seam the start, then for each piece its end, or via and end.
    """

    key: str
    arm: str
    slot: Literal["A", "B"]
    form: Literal["spot", "seam"]
    pieces: tuple[tuple[str, ...], ...]
    label: str


class PartOutline(Plain):
    """One closed outline of a part as X, Y, Z in mm (decimal text, fixture datum), for drawing comparisons over it."""

    part: str
    points: tuple[tuple[str, str, str], ...]


class PartLine(Plain):
    """One part that goes into the fixture."""

    key: str
    name: str
    material: str
    coating: str
    thickness: Amount


class RowSheet(Plain):
    """Everything about one row, in the order in which the setter needs it."""

    key: str
    number: int
    name: str
    cell: str
    cell_name: str
    arms: tuple[str, str]
    process: str
    process_name: str
    fixture: str
    datum: str
    parts: tuple[PartLine, ...]
    confirm: tuple[Action, ...]
    programs: tuple[Program, ...]
    groups: tuple[SettingGroup, ...]
    pictures: tuple[Picture, ...]
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
    outlines: tuple[PartOutline, ...] = ()


class ChangeLine(Plain):
    """One line of the changeover sheet for a cell: what was, what will be; ``stays`` where they agree."""

    cell: str
    what: str
    before: str
    after: str
    stays: bool
    do: str = ""


class Changeover(Plain):
    """What to change from the previous order, and what stays."""

    previous_order: str
    previous_title: str
    lines: tuple[ChangeLine, ...]
    steps: tuple[Action, ...]


class RunEvent(Plain):
    """Something that falls due during the run, at a part number."""

    part_number: int
    row: str
    row_name: str
    cell: str
    arm: str
    what: str
    basis: str


class RunPlan(Plain):
    """Times and consumables of the whole quantity."""

    values: tuple[Value, ...]
    bottleneck: str
    model: str
    events: tuple[RunEvent, ...]
    events_note: str = ""


class InspectionLine(Plain):
    """One check of the inspection plan for one row."""

    row: str
    row_name: str
    stage: str
    what: str
    how: str
    accept: str
    every: str
    source: str


class TableUse(Plain):
    """One table that the packet drew on: its identity and the rows that were read."""

    table: str
    title: str
    revision: str
    source: str
    approved_by: str
    approved_on: str
    rows: tuple[str, ...]
    notes: tuple[str, ...]


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


class Packet(Plain):
    """One order's whole packet."""

    format: Literal["weld-packet-1"] = "weld-packet-1"
    head: OrderHead
    rows: tuple[RowSheet, ...]
    changeover: Changeover | None
    callouts: tuple[Callout, ...]
    cautions: tuple[str, ...]
    start: tuple[Action, ...]
    run: RunPlan
    run_steps: tuple[Action, ...]
    inspections: tuple[InspectionLine, ...]
    tables: tuple[TableUse, ...]
    formulas: tuple[Fact, ...]


class Control(Plain):
    """What document control says of a packet; the same packet may be a draft today and in force tomorrow."""

    revision: str
    status: Literal["draft", "in force", "superseded", "withdrawn", "not yet in force"]
    superseded_by: str = ""
    effective_from: str = ""
    author: str = ""
    approver: str = ""
    reason: str = ""
    released_on: str = ""
    digest: str


TracePoint.model_rebuild()
