"""A small invented shop with one cell of two arc robots, and operations of seams for it."""

from collections.abc import Callable
from typing import Any

import pytest
from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import ArcChart, Limit, Limits
from weld_packets.model.tables.inspection import Imperfections
from weld_packets.model.tables.machines import Cell, PowerSource, Robot
from weld_packets.model.tables.materials import Gas, Material, Wire, Wires
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.safety import Shades
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.arc.seam_groups import SeamGroup, seam_groups

HEAD = {"title": "of this test", "source": "invented for the test", "revision": "1"}
CHART = {
    "throat from": "1.8 mm",
    "throat to": "2.6 mm",
    "current from": "140 A",
    "current to": "160 A",
    "voltage from": "18 V",
    "voltage to": "20 V",
    "wire feed": "4 m/min",
    "travel speed from": "7 mm/s",
    "travel speed to": "9 mm/s",
    "gas flow from": "10 l/min",
    "gas flow to": "15 l/min",
    "contact distance": "12 mm",
}
"""One run at 4 m/min of 1.0 mm wire makes throats of 2.24 to 2.54 mm in this operation (reinforcement 1.1, 95 %)."""


def chart(name: str = "short-arc", *, row: dict[str, Any] | None = None, **more: Any) -> ArcChart:
    changed = CHART | (row or {})
    stated = {key: value for key, value in changed.items() if value is not None}
    head = {
        "table": name,
        "kind": "arc chart",
        "form": "bands",
        "process": "135",
        "bases": ["low-carbon steel", "structural steel"],
        "joints": ["T fillet", "lap fillet", "corner fillet", "square butt"],
        "positions": ["PA", "PB", "PF", "PG"],
        "gas": "M21",
        "wire diameter": "1.0 mm",
        "transfer": "short arc",
        "work angle": "45°",
        "travel angle": "10°",
        "travel direction": "push",
        "angles source": "angles of the test",
        "tolerance": {"wire feed": "10 %"},
        "tolerance source": "tolerance of the test",
        "columns": {},
        "rows": [{"over": "1 mm", "up to": "12 mm"} | stated],
    }
    return ArcChart.model_validate(HEAD | head | more)


def material(mark: str, **more: Any) -> Material:
    stated = {
        "id": mark,
        "designation": mark,
        "standard": "EN 10025-2",
        "base": "structural steel",
        "density": "7.85 g/cm³",
        "yield strength": "235 N/mm²",
        "composition": {"C": "0.12", "Si": "0.2", "Mn": "0.6"},
        "composition basis": "invented",
        "thickness from": "1 mm",
        "thickness to": "30 mm",
    }
    return Material.model_validate(stated | more)


def wire(**more: Any) -> Wire:
    stated = {
        "id": "W10",
        "designation": "G3Si1 1.0",
        "standard": "ISO 14341-A",
        "process": "135",
        "bases": ["low-carbon steel", "structural steel", "austenitic stainless"],
        "diameter": "1.0 mm",
        "density": "7.85 g/cm³",
        "efficiency": "95 %",
        "efficiency source": "Kobelco",
        "hydrogen": "5 ml/100g",
        "hydrogen source": "certificate of the test",
        "current from": "60 A",
        "current to": "250 A",
        "current source": "maker of the test",
        "spool": "15 kg",
    }
    return Wire.model_validate(stated | more)


LAW = {
    "gases": ["M21"],
    "law": {"arc": "0.339", "resistance": "0.000064", "arc length": {"short arc": "2 mm", "spray": "4 mm"}},
    "scatter": "25 %",
    "source": "law of the test",
}
"""4 m/min of 1.0 mm wire at 12 mm draws 123 A by it; 150 A melt 5.10 m/min."""


