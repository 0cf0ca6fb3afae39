"""The setter's card: what fits on one screen and one sheet, from an operation's sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Literal

from weld_packets.calculation.judgement import Linked, judge_together
from weld_packets.drawing.signs import SIGNS
from weld_packets.grouping import grouped
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import OperationSheet, People, SettersCard
from weld_packets.packet.records.settings import LinkedLimit, SettingGroup
from weld_packets.packet.records.steps import Callout
from weld_packets.packet.records.values import Fact, Value
from weld_packets.packet.safety.conditions import shade_words
from weld_packets.processes.family import family_of
from weld_packets.units import Amount, limit_digits
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.card import (
    ACCEPTANCE_WORDS,
    ALL_OUT,
    AT_HOME,
    BY_EYE,
    fitted_checked,
    linked_words,
    more_words,
    programs_checked,
    range_words,
    schedules_checked,
    shortened,
)
from weld_packets.wording.english import capital, inside, listed
from weld_packets.wording.qualification import holders_words

COLUMNS = 2
"""Weld schedules that one card holds upright; more take a card each two."""
_REMARKS = 2
_WEAR = "Wear "


@dataclass(frozen=True)
class CardValue:
    """One value on the card: ``key`` is what a record knows it by."""

    key: str
    value: Value
    robots: tuple[str, ...]

    @property
    def allowed(self) -> str:
        """Return the allowed range without its unit, which the value has."""
        allowed = self.value.window
        return range_words(allowed.low, allowed.high) if allowed else ""


@dataclass(frozen=True)
class CardLine:
    """One line: what it is, and its values in each column; a column may have none of it.

    ``kind`` "reading" follows from the settings and is shown by the machine.
    """

    label: str
    kind: Literal["setting", "reading"]
    cells: tuple[tuple[CardValue, ...], ...]

    @property
    def first(self) -> Value:
        """Return the value whose calculation the line leads to."""
        return next(each.value for cell in self.cells for each in cell)


@dataclass(frozen=True)
class CardTable:
    """The settings of as many weld schedules as one card holds."""

    columns: tuple[SettingGroup, ...]
    lines: tuple[CardLine, ...]

    @property
    def acceptance(self) -> tuple[str, ...]:
        """Return what the coupons of each column must show."""
        return tuple(_acceptance(group) for group in self.columns)

    @property
    def together(self) -> str:
        """Return how settings of each column limit each other; empty where no record says it as a number."""
        found = grouped(
            (_linked(group, limit), group.weld_schedule or group.name or group.title)
            for group in self.columns
            for limit in group.linked
        )
        if len(self.columns) == 1:
            return capital("; ".join(found))
        return "; ".join(f"{listed(names)}: {words}" for words, names in found.items())


KillerKey = Literal["programs", "schedules", "fitted", "home", "out"]


@dataclass(frozen=True)
class KillerItem:
    """One of the few checks without which nothing may weld; ``tasks`` are those of the set-up that it looks at."""

    key: KillerKey
    text: str
    tasks: tuple[str, ...] = ()


def setters_card(view: OperationView, callouts: Iterable[Callout]) -> SettersCard:
    """Return what the card of an operation says of clamps, consumables and what is worn."""
    signs = dict.fromkeys(sign for callout in callouts for sign in callout.signs)
    names = (SIGNS[sign] for sign in signs)
    return SettersCard(
        clamps=view.operation.clamps,
        fitted=tuple(_fitted(view)),
        # ISO 7010 names these signs "Wear ...": the name is the standard's, and no other sign begins so.
        worn=tuple(name.removeprefix(_WEAR) for name in names if name.startswith(_WEAR)),
        shade=shade_words(view),
    )


def _fitted(view: OperationView) -> Iterator[Fact]:
    """Yield what is fitted, once where both robots have the same."""
    where: dict[tuple[str, str], list[str]] = {}
    for fact in view.family.fitted_facts(view):
        size = "" if fact.size is None else f" {sheet_amount(fact.size, view.order.show_first).first_text}"
        where.setdefault((fact.label, f"{fact.text}{size}"), []).append(fact.robot)
    for (label, text), robots in where.items():
        yield Fact(name=label, value=text, note=robots[0] if len(robots) == 1 else "")


def card_tables(operation: OperationSheet) -> tuple[CardTable, ...]:
    """Return the tables of an operation's cards, each with a line for every setting and reading."""
    groups = operation.groups
    chunks = (groups[start : start + COLUMNS] for start in range(0, len(groups), COLUMNS))
    return tuple(CardTable(chunk, tuple(_lines(operation, chunk))) for chunk in chunks)


