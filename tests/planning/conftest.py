"""Operations already computed, with round numbers, in a small invented line of one arc cell and one spot cell."""

from typing import Any

import pytest
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Figure
from weld_packets.model.order import FittedAtStart, Order
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.machines import Cell, Gun, Robot
from weld_packets.model.tables.materials import Cap, Gas, Material, Wire
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.safety import Shades
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.units import exact, kinds, quantity

ARC_HEAD = {"name": "frames", "cell": "C1", "robots": ["A", "B"], "programs": {"A": "1", "B": "2"}, "datum": "corner"}
SPOT_HEAD = {"name": "doors", "cell": "C2", "robots": ["E", "F"], "programs": {"E": "1", "F": "2"}, "datum": "corner"}


def robot(mark: str, cell: str, equipment: str) -> Robot:
    return Robot.model_validate(
        {
            "id": mark,
            "name": mark,
            "cell": cell,
            "side": "A",
            "base": ["0", "0", "0"],
            "base unit": "mm",
            "reach": "2 m",
            "equipment": equipment,
            "travel speed step": "1 mm/s",
            "air speed": "100 mm/s",
            "weld overhead": "2 s",
            "approach": "1 s",
            "times source": "stopwatch",
        }
    )


def cell(mark: str, robots: list[str]) -> Cell:
    stated = {"id": mark, "name": mark, "mains": "50 Hz", "robots": robots}
    return Cell.model_validate(stated | {"load time": "30 s", "load time source": "stopwatch"})


def cap(*, dressings: int = 2, life: dict[str, int] | None = None) -> Cap:
    lives = life if life is not None else {"none": 10, "hot-dip zinc": 4}
    return Cap.model_construct(
        id="cap-6",
        dressings=dressings,
        basis="trials of the plant",
        life=Cap.model_validate(
            {
                "id": "cap-6",
                "designation": "cap",
                "standard": "ISO 5821",
                "body": "16 mm",
                "face": "6 mm",
                "maximum force": "4 kN",
                "dressings": "2",
                "basis": "invented",
                "life": [
                    {"coating": coating, "welds between dressings": str(welds), "basis": "from memory"}
                    for coating, welds in lives.items()
                ],
            }
        ).life,
    )


def approved(*, share: str = "60 %", with_cap: Cap | None = None) -> ApprovedTables:
    wire = Wire.model_construct(id="W10", designation="G3Si1", spool=quantity(1, "kg"))
    gas = Gas.model_construct(id="M21", cylinder=quantity(100, "l"), cylinder_name="cylinder")
    planned = quantity(float(share.split(maxsplit=1)[0]), "%")
    plant = Plant.model_construct(
        duty_planning_share=planned, contact_tip_after=quantity(1, "h"), contact_tip_source="common practice, no source"
    )
    coated = Material.model_construct(id="zinc", coating="hot-dip zinc")
    bare = Material.model_construct(id="bare", coating="none")
    robots = (robot("A", "C1", "PS"), robot("B", "C1", "PS"), robot("E", "C2", "G"), robot("F", "C2", "G"))
    return ApprovedTables(
        tables={},
        plant=plant,
        spot_charts={},
        spot_spacings={},
        arc_charts={},
        materials={"zinc": coated, "bare": bare},
        wires={"W10": wire},
        gases={"M21": gas},
        caps={"cap-6": with_cap or cap()},
        cells={"C1": cell("C1", ["A", "B"]), "C2": cell("C2", ["E", "F"])},
        robots={entry.id: entry for entry in robots},
        power_sources={},
        guns={"G": Gun.model_construct(id="G", cap="cap-6")},
        hazards=(),
        faults=(),
        inspections=(),
        limits=(),
        shades=Shades.model_construct(operations=()),
    )


def figure(key: str, value: float, unit: str) -> Figure:
    found = quantity(value, unit)
    return Figure(key, key, "x", kinds.NUMBER, unit, found, exact(found, unit))


def settings(key: str, robot_name: str, welds: tuple[str, ...], runs: int, **values: tuple[float, str]) -> WeldSettings:
    figures = tuple(figure(name, *value) for name, value in values.items())
    return WeldSettings(key, key, robot_name, welds, runs, (), figures, ())


def seam(mark: str, of_robot: str, start: int, end: int) -> dict[str, Any]:
    path = {"unit": "mm", "start": [str(start), "0", "0"], "pieces": [{"to": [str(end), "0", "0"]}]}
    stated = {
        "id": mark,
        "robot": of_robot,
        "joint": "T fillet",
        "position": "PB",
        "components": ["p", "p"],
        "throat": "3 mm",
    }
    return stated | {"path": path}


def frames() -> OperationResult:
    """Return an arc operation: robot A welds S1 in two runs and S2 in one, robot B rests."""
    operation = ArcOperation.model_validate(
        ARC_HEAD
        | {
            "fixture": "fixture",
            "process": "135",
            "wire": "W10",
            "gas": "M21",
            "components": [{"id": "p", "name": "p", "material": "bare", "thickness": "3 mm"}],
            "seams": [seam("S1", "A", 0, 100), seam("S2", "A", 300, 400)],
        }
    )
    first = settings("s1", "A", ("S1",), 2, arc_time=(20, "s"), wire_mass=(0.2, "kg"), gas_volume=(6, "l"))
    second = settings("s2", "A", ("S2",), 1, arc_time=(10, "s"), wire_mass=(0.1, "kg"), gas_volume=(4, "l"))
    return OperationResult(operation, (first, second), ())


def doors(*, welds: int = 6) -> OperationResult:
    """Return a spot operation: robot E welds a bare stack, robot F one bare and one coated stack of two spots."""
    marks = {f"E{number}": ("E", "K1") for number in range(welds)} | {"F0": ("F", "K1"), "F1": ("F", "K2")}
    spots = [
        {"id": mark, "robot": of, "stack": stack, "x": f"{number * 50} mm", "y": "0 mm", "z": "0 mm"}
        for number, (mark, (of, stack)) in enumerate(marks.items())
    ]
    sheets = [("p", "bare"), ("z", "zinc")]
    operation = SpotOperation.model_validate(
        SPOT_HEAD
        | {
            "fixture": "fixture",
            "process": "21",
            "components": [{"id": mark, "name": mark, "material": of, "thickness": "1 mm"} for mark, of in sheets],
            "stacks": [{"id": "K1", "sheets": ["p", "p"]}, {"id": "K2", "sheets": ["p", "z"]}],
            "spots": spots,
        }
    )
    of_e = tuple(mark for mark in marks if mark.startswith("E"))
    groups = (
        settings("k1-e", "E", of_e, 1, time_under_force=(500, "ms")),
        settings("k1-f", "F", ("F0",), 1, time_under_force=(500, "ms")),
        settings("k2-f", "F", ("F1",), 1, time_under_force=(800, "ms")),
    )
    return OperationResult(operation, groups, ())


def order(quantity_of_parts: int, number: str = "WO-2", fitted: tuple[dict[str, Any], ...] = ()) -> Order:
    recorded = tuple(FittedAtStart.model_validate(entry) for entry in fitted)
    return Order.model_construct(order=number, quantity=quantity_of_parts, fitted_at_start=recorded)


class Line:
    """Everything above, for tests that cannot import this file."""

    approved = staticmethod(approved)
    cap = staticmethod(cap)
    frames = staticmethod(frames)
    doors = staticmethod(doors)
    figure = staticmethod(figure)
    order = staticmethod(order)


@pytest.fixture
def line() -> type[Line]:
    return Line
