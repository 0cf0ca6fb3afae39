"""What is fitted before the first part of an order, and what the order leaves fitted for the next one.

What stays fitted is carried over: a spool and its contact tip while the robot keeps its wire, a cylinder while the cell
keeps its gas, electrode caps while the gun keeps its kind of cap. What was recorded at the machines beats the plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from weld_packets.model.order import FittedAtStart, Order
from weld_packets.planning.due import NEW, Begun, begin, due, times_until, used_after
from weld_packets.planning.records import Left, Origin, Start
from weld_packets.processes.supplies import Supply, share


def fitted(
    stock: Sequence[Supply], order: Order, left: Sequence[Left] | None
) -> tuple[tuple[Start, ...], tuple[Left, ...]]:
    """Return how each consumable of an order starts, and what is fitted after its last part.

    ``stock`` is in the sequence of the operations: where several weld at one place, each goes on with what the one
    before it leaves. ``left`` is what the order before leaves, None without one; what is not used stays as it was.
    """
    known = None if left is None else {(each.place, each.what): each for each in left}
    after, users = dict(known or {}), dict[tuple[str, str], str]()
    begun: list[Start] = []
    renewing: dict[tuple[str, str], tuple[int, ...]] = {}
    for supply in stock:
        key = supply.place, supply.what
        if key in users:
            start = _went_on(supply, after[key], users[key])
        else:
            start = _recorded(supply, order.fitted_at_start) or _carried(supply, known)
        renewals = renewing.get((supply.place, supply.renewed_with), ())
        begun.append(replace(_overdue(start, supply), renewals=renewals))
        renewing[key] = _changed_after(supply, begun[-1], order.quantity)
        after[key], users[key] = _left(supply, begun[-1], order), supply.operation
    return tuple(begun), tuple(after.values())


def begun_by(supply: Supply, start: Start) -> Begun:
    """Return how a run begins with a consumable."""
    return begin(supply.wear, start.used, supply.proof)


def _changed_after(supply: Supply, start: Start, parts: int) -> tuple[int, ...]:
    """Return after which parts of a run something is changed; what is changed within a part renews nothing in time."""
    moments = due(supply.wear, parts, begun_by(supply, start).used, start.renewals)
    return tuple(each.part for each in moments if each.when == "after")


def _left(supply: Supply, start: Start, order: Order) -> Left:
    begun_at = begun_by(supply, start)
    times = times_until(supply.wear, order.quantity, begun_at, start.renewals)
    return Left(
        supply.place,
        supply.what,
        supply.item,
        used_after(supply.wear, order.quantity, begun_at.used, start.renewals),
        dressings_after(supply.turns, start.dressings, times),
        order.order,
        wear=supply.wear,
        begun=start.used,
        dressings_begun=start.dressings,
        turns=supply.turns,
        lesser_noun=supply.lesser_noun,
        proof=supply.proof,
        renewed_with=supply.renewed_with,
    )


def counted_from(left: Left, used: Fraction, dressings: int, turns: int, parts: int) -> Left:
    """Return what an order of ``parts`` leaves where one was ``used`` so far, and so often dressed, at its start.

    ``turns`` is how often it is dressed before it is changed. It then counts in place of what was planned.
    """
    if dressings > turns:
        used = Fraction(1)  # it was due at once, as ``_overdue`` plans it
    begun = begin(left.wear, used, left.proof)
    times = times_until(left.wear, parts, begun)
    worn = used_after(left.wear, parts, begun.used)
    return replace(left, used=worn, dressings=dressings_after(turns, dressings, times))


@dataclass(frozen=True)
class Done:
    """Something that was done to a consumable in a run, when the counter showed so many parts."""

    at: int
    dressing: bool


def recorded_from(left: Left, begun: tuple[Fraction, int], done: Sequence[Done], parts: int) -> Left:
    """Return what an order leaves after a run of ``parts`` in which ``done`` was done, and not what was planned.

    ``begun`` is the share used and the dressings before the prove-out; what was due until the first part is done in it,
    and no run records it.
    """
    used, dressings = _proved(left, *begun)
    last = 0
    for each in sorted(done, key=lambda each: each.at):
        used, dressings, last = NEW, dressings + 1 if each.dressing else 0, each.at
    worn = used + (parts - last) * left.wear
    return replace(left, used=min(worn, Fraction(1)), dressings=dressings)


def _proved(left: Left, used: Fraction, dressings: int) -> tuple[Fraction, int]:
    """Return the state before the first part, once that is done which is due until then."""
    if dressings > left.turns:
        used = Fraction(1)  # due at once, as ``_overdue`` plans it
    begun = begin(left.wear, used, left.proof)
    used, times = begun.used, begun.times
    first = next(due(left.wear, 2, used), None)
    if first is not None and not first.part:
        used, times = NEW, times + 1
    return used, dressings_after(left.turns, dressings, times)


def origin_words(supply: Supply, start: Start) -> str:
    """Return on what the state before the first part rests, as the end of a sentence."""
    match start.origin:
        case Origin.CARRIED:
            revision = f" revision {start.revision}" if start.revision else ", calculated from its sources"
            counted = f"; {start.counted}" if start.counted else ""
            return f"at the end of {start.order}{revision}{counted}"
        case Origin.WITHIN:
            return f"after the last part of {start.operation}"
        case Origin.CHANGED:
            return f"new: {supply.changed}"
        case Origin.UNUSED:
            return f"new: no earlier order used this {'robot' if supply.robot else 'cell'}"
        case _:
            return _SAID[start.origin]


_SAID = {
    Origin.RECORDED: "as recorded in this order",
    Origin.RENEWED: "new, as recorded in this order",
    Origin.NONE_NAMED: "new",
}


def dressings_left(turns: int, dressings: int) -> int:
    """Return how often caps are dressed yet before they are changed; 0 for what is only changed."""
    return max(turns - dressings, 0)


def changes_in(supply: Supply, start: Start, times: int) -> int:
    """Return how many of the first ``times`` that it falls due are changes and not dressings."""
    beyond = times - dressings_left(supply.turns, start.dressings)
    return (beyond - 1) // (supply.turns + 1) + 1 if beyond > 0 else 0


def dressings_after(turns: int, dressings: int, times: int) -> int:
    """Return how often caps were dressed since they were new, after they fell due ``times``."""
    beyond = times - dressings_left(turns, dressings)
    return (beyond - 1) % (turns + 1) if beyond > 0 else dressings + times


def _overdue(start: Start, supply: Supply) -> Start:
    """Return a start with caps that were dressed more often than the table now allows as one that is due at once."""
    if start.dressings <= supply.turns:
        return start
    return replace(start, used=Fraction(1))


def _went_on(supply: Supply, before: Left, operation: str) -> Start:
    """Return a start with what an operation before in the same cell leaves."""
    if before.item != supply.item:
        return Start(origin=Origin.CHANGED)
    return Start(before.used, before.dressings, Origin.WITHIN, operation=operation)


def _carried(supply: Supply, left: Mapping[tuple[str, str], Left] | None) -> Start:
    if left is None:
        return Start()
    before = left.get((supply.place, supply.what))
    if before is None:
        return Start(origin=Origin.UNUSED)
    if before.item != supply.item:
        return Start(origin=Origin.CHANGED)
    return Start(before.used, before.dressings, Origin.CARRIED, before.order, before.revision, before.counted)


def _recorded(supply: Supply, entries: Sequence[FittedAtStart]) -> Start | None:
    """Return what the order records of a consumable; that it can be so is checked where the order is read."""
    for entry in entries:
        if supply.place != (entry.robot or entry.cell):
            continue
        if supply.word in entry.new:
            return Start(origin=Origin.RENEWED)
        used = _used(supply, entry)
        if used is not None:
            return Start(used, _turns(supply, entry), Origin.RECORDED)
    return None


def _turns(supply: Supply, entry: FittedAtStart) -> int:
    """Return how often what is recorded was dressed or ground since it was new."""
    return getattr(entry, supply.turns_key) or 0 if supply.turns_key else 0


def _used(supply: Supply, entry: FittedAtStart) -> Fraction | None:
    if supply.intervals:
        return _worn(entry, supply.intervals)
    amount = getattr(entry, supply.recorded.key) if supply.recorded else None
    if amount is None or supply.recorded is None or supply.holds is None:
        return None
    taken = share(amount, supply.holds, supply.unit)
    return 1 - taken if supply.recorded.counts == "left" else taken


def _worn(entry: FittedAtStart, intervals: Mapping[str, int]) -> Fraction | None:
    """Return the share of a dressing interval that the recorded welds are, on the coating that they were made on."""
    welds = entry.welds_since_dressing
    if welds is None:
        return None
    return Fraction(welds, intervals[entry.coating] if entry.coating else min(intervals.values(), default=1))
