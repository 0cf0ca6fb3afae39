"""What the search of a site finds: plain text by page and place, chosen rather than scraped from markup."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.packet.records import Amount, Callout, Fact, Packet, RowSheet, SettingGroup, TableUse, Value
from weld_packets.packet.wording import warning_about
from weld_packets.site.pages.siteplan import SearchEntry


def found_in_order(packet: Packet) -> tuple[SearchEntry, ...]:
    """Return the entry of the first page: the order's own words."""
    head = packet.head
    text = _joined((head.title, head.part_number, head.part_name, head.plant, head.due, head.previous_order))
    return (SearchEntry(f"Order {head.number}", text),)


def found_in_row(row: RowSheet) -> tuple[SearchEntry, ...]:
    """Return a row's page: itself, its programs, its parts and materials, each setting, its faults."""
    return tuple(_row_entries(row))


def found_in_figures(row: RowSheet) -> tuple[SearchEntry, ...]:
    """Return one entry for each group of a row's figures, with their names."""
    return tuple(
        SearchEntry(
            f"Row {row.number} figures: {group.title}",
            _joined(value.label for value in (*group.dialled, *group.derived)),
            f"{row.key}-figures-{group.key}",
        )
        for group in row.groups
    )


def found_in_safety(callouts: Iterable[Callout]) -> tuple[SearchEntry, ...]:
    """Return one entry for each safety message."""
    return tuple(
        SearchEntry(
            f"{call.word}: {call.hazard}", _joined((call.consequence, call.avoid, *call.signs)), f"safety-{call.key}"
        )
        for call in callouts
    )


def found_in_sources(tables: Iterable[TableUse], formulas: Iterable[Fact]) -> tuple[SearchEntry, ...]:
    """Return one entry for each table and one for all formulas."""
    listed = [
        SearchEntry(
            f"Table {use.table}", _joined((use.title, f"revision {use.revision}", use.source)), f"table-{use.table}"
        )
        for use in tables
    ]
    return (*listed, SearchEntry("Formulas used", _joined(fact.name for fact in formulas), "formulas"))


def _row_entries(row: RowSheet) -> Iterator[SearchEntry]:
    here = f"Row {row.number}"
    what = (row.name, row.cell_name, row.process, row.process_name, *row.arms, row.fixture, *row.notes)
    yield SearchEntry(f"{here}: {row.name}", _joined(what))
    if row.warnings:
        told = (warning_about(warning) for warning in row.warnings)
        yield SearchEntry(f"{here}: check before the run", _joined(told), f"{row.key}-warnings")
    programs = [f"{program.arm} program {program.number}" for program in row.programs]
    programs += [f"{coupon.robot} coupon program {coupon.program}" for coupon in row.coupon_programs]
    yield SearchEntry(f"{here}: programs", _joined(programs), f"{row.key}-programs")
    parts = (f"{part.name} {part.material} {part.coating} {_amount(part.thickness)}" for part in row.parts)
    yield SearchEntry(f"{here}: parts and materials", _joined(parts), f"{row.key}-parts")
    if row.welds:
        yield SearchEntry(f"{here}: welds", _joined(weld.key for weld in row.welds), f"{row.key}-welds")
    yield SearchEntry(f"{here}: set-up", _joined(step.value for step in row.set_up), f"{row.key}-setup")
    for group in row.groups:
        for value in group.dialled:
            yield _value_entry(row, group, value, f"set-{value.anchor}")
    yield SearchEntry(f"{here}: faults", _joined(fault.sign for fault in row.faults), f"{row.key}-faults")


def _value_entry(row: RowSheet, group: SettingGroup, value: Value, anchor: str) -> SearchEntry:
    shown = _amount(value.amount) if value.amount else value.outside
    return SearchEntry(f"Row {row.number}: {value.label} {shown}", _joined((group.title, row.process_name)), anchor)


def _amount(amount: Amount) -> str:
    return " ".join(filter(None, (amount.value, amount.unit, amount.second, amount.second_unit)))


def _joined(parts: Iterable[str]) -> str:
    return ". ".join(part.rstrip(".") for part in dict.fromkeys(parts) if part)
