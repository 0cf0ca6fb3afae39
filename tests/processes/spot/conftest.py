"""A small invented shop with one cell of two spot robots, and operations of spots for it."""

from collections.abc import Callable
from typing import Any

import pytest
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.charts import Limit, Limits, SpotChart, SpotSpacing
from weld_packets.model.tables.machines import Cell, Gun, Robot
from weld_packets.model.tables.materials import Cap, Material
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.safety import Shades
from weld_packets.processes.spot.records import SpotOperation

HEAD = {"title": "of this test", "source": "invented for the test", "revision": "1"}


def chart(**more: Any) -> SpotChart:
    row = {
        "over": "0.5 mm",
        "up to": "2 mm",
        "cap face": "5 mm",
        "force from": "2 kN",
        "force to": "3 kN",
        "weld time from": "10 cycles@50Hz",
        "weld time to": "14 cycles@50Hz",
        "current from": "8 kA",
        "current to": "10 kA",
    } | more.pop("row", {})
    head = {
        "table": "plain-bands",
        "kind": "spot chart",
        "form": "bands",
        "base": "low-carbon steel",
        "coatings": ["none"],
        "governing thickness": "second thickest",
        "governing source": "rule of the test",
        "stack limits": {"thickness ratio": "3", "total": "9 mm", "source": "limits of the test"},
        "weld diameter": {"minimum": "4", "target": "5", "source": "factors of the test"},
        "spacing": "pitches",
        "squeeze": "15 cycles@50Hz",
        "hold": "8 cycles@50Hz",
        "sequence source": "sequence of the test",
        "columns": {},
    }
    return SpotChart.model_validate(HEAD | head | {"rows": [row]} | more)


def spacing(**more: Any) -> SpotSpacing:
    row = {"over": "0.5 mm", "up to": "2 mm", "pitch": "20 mm", "overlap": "12 mm"}
    head = {"table": "pitches", "kind": "spot spacing", "form": "bands", "columns": {}, "rows": [row]}
    return SpotSpacing.model_validate(HEAD | head | more)


def gun(**more: Any) -> Gun:
    stated = {
        "id": "G1",
        "name": "gun",
        "style": "C",
        "drive": "servo",
        "dressing": "power",
        "cap": "cap-6",
        "force from": "1 kN",
        "force to": "4 kN",
        "force step": "0.1 kN",
        "current from": "4 kA",
        "current to": "15 kA",
        "current step": "0.1 kA",
        "permanent current": "5 kA",
        "maximum duty": "20 %",
        "throat depth": "300 mm",
        "opening": "100 mm",
    }
    return Gun.model_validate(stated | more)


def cap(**more: Any) -> Cap:
    stated = {
        "id": "cap-6",
        "designation": "cap",
        "standard": "ISO 5821",
        "body": "16 mm",
        "face": "6 mm",
        "maximum force": "4 kN",
        "dressings": "20",
        "life": [],
        "basis": "invented",
    }
    return Cap.model_validate(stated | more)


def robot(mark: str, equipment: str, base: list[str], **more: Any) -> Robot:
    stated = {
        "id": mark,
        "name": f"robot {mark}",
        "cell": "C1",
        "side": mark,
        "base": base,
        "base unit": "mm",
        "reach": "2 m",
        "equipment": equipment,
        "travel speed step": "1 mm/s",
        "air speed": "1 m/s",
        "weld overhead": "0.4 s",
        "approach": "0.6 s",
        "times source": "times of the test",
    }
    return Robot.model_validate(stated | more)


def material(mark: str, **more: Any) -> Material:
    stated = {
        "id": mark,
        "designation": mark,
        "standard": "none",
        "base": "low-carbon steel",
        "density": "7.85 g/cm³",
        "composition basis": "invented",
        "thickness from": "0.4 mm",
        "thickness to": "6 mm",
    }
    return Material.model_validate(stated | more)


def limit(quantity: str, lowest: str, highest: str, **more: Any) -> Limit:
    stated = {
        "quantity": quantity,
        "processes": ["21"],
        "bases": ["low-carbon steel"],
        "lowest": lowest,
        "highest": highest,
        "source": "bounds of the test",
    }
    return Limit.model_validate(stated | more)


