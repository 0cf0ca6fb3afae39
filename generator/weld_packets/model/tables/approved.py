"""All tables of a plant together, looked up by identifier."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from weld_packets.model.processes import table_kinds
from weld_packets.model.sheet_gauges import SheetGauges
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import ArcChart, Limit, Limits, SpotChart, SpotSpacing
from weld_packets.model.tables.faults import Fault, Faults
from weld_packets.model.tables.inspection import Imperfections, Inspection, Inspections, Instruments, SampleSizes
from weld_packets.model.tables.machines import Cell, Gun, Machines, PowerSource, Robot
from weld_packets.model.tables.materials import Cap, Caps, Gas, Gases, Material, Materials, Wire, Wires
from weld_packets.model.tables.people import PeopleQualifications, ResponsiblePeople
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.qualification import MaterialGroups, QualificationRecord, QualificationRules
from weld_packets.model.tables.safety import Hazard, Hazards, Shades
from weld_packets.model.tolerances import GeneralTolerances

TABLE_KINDS: Mapping[str, type[Table]] = {
    "spot chart": SpotChart,
    "spot spacing": SpotSpacing,
    "arc chart": ArcChart,
    "materials": Materials,
    "wires": Wires,
    "gases": Gases,
    "caps": Caps,
    "sheet gauges": SheetGauges,
    "machines": Machines,
    "hazards": Hazards,
    "faults": Faults,
    "shades": Shades,
    "limits": Limits,
    "inspections": Inspections,
    "imperfections": Imperfections,
    "plant": Plant,
    "qualification record": QualificationRecord,
    "qualification rules": QualificationRules,
    "material groups": MaterialGroups,
    "general tolerances": GeneralTolerances,
    "people qualifications": PeopleQualifications,
    "sample sizes": SampleSizes,
    "responsible people": ResponsiblePeople,
    "instruments": Instruments,
}
"""The kinds that have a field in ``ApprovedTables``; all others belong to one process family alone."""
SEVERAL_KINDS = ("qualification record", "qualification rules", "material groups", "sheet gauges")
"""Kinds of which a plant may have several tables, besides charts."""
EVERY_PLANT = ("plant", "machines", "materials", "hazards", "faults", "inspections", "limits")
"""The kinds that a plant needs whatever it welds; what its operations need besides, their families say."""


def kinds_of_table() -> Mapping[str, type[Table]]:
    """Return every kind of table: those above, then those of single families."""
    return {**TABLE_KINDS, **table_kinds()}


@dataclass(frozen=True, eq=False)
class ApprovedTables:
    """Everything that the approved tables say; ``tables`` by table identifier, the rest by entry identifier.

    Tables are read once for many orders, so that what is found of them is remembered by which ones they are.

    ``rules``, ``groups`` and ``tolerances`` are those of the plant, then those that the program brings.
    """

    tables: Mapping[str, Table]
    plant: Plant
    spot_charts: Mapping[str, SpotChart]
    spot_spacings: Mapping[str, SpotSpacing]
    arc_charts: Mapping[str, ArcChart]
    materials: Mapping[str, Material]
    wires: Mapping[str, Wire]
    gases: Mapping[str, Gas]
    caps: Mapping[str, Cap]
    cells: Mapping[str, Cell]
    robots: Mapping[str, Robot]
    power_sources: Mapping[str, PowerSource]
    guns: Mapping[str, Gun]
    hazards: tuple[Hazard, ...]
    faults: tuple[Fault, ...]
    inspections: tuple[Inspection, ...]
    limits: tuple[Limit, ...]
    shades: Shades | None = None
    imperfections: Imperfections | None = None
    records: tuple[QualificationRecord, ...] = ()
    rules: tuple[QualificationRules, ...] = ()
    groups: tuple[MaterialGroups, ...] = ()
    tolerances: tuple[GeneralTolerances, ...] = ()
    gauges: tuple[SheetGauges, ...] = ()
    people: PeopleQualifications | None = None
    samples: SampleSizes | None = None
    responsible: ResponsiblePeople | None = None
    instruments: Instruments | None = None

    def has(self, kind: str) -> bool:
        """Say whether the plant has a table of a kind."""
        return any(table.kind == kind for table in self.tables.values())

    def entries(self, kind: str) -> Mapping[str, Any]:
        """Return the entries of the one table of a kind by identifier; none where the plant has no such table."""
        found = (table for table in self.tables.values() if table.kind == kind)
        return {entry.id: entry for table in found for entry in getattr(table, "entries", ())}

    def owner(self, kind: str) -> Table:
        """Return the one table of an entry kind such as ``materials``, for citing its revision."""
        return next(table for table in self.tables.values() if table.kind == kind)