def robot(mark: str, **more: Any) -> Robot:
    stated = {
        "id": mark,
        "name": f"robot {mark}",
        "cell": "C1",
        "side": mark[-1],
        "base": ["0", "0", "0"],
        "base unit": "mm",
        "reach": "1500 mm",
        "equipment": "PS1",
        "travel speed step": "0.1 mm/s",
        "air speed": "500 mm/s",
        "weld overhead": "2 s",
        "approach": "1 s",
        "times source": "times of the test",
    }
    return Robot.model_validate(stated | more)


def source(**more: Any) -> PowerSource:
    stated = {
        "id": "PS1",
        "name": "source of the test",
        "current from": "30 A",
        "current to": "350 A",
        "voltage from": "14 V",
        "voltage to": "32 V",
        "voltage step": "0.1 V",
        "wire feed from": "1.5 m/min",
        "wire feed to": "18 m/min",
        "wire feed step": "0.1 m/min",
        "duty": [{"share": "40 %", "current": "350 A"}, {"share": "100 %", "current": "250 A"}],
    }
    return PowerSource.model_validate(stated | more)


def plant(**more: Any) -> Plant:
    stated = {
        "table": "plant",
        "kind": "plant",
        "name": "works of the test",
        "supervisor": {"role": "foreman", "call": "ext. 1"},
        "show first": "metric",
        "reduced speed": "250 mm/s",
        "reduced speed source": "invented",
        "fire watch": "30 min",
        "fire watch source": "invented",
        "fire distance": "35 ft",
        "fire distance source": "invented",
        "duty planning share": "60 %",
        "spot pitch three sheets more": "30 %",
        "spot pitch source": "invented",
        "reinforcement": "1.1",
        "reinforcement source": "factor of the test",
        "cap change after": "a while",
        "contact tip after": "8 h",
        "contact tip source": "invented",
        "cautions": ["care"],
        "emergency stop when": ["anybody is inside"],
        "stop when": ["stop"],
    }
    return Plant.model_validate(HEAD | stated | more)


def limit(quantity: str, lowest: str, highest: str) -> Limit:
    stated = {"quantity": quantity, "processes": ["135"], "bases": ["structural steel"], "source": "bounds of the test"}
    return Limit.model_validate(stated | {"lowest": lowest, "highest": highest})


LIMITS = (
    limit("welding_current", "20 A", "500 A"),
    limit("travel_speed", "3 mm/s", "50 mm/s"),
    limit("heat_input", "0.03 kJ/mm", "3.5 kJ/mm"),
    limit("thickness", "0.4 mm", "40 mm"),
)


THROATS = Imperfections.model_validate(
    HEAD
    | {
        "table": "imperfections", "kind": "imperfections", "short length": "25 mm",
        "entries": [{
            "id": "throat", "numbers": ["5214"], "name": "excessive throat", "share of": "throat", "source": "standard",
            "limits": [
                {"level": "B", "over": "0.5 mm", "plus": "1 mm", "share": "0.15", "at most": "3 mm"},
                {"level": "C", "over": "0.5 mm", "plus": "1 mm", "share": "0.2", "from memory": "yes"},
                {"level": "D", "over": "0.5 mm", "permitted": "yes"},
            ],
        }],
    }
)  # fmt: skip


