"""What is fitted before the first part of an order, and what the order leaves fitted for the next one.

What stays fitted is carried over: a spool and its contact tip while the robot keeps its wire, a cylinder while the cell
keeps its gas, electrode caps while the gun keeps its kind of cap. What was recorded at the machines beats the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import FittedAtStart, Order
from weld_packets.model.tables import Cap
from weld_packets.planning.due import count_due, used_after
from weld_packets.planning.records import Left, Origin, Start
from weld_packets.planning.supplies import Supply, Word, share


def starts(
    stock: Sequence[Supply], order: Order, approved: ApprovedTables, left: Sequence[Left] | None
) -> tuple[Start, ...]:
    """Return how each consumable of an order starts; ``left`` is what the order before it leaves, None without one."""
    known = None if left is None else {(each.place, each.what): each for each in left}
    begun = (
        (supply, _recorded(supply, order.fitted_at_start, approved) or _carried(supply, known)) for supply in stock
    )
    return tuple(_overdue(start, supply) for supply, start in begun)


def leaves(
    stock: Sequence[Supply], begun: Sequence[Start], order: Order, left: Sequence[Left] | None
) -> tuple[Left, ...]:
    """Return what is fitted after the last part of an order; what it does not use stays as earlier orders left it."""
    after = {(each.place, each.what): each for each in left or ()}
    for supply, start in zip(stock, begun, strict=True):
        used = used_after(supply.wear, order.quantity, start.used)
        dressings = dressings_after(supply, start, count_due(supply.wear, order.quantity, start.used))
        after[supply.place, supply.what] = Left(supply.place, supply.what, supply.item, used, dressings, order.order)
    return tuple(after.values())


def origin_words(supply: Supply, start: Start) -> str:
    """Return on what the state before the first part rests, as the end of a sentence."""
    match start.origin:
        case Origin.CARRIED:
            revision = f" revision {start.revision}" if start.revision else ", calculated from its sources"
            return f"at the end of {start.order}{revision}"
        case Origin.RECORDED:
            return "as recorded in this order"
        case Origin.RENEWED:
            return "new, as recorded in this order"
        case Origin.CHANGED:
            return f"new: {_CHANGED[supply.word]}"
        case Origin.UNUSED:
            return f"new: no earlier order used this {'robot' if supply.robot else 'cell'}"
        case Origin.NONE_NAMED:
            return "new: no previous order is named"


_CHANGED: Mapping[Word, str] = {
    "wire": "the wire changes at the changeover",
    "contact tip": "it changes with the wire at the changeover",
    "gas": "the gas changes at the changeover",
    "caps": "the caps change at the changeover",
}


def dressings_left(supply: Supply, start: Start) -> int:
    """Return how often caps are dressed before they are changed; 0 for what is only changed."""
    return max(supply.turns - start.dressings, 0)


def changes_in(supply: Supply, start: Start, times: int) -> int:
    """Return how many of the first ``times`` that it falls due are changes and not dressings."""
    beyond = times - dressings_left(supply, start)
    return (beyond - 1) // (supply.turns + 1) + 1 if beyond > 0 else 0


def dressings_after(supply: Supply, start: Start, times: int) -> int:
    """Return how often caps were dressed since they were new, after they fell due ``times``."""
    beyond = times - dressings_left(supply, start)
    return (beyond - 1) % (supply.turns + 1) if beyond > 0 else start.dressings + times


def _overdue(start: Start, supply: Supply) -> Start:
    """Return a start with caps that were dressed more often than the table now allows as one that is due at once."""
    if start.dressings <= supply.turns:
        return start
    return replace(start, used=Fraction(1))


def _carried(supply: Supply, left: Mapping[tuple[str, str], Left] | None) -> Start:
    if left is None:
        return Start()
    before = left.get((supply.place, supply.what))
    if before is None:
        return Start(origin=Origin.UNUSED)
    if before.item != supply.item:
        return Start(origin=Origin.CHANGED)
    return Start(before.used, before.dressings, Origin.CARRIED, before.order, before.revision)


def _recorded(supply: Supply, entries: Sequence[FittedAtStart], approved: ApprovedTables) -> Start | None:
    """Return what the order records of a consumable; that it can be so is checked where the order is read."""
    for entry in entries:
        if supply.place != (entry.robot or entry.cell):
            continue
        if supply.word in entry.new:
            return Start(origin=Origin.RENEWED)
        used = _used(supply, entry, approved)
        if used is not None:
            return Start(used, entry.dressings or 0, Origin.RECORDED)
    return None


def _used(supply: Supply, entry: FittedAtStart, approved: ApprovedTables) -> Fraction | None:
    if supply.holds is None:
        return _worn(entry, approved.caps[supply.item])
    if supply.word == "contact tip":
        return None if entry.contact_tip_used is None else share(entry.contact_tip_used, supply.holds, supply.unit)
    left = entry.wire_left if supply.word == "wire" else entry.gas_left
    return None if left is None else 1 - share(left, supply.holds, supply.unit)


def _worn(entry: FittedAtStart, cap: Cap) -> Fraction | None:
    """Return the share of a dressing interval that the recorded welds are, on the coating that they were made on."""
    welds = entry.welds_since_dressing
    if welds is None:
        return None
    lives = {life.coating: life.welds_between_dressings for life in cap.life}
    return Fraction(welds, lives[entry.coating] if entry.coating else min(lives.values(), default=1))
