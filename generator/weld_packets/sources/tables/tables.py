"""The plant's approved tables: every file of ``tables/``, checked one by one and then together."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, TypeVar

from weld_packets.errors import Gathering, Problem, SourceError
from weld_packets.model.sheet_gauges import SheetGauges
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import TABLE_KINDS, ApprovedTables, kinds_of_table
from weld_packets.model.tables.charts import ArcChart, Limits, SpotChart, SpotSpacing
from weld_packets.model.tables.faults import Faults
from weld_packets.model.tables.inspection import Imperfections, Inspections, Instruments, SampleSizes
from weld_packets.model.tables.machines import Machines
from weld_packets.model.tables.materials import Caps, Gases, Materials, Wires
from weld_packets.model.tables.people import PeopleQualifications, ResponsiblePeople
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.qualification import MaterialGroups, QualificationRecord, QualificationRules
from weld_packets.model.tables.safety import Hazards, Shades
from weld_packets.model.tolerances import GeneralTolerances
from weld_packets.sources.folders import FIND_PLANT, TABLES
from weld_packets.sources.reading.binding import bind
from weld_packets.sources.reading.files import read_text, refused
from weld_packets.sources.reading.nearest import nearest
from weld_packets.sources.reading.out_of_use import TABLE_KEYS, renewed
from weld_packets.sources.reading.places import Document, Places
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.plant_checks import (
    Read,
    approved_problems,
    census_problems,
    entry_problems,
    plant_key_problems,
)
from weld_packets.sources.tables.rows import expand_rows, named_file, unnamed_files, with_rows

_UNNAMED = "name it with 'rows:' in a table, or move it out of tables/"
_ROWS = ("columns", "rows")
_LEFT_OUT = ("approved", "columns")
"""Keys that are not content: the approval itself, and the units, which every cell has."""
_KEPT = 256
"""Texts of tables whose reading is kept: while pages are served, an edit changes one table of a plant, or none."""
T = TypeVar("T", bound=Table)
_FOLDER = Path(__file__).parent.parent / "qualification"
_GROUPS = "material_groups.yaml"
_TOLERANCES = "iso_13920.yaml"
_Brought = TypeVar("_Brought", bound=Table)


@dataclass(frozen=True)
class Workspace:
    """The folder that an engineer works in: where it is, what its tables say, and where each table says it.

    ``contents`` is what each table holds, as text in lists and mappings, without its approval: rows have their columns'
    names and units, so that neither the order of keys or columns nor a remark makes a difference.
    """

    root: Path
    approved: ApprovedTables
    places: Mapping[str, Places]
    contents: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def placed(self, table: str, problem: Problem) -> Problem:
        """Return ``problem`` with file and line, found from its key path within the table named ``table``."""
        return self.places[table].found(problem.shown_first(self.approved.plant.show_first))


def load_workspace(root: Path) -> Workspace:
    """Return the workspace at ``root``; raise SourceError with the problems of all its tables."""
    gathering = Gathering()
    read: list[Read] = []
    contents: dict[str, Mapping[str, Any]] = {}
    named: list[str] = []
    files = _table_files(root, gathering)
    for path in files:
        with gathering.step():
            text = read_text(path, f"{TABLES}/{path.name}")
            named.append(named_file(_written(path.name, text)[0].tree))
            table, bound = _found(path, text)
            read.append((table, bound.places))
            contents[table.table] = {key: value for key, value in bound.tree.items() if key not in _LEFT_OUT}
    if len(named) == len(files):  # of a file that could not be read, nobody knows what it names
        gathering.problems += unnamed_files(root / TABLES, TABLES, named, _UNNAMED)
    gathering.problems += plant_key_problems(read)
    gathering.finish()
    gathering.problems += [*census_problems(read), *entry_problems(read)]
    gathering.finish()
    approved = _approved([table for table, _ in read])
    gathering.problems += approved_problems(approved, read)
    gathering.finish()
    return Workspace(root, approved, {table.table: places for table, places in read}, contents)


def kept_records(root: Path) -> tuple[QualificationRecord, ...]:
    """Return the qualification records of a plant, and read no other table; raise SourceError with their problems."""
    return tuple(_all(_kept(root, "qualification record"), QualificationRecord))


def kept_instruments(root: Path) -> tuple[Machines | None, Instruments | None]:
    """Return the machines and the instruments of a plant likewise."""
    found = _kept(root, "machines", "instruments")
    return _one_at_most(found, Machines), _one_at_most(found, Instruments)


def kept_plant(root: Path) -> Plant | None:
    """Return the table of the plant likewise, None where there is none."""
    return _one_at_most(_kept(root, "plant"), Plant)


def _kept(root: Path, *kinds: str) -> list[Table]:
    """Return the tables of ``kinds``; only those whose text names one are read, and of a known text none anew."""
    gathering = Gathering()
    found: list[Table] = []
    for path in _table_files(root, gathering):
        with gathering.step():
            text = read_text(path, f"{TABLES}/{path.name}")
            if any(_says(text, kind) for kind in kinds) and _written(path.name, text)[0].tree.get("kind") in kinds:
                found.append(_found(path, text)[0])
    gathering.finish()
    return found


def _says(text: str, kind: str) -> bool:
    """Return whether a table may be of a kind: many a text that is of another names it somewhere."""
    return kind in text and re.search(rf"\bkind\W+{kind}\b", text) is not None


def _table_files(root: Path, gathering: Gathering) -> list[Path]:
    folder = root / TABLES
    if not folder.is_dir():
        raise refused(TABLES, "there is no such folder", FIND_PLANT)
    shown = sorted(path for path in folder.glob("[!.]*") if path.suffix.lower() in (".yml", ".yaml"))
    for path in shown:
        if path.suffix != ".yaml":
            remedy = "rename it, so that its end is .yaml"
            gathering.add(Problem(f"{TABLES}/{path.name}", 0, "", "", "tables end in .yaml", remedy))
    return [path for path in shown if path.suffix == ".yaml"]


def document_of(path: Path) -> tuple[Document, tuple[Problem, ...]]:
    """Return what a file of a table says, under today's keys, and the keys in it that are out of use."""
    return _written(path.name, read_text(path, f"{TABLES}/{path.name}"))