def approved(  # noqa: PLR0917 - the tables that tests change
    charts: tuple[ArcChart, ...] = (),
    materials: tuple[Material, ...] = (),
    machine: PowerSource | None = None,
    robots: tuple[Robot, ...] = (),
    with_wire: Wire | None = None,
    with_plant: Plant | None = None,
    limits: tuple[Limit, ...] = LIMITS,
    imperfections: Imperfections | None = THROATS,
) -> ApprovedTables:
    gas = {"id": "M21", "group": "ISO 14175 M21", "content": "Ar", "flow from": "8 l/min", "flow to": "25 l/min"}
    gas |= {"cylinder": "10000 l", "cylinder name": "cylinder"}
    cell = {"id": "C1", "name": "cell", "mains": "50 Hz", "robots": ["A", "B"], "load time": "20 s"}
    table = Limits.model_construct(kind="limits", table="limits", entries=limits)
    used = with_wire or wire()
    wires = Wires.model_construct(kind="wires", table="wires", revision="1", entries=(used,))
    return ApprovedTables(
        tables={"limits": table, "wires": wires},
        plant=with_plant or plant(),
        spot_charts={},
        spot_spacings={},
        arc_charts={entry.table: entry for entry in charts or (chart(),)},
        materials={entry.id: entry for entry in (material("S235"), *materials)},
        wires={used.id: used},
        gases={"M21": Gas.model_validate(gas)},
        caps={},
        cells={"C1": Cell.model_validate(cell | {"load time source": "invented"})},
        robots={entry.id: entry for entry in (robot("A"), robot("B"), *robots)},
        power_sources={"PS1": machine or source()},
        guns={},
        hazards=(),
        faults=(),
        inspections=(),
        limits=limits,
        shades=Shades.model_construct(rows=()),
        imperfections=imperfections,
    )


def seam(mark: str, **more: Any) -> dict[str, Any]:
    """Return a seam 100 mm long; ``size`` None leaves the throat out."""
    path = {"unit": "mm", "start": ["0", "0", "0"], "pieces": [{"to": ["100", "0", "0"]}]}
    stated = {
        "id": mark,
        "robot": "A",
        "joint": "T fillet",
        "position": "PB",
        "components": ["web", "plate"],
        "path": path,
    }
    sizes = {} if {"leg", "gap"} & set(more) else {"throat": "2.4 mm"}
    return stated | sizes | more


def operation(
    *seams: dict[str, Any], components: dict[str, tuple[str, str]] | None = None, **more: Any
) -> ArcOperation:
    """Return an operation; ``components`` maps a component to its material and thickness."""
    made = components or {"web": ("S235", "3 mm"), "plate": ("S235", "4 mm")}
    stated = {
        "name": "operation of the test",
        "cell": "C1",
        "robots": ["A", "B"],
        "programs": {"A": "1", "B": "2"},
        "datum": "corner",
        "fixture": "fixture",
        "process": "135",
        "wire": "W10",
        "gas": "M21",
        "components": [
            {"id": mark, "name": mark, "material": of, "thickness": thick} for mark, (of, thick) in made.items()
        ],
        "seams": list(seams) or [seam("S1")],
    }
    return ArcOperation.model_validate(stated | more)


def only_group(in_operation: ArcOperation, of_approved: ApprovedTables) -> SeamGroup:
    gathering = Gathering()
    found = seam_groups(in_operation, of_approved, of_approved.power_sources, gathering)
    gathering.finish(OutOfRangeError)
    assert len(found) == 1
    return found[0]


def sheets(thickness: str, other: str = "", of: str = "S235") -> dict[str, tuple[str, str]]:
    return {"web": (of, thickness), "plate": (of, other or thickness)}


def warnings(figure: Figure) -> list[str]:
    return [remark.text for remark in figure.remarks if remark.weight.value == "warning"]


def notes(figure: Figure) -> list[str]:
    return [remark.text for remark in figure.remarks if remark.weight.value == "note"]


def number(settings: WeldSettings, key: str) -> float:
    value = settings.figure(key).value
    assert value is not None
    return float(value.magnitude)


class Dials:
    """Everything above, for tests that cannot import this file."""

    LAW = LAW

    chart = staticmethod(chart)
    material = staticmethod(material)
    wire = staticmethod(wire)
    robot = staticmethod(robot)
    source = staticmethod(source)
    plant = staticmethod(plant)
    limit = staticmethod(limit)
    approved = staticmethod(approved)
    seam = staticmethod(seam)
    operation = staticmethod(operation)
    group = staticmethod(only_group)
    sheets = staticmethod(sheets)
    warnings = staticmethod(warnings)
    notes = staticmethod(notes)
    number = staticmethod(number)


@pytest.fixture
def bench() -> Callable[..., Any] | type[Dials]:
    return Dials
