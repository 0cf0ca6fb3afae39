"""Safety messages that an order's operations call for, each with what made it appear."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from weld_packets.errors import Gathering, OutOfRangeError, refusal
from weld_packets.grouping import grouped
from weld_packets.model.processes import process
from weld_packets.model.tables.safety import FactName, Hazard
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.steps import Callout, OperationFact
from weld_packets.packet.safety.conditions import force_words, reasons, shade_origin, shade_words
from weld_packets.units import as_written, kinds
from weld_packets.units.scales import speed_limit_amount, stated_amount
from weld_packets.wording.english import as_sentences, capital, inside, listed


@dataclass(frozen=True)
class Messages:
    """The messages of an order, and the keys of those that hold for each operation, by its key."""

    callouts: tuple[Callout, ...]
    of_operation: dict[str, tuple[str, ...]]

    def at(self, stage: str, operation: str | None = None) -> tuple[Callout, ...]:
        """Return the messages of a stage, for one operation or for all together."""
        found = self.callouts if operation is None else self.of(operation)
        return tuple(each for each in found if stage in each.stages)

    def of(self, operation: str) -> tuple[Callout, ...]:
        """Return the messages that hold for one operation."""
        return tuple(each for each in self.callouts if each.key in self.of_operation[operation])


def messages(views: Sequence[OperationView]) -> Messages:
    """Return the safety messages of all operations, one for each hazard, in the order of the table of hazards.

    Raises OutOfRangeError with every operation for which no message asks for what protects the eyes.
    """
    callouts: list[Callout] = []
    of_operation: dict[str, list[str]] = {view.key: [] for view in views}
    for hazard in views[0].approved.hazards:
        found = {view.key: why for view in views if (why := reasons(hazard.when, view)) is not None}
        if found:
            callouts.append(_callout(hazard, [view for view in views if view.key in found], found, views))
        for key in found:
            of_operation[key].append(hazard.id)
    made = Messages(tuple(callouts), {operation: tuple(keys) for operation, keys in of_operation.items()})
    gathering = Gathering()
    for view in views:
        with gathering.step():
            _eyes_protected(view, made.of(view.key))
    gathering.finish(OutOfRangeError)
    return made


_MASK, _SHIELD = ("M019",), ("M013", "M004")
_EYES = "29 CFR 1910.252(b)(2)(i)"
"""Helmet or hand shield at an arc, face shield or goggles at resistance welding; a person beside it needs them too."""


def _eyes_protected(view: OperationView, callouts: Sequence[Callout]) -> None:
    """Refuse an operation without a message for the eyes, as of a process that a plant adds to its tables."""
    of = process(view.operation.process)
    wanted, what = (_MASK, "a welding mask") if of.burns_arc else (_SHIELD, "a face shield or goggles")
    if not any(set(wanted) & set(each.signs) for each in callouts):
        signs = " or ".join(wanted)
        raise refusal(
            f"no safety message that applies to process {of.number} shows {what} (sign {signs}); {_EYES} requires it",
            f"add one to the table of hazards, with process {of.number} under 'when' and sign {signs}",
            key=f"operations[{view.number - 1}].process",
            value=of.number,
        )


def _callout(
    hazard: Hazard,
    operations: Sequence[OperationView],
    found: dict[str, tuple[str, ...]],
    views: Sequence[OperationView],
) -> Callout:
    because = grouped(
        (as_sentences(map(capital, (*found[view.key], *_origins(hazard, view)))), view) for view in operations
    )
    facts = grouped((as_sentences(capital(_FACTS[fact](view)) for fact in hazard.facts), view) for view in operations)
    return Callout(
        key=hazard.id,
        word=hazard.word,
        signs=hazard.signs,
        hazard=hazard.hazard,
        consequence=hazard.consequence,
        avoid=hazard.avoid,
        why=" ".join(_because(_who(same, views), text) for text, same in because.items()),
        source=hazard.source,
        stages=hazard.stages,
        at_head=hazard.at_head,
        facts=tuple(
            OperationFact(operations=tuple(view.key for view in same), who=_who(same, views), text=text)
            for text, same in facts.items()
            if text
        ),
    )


def _because(who: str, text: str) -> str:
    return f"{who}: {text}" if text else f"{who} of this order."


def _who(operations: Sequence[OperationView], views: Sequence[OperationView]) -> str:
    return "Every operation" if len(operations) == len(views) else _operations_named(operations)


def _operations_named(operations: Sequence[OperationView]) -> str:
    """Return operations by number, such as ``Operations 1 and 3``."""
    return f"{'Operation' if len(operations) == 1 else 'Operations'} {listed(str(view.number) for view in operations)}"


_SHADE: FactName = "filter shade"


def _noise(view: OperationView) -> str:
    cell = view.cell
    if cell.noise is None:
        return f"noise at cell {cell.id}: not measured"
    return f"noise at cell {cell.id}: {as_written(cell.noise)}, measured at {cell.noise_measured_at}"


def _field(view: OperationView) -> str:
    """Return how strong the field was found to be, and where people with implants stop if a line shows it."""
    cell, field = view.cell, f"magnetic field at cell {view.cell.id}: {view.cell.magnetic_field}"
    if cell.marked_line is None:
        return field
    return f"{field}; with an implant, do not cross the marked line ({cell.marked_line}) unless individually cleared"


def _extraction(view: OperationView) -> str:
    return f"fume extraction at cell {view.cell.id}: {inside(view.cell.extraction)}"


def _force(view: OperationView) -> str:
    found = view.largest_allowed(view.family.force_key)
    return "" if found is None else f"largest allowed {force_words(view)}: {found[1]}"


def _reduced_speed(view: OperationView) -> str:
    return (
        f"manual reduced speed at most {speed_limit_amount(view.approved.plant.reduced_speed, view.showing.first).text}"
    )


def _fire(view: OperationView) -> str:
    plant = view.approved.plant
    away = stated_amount(plant.fire_distance, kinds.DISTANCE, view.showing.first, view.showing.mains).text
    return (
        f"no combustibles within {away} where sparks can leave the cell; "
        f"fire watch for at least {as_written(plant.fire_watch)} after the last weld"
    )


def _oxygen(view: OperationView) -> str:
    alarm = view.approved.plant.oxygen_alarm
    return f"oxygen alarm: {'not stated in the table of the plant' if alarm is None else as_written(alarm)}"


_FACTS: dict[FactName, Callable[[OperationView], str]] = {
    _SHADE: shade_words,
    "noise": _noise,
    "magnetic field": _field,
    "extraction": _extraction,
    "electrode force": _force,
    "reduced speed": _reduced_speed,
    "fire precautions": _fire,
    "oxygen alarm": _oxygen,
    "cooling water": lambda view: view.family.facts(view).get("cooling water", ""),
    "supervisor": lambda view: f"supervisor to call: {view.call}",
    "dressing": lambda view: view.family.facts(view).get("dressing", ""),
}


def _by_plant(what: str, source: str, view: OperationView) -> str:
    return f"{what} by table {view.approved.plant.table} ({source.rstrip('.')})"


def _speed_origin(view: OperationView) -> str:
    return _by_plant("reduced speed", view.approved.plant.reduced_speed_source, view)


def _fire_origin(view: OperationView) -> str:
    plant = view.approved.plant
    distance = _by_plant("distance of combustibles", plant.fire_distance_source, view)
    return f"{distance}; {_by_plant('fire watch', plant.fire_watch_source, view)}"


def _oxygen_origin(view: OperationView) -> str:
    plant = view.approved.plant
    return "" if plant.oxygen_alarm is None else _by_plant("oxygen alarm", plant.oxygen_alarm_source, view)


_ORIGINS: dict[FactName, Callable[[OperationView], str]] = {
    _SHADE: shade_origin,
    "reduced speed": _speed_origin,
    "fire precautions": _fire_origin,
    "oxygen alarm": _oxygen_origin,
}
"""Where the plant's figures are from; what a cell or a machine states of itself says so in its fact."""


def _origins(hazard: Hazard, view: OperationView) -> Iterator[str]:
    """Yield where the facts of a message are from, each once."""
    yield from (_ORIGINS[fact](view) for fact in hazard.facts if fact in _ORIGINS)
