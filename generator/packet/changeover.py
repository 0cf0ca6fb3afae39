"""What to change at each cell from the previous order, and what stays."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from generator.model.order import Order
from generator.packet.callouts import Messages
from generator.packet.numbers import both, sheet_amount
from generator.packet.placing import Draft, placed
from generator.packet.records import Amount, Callout, ChangeLine, Changeover, Packet, RowSheet, Value
from generator.packet.rowview import RowView
from generator.packet.wording import inside, listed

NOT_USED = "not used"

_Key = tuple[str, str]
"""What is named, and the arm that it is on; empty where it concerns the whole cell."""


class _Told(NamedTuple):
    """Something at a cell as printed, and the same in words that do not depend on which system of units comes first."""

    text: str
    same: str


_Facts = dict[_Key, dict[_Told, None]]
"""What is at a cell; several rows or groups may each say something."""


@dataclass(frozen=True)
class Previous:
    """The order that ran before, with its rows; ``released`` is its last released packet, with its revision."""

    order: Order
    views: tuple[RowView, ...]
    released: tuple[str, Packet] | None = None


def changeover(views: Sequence[RowView], previous: Previous, told: Messages) -> Changeover:
    """Return the changeover sheet, cell by cell in the order of the rows, cells that fall out of use last."""
    after, before = _by_cell(views), _by_cell(previous.views)
    cells = list(dict.fromkeys((*after, *before)))
    lines = {cell: tuple(_lines(cell, before.get(cell), after.get(cell))) for cell in cells}
    keys = {cell: _callout_keys([view for view in views if view.cell.id == cell], told) for cell in cells}
    return Changeover(
        previous_order=previous.order.order,
        previous_title=previous.order.title,
        lines=tuple(line for cell in cells for line in lines[cell]),
        steps=(
            *placed(_first_drafts(), ()),
            *(step for cell in cells for step in placed(_at_cell(cell, lines[cell]), keys[cell])),
            *placed([_proving(_changed(lines, after))], ()),
        ),
        basis=_basis(previous),
    )


def _basis(previous: Previous) -> str:
    """Return what the sheet rests on: the sources of the previous order, which may have moved on from its release."""
    name = previous.order.order
    if previous.released is None:
        return f"{name} has no released revision: compared with its draft. Read every 'before' at the cell."
    revision, packet = previous.released
    if [_as_run(row) for row in packet.rows] == [_as_run(view) for view in previous.views]:
        return f"Compared with {name} revision {revision}."
    return f"The sources of {name} have changed since its revision {revision}: read every 'before' at the cell."


def _as_run(row: RowSheet | RowView) -> tuple[object, ...]:
    """Return what is set and fitted for a row, weld by weld, whatever else its page says."""
    if isinstance(row, RowSheet):
        programs = {program.arm: program.number for program in row.programs}
        name, cell, fixture = row.name, row.cell, row.fixture
    else:
        programs = dict(row.row.programs)
        name, cell, fixture = row.row.name, row.cell.id, row.row.fixture
    settings = {
        (arm, weld): {value.key: (group.set_number, value.amount) for value in group.dialled}
        for group in row.groups
        for arm in group.arms
        for weld in group.welds
    }
    return name, cell, fixture, programs, settings


def _callout_keys(views: Sequence[RowView], told: Messages) -> tuple[Callout, ...]:
    """Return the messages for the rows at a cell; at a cell that falls out of use, those that hold for every row."""
    at_stage = told.at("changeover")
    if not views:
        return tuple(each for each in at_stage if all(each.key in keys for keys in told.of_row.values()))
    wanted = {key for view in views for key in told.of_row[view.key]}
    return tuple(each for each in at_stage if each.key in wanted)


def _by_cell(views: Sequence[RowView]) -> dict[str, _Facts]:
    cells: dict[str, _Facts] = {}
    for view in views:
        facts = cells.setdefault(view.cell.id, {})
        for key, told in _facts(view):
            facts.setdefault(key, {})[told] = None
    return cells


def _facts(view: RowView) -> Iterator[tuple[_Key, _Told]]:
    yield ("Row", ""), _plain(view.row.name)
    yield ("Process", ""), _plain(view.process)
    yield ("Fixture", ""), _plain(view.row.fixture)
    for part in view.row.parts:
        thickness = sheet_amount(part.thickness, view.order.show_first)
        yield ("Parts", ""), _measured(thickness, f"{part.id} {{}} {part.material}")
    yield from _consumables(view)
    for arm in view.arms:
        yield ("Program", arm.id), _plain(view.row.programs[arm.id])
    yield from _settings(view)


def _plain(text: str) -> _Told:
    return _Told(text, text)


def _measured(amount: Amount, around: str = "{}") -> _Told:
    """Return an amount in both systems of units, with the words ``around`` it."""
    ways = ((amount.value, amount.unit), (amount.second, amount.second_unit))
    same = " = ".join(sorted(f"{value} {unit}" for value, unit in ways if value))
    return _Told(around.format(both(amount)), around.format(same))


def _consumables(view: RowView) -> Iterator[tuple[_Key, _Told]]:
    first = view.order.show_first
    if view.wire is not None:
        yield ("Wire", ""), _measured(sheet_amount(view.wire.diameter, first), f"{view.wire.id}, {{}}")
    if view.gas is not None:
        yield ("Gas", ""), _plain(f"{view.gas.id}, {view.gas.content}")
    for arm in view.arms:
        cap = view.cap(arm)
        if cap is not None:
            yield ("Caps", arm.id), _measured(sheet_amount(cap.face, first), f"{cap.id}, face {{}}")


def _settings(view: RowView) -> Iterator[tuple[_Key, _Told]]:
    found: dict[str, dict[str, dict[_Told, list[str]]]] = {}
    for group in view.groups:
        numbered = [("Set", _plain(group.set_number))] if group.set_number else []
        for label, told in (*numbered, *((value.label, _set(value)) for value in group.dialled)):
            for arm in group.arms:
                found.setdefault(label, {}).setdefault(arm, {}).setdefault(told, []).append(group.name)
    for label, arms in found.items():
        for arm, values in arms.items():
            yield from (((label, arm), told) for told in _values(values))


def _set(value: Value) -> _Told:
    return _plain(value.outside) if value.amount is None else _measured(value.amount)


def _values(titles: Mapping[_Told, Sequence[str]]) -> Iterator[_Told]:
    """Yield the one value of a setting, or each value with the welds that it is for."""
    for told, whose in titles.items():
        names = "" if len(titles) == 1 else f" ({listed(dict.fromkeys(whose))})"
        yield _Told(f"{told.text}{names}", f"{told.same}{names}")


def _lines(cell: str, before: _Facts | None, after: _Facts | None) -> Iterator[ChangeLine]:
    if after is None:
        row = _told(before, ("Row", "")).text
        yield ChangeLine(cell=cell, what="Cell", before=row, after=NOT_USED, stays=False, do=_OUT_OF_USE)
        return
    alike: dict[tuple[str, _Told, _Told], list[str]] = {}
    for key in dict.fromkeys((*after, *(before or {}))):
        name, arm = key
        alike.setdefault((name, _told(before, key), _told(after, key)), []).append(arm)
    for (name, was, now), arms in alike.items():
        on, stays = listed(arms), was.same == now.same
        what = f"{name}, {on}" if on else name
        do = "" if stays else _do(name, on, was.text, now.text)
        yield ChangeLine(cell=cell, what=what, before=was.text, after=now.text, stays=stays, do=do)


def _told(facts: Mapping[_Key, Mapping[_Told, None]] | None, key: _Key) -> _Told:
    found = (facts or {}).get(key, {})
    if not found:
        return _plain(NOT_USED)
    return _Told("; ".join(each.text for each in found), "; ".join(each.same for each in found))


def _do(name: str, arms: str, was: str, now: str) -> str:
    if name in ("Row", "Process"):
        return ""
    if name == "Parts":
        return "Bring the parts of this order."
    on = f" on {arms}" if arms else ""
    if now == NOT_USED:
        return f"Remove {_FITTED[name]}{on}." if name in _FITTED else ""
    if name in _FITTED:
        first = "Connect" if name == "Gas" else "Fit"
        return f"{first if was == NOT_USED else 'Change'} {_FITTED[name]}{on}."
    return f"{_verb(name)}{on}."


def _verb(name: str) -> str:
    if name == "Program":
        return "Load the program"
    if name == "Set":
        return "Open the set"
    return f"{'Check' if name in ('Work angle', 'Travel angle') else 'Set'} {inside(name)}"


_FITTED = {
    "Fixture": "the fixture",
    "Wire": "wire, drive rolls, liners and contact tips",
    "Gas": "the gas",
    "Caps": "the caps",
}
_OUT_OF_USE = "Clear the cell and leave it locked out."


def _first_drafts() -> Iterator[Draft]:
    yield Draft("Count and book the parts of the previous order.", see="No part of it is left at any cell.")
    yield Draft("Check that the previous order is complete.", see="Its last-off inspection is signed.", hold=True)


def _changed(lines: Mapping[str, Sequence[ChangeLine]], used: Iterable[str]) -> list[str]:
    return [cell for cell in used if not all(line.stays for line in lines[cell])]


def _proving(changed: Sequence[str]) -> Draft:
    see = f"Prove-out done at {listed(changed)}." if changed else "Nothing changed at any cell."
    return Draft("Prove every cell that changed.", see=see, hold=True)


def _at_cell(cell: str, lines: Sequence[ChangeLine]) -> Iterator[Draft]:
    changing = [line for line in lines if line.do]
    if all(line.before == NOT_USED for line in lines):
        yield Draft(f"Set up cell {cell} from nothing.", see="As its row's page says.", value=cell, topics=("enter",))
        return
    if changing:
        yield _lock_out(cell)
    for line in changing:
        value = "" if line.what == "Cell" else line.after
        yield Draft(line.do, see=f"Before: {line.before}", value=value, topics=_topics(line.what))
    stays = [inside(line.what) for line in lines if line.stays]
    if stays:
        yield Draft(f"Check what stays at cell {cell}.", see=f"Unchanged: {'; '.join(stays)}.")


def _lock_out(cell: str) -> Draft:
    return Draft(
        f"Lock out cell {cell} before you go in.", see="A try-out start moves nothing.", value=cell, topics=("enter",)
    )


def _topics(what: str) -> tuple[str, ...]:
    name, _, _ = what.partition(",")
    return {"Wire": ("wire",), "Gas": ("gas",), "Caps": ("caps",)}.get(name, ())
