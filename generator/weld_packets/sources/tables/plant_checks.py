"""What must agree between the plant's tables."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, get_args

from weld_packets.errors import Problem
from weld_packets.letters import as_person
from weld_packets.model.processes import family, numbers, process
from weld_packets.model.sheet_gauges import SheetGauges
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import EVERY_PLANT, SEVERAL_KINDS, ApprovedTables
from weld_packets.model.tables.charts import ArcChart, Chart, SpotChart
from weld_packets.model.tables.faults import Fault, Faults
from weld_packets.model.tables.inspection import Inspection, Inspections, Instruments, SampleSizes
from weld_packets.model.tables.machines import Machines
from weld_packets.model.tables.materials import Wires
from weld_packets.model.tables.people import Permission, ResponsiblePeople
from weld_packets.model.tables.plant import NEEDED_BY, Plant
from weld_packets.sources.folders import TABLES
from weld_packets.sources.reading.places import KeyPath, Places, repeated, unknown
from weld_packets.sources.table_keys import table_description

_LISTS = ("entries", "cells", "robots", "power_sources", "guns")

Read = tuple[Table, Places]
"""A table as read, and where its values are written."""


def census_problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield tables that share a name, kinds that are missing, and kinds that are there twice."""
    owners: dict[str, str] = {}
    names: dict[str, str] = {}
    for table, places in read:
        kind = table.kind
        if table.table in names:
            message = f"{names[table.table]} is already a table of this name"
            yield places.problem(("table",), table.table, message, "give each table its own name")
        if kind in owners and not isinstance(table, Chart) and kind not in SEVERAL_KINDS:
            message = f"{owners[kind]} is already the table of this kind"
            yield places.problem(("kind",), kind, message, "put the entries of both into one file")
        names.setdefault(table.table, places.file)
        owners.setdefault(kind, places.file)
    for kind in EVERY_PLANT:
        if kind not in owners:
            yield Problem(TABLES, 0, "", "", f"there is no table of kind {kind!r}", f"add one with 'kind: {kind}'")


def plant_key_problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield keys of the plant that are missing although its machines have cells that need them."""
    tables = [table for table, _ in read]
    guns = any(getattr(table, "guns", ()) for table in tables)
    arcs = any(getattr(table, "power_sources", ()) or table.kind == "tungsten sources" for table in tables)
    needed = [("arc", "power sources")] * arcs + [("spot", "guns")] * guns
    for plant, places in ((table, places) for table, places in read if isinstance(table, Plant)):
        for need, machines in needed:
            for field in (field for field in NEEDED_BY[need] if field not in plant.model_fields_set):
                key = field.replace("_", " ")
                remedy = f"add '{key}: ...' ({table_description('Plant', key)}), which a plant with {machines} needs"
                yield places.problem((key,), "", f"the key {key!r} is missing", remedy)


def entry_problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield entries that share an identifier within their list."""
    for table, places in read:
        for name in _LISTS:
            entries: Sequence[Any] = getattr(table, name, ())
            named: list[tuple[KeyPath, str]] = [
                ((name.replace("_", " "), index, "id"), entry.id)
                for index, entry in enumerate(entries)
                if hasattr(entry, "id")
            ]
            yield from repeated(places, named, "entry")


def approved_problems(approved: ApprovedTables, read: Sequence[Read]) -> Iterator[Problem]:
    """Yield every name in a table that leads nowhere, and what is at odds with itself in a list of people or dates."""
    for table, places in read:
        problems_of = _OF_KIND.get(type(table))
        if problems_of is not None:
            yield from problems_of(table, approved, places)


