"""The procedure specification of an operation: what order and tables say of each item of a standard's list."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from weld_packets.calculation.qualification.groups import Groups
from weld_packets.calculation.qualification.values import Case
from weld_packets.grouping import grouped
from weld_packets.packet.operation.inspections import inspection_lines
from weld_packets.packet.operation.qualification import settings_of
from weld_packets.packet.operation.variable_amounts import amounts_in
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.operation import ProcedureItemLine, ProcedureLine, ProcedureSheet, TestPiece
from weld_packets.packet.records.qualification import Qualification
from weld_packets.packet.records.settings import SettingGroup, WeldDetail
from weld_packets.processes.answers import Fact, ProcedureItem
from weld_packets.units import as_written
from weld_packets.wording.english import inside, joined, listed, some
from weld_packets.wording.phrases import gauge_source
from weld_packets.wording.qualification import NOT_APPLICABLE, NOT_STATED, not_covered_words, outside_words, value_words
from weld_packets.wording.titles import title_of


def procedure_sheet(
    view: OperationView, details: Iterable[WeldDetail], qualification: Qualification
) -> ProcedureSheet | None:
    """Return the specification of an operation; None for a process of which no list is known."""
    procedure = view.family.procedure
    if not procedure.items:
        return None
    covered = {weld for welds in qualification.welds if welds.outcome == "inside" for weld in welds.welds}
    open_cases = [case for case in view.cases if not covered.issuperset(case.welds)]
    known = tuple(details)
    return ProcedureSheet(
        standard=procedure.standard,
        source=procedure.source,
        preliminary=bool(open_cases),
        items=tuple(_item(item, view, known, qualification) for item in procedure.items),
        test_pieces=tuple(_test_piece(case, view, procedure.tests) for case in open_cases),
    )


def _item(
    item: ProcedureItem,
    view: OperationView,
    details: Iterable[WeldDetail],
    qualification: Qualification,
) -> ProcedureItemLine:
    lines = (
        *(line for fact in item.facts for line in _of_fact(fact, view, qualification)),
        *_of_figures(item, view.groups),
        *_of_details(item, details),
        *_of_variables(item, view),
    )
    said = tuple(_merged(lines))
    if not said and view.cases and not any(map(item.applies_to, view.cases)):
        said = (ProcedureLine(text=NOT_APPLICABLE),)
    return ProcedureItemLine(clause=item.clause, label=item.label, lines=said)


def _merged(lines: Iterable[ProcedureLine]) -> Iterator[ProcedureLine]:
    """Yield what is stated once, with everything of which it is stated."""
    for text, of in grouped((line.text, line.of) for line in lines).items():
        yield ProcedureLine(text=text, of=listed(dict.fromkeys(each for each in of if each)))


def _of_details(item: ProcedureItem, details: Iterable[WeldDetail]) -> Iterator[ProcedureLine]:
    """Yield what details of the welds state, with their labels where the item says something else besides."""
    alone = len(item.details) == 1 and not (item.facts or item.figures or item.variables)
    for key in item.details:
        for detail in details:
            if detail.key == key and detail.stated:
                text = detail.text if alone else f"{detail.label}: {detail.text}"
                yield ProcedureLine(text=text, of=detail.of)


def _of_figures(item: ProcedureItem, groups: Iterable[SettingGroup]) -> Iterator[ProcedureLine]:
    """Yield each figure with its allowed range, once for all welds of which it is the same."""
    for key in item.figures:
        found: dict[str, list[str]] = {}
        for group in groups:
            for value in (*group.dialled, *group.derived):
                if value.figure == key and value.amount:
                    label = "" if len(item.figures) == 1 else f"{value.label}: "
                    allowed = f"allowed {value.allowed}" if value.allowed else ""
                    text = label + joined((value.with_direction, allowed), ", ")
                    found.setdefault(text, []).append(group.name or inside(group.title))
        for text, names in found.items():
            yield ProcedureLine(text=text, of="" if len(found) == 1 else listed(dict.fromkeys(names)))


def _of_variables(item: ProcedureItem, view: OperationView) -> Iterator[ProcedureLine]:
    amounts = amounts_in(view.order.show_first)
    for variable in item.variables:
        found = grouped(
            (value_words(variable, case.has[variable], amounts), _title(case, view))
            for case in view.cases
            if case.has.get(variable) is not None
        )
        for text, names in found.items():
            yield ProcedureLine(text=text, of="" if len(found) == 1 else listed(dict.fromkeys(names)))


def _title(case: Case, view: OperationView) -> str:
    return title_of(settings.kind for settings in settings_of(case.welds, view.result.settings))


def _test_piece(case: Case, view: OperationView, tests: str) -> TestPiece:
    """Return the test piece that is welded just as the order is, so that every variable is as tested."""
    amounts = amounts_in(view.order.show_first)
    named = ((variable, value) for variable, value in case.has.items() if value is not None)
    return TestPiece(
        welds=case.welds,
        title=_title(case, view),
        weld=tuple(f"{variable} {value_words(variable, value, amounts)}" for variable, value in named),
        tests=tests,
    )


_Lines = Iterator[ProcedureLine]


def _of_fact(fact: Fact, view: OperationView, qualification: Qualification) -> _Lines:
    return _records(qualification) if fact == "records" else _FACTS[fact](view)


def _plain(*texts: str) -> _Lines:
    yield from (ProcedureLine(text=text) for text in texts if text)


def _records(qualification: Qualification) -> _Lines:
    """Yield the records that cover welds; of a record that does not, that it is only the nearest one."""
    standards = {record.record: record.standard for record in qualification.records}
    titles = [welds.title for welds in qualification.welds]
    for welds in qualification.welds:
        named = f" ({some(welds.welds)})" if titles.count(welds.title) > 1 else ""  # equal but for their materials
        if welds.outcome == "inside":
            text = f"{welds.record}, {standards[welds.record]}"
        else:
            text = not_covered_words(welds.record, welds.outcome)
        yield ProcedureLine(text=text, of=inside(welds.title) + named)


def _materials(view: OperationView) -> _Lines:
    groups = Groups(view.approved.groups)
    for component in view.operation.components:
        material = view.material(component)
        found = groups.of(material.id)
        certain = "" if found.sure else f" ({found.certainty})"
        group = f"group {found.group}{certain}" if found.group else f"group {NOT_STATED}"
        yield ProcedureLine(text=f"{material.designation}, {material.standard}, {group}", of=component.name)


def _dimensions(view: OperationView) -> _Lines:
    for component in view.operation.components:
        section = component.section
        gauge = gauge_source(component.gauge) if component.gauge else ""
        form = section.form if section else ""
        stated = section and section.outside_diameter
        outside = f"{outside_words(section.form)} {view.length(stated)}" if section and stated else ""
        yield ProcedureLine(
            text=joined((view.length(component.thickness), gauge, form, outside), ", "), of=component.name
        )


def _passes(view: OperationView) -> _Lines:
    for group in view.groups:
        text = "; ".join(f"{line.number}. {line.place}, {inside(line.aim)}" for line in group.pass_lines)
        yield ProcedureLine(text=text or "one pass", of="" if len(view.groups) == 1 else group.name)


def _jigging(view: OperationView) -> _Lines:
    clamps = listed(view.operation.clamps)
    return _plain(view.operation.fixture, f"clamps {clamps}" if clamps else "")


def _machines(view: OperationView) -> _Lines:
    for name, values, source in view.family.machine_lines(view):
        stated = [value for value in dict.fromkeys(values) if value]
        if stated:
            yield ProcedureLine(text=f"{inside(name)}: {listed(stated)}{f' ({source})' if source else ''}")


def _consumables(view: OperationView) -> _Lines:
    """Yield the rows of what is fitted, with the standard that each table names."""
    for kind, mark in view.family.entries(view.operation, view.approved):
        entry = view.approved.entries(kind)[mark]
        if hasattr(entry, "standard"):
            yield ProcedureLine(text=joined((entry.designation, entry.standard), ", "))


def _wires(view: OperationView) -> _Lines:
    """Yield that there is one wire: no table describes a torch for several."""
    return _plain(
        "one" if any(kind == "wires" for kind, _ in view.family.entries(view.operation, view.approved)) else ""
    )


def _sequence(view: OperationView) -> _Lines:
    by_robot = grouped((weld.robot, weld.id) for weld in view.welds)
    yield from (ProcedureLine(text=", ".join(names), of=robot) for robot, names in by_robot.items())


def _wear(view: OperationView) -> _Lines:
    """Yield after how many welds what wears is dressed, and after how many dressings it is changed."""
    materials = {view.material(component).coating for component in view.operation.components}
    for kind, mark in view.family.entries(view.operation, view.approved):
        entry = view.approved.entries(kind)[mark]
        for life in getattr(entry, "life", ()):
            if life.coating in materials:
                coating = "uncoated sheet" if life.coating == "none" else life.coating
                yield ProcedureLine(text=f"dressed every {life.welds_between_dressings} welds on {coating}")
        if getattr(entry, "dressings", None) is not None:
            yield ProcedureLine(text=f"changed after {entry.dressings} dressings")


def _failure_types(view: OperationView) -> _Lines:
    for group in view.groups:
        types = view.family.failure_types(view.operation, group.welds, view.approved)
        good, bad = (", ".join(each.text for each in types if each.accepted is wanted) for wanted in (True, False))
        yield from (ProcedureLine(text=f"good: {good}; not accepted: {bad}", of=group.name) for _ in types[:1])


def _strength(view: OperationView) -> _Lines:
    """Yield why no strength can be calculated, with where it is to be entered."""
    materials = [view.material(component) for component in view.operation.components]
    silent = dict.fromkeys(each.id for each in materials if each.tensile_strength is None)
    named = f"cannot be calculated: the table of materials has no 'tensile strength' of {listed(silent)}"
    return _plain(named if silent else "")


def _stack(view: OperationView) -> _Lines:
    components = {component.id: component for component in view.operation.components}
    for group in dict.fromkeys((weld.group, weld.components) for weld in view.welds):
        sheets = (components[name] for name in group[1])
        text = " + ".join(f"{view.material(sheet).designation} {as_written(sheet.thickness)}" for sheet in sheets)
        yield ProcedureLine(text=text, of=group[0])


def _tests(view: OperationView) -> _Lines:
    for line in inspection_lines((view,)):
        yield from _plain(joined((f"{line.stage}: {inside(line.what)}, {inside(line.every)}", line.sample), ", "))


_FACTS: Mapping[Fact, Callable[[OperationView], _Lines]] = {
    "manufacturer": lambda view: _plain(view.approved.plant.name),
    "procedure": lambda view: _plain(view.operation.wps or ""),
    "materials": _materials,
    "dimensions": _dimensions,
    "process": lambda view: _plain(f"{view.process}, automatic"),
    "joint": lambda view: _plain(*dict.fromkeys(group.title for group in view.groups)),
    "passes": _passes,
    "position": lambda view: _plain(listed(dict.fromkeys(weld.position for weld in view.welds if weld.position))),
    "jigging": _jigging,
    "machines": _machines,
    "consumables": _consumables,
    "wires": _wires,
    "gas": lambda view: _plain(f"{view.gas.group}, {view.gas.content}" if view.gas else ""),
    "stack": _stack,
    "tests": _tests,
    "part": lambda view: _plain(f"{view.order.part.number}, {view.order.part.name}"),
    "sequence": _sequence,
    "wear": _wear,
    "failure types": _failure_types,
    "strength": _strength,
}
"""What is said of each fact but the records, which the qualification of the operation names."""