def plant() -> Plant:
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
        "duty planning share": "100 %",
        "spot pitch three sheets more": "30 %",
        "spot pitch source": "three sheets of the test",
        "reinforcement": "1.1",
        "reinforcement source": "invented",
        "cap change after": "a while",
        "contact tip after": "8 h",
        "contact tip source": "invented",
        "cautions": ["care"],
        "emergency stop when": ["anybody is inside"],
        "stop when": ["call"],
    }
    return Plant.model_validate(HEAD | stated)


def approved(**more: Any) -> ApprovedTables:
    """Return the shop of the tests; ``more`` replaces whole fields."""
    cell = {"id": "C1", "name": "cell", "mains": "50 Hz", "robots": ["A", "B"], "load time": "20 s"}
    materials = [
        material("plain"),
        material("zinc", coating="hot-dip zinc"),
        material("annealed", coating="iron-zinc"),
        material("bright", base="austenitic stainless"),
    ]
    shade = {"process": "135", "over": "0 A", "up to": "100 A", "minimum shade": "10"}
    entries = {
        "tables": {},
        "plant": plant(),
        "spot_charts": {"plain-bands": chart()},
        "spot_spacings": {"pitches": spacing()},
        "arc_charts": {},
        "materials": {entry.id: entry for entry in materials},
        "wires": {},
        "gases": {},
        "caps": {"cap-6": cap()},
        "cells": {"C1": Cell.model_validate(cell | {"load time source": "invented"})},
        "robots": {"A": robot("A", "G1", ["0", "-500", "0"]), "B": robot("B", "G2", ["0", "900", "0"])},
        "power_sources": {},
        "guns": {"G1": gun(), "G2": gun(id="G2")},
        "hazards": (),
        "faults": (),
        "inspections": (),
        "limits": (limit("weld_current", "3 kA", "20 kA"),),
        "shades": Shades.model_validate(HEAD | {"table": "shades", "kind": "shades", "rows": [shade]}),
    }
    return ApprovedTables(**(entries | more))


def limits(*entries: Limit) -> Limits:
    written = [entry.model_dump(by_alias=True, mode="python") for entry in entries]
    return Limits.model_validate(HEAD | {"table": "limits", "kind": "limits", "entries": written})


def rectangle(width: int, depth: int) -> list[list[str]]:
    return [["0", "0"], [str(width), "0"], [str(width), str(depth)], ["0", str(depth)]]


def part(mark: str, thickness: str = "1 mm", of: str = "plain", **more: Any) -> dict[str, Any]:
    return {"id": mark, "name": f"part {mark}", "material": of, "thickness": thickness} | more


def spot(mark: str, x: float, y: float = 20, z: float = 0, **more: str) -> dict[str, Any]:
    return {"id": mark, "robot": "A", "stack": "k1", "x": f"{x} mm", "y": f"{y} mm", "z": f"{z} mm"} | more


def operation(**more: Any) -> SpotOperation:
    """Return an operation of two 1 mm sheets with three spots 30 mm apart; ``more`` replaces whole keys."""
    outline = {"unit": "mm", "points": rectangle(200, 40)}
    stated = {
        "name": "operation",
        "cell": "C1",
        "robots": ["A", "B"],
        "programs": {"A": "P1", "B": "P2"},
        "datum": "front left pin",
        "fixture": "F1",
        "process": "21",
        "components": [part("panel", outlines=[outline]), part("strip", outlines=[outline])],
        "stacks": [{"id": "k1", "sheets": ["panel", "strip"]}],
        "spots": [spot("s1", 20), spot("s2", 50), spot("s3", 80)],
    }
    return SpotOperation.model_validate(stated | more)


@pytest.fixture
def build() -> Any:
    """Return the builders of this file as attributes, so that tests need no package to import them from."""

    class Builders:
        approved: Callable[..., ApprovedTables] = staticmethod(approved)
        operation: Callable[..., SpotOperation] = staticmethod(operation)
        spot: Callable[..., dict[str, Any]] = staticmethod(spot)
        part: Callable[..., dict[str, Any]] = staticmethod(part)
        chart: Callable[..., SpotChart] = staticmethod(chart)
        spacing: Callable[..., SpotSpacing] = staticmethod(spacing)
        gun: Callable[..., Gun] = staticmethod(gun)
        cap: Callable[..., Cap] = staticmethod(cap)
        robot: Callable[..., Robot] = staticmethod(robot)
        limit: Callable[..., Limit] = staticmethod(limit)
        limits: Callable[..., Limits] = staticmethod(limits)
        rectangle: Callable[[int, int], list[list[str]]] = staticmethod(rectangle)

    return Builders
