"""What an operation rests on: its procedure, its qualification records, and the verdict on each of its welds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.calculation.qualification.judging import Answer
from weld_packets.calculation.qualification.verdict import OfRecord, OfWelds, verdicts, worst
from weld_packets.calculation.results import WeldSettings
from weld_packets.model.order import Order
from weld_packets.model.table import Table
from weld_packets.model.tables.plant import Plant, Requirement
from weld_packets.model.tables.qualification import QualificationRecord
from weld_packets.packet.citations import table_use
from weld_packets.packet.operation.variable_amounts import amounts_in
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.qualification import (
    Qualification,
    RecordHead,
    RecordLine,
    VariableLine,
    WeldQualification,
)
from weld_packets.packet.records.values import TableUse
from weld_packets.units import as_written
from weld_packets.wording.english import joined
from weld_packets.wording.qualification import (
    FAMILY_UNKNOWN,
    NO_RECORD_KEPT,
    NOT_USED,
    Amounts,
    certainty_words,
    covered_words,
    lowered_words,
    missing_words,
    operation_words,
    record_words,
    rule_words,
    standard_words,
    value_words,
    welded_words,
    welds_words,
)
from weld_packets.wording.titles import title_of


def qualification(view: OperationView) -> Qualification:
    """Return procedure, records and verdict of an operation."""
    approved, operation = view.approved, view.operation
    required = _required(approved.plant, view.order)
    wps = operation.wps or ""
    if required == "not used":
        return Qualification(wps=wps, required=required, outcome=None, text=NOT_USED)
    if not approved.records:
        return Qualification(wps=wps, required=required, outcome=None, text=NO_RECORD_KEPT)
    found = verdicts(view.cases, approved, operation.wpqr, operation.process)
    outcome = worst(each.outcome for each in found)
    amounts = amounts_in(view.order.show_first)
    return Qualification(
        wps=wps,
        required=required,
        outcome=outcome,
        text=operation_words(outcome, found) if found else FAMILY_UNKNOWN,
        records=tuple(_head(record) for record in _named(found)),
        welds=tuple(_welds(each, view, amounts) for each in found),
        tables=tuple(_tables(found, view)),
    )


def _required(plant: Plant, order: Order) -> Requirement:
    return "not used" if order.order in plant.qualification_not_used_for else plant.qualification


def _named(found: Iterable[OfWelds]) -> tuple[QualificationRecord, ...]:
    """Return the records that the verdicts name, each once."""
    return tuple({each.record.table: each.record for welds in found for each in welds.named}.values())


def _welds(found: OfWelds, view: OperationView, amounts: Amounts) -> WeldQualification:
    nearest = found.records[0] if found.records else None
    return WeldQualification(
        welds=found.case.welds,
        title=title_of(settings.kind for settings in settings_of(found.case.welds, view.result.settings)),
        outcome=found.outcome,
        record=nearest.record.table if nearest else "",
        text=welds_words(found, view.operation.process, amounts),
        variables=tuple(_line(answer, amounts) for answer in nearest.answers) if nearest else (),
        others=tuple(_other(each, amounts) for each in found.records[1:]),
    )


def settings_of(welds: Sequence[str], settings: Iterable[WeldSettings]) -> Iterator[WeldSettings]:
    """Yield the settings by which any of some welds is made."""
    wanted = set(welds)
    return (each for each in settings if wanted.intersection(each.welds))


def _line(answer: Answer, amounts: Amounts) -> VariableLine:
    return VariableLine(
        variable=answer.variable,
        outcome=answer.outcome,
        has=value_words(answer.variable, answer.has, amounts),
        proved=value_words(answer.variable, answer.proved, amounts),
        covers=_covers(answer, amounts),
        missing=missing_words(answer, amounts),
        rule=rule_words(answer),
        certainty=certainty_words(answer),
        source="" if answer.reason == "as tested" or answer.line is None else answer.line.rule.source,
    )


def _covers(answer: Answer, amounts: Amounts) -> str:
    """Return what a record covers; the words of a test, where that is all, as the test has them."""
    if answer.proved is None:
        return ""
    if answer.covered == answer.proved:
        return value_words(answer.variable, answer.proved, amounts)
    return joined((covered_words(answer.variable, answer.covered, amounts), lowered_words(answer, amounts)), " = ")


def _other(found: OfRecord, amounts: Amounts) -> RecordLine:
    return RecordLine(record=found.record.table, outcome=found.outcome, text=record_words(found, amounts))


def _head(record: QualificationRecord) -> RecordHead:
    return RecordHead(
        record=record.table,
        revision=record.revision,
        title=record.title,
        standard=standard_words(record),
        examiner=record.examiner,
        date=record.date.isoformat(),
        welded=welded_words(record, (as_written(sheet.thickness) for sheet in record.sheets)),
        valid_until=record.valid_until.isoformat() if record.valid_until else "",
        last_used=record.last_used.isoformat() if record.last_used else "",
        results=tuple(f"{each.test}: {each.found} ({each.document})" for each in record.results),
        filler_make=record.filler_make or "",
        machine=record.machine or "",
    )


def _tables(found: Sequence[OfWelds], view: OperationView) -> Iterator[TableUse]:
    """Yield the plant's records that the verdicts name, and the plant's own rules and groups that apply to them."""
    records = _named(found)
    tables: dict[str, Table] = {record.table: record for record in records}
    lines = (answer.line for welds in found for each in welds.named for answer in each.answers if answer.line)
    tables |= {line.table.table: line.table for line in lines if line.table.table in view.approved.tables}
    yield from (table_use(table, ()) for table in tables.values())