def _lines(operation: OperationSheet, groups: Sequence[SettingGroup]) -> Iterator[CardLine]:
    family = family_of(operation.process)
    readings = [
        value.figure for group in groups for value in group.derived if value.figure in family.readings and value.amount
    ]
    settings = [value.figure for group in groups for value in group.dialled]
    together = {figures[0]: figures for figures in family.in_one_line}
    later = {figure for figures in family.in_one_line for figure in figures[1:]}
    for figure in dict.fromkeys((*settings, *readings)):
        if figure not in later:
            cells = tuple(tuple(_values(group, together.get(figure, (figure,)))) for group in groups)
            labels = dict.fromkeys(each.value.label for cell in cells for each in cell)
            label = " / ".join(label if at == 0 else inside(label) for at, label in enumerate(labels))
            yield CardLine(label, "setting" if figure in settings else "reading", cells)


def _values(group: SettingGroup, figures: Sequence[str]) -> Iterator[CardValue]:
    for figure in figures:
        for value in (*group.dialled, *group.derived):
            if value.figure == figure:
                yield CardValue(f"{group.key}/{value.key}", value, group.robots)


def _acceptance(group: SettingGroup) -> str:
    figures = {value.figure: value for value in (*group.dialled, *group.derived)}
    found = (
        f"{words} {figures[figure].first_text}"
        for figure, words in ACCEPTANCE_WORDS.items()
        if figure in figures and figures[figure].amount
    )
    return ", ".join(found) or BY_EYE


def _linked(group: SettingGroup, limit: LinkedLimit) -> str:
    """Return a limit rounded into what is allowed, or as it is judged where no setting would be left."""
    low = limit_digits(Decimal(limit.minimum), ROUND_CEILING) if limit.minimum else ""
    high = limit_digits(Decimal(limit.maximum), ROUND_FLOOR) if limit.maximum else ""
    if not _keeps(group, limit, low, high):
        low, high = limit.minimum, limit.maximum
    value, other = (_amount(group, key).unit for key in (limit.value, limit.other))
    return linked_words((limit.value, limit.other, limit.power), low, high, (value, other))


def _keeps(group: SettingGroup, limit: LinkedLimit, low: str, high: str) -> bool:
    value, other = (Decimal(_amount(group, key).value) for key in (limit.value, limit.other))
    ends = (Decimal(end) if end else None for end in (low, high))
    return judge_together(value, other, Linked(limit.power, *ends)) == "in range"


def _amount(group: SettingGroup, figure: str) -> Amount:
    return next(value.amount for value in group.dialled if value.figure == figure and value.amount)


def card_remarks(operation: OperationSheet) -> tuple[tuple[str, ...], str]:
    """Return the operation's own remarks and what its warnings ask for, as much as a card holds, and what is left."""
    to_do = (warning.do or warning.sentence for warning in operation.warnings)
    every = tuple(dict.fromkeys((*operation.notes, *to_do)))
    # A sentence with which another one begins says nothing that the other does not.
    found = tuple(text for text in every if not any(other != text and other.startswith(text) for other in every))
    shown = tuple(shortened(text) for text in found[:_REMARKS])
    return shown, more_words(len(found) - len(shown), cut=shown != found[:_REMARKS])


def people_words(found: People | None) -> str:
    """Return which qualification the work of an operation needs, and who holds it; empty where that is not recorded."""
    if found is None:
        return ""
    numbers = [holder.number for holder in found.holders]
    return f"{found.needs}: {holders_words(numbers)}" if found.kept else found.needs


def killer_items(operation: OperationSheet) -> tuple[KillerItem, ...]:
    """Return the five checks before anything welds."""
    schedules = dict.fromkeys(group.weld_schedule for group in operation.groups if group.weld_schedule)
    names = dict.fromkeys(fact.name for fact in operation.card.fitted)
    welding = {robot for group in operation.groups for robot in group.robots}
    letters = [letter for letter, robot in zip("AB", operation.robots, strict=True) if robot in welding]
    return (
        KillerItem("programs", programs_checked([program.number for program in operation.programs])),
        KillerItem("schedules", schedules_checked(list(schedules), letters)),
        KillerItem("fitted", fitted_checked(list(names)), tuple(_fitting(operation))),
        KillerItem("home", AT_HOME),
        KillerItem("out", ALL_OUT),
    )


def _fitting(operation: OperationSheet) -> Iterator[str]:
    """Yield the keys of the tasks in which something is fitted: those done in the locked-out cell."""
    for stage in operation.set_up_stages:
        if stage.lock == "on":
            yield from (task.key for task in stage.tasks)
