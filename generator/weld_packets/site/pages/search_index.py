"""What the search of a site finds: plain text by page and place, chosen rather than scraped from markup."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import SettingGroup, WeldGeometry
from weld_packets.packet.records.steps import Action, Callout
from weld_packets.packet.records.values import Fact, TableUse, Value
from weld_packets.site.pages.site_plan import SearchEntry
from weld_packets.units import Amount

_FITTED = ("fit-", "connect-")
"""How the keys of the steps begin in which something is fitted."""


def order_entries(packet: Packet) -> tuple[SearchEntry, ...]:
    """Return the entry of the first page: the order's own words."""
    head = packet.head
    previous = packet.changeover.previous_order if packet.changeover else ""
    text = _joined((head.title, head.part_number, head.part_name, head.plant, head.due, previous))
    return (SearchEntry(f"Order {head.number}", text),)


def order_words(packet: Packet) -> tuple[str, ...]:
    """Return by what else the order is found in the list of all orders: materials, settings, consumables, places."""
    words = (word for operation in packet.operations for word in _operation_words(operation))
    return tuple(dict.fromkeys(filter(None, words)))


def _operation_words(operation: OperationSheet) -> Iterator[str]:
    yield from (operation.name, operation.cell_name, operation.cell, operation.fixture)
    for each in operation.components:
        yield from (each.name, each.material, each.coating, _galvanised(each.coating), _amount(each.thickness))
    for group in operation.groups:
        yield from (group.title, f"weld schedule {group.weld_schedule}" if group.weld_schedule else "")
        yield from _setting_words(group)
    yield from (f"{step.do} {step.value}" for step in operation.set_up if step.value and step.key.startswith(_FITTED))


def operation_entries(operation: OperationSheet) -> dict[str, tuple[SearchEntry, ...]]:
    """Return what is found on the pages of an operation, by the name of each; its card has none."""
    return {
        "": tuple(_card_entries(operation)),
        "set-up": tuple(_set_up_entries(operation)),
        "prove-out": (_steps_entry(operation, "prove-out", operation.prove, f"{operation.key}-prove"),),
        "details": tuple(_details_entries(operation)),
        "map": tuple(_map_entries(operation)),
        "troubleshooting": (_fault_entry(operation),),
        "calculations": calculation_entries(operation),
        "qualification": (_qualification_entry(operation),),
    }


def calculation_entries(operation: OperationSheet) -> tuple[SearchEntry, ...]:
    """Return one entry for each group of an operation's calculated values, with their names."""
    return tuple(
        SearchEntry(
            f"Operation {operation.number} calculations: {group.title}",
            _joined(value.label for value in (*group.dialled, *group.derived)),
            f"{operation.key}-calculations-{group.key}",
        )
        for group in operation.groups
    )


def _qualification_entry(operation: OperationSheet) -> SearchEntry:
    found = operation.qualification
    text = "" if found is None else _joined((found.wps, *found.numbers, found.outcome or "", found.text))
    return SearchEntry(f"Operation {operation.number}: procedure and qualification, WPS, WPQR", text)


def safety_entries(callouts: Iterable[Callout]) -> tuple[SearchEntry, ...]:
    """Return one entry for each safety message."""
    return tuple(
        SearchEntry(
            f"{call.word}: {call.hazard}", _joined((call.consequence, call.avoid, *call.signs)), f"safety-{call.key}"
        )
        for call in callouts
    )


def source_entries(tables: Iterable[TableUse], formulas: Iterable[Fact]) -> tuple[SearchEntry, ...]:
    """Return one entry for each table and one for all formulas."""
    listed = [
        SearchEntry(
            f"Table {use.table}", _joined((use.title, f"revision {use.revision}", use.source)), f"table-{use.table}"
        )
        for use in tables
    ]
    return (*listed, SearchEntry("Formulas used", _joined(fact.name for fact in formulas), "formulas"))


def _card_entries(operation: OperationSheet) -> Iterator[SearchEntry]:
    here = f"Operation {operation.number}"
    what = (
        operation.name,
        operation.cell_name,
        operation.process,
        operation.process_name,
        *operation.robots,
        operation.fixture,
        *operation.notes,
    )
    yield SearchEntry(f"{here}: {operation.name}", _joined(what), keys=operation.cell)
    programs = [f"{program.robot} program {program.number}" for program in operation.programs]
    yield SearchEntry(f"{here}: programs", _joined(programs), f"{operation.key}-programs")
    for group in operation.groups:
        if group.weld_schedule:
            yield _schedule_entry(operation, group)
        for value in group.dialled:
            yield _value_entry(operation, group, value, f"set-{value.anchor}")