def _spot_chart(table: SpotChart, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    yield from unknown(places, ("spacing",), table.spacing, approved.spot_spacings, "spot spacing table")
    for index, name in enumerate(table.spacing_also):
        yield from unknown(places, ("spacing also", index), name, approved.spot_spacings, "spot spacing table")
    yield from unknown(places, ("hold from",), table.hold_from, approved.spot_charts, "spot chart")


def _arc_chart(table: ArcChart, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    yield from unknown(places, ("gas",), table.gas, approved.gases, "gas")


def _sampled(table: SampleSizes, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    known = [check.id for check in approved.inspections if check.stage == "in process"]
    for index, row in enumerate(table.entries):
        for place, name in enumerate(row.checks):
            yield from unknown(places, ("entries", index, "checks", place), name, known, "inspection in process")


def _instruments(table: Instruments, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    known = [robot.equipment for robot in approved.robots.values()]
    for index, entry in enumerate(table.entries):
        if entry.of is not None:
            yield from unknown(places, ("entries", index, "of"), entry.of, known, "power source or spot gun of a robot")
        if entry.calibration_due < entry.calibrated:
            message = f"is before the calibration, {entry.calibrated}"
            value = str(entry.calibration_due)
            yield places.problem(("entries", index, "calibration due"), value, message, "correct one of the two days")


def _responsible(table: ResponsiblePeople, _approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield names that mean one person, keys of two people, periods that never are, and what nobody may do."""
    names: dict[str, str] = {}
    keys: dict[str, str] = {}
    for index, entry in enumerate(table.entries):
        if other := names.get(as_person(entry.name)):
            message = f"means the same person as {other!r}"
            yield places.problem(("entries", index, "name"), entry.name, message, "name each person once")
        if entry.key and (owner := keys.get(entry.key)):
            message, remedy = f"is the key of {owner}", "a key has one owner: make another with 'packets key'"
            yield places.problem(("entries", index, "key"), entry.key, message, remedy)
        if entry.valid_from and entry.valid_until and entry.valid_until < entry.valid_from:
            message = f"is before the first day, {entry.valid_from}"
            yield places.problem(
                ("entries", index, "valid until"), str(entry.valid_until), message, "correct one of the two days"
            )
        names.setdefault(as_person(entry.name), entry.name)
        if entry.key:
            keys.setdefault(entry.key, entry.name)
    allowed = {act for entry in table.entries for act in entry.may}
    for act in get_args(Permission):
        if act not in allowed:
            remedy = f"give it to somebody: 'may: [{act}]'"
            yield places.problem(("entries",), "", f"nobody of the list may {act}", remedy)


def _gauges(table: SheetGauges, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    """Yield materials that are none, that are named twice, or whose gauges another table gives."""
    named: list[tuple[KeyPath, str]] = [(("materials", index), name) for index, name in enumerate(table.materials)]
    yield from repeated(places, named, "material")
    first = {name: other.table for other in reversed(approved.gauges) for name in other.materials}
    for key, name in named:
        yield from unknown(places, key, name, approved.materials, "material")
        if first[name] != table.table:
            message = f"the table {first[name]!r} already gives the gauges of this material"
            yield places.problem(key, name, message, "name it in one of the two tables")


def _limits(table: Faults | Inspections, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    known = [entry.id for entry in approved.imperfections.entries] if approved.imperfections else []
    entries: tuple[Fault | Inspection, ...] = table.entries
    for index, entry in enumerate(entries):
        for place, name in enumerate(entry.limits):
            yield from unknown(places, ("entries", index, "limits", place), name, known, "imperfection")


def _wires(table: Wires, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    for index, wire in enumerate(table.entries):
        for number, melting in enumerate(wire.melting):
            for place, name in enumerate(melting.gases):
                yield from unknown(
                    places, ("entries", index, "melting", number, "gases", place), name, approved.gases, "gas"
                )


def _machines(table: Machines, approved: ApprovedTables, places: Places) -> Iterator[Problem]:
    equipment = {name for number in numbers() for name in family(process(number).family).equipment(number, approved)}
    sources = [(("power sources", n, "id"), source.id) for n, source in enumerate(table.power_sources)]
    yield from repeated(
        places, [*sources, *((("guns", n, "id"), gun.id) for n, gun in enumerate(table.guns))], "machine"
    )
    for index, cell in enumerate(table.cells):
        for side, name in enumerate(cell.robots):
            yield from unknown(places, ("cells", index, "robots", side), name, approved.robots, "robot")
            robot = approved.robots.get(name)
            if robot and robot.cell != cell.id:
                message = f"this robot says that it is in cell {robot.cell!r}"
                yield places.problem(("cells", index, "robots", side), name, message, "make cell and robot agree")
    for index, robot in enumerate(table.robots):
        yield from unknown(places, ("robots", index, "cell"), robot.cell, approved.cells, "cell")
        of = approved.cells.get(robot.cell)
        pair = [approved.robots.get(name) for name in of.robots] if of else []
        if of and robot.id not in of.robots and all(each and each.cell == of.id for each in pair):
            message = f"cell {of.id!r} already has its pair of robots, {' and '.join(of.robots)}"
            remedy = "every step speaks of both robots of a cell: give this one a cell of its own, or delete it"
            yield places.problem(("robots", index, "cell"), robot.cell, message, remedy)
        yield from unknown(places, ("robots", index, "equipment"), robot.equipment, equipment, "power source or gun")
    for index, source in enumerate(table.power_sources):
        for number, rating in enumerate(source.torch.ratings if source.torch else ()):
            for place, name in enumerate(rating.gases):
                key = ("power sources", index, "torch", "ratings", number, "gases", place)
                yield from unknown(places, key, name, approved.gases, "gas")
    for index, gun in enumerate(table.guns):
        yield from unknown(places, ("guns", index, "cap"), gun.cap, approved.caps, "electrode cap")


_OF_KIND: Mapping[type[Table], Callable[[Any, ApprovedTables, Places], Iterator[Problem]]] = {
    SpotChart: _spot_chart,
    ArcChart: _arc_chart,
    Wires: _wires,
    Machines: _machines,
    Faults: _limits,
    Inspections: _limits,
    SampleSizes: _sampled,
    Instruments: _instruments,
    ResponsiblePeople: _responsible,
    SheetGauges: _gauges,
}
