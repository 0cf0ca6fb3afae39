"""The form of a set-up (values, numbers, results, steps) and that of a run, as they are to be filled in."""

from __future__ import annotations

from typing import Literal

from weld_packets.packet.records.steps import Entered
from weld_packets.units import Plain, range_text

Stage = Literal["coupon", "first-off"]
StepList = Literal["set-up", "prove-out"]
NumberWhat = Literal["program", "weld schedule", "coupon program"]
Acceptance = Literal["coupons", "first-off"]
ACCEPT, COUPON_TEST, FIRST_OFF = "accept", "coupon-test", "first-off"
"""Key of the step, and of the task, with which somebody accepts, and the two parts of a prove-out that have one."""


class OtherUnit(Plain):
    """A unit that a value may be read in by mistake; a number of it times ``factor`` is one of the value's unit."""

    unit: str
    factor: str


class RequiredValue(Plain):
    """A setting that a machine must show, or a reading that must follow; all numbers are decimal text.

    ``key`` is the key of its group and its own. ``low`` and ``high`` are the allowed range, an open end empty.
    ``exact`` where no range is stated, so that only the setting itself is right and both ends are the setting.
    ``decimals`` is how many the page prints. ``others`` are units in which a slip is likely.
    """

    key: str
    label: str
    group: str
    weld_schedule: str
    robots: tuple[str, ...]
    kind: Literal["setting", "reading"]
    unit: str
    setting: str
    low: str
    high: str
    exact: bool
    step: str
    decimals: int
    others: tuple[OtherUnit, ...]


class ValueLimit(Plain):
    """How far one value may go beside another on the same robot, as ``LinkedLimit`` says; both by their keys."""

    value: str
    other: str
    power: Literal[1, -2]
    minimum: str
    maximum: str


class RequiredNumber(Plain):
    """A number that a robot or its welding control must show; ``of`` says for what, where a robot has several."""

    robot: str
    what: NumberWhat
    number: str
    of: str = ""


class ResultChoice(Plain):
    """One of the answers to a result that is chosen, and whether it is accepted."""

    text: str
    accepted: bool


class RequiredResult(Plain):
    """What a coupon or the first part must show.

    With a ``unit`` it is measured, and ``minimum`` and ``maximum`` are decimal text, an open end empty. Without one it
    is judged by eye and is accepted or not; where there is a ``found_unit`` the largest size that was found may be
    entered instead and is judged by ``found_maximum``. Where there are ``choices`` one of them is the result. ``robot``
    is empty where it is for the whole part; ``accept`` says the limit in words.
    """

    key: str
    stage: Stage
    what: str
    robot: str = ""
    welds: str = ""
    unit: str = ""
    minimum: str = ""
    maximum: str = ""
    accept: str = ""
    source: str = ""
    found_unit: str = ""
    found_maximum: str = ""
    choices: tuple[ResultChoice, ...] = ()

    @property
    def limits(self) -> str:
        """What may be measured, in a line; empty for what is judged by eye."""
        return range_text(self.minimum, self.maximum, self.unit)


class SetUpTask(Plain):
    """One task of a list, as it is ticked: ``digest`` is that of its words and of all steps behind it.

    ``hold`` is whether work waits at it until somebody signs, ``enter`` what must be entered before it is done,
    ``accepts`` what is accepted with it, if anything.
    """

    list: StepList
    key: str
    digest: str
    hold: bool
    accepts: Acceptance | Literal[""] = ""
    enter: Entered = ""


class ChangeoverTask(Plain):
    """One task of the changeover of a cell, which takes the place of its set-up.

    ``digest`` is that of its words and of all steps behind it, ``locked`` whether it is done in the locked-out cell,
    where something is fitted.
    """

    key: str
    digest: str
    locked: bool


class SupplyCounter(Plain):
    """What can be counted of a consumable at its place before the first part; it then counts in place of the plan.

    ``supply`` is the consumable. ``counts`` says what the number is: what is ``left`` of one or ``used`` of it, the
    welds since the last dressing (``worn``), or how often it was dressed since it was new (``turns``). One holds
    ``whole``, in the same unit; of turns that is how many there are, of welds the fewest to a dressing on the sheets
    of the operation.
    """

    key: str
    what: str
    place: str
    supply: str
    unit: str
    counts: Literal["left", "used", "worn", "turns"]
    whole: str


class SetUpForm(Plain):
    """All that the set-up of one operation records."""

    values: tuple[RequiredValue, ...]
    numbers: tuple[RequiredNumber, ...]
    results: tuple[RequiredResult, ...]
    steps: tuple[SetUpTask, ...]
    counters: tuple[SupplyCounter, ...] = ()
    limits: tuple[ValueLimit, ...] = ()


class StartTask(Plain):
    """One task of a list that starts a cell, as it is ticked."""

    key: str
    digest: str


class StartList(Plain):
    """The list that starts a cell; ``list`` is its name on the page."""

    list: str
    operation: int
    cell: str
    ticks: tuple[StartTask, ...]


class DueEvent(Plain):
    """What falls due once in a cell, ``at`` its part count: after that part, or while it is welded."""

    key: str
    cell: str
    at: int
    when: Literal["after", "during"]
    what: str


class DueRule(Plain):
    """What falls due in a cell ``every`` so many parts, after each part number of ``turns``."""

    key: str
    cell: str
    what: str
    every: int
    turns: tuple[int, ...]


class RunForm(Plain):
    """All that the record of a run can hold."""

    quantity: int
    starts: tuple[StartList, ...]
    events: tuple[DueEvent, ...]
    rules: tuple[DueRule, ...]