@lru_cache(maxsize=_KEPT)
def _written(name: str, text: str) -> tuple[Document, tuple[Problem, ...]]:
    document, out_of_use = renewed(read_yaml(text, f"{TABLES}/{name}"), TABLE_KEYS)
    return document, tuple(out_of_use)


def _found(path: Path, text: str) -> tuple[Table, Document]:
    """Return the table that is the ``text`` of a file, read anew where it names another file."""
    document, out_of_use = _written(path.name, text)
    return _read(document, out_of_use, path.parent) if named_file(document.tree) else _whole(path.name, text)


@lru_cache(maxsize=_KEPT)
def _whole(name: str, text: str) -> tuple[Table, Document]:
    """Return a table that names no other file, and what it says with its rows spread over their columns."""
    return _read(*_written(name, text), Path(TABLES))


def read_table(document: Document, out_of_use: Iterable[Problem], folder: Path) -> Read:
    """Return a table in ``folder`` with its places; raise SourceError with all that is wrong with it."""
    table, bound = _read(document, out_of_use, folder)
    return table, bound.places


def _read(document: Document, out_of_use: Iterable[Problem], folder: Path) -> tuple[Table, Document]:
    """Return a table in ``folder``, and what it says with its rows spread over their columns."""
    gathering = Gathering()
    gathering.problems += out_of_use
    with gathering.step():
        record = record_of(document)
        try:
            document = expand_rows(with_rows(document, record, folder), record)
        except SourceError as error:
            raise SourceError([*error.problems, *_besides_rows(document, record)]) from None
        table = bind(document, record)
    gathering.finish()
    return table, document


def _besides_rows(document: Document, record: type[Table]) -> list[Problem]:
    """Return what is wrong with a table whose rows cannot be read, apart from them."""
    gathering = Gathering()
    rest = {key: value for key, value in document.tree.items() if key not in _ROWS}
    with gathering.step():
        bind(Document(rest, document.places), record)
    return [problem for problem in gathering.problems if problem.key not in _ROWS]