def _setting_words(group: SettingGroup) -> Iterator[str]:
    return (f"{value.label} {_amount(value.amount)}" for value in group.dialled if value.amount)


def _schedule_entry(operation: OperationSheet, group: SettingGroup) -> SearchEntry:
    return SearchEntry(
        f"Operation {operation.number}: weld schedule {group.weld_schedule}",
        _joined((group.title, " and ".join(group.robots), *_setting_words(group))),
        f"{operation.key}-group-{group.key}",
    )


def _set_up_entries(operation: OperationSheet) -> Iterator[SearchEntry]:
    if operation.warnings:
        sentences = (warning.sentence for warning in operation.warnings)
        title = f"Operation {operation.number}: check before the run"
        yield SearchEntry(title, _joined(sentences), f"{operation.key}-warnings")
    yield _steps_entry(operation, "set-up", operation.set_up, f"{operation.key}-setup")


def _steps_entry(operation: OperationSheet, name: str, steps: tuple[Action, ...], anchor: str) -> SearchEntry:
    text = _joined(" ".join(filter(None, (step.do, step.value))) for step in steps)
    keys = (
        "lockout" if "lock out" in text.casefold() else "",
        "hold point" if any(step.hold for step in steps) else "",
    )
    return SearchEntry(f"Operation {operation.number}: {name}", text, anchor, _joined(keys))


def _details_entries(operation: OperationSheet) -> Iterator[SearchEntry]:
    if operation.coupon_programs:
        programs = [f"{coupon.robot} coupon program {coupon.program}" for coupon in operation.coupon_programs]
        title = f"Operation {operation.number}: coupon programs"
        yield SearchEntry(title, _joined(programs), f"{operation.key}-coupon-programs")


def _map_entries(operation: OperationSheet) -> Iterator[SearchEntry]:
    here = f"Operation {operation.number}"
    for each in operation.components:
        yield SearchEntry(
            f"{here}: {each.name}, {_amount(each.thickness)}",
            _joined((each.material, f"coating {each.coating}")),
            f"{operation.key}-parts",
            _galvanised(each.coating),
        )
    stacks = {key: group for group in operation.groups for key in group.welds}
    for weld in operation.geometry:
        group = stacks.get(weld.key)
        place = (weld.robot, f"weld schedule {group.weld_schedule}" if group and group.weld_schedule else "")
        yield SearchEntry(
            f"{here}: {weld.form} {weld.key}",
            _joined((*place, group.title if group else "")),
            f"{operation.key}-weld-{weld.key.lower()}",
            _weld_names(weld),
        )


def _galvanised(coating: str) -> str:
    return "galvanised" if "zinc" in coating.casefold() else ""


def _weld_names(weld: WeldGeometry) -> str:
    """Return what else a weld is called: a weld, and by its number without the robot's letter."""
    number = weld.key.removeprefix(weld.side)
    return _joined((f"weld {weld.key}", f"{weld.form} {number}", f"weld {number}"))


def _fault_entry(operation: OperationSheet) -> SearchEntry:
    signs = _joined(fault.sign for fault in operation.faults)
    return SearchEntry(f"Operation {operation.number}: faults", signs, f"{operation.key}-faults")


def _value_entry(operation: OperationSheet, group: SettingGroup, value: Value, anchor: str) -> SearchEntry:
    shown = _amount(value.amount) if value.amount else value.outside
    schedule = f"weld schedule {group.weld_schedule}" if group.weld_schedule else ""
    values = [other for each in operation.groups for other in each.dialled]
    is_alone = sum((other.label, other.amount) == (value.label, value.amount) for other in values) == 1
    name = "" if is_alone or not group.name else f", {group.name}"
    return SearchEntry(
        f"Operation {operation.number}: {value.label} {shown}{name}",
        _joined((schedule, group.title, operation.process_name)),
        anchor,
    )


def _amount(amount: Amount) -> str:
    return " ".join(filter(None, (amount.value, amount.unit, amount.second, amount.second_unit)))


def _joined(parts: Iterable[str]) -> str:
    return ". ".join(part.rstrip(".") for part in dict.fromkeys(parts) if part)
