"""What an order records as fitted at its start: at places that it uses, once each, and no more than there can be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from weld_packets.errors import Problem
from weld_packets.model.order import FittedAtStart, Operation, Order
from weld_packets.model.processes import FittedPlace, family, process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.materials import Cap
from weld_packets.sources.reading.places import KeyPath, Places, typed, unknown
from weld_packets.units import Quantity, exact

_KEY = "fitted at start"
_KEYS = {
    "wire left": "wire",
    "contact tip used": "contact tip",
    "electrode used": "electrode",
    "grindings": "electrode",
    "gas left": "gas",
    "dressings": "caps",
    "welds since dressing": "caps",
    "coating": "caps",
}
"""The consumable that each key is about."""

_ONE = {
    "wire left": "spool holds",
    "gas left": "cylinder holds",
    "contact tip used": "contact tip is used for",
    "electrode used": "electrode is used for between two grindings",
}
_CHANGE_CAPS = "change them and write 'new: [caps]', or correct it"


_Known = Mapping[tuple[str, str], FittedPlace]
"""The places of an order by their kind, robot or cell, and name."""


def fitted_problems(order: Order, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield every recorded state that no robot or cell of the order can be in."""
    known = {place: found for operation in order.operations for place, found in _of_operation(operation, approved)}
    seen: dict[tuple[str, str], KeyPath] = {}
    for index, entry in enumerate(order.fitted_at_start):
        path: KeyPath = (_KEY, index)
        named = [(kind, name) for kind, name in (("robot", entry.robot), ("cell", entry.cell)) if name is not None]
        if len(named) != 1:
            message = "a state is recorded at one robot, or in one cell"
            yield places.problem(path, "", message, "write either 'robot: ...' or 'cell: ...'")
        elif named[0] not in known:
            yield from _stranger(*named[0], path, known, approved, places)
        else:
            yield from _repeated(entry, named[0][1], path, seen, places)
            yield from _misplaced(entry, named[0], path, known, places)
            yield from _impossible(entry, known[named[0]], path, places)


def _of_operation(operation: Operation, approved: ApprovedTables) -> Iterator[tuple[tuple[str, str], FittedPlace]]:
    return family(process(operation.process).family).places(operation, approved)


def _stranger(  # noqa: PLR0917 - a name, its place, and what there is
    kind: str, name: str, path: KeyPath, known: _Known, approved: ApprovedTables, places: Places
) -> Iterator[Problem]:
    """Yield that a robot or cell is not in the plant, or not in the order."""
    of_order = [each for of_kind, each in known if of_kind == kind]
    if name in (approved.robots if kind == "robot" else approved.cells):
        message = f"this order does not use {kind} {name}"
        yield places.problem((*path, kind), name, message, f"its {kind}s are: {', '.join(of_order)}")
    else:
        yield from unknown(places, (*path, kind), name, of_order, kind)


def _stated(entry: FittedAtStart) -> Iterator[tuple[KeyPath, str]]:
    """Yield what an entry says, by key below the entry, with the consumable that it is about."""
    for key, thing in _KEYS.items():
        if getattr(entry, key.replace(" ", "_")) is not None:
            yield (key,), thing
    yield from ((("new", index), thing) for index, thing in enumerate(entry.new))


def _repeated(
    entry: FittedAtStart, name: str, path: KeyPath, seen: dict[tuple[str, str], KeyPath], places: Places
) -> Iterator[Problem]:
    """Yield that an entry says nothing, and what it says a second time; several keys of caps are one state."""
    states = {(thing, *(key if key[0] == "new" else ())): (thing, (*path, *key)) for key, thing in _stated(entry)}
    if not states:
        keys = ", ".join(repr(key) for key in ("new", *_KEYS))
        yield places.problem(path, "", f"this records nothing of {name}", f"add one of {keys}")
    for thing, here in states.values():
        first = seen.setdefault((name, thing), here)
        if first != here:
            message = f"{thing} of {name}: already recorded on line {places.at(first)[1]}"
            yield places.problem(here, "", message, "keep one of the two")


def _misplaced(
    entry: FittedAtStart, place: tuple[str, str], path: KeyPath, known: _Known, places: Places
) -> Iterator[Problem]:
    """Yield what is not fitted at this place."""
    for key, thing in _stated(entry):
        if thing not in known[place].things:
            having = [" ".join(other) for other, found in known.items() if thing in found.things]
            remedy = f"record it at one of: {', '.join(having)}" if having else "delete it: this order uses none"
            message = f"no {thing} {'are' if thing == 'caps' else 'is'} fitted at {' '.join(place)}"
            yield places.problem((*path, *key), "", message, remedy)


def _impossible(entry: FittedAtStart, place: FittedPlace, path: KeyPath, places: Places) -> Iterator[Problem]:
    """Yield amounts beyond one spool, cylinder or contact tip, and dressings beyond the life of a cap."""
    for key, (maximum, unit) in place.holds.items():
        stated: Quantity | None = getattr(entry, key.replace(" ", "_"))
        if stated is not None and exact(stated, unit) > exact(maximum, unit):
            message = f"this is more than the {typed(maximum)} that one {_ONE[key]}"
            yield places.problem((*path, key), typed(stated), message, "correct it, or write what is new under 'new'")
    if place.cap is not None:
        yield from _of_caps(entry, place.cap, path, places)


def _of_caps(entry: FittedAtStart, cap: Cap, path: KeyPath, places: Places) -> Iterator[Problem]:
    welds, lives = entry.welds_since_dressing, {life.coating: life.welds_between_dressings for life in cap.life}
    if (entry.dressings is None) != (welds is None):
        missing = "dressings" if entry.dressings is None else "welds since dressing"
        message = "the state of caps is how often they were dressed, and how many welds they made since"
        yield places.problem(path, "", message, f"add '{missing}: ...'")
    if entry.dressings is not None and entry.dressings > cap.dressings:
        message = f"caps {cap.id} are changed after {cap.dressings} dressings"
        yield places.problem((*path, "dressings"), str(entry.dressings), message, _CHANGE_CAPS)
    if entry.coating is not None and entry.coating not in lives:
        message = f"cap {cap.id} has no number of welds between dressings on this coating"
        yield places.problem((*path, "coating"), entry.coating, message, f"it has them for: {', '.join(lives)}")
    elif entry.coating is None and welds and len(set(lives.values())) > 1:
        message = f"how far these welds wear caps {cap.id} depends on the coating that they were made on"
        yield places.problem(path, "", message, f"add 'coating: ...', one of: {', '.join(lives)}")
    elif welds is not None:
        maximum = lives[entry.coating] if entry.coating else min(lives.values(), default=welds)
        if welds > maximum:
            message = f"caps {cap.id} are dressed after {maximum} welds"
            yield places.problem((*path, "welds since dressing"), str(welds), message, "dress them, or correct it")