def record_of(document: Document) -> type[Table]:
    """Return the record of the kind that a table says; raise SourceError where it says none."""
    kind: Any = document.tree.get("kind")
    if isinstance(kind, str) and kind in TABLE_KINDS:
        return TABLE_KINDS[kind]
    known = kinds_of_table()  # loads every family, which a command that reads one table can do without
    if not isinstance(kind, str):
        raise SourceError([document.places.problem((), "", "the table does not say its kind", nearest("", known))])
    if kind not in known:
        problem = document.places.problem(("kind",), kind, "there is no table of this kind", nearest(kind, known))
        raise SourceError([problem])
    return known[kind]


def _approved(tables: Sequence[Table]) -> ApprovedTables:
    machines = _one(tables, Machines)
    return ApprovedTables(
        tables={table.table: table for table in tables},
        plant=_one(tables, Plant),
        spot_charts={table.table: table for table in _all(tables, SpotChart)},
        spot_spacings={table.table: table for table in _all(tables, SpotSpacing)},
        arc_charts={table.table: table for table in _all(tables, ArcChart)},
        materials=_by_id(_one(tables, Materials).entries),
        wires=_by_id(_listed(tables, Wires)),
        gases=_by_id(_listed(tables, Gases)),
        caps=_by_id(_listed(tables, Caps)),
        cells=_by_id(machines.cells),
        robots=_by_id(machines.robots),
        power_sources=_by_id(machines.power_sources),
        guns=_by_id(machines.guns),
        hazards=_one(tables, Hazards).entries,
        faults=_one(tables, Faults).entries,
        inspections=_one(tables, Inspections).entries,
        limits=_one(tables, Limits).entries,
        shades=_one_at_most(tables, Shades),
        imperfections=_one_at_most(tables, Imperfections),
        records=tuple(_all(tables, QualificationRecord)),
        rules=(*_all(tables, QualificationRules), *brought_rules()),
        groups=(*_all(tables, MaterialGroups), brought_groups()),
        people=_one_at_most(tables, PeopleQualifications),
        samples=_one_at_most(tables, SampleSizes),
        responsible=_one_at_most(tables, ResponsiblePeople),
        instruments=_one_at_most(tables, Instruments),
        tolerances=(*_all(tables, GeneralTolerances), brought_tolerances()),
        gauges=tuple(_all(tables, SheetGauges)),
    )


def _all(tables: Sequence[Table], record: type[T]) -> list[T]:
    return [table for table in tables if isinstance(table, record)]


def _one(tables: Sequence[Table], record: type[T]) -> T:
    return _all(tables, record)[0]


def _one_at_most(tables: Sequence[Table], record: type[T]) -> T | None:
    return next(iter(_all(tables, record)), None)


def _listed(tables: Sequence[Table], record: type[Table]) -> Iterator[Any]:
    """Yield the entries of the one table of a kind that a plant may do without."""
    return (entry for table in _all(tables, record) for entry in getattr(table, "entries", ()))


def _by_id(entries: Iterable[Any]) -> dict[str, Any]:
    return {entry.id: entry for entry in entries}


# ---------------------------------------------------------------- tables that the program brings


@cache
def brought_rules() -> tuple[QualificationRules, ...]:
    """Return the ranges that the program knows, a table for each standard, edition and level."""
    names = (path.name for path in sorted(_FOLDER.glob("*.yaml")) if path.name not in (_GROUPS, _TOLERANCES))
    return tuple(_read_brought(name, QualificationRules) for name in names)


@cache
def brought_groups() -> MaterialGroups:
    """Return the groups of materials that the program knows."""
    return _read_brought(_GROUPS, MaterialGroups)


@cache
def brought_tolerances() -> GeneralTolerances:
    """Return the general tolerances that the program knows."""
    return _read_brought(_TOLERANCES, GeneralTolerances)


def _read_brought(name: str, record: type[_Brought]) -> _Brought:
    return bind(read_yaml(read_text(_FOLDER / name, name), name), record)
