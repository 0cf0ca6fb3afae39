"""A small shop with one arc cell and one spot cell, and figures as the process room hands them on."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from weld_packets.calculation.results import OperationResult, SeamKind, SpotKind, WeldSettings
from weld_packets.calculation.trace import AllowedRange, Figure, Rounded, Verdict
from weld_packets.diagrams.illustrations import illustrated
from weld_packets.model.order import Order
from weld_packets.model.tables.approved import TABLE_KINDS, ApprovedTables
from weld_packets.packet.assembly import build_packet, operation_views
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import Packet
from weld_packets.planning.pair.records import NotChecked
from weld_packets.planning.pair.verdicts import pair_verdicts
from weld_packets.planning.records import Event, OperationPlan, OrderPlan, RobotPlan, Use
from weld_packets.processes.arc.records import ArcOperation
from weld_packets.processes.spot.records import SpotOperation
from weld_packets.units import Kind, from_decimal, kinds, quantity

HEAD = {"source": "test", "revision": "B", "title": "test table", "approved": {"by": "engineer", "date": "2026-01-02"}}
ARC = ("131", "135", "136", "138")

PLANT = {
    "name": "Works", "supervisor": {"role": "foreman", "call": "extension 7"},
    "show first": "metric", "reduced speed": "250 mm/s", "reduced speed source": "OSHA",
    "fire watch": "30 min", "fire watch source": "OSHA", "fire distance": "35 ft", "fire distance source": "OSHA",
    "duty planning share": "100 %", "spot pitch three sheets more": "30 %", "spot pitch source": "notes",
    "reinforcement": "1.1", "reinforcement source": "works", "cap change after": "30 dressings",
    "contact tip after": "4 h", "contact tip source": "works", "cautions": ["Local law comes first."],
    "start checks": ["Close the curtain. No gap is left."],
    "emergency stop when": ["Anybody is inside the fence."], "stop when": ["Water leaks."],
}  # fmt: skip
HAZARDS = [
    ("lockout", "WARNING", ["M021"], {}, ["set up", "changeover"], []),
    ("rays", "WARNING", ["W027", "M019"], {"processes": list(ARC)}, ["prove", "run"], ["filter shade"]),
    ("zinc", "WARNING", ["W071"], {"processes": list(ARC), "coatings": ["hot-dip zinc"]}, ["prove"], []),
    ("chromium", "WARNING", ["M017"], {"chromium from": "5"}, ["prove"], []),
    ("gas", "WARNING", ["W041"], {"asphyxiant gas": "yes"}, ["set up"], []),
    (
        "crush",
        "WARNING",
        ["W024", "P015"],
        {"processes": ["21"], "force over": "1 kN"},
        ["set up"],
        ["electrode force"],
    ),
    ("implants", "WARNING", ["W006", "P007"], {"processes": ["21"]}, ["confirm", "start"], ["magnetic field"]),
    ("eyes", "WARNING", ["M013"], {"processes": ["21"]}, [], []),
    ("strong", "WARNING", ["W006"], {"current over": "10 kA"}, ["prove"], []),
    ("weak", "NOTICE", [], {"current up to": "100 A"}, ["prove"], []),
    ("noise", "CAUTION", ["M003"], {"processes": list(ARC)}, ["run"], ["noise"]),
    ("hot", "CAUTION", ["W017"], {}, ["prove"], []),
    ("start-up", "DANGER", ["W018"], {}, ["prove", "start"], []),
    ("clamps", "WARNING", ["W024"], {}, ["set up"], []),
    ("teach", "WARNING", ["W019"], {}, ["prove"], ["reduced speed"]),
]
FAULTS = [
    {"id": "small", "processes": ["21"], "sign": "Button too small", "stop when": "Below the minimum", "source": "test",
     "remedies": [{"check": "Dress the caps."}, {"check": "Raise the current", "setting": "weld_current",
                                                  "direction": "up"},
                  {"check": "Shorten the hold", "setting": "hold_time", "direction": "down"}]},
    {"id": "pores", "processes": ["135"], "sign": "Pores", "stop when": "Again", "source": "test",
     "remedies": [{"check": "Lower the voltage", "setting": "arc_voltage", "direction": "down"},
                  {"check": "Set the tip", "setting": "contact_distance", "direction": "none"}]},
]  # fmt: skip
INSPECTIONS = [
    {"id": "peel", "processes": ["21"], "stage": "coupon", "what": "Weld diameter", "how": "Peel it",
     "accept": "Not below the minimum", "every": "set-up", "source": "ISO 10447"},
    {"id": "macro", "processes": ["135"], "stage": "coupon", "what": "Macro section", "how": "Cut and etch",
     "accept": "Root fused", "every": "set-up", "levels": ["C"], "source": "ISO 5817"},
    {"id": "macro-b", "processes": ["135"], "stage": "coupon", "what": "Macro section", "how": "Cut and etch",
     "accept": "No undercut", "every": "set-up", "levels": ["B"], "source": "ISO 5817"},
    {"id": "look", "processes": ["21", "135"], "stage": "first-off", "what": "All welds", "how": "By eye",
     "accept": "All there", "every": "first part", "source": "ISO 17637"},
    {"id": "chisel", "processes": ["21"], "stage": "in process", "what": "Chisel check", "how": "Wedge",
     "accept": "None parts", "every": "two hours", "source": "test"},
]  # fmt: skip


def _table(table: str, kind: str, /, **more: Any) -> Any:
    return TABLE_KINDS[kind].model_validate({"table": table, "kind": kind, **HEAD, **more})


def _material(name: str, base: str, coating: str, chromium: str) -> dict[str, Any]:
    return {
        "id": name, "designation": name, "standard": "EN", "base": base, "coating": coating, "density": "7.85 g/cm³",
        "composition": {"Cr": chromium}, "composition basis": "test", "thickness from": "0.5 mm",
        "thickness to": "6 mm",
    }  # fmt: skip


def _cell(name: str) -> dict[str, Any]:
    return {
        "id": name, "name": f"Cell {name}", "mains": "50 Hz", "robots": [f"{name}A", f"{name}B"],
        "noise": "96 dB(A)", "noise measured at": "the gate", "magnetic field": "0.8 mT at the gate",
        "load time": "30 s", "load time source": "test",
    }  # fmt: skip


def _robot(cell: str, side: str) -> dict[str, Any]:
    return {
        "id": f"{cell}{side}", "name": f"Robot {side}", "cell": cell, "side": side, "base": ["0", "0", "0"],
        "base unit": "mm", "reach": "2 m", "equipment": f"E-{cell}{side}", "travel speed step": "0.1 mm/s",
        "air speed": "800 mm/s", "weld overhead": "1 s", "approach": "1 s", "times source": "test",
    }  # fmt: skip


def _source(name: str) -> dict[str, Any]:
    return {
        "id": name, "name": name, "current from": "30 A", "current to": "400 A", "voltage from": "13 V",
        "voltage to": "40 V", "voltage step": "0.1 V", "wire feed from": "1 m/min", "wire feed to": "22 m/min",
        "wire feed step": "0.1 m/min", "duty": [{"share": "100 %", "current": "320 A"}],
    }  # fmt: skip


def _gun(name: str) -> dict[str, Any]:
    return {
        "id": name, "name": name, "style": "C", "drive": "servo", "dressing": "power", "cap": "cap-16",
        "force from": "1 kN",
        "force to": "5 kN", "force step": "0.1 kN", "current from": "3 kA", "current to": "15 kA",
        "current step": "0.1 kA", "permanent current": "4 kA", "maximum duty": "5 %", "throat depth": "400 mm",
        "opening": "100 mm",
    }  # fmt: skip


def _tables() -> list[Any]:
    robots = [_robot(cell, side) for cell in ("C1", "C5") for side in "AB"]
    return [
        _table("plant", "plant", **PLANT),
        _table("materials", "materials", entries=[
            _material("DC01", "low-carbon steel", "none", "0"),
            _material("DX51", "low-carbon steel", "hot-dip zinc", "0"),
            _material("304", "austenitic stainless", "none", "18"),
        ]),
        _table("wires", "wires", entries=[{
            "id": "W10", "designation": "G3Si1", "standard": "ISO 14341-A", "process": "135",
            "bases": ["low-carbon steel"], "diameter": "1.0 mm", "density": "7.85 g/cm³", "efficiency": "95 %",
            "efficiency source": "test", "current from": "50 A", "current to": "250 A", "current source": "test",
            "spool": "15 kg",
        }]),
        _table("gases", "gases", entries=[{
            "id": "M21", "group": "ISO 14175 M21", "content": "argon with 18 % CO2", "flow from": "8 l/min",
            "flow to": "25 l/min", "cylinder": "11500 l", "cylinder name": "cylinder",
        }]),
        _table("caps", "caps", entries=[{
            "id": "cap-16", "designation": "Cap 16 mm", "standard": "ISO 5821", "body": "16 mm", "face": "6 mm",
            "maximum force": "4 kN", "dressings": "30", "basis": "test",
            "life": [{"coating": "none", "welds between dressings": "400", "basis": "test"}],
        }]),
        _table("machines", "machines", cells=[_cell("C1"), _cell("C5")], robots=robots,
               **{"power sources": [_source("E-C1A"), _source("E-C1B")], "guns": [_gun("E-C5A"), _gun("E-C5B")]}),
        _table("hazards", "hazards", entries=[
            {"id": name, "word": word, "signs": signs, "hazard": "h", "consequence": "c", "avoid": "a", "when": when,
             "stages": stages, "facts": facts, "source": "s"} for name, word, signs, when, stages, facts in HAZARDS
        ]),
        _table("faults", "faults", entries=FAULTS),
        _table("inspections", "inspections", entries=INSPECTIONS),
        _table("shades", "shades", rows=[
            {"process": "135", "over": "0 A", "up to": "60 A", "minimum shade": "7"},
            {"process": "135", "over": "60 A", "up to": "160 A", "minimum shade": "10", "suggested shade": "11"},
            {"process": "135", "over": "160 A", "up to": "250 A", "minimum shade": "10", "suggested shade": "12"},
        ]),
        _table("limits", "limits", entries=[{
            "quantity": "thickness", "processes": ["21"], "bases": ["low-carbon steel"], "lowest": "0.3 mm",
            "highest": "6 mm", "source": "test",
        }]),
    ]  # fmt: skip


def _by_id(entries: Any) -> dict[str, Any]:
    return {entry.id: entry for entry in entries}


@pytest.fixture(scope="session")
def approved() -> ApprovedTables:
    by_name = {table.table: table for table in _tables()}
    machines = by_name["machines"]
    return ApprovedTables(
        tables=by_name, plant=by_name["plant"], spot_charts={}, spot_spacings={}, arc_charts={},
        materials=_by_id(by_name["materials"].entries), wires=_by_id(by_name["wires"].entries),
        gases=_by_id(by_name["gases"].entries), caps=_by_id(by_name["caps"].entries),
        cells=_by_id(machines.cells), robots=_by_id(machines.robots), power_sources=_by_id(machines.power_sources),
        guns=_by_id(machines.guns), hazards=by_name["hazards"].entries, faults=by_name["faults"].entries,
        inspections=by_name["inspections"].entries, limits=by_name["limits"].entries, shades=by_name["shades"],
    )  # fmt: skip


def _figure(
    key: str, text: str | None, unit: str, kind: Kind, *, low: str = "", high: str = "", step: str = "",
    machine: str = "machine", **more: Any,
) -> Figure:  # fmt: skip
    number = None if text is None else Decimal(text)
    value = None if number is None else from_decimal(number, unit)
    ends = [from_decimal(Decimal(end), unit) if end else None for end in (low, high)]
    trace = more.pop("trace", ())
    if step and number is not None and value is not None:
        trace = (*trace, Rounded(value, number, unit, Decimal(step), machine))
    return Figure(
        key, key.replace("_", " "), "x", kind, unit, value, number,
        AllowedRange(ends[0], ends[1], "table t revision B") if low or high else None,
        Decimal(step) if step else None, trace, **more,
    )  # fmt: skip


def spot_settings(
    robot: str, welds: tuple[str, ...], current: str = "8.4", key: str = "k1", top: str = "9.04"
) -> WeldSettings:
    dialled = (
        _figure("electrode_force", "2.6", "kN", kinds.FORCE, low="2.34", high="2.86", step="0.1", machine=f"E-{robot}"),
        _figure("weld_current", current, "kA", kinds.SPOT_CURRENT, low="8.02", high=top, step="0.1",
                machine=f"E-{robot}"),
        _figure("weld_time", "12", "cycles@50Hz", kinds.TIME, low="10.2", high="13.8", step="1"),
        _figure("hold_time", "200", "ms", kinds.TIME, low="200", high="240", step="20"),
    )  # fmt: skip
    derived = (
        _figure("set_up_weld_diameter", "4.93", "mm", kinds.LENGTH),
        _figure("minimum_weld_diameter", "3.83", "mm", kinds.LENGTH),
        _figure("target_weld_diameter", "5.48", "mm", kinds.LENGTH),
    )
    return WeldSettings(f"{key}-{robot.lower()}", SpotKind(key, ()), robot, welds, 1, dialled, derived, ())


def arc_settings(robot: str, welds: tuple[str, ...], current: str = "150", top: str = "") -> WeldSettings:
    dialled = (
        _figure("wire_feed_speed", "8.5", "m/min", kinds.WIRE_FEED, low="8.04", high="9.06", step="0.1"),
        _figure("arc_voltage", "19.5", "V", kinds.VOLTAGE, low="19", high="21", step="0.1"),
        _figure("travel_speed", "7.5", "mm/s", kinds.TRAVEL_SPEED, low="6.77", high="8.33", step="0.1"),
        _figure("contact_distance", "12", "mm", kinds.LENGTH),
    )
    derived = (
        _figure("welding_current", current, "A", kinds.CURRENT, low="40" if top else "", high=top),
        _figure("throat", "3", "mm", kinds.LENGTH),
        _figure("preheat", None, "°C", kinds.TEMPERATURE, outside="too thin"),
    )
    kind = SeamKind("T fillet", (("a", quantity(3, "mm")),), "PB", ())
    return WeldSettings(f"s1-{robot.lower()}", kind, robot, welds, 2, dialled, derived, ())


def _operation(cell: str, parts: list[dict[str, str]], **more: Any) -> dict[str, Any]:
    return {
        "name": f"Operation at {cell}", "cell": cell, "robots": [f"{cell}A", f"{cell}B"],
        "programs": {f"{cell}A": "1203", f"{cell}B": "1204"}, "datum": "front left pin", "fixture": f"F-{cell}",
        "components": [{"id": f"p{index}", "name": f"Part {index}", **part} for index, part in enumerate(parts, 1)],
        **more,
    }  # fmt: skip


def spot_operation(material: str = "DC01", thickness: str = "1.2 mm", **more: Any) -> SpotOperation:
    parts = [{"material": material, "thickness": thickness}, {"material": "DC01", "thickness": "1.5 mm"}]
    spots = [
        {"id": f"{robot}{index}", "robot": f"C5{robot}", "stack": "k1", "x": f"{30 * index} mm", "y": y, "z": "0 mm"}
        for robot, y in (("A", "2 in"), ("B", "120 mm")) for index in (1, 2)
    ]  # fmt: skip
    operation = _operation("C5", parts, process="21", stacks=[{"id": "k1", "sheets": ["p1", "p2"]}], spots=spots)
    return SpotOperation.model_validate({**operation, **more})


def arc_operation(material: str = "DC01", **more: Any) -> ArcOperation:
    parts = [{"material": material, "thickness": "3 mm"}, {"material": "DC01", "thickness": "3 mm"}]
    paths = [
        {"unit": "cm", "start": ["1", "2", "0"], "pieces": [{"to": ["11", "2", "0"]}]},
        {"unit": "in", "start": ["0", "0", "0"], "pieces": [{"via": ["1", "1", "0"], "to": ["2", "0", "0"]}]},
    ]
    seams = [
        {"id": f"s{robot}", "robot": f"C1{robot}", "joint": "T fillet", "position": "PB", "components": ["p1", "p2"],
         "throat": "3 mm", "path": path} for robot, path in zip("AB", paths, strict=True)
    ]  # fmt: skip
    operation = _operation("C1", parts, process="135", wire="W10", gas="M21", seams=seams)
    return ArcOperation.model_validate({**operation, **more})


def _result(operation: ArcOperation | SpotOperation, **more: str) -> OperationResult:
    if isinstance(operation, SpotOperation):
        settings = tuple(spot_settings(f"C5{robot}", (f"{robot}1", f"{robot}2"), **more) for robot in "AB")
    else:
        settings = tuple(arc_settings(f"C1{robot}", (f"s{robot}",), **more) for robot in "AB")
    return OperationResult(operation, settings, ())


def order_of(*operations: ArcOperation | SpotOperation, **more: Any) -> Order:
    head: dict[str, Any] = {
        "order": "WO-1", "title": "Locker <frame>", "part": {"number": "PL-1", "name": "Frame"}, "quantity": "240",
        "due": date(2026, 12, 4), "revision_intent": "first", "operations": operations,
    }  # fmt: skip
    return Order.model_validate({**head, **more})


def _plan(results: tuple[OperationResult, ...]) -> OrderPlan:
    operations = tuple(
        OperationPlan(
            result.operation.name,
            result.operation.cell,
            tuple(
                RobotPlan(robot, (_figure("robot_time", "41.2", "s", kinds.DURATION),), (
                    Verdict("arc_share", robot, "the arc burns half of the time", passed=True, source="plate"),
                )) for robot in result.operation.robots
            ),
            (_figure("operation_time", "71.2", "s", kinds.DURATION),),
            NotChecked(("margin",)),
            pair_verdicts(NotChecked(("margin",)), result),
        ) for result in results
    )  # fmt: skip
    use = Use(
        results[0].operation.name, results[0].operation.cell, results[0].operation.robots[0], "wire",
        (_figure("per_part", "0.0268", "kg", kinds.MASS), _figure("in_prove_out", "0.0268", "kg", kinds.MASS),
         _figure("over_run", "11700", "l", kinds.VOLUME)),
    )  # fmt: skip
    events = tuple(
        Event(120, result.operation.name, robot, "Dress both caps", "after", result.operation.cell, "400 welds")
        for result in results for robot in result.operation.robots
    )  # fmt: skip
    run = _figure("run_duration", "4.75", "h", kinds.DURATION)
    return OrderPlan(operations, operations[0].operation, "operations in series", (run,), (use,), events)


def drawn_packet(
    order: Order, results: tuple[OperationResult, ...], plan: OrderPlan, approved: ApprovedTables, previous: Any
) -> Packet:
    """Return a packet as a command drafts it, with its pictures."""
    views = operation_views(order, results, approved)
    return illustrated(build_packet("wo-1", views, plan, previous), views, plan)


class Make:
    """Builders of orders, results and operations over the small shop."""

    def __init__(self, approved: ApprovedTables) -> None:
        self.approved = approved
        self.figure, self.drawn_packet = _figure, drawn_packet
        self.spot_operation, self.arc_operation, self.order, self.result = (
            spot_operation,
            arc_operation,
            order_of,
            _result,
        )
        self.spot_settings, self.arc_settings, self.plan = spot_settings, arc_settings, _plan

    def packet(self, *operations: ArcOperation | SpotOperation, previous: Any = None, **more: Any) -> Packet:
        order = order_of(*operations, **more)
        results = tuple(_result(operation) for operation in operations)
        return drawn_packet(order, results, _plan(results), self.approved, previous)

    def views(
        self,
        *operations: ArcOperation | SpotOperation,
        change: Callable[[OperationResult], OperationResult] = lambda each: each,
              **more: Any) -> tuple[OperationView, ...]:  # fmt: skip
        order = order_of(*operations, **more)
        results = [change(_result(operation)) for operation in operations]
        return tuple(OperationView(number, order, result, self.approved) for number, result in enumerate(results, 1))


@pytest.fixture
def make(approved: ApprovedTables) -> Make:
    return Make(approved)


@pytest.fixture(scope="session")
def verbs() -> frozenset[str]:
    """The verbs that a step may begin with."""
    words = """
        After At Bring Call Change Check Clamp Clean Clear Close Come Compare Confirm Connect Count Cut Dress Enable
        Fit Follow Free Go Hand Hold Inch Inspect Keep Leave Let Load Lock Look Measure Move Open Peel Press Prove Purge
        Read Remove Reset Restore Run Select Send Set Shut Stand Start Step Stop Switch Take Test Thread Try Turn Unlock
        Watch Weld Write
    """
    return frozenset(words.split())
