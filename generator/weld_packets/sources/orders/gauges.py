"""Thicknesses of components by gauge number, as plants with US customary units write them."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from weld_packets.errors import MessageAndRemedy, Problem
from weld_packets.model.sheet_gauges import STANDARD_GAUGE, SheetGauges
from weld_packets.model.tables.materials import Material
from weld_packets.sources.reading.places import Document, KeyPath
from weld_packets.units import Quantity, spelling

_GAUGE = re.compile(r"(?P<number>[0-9]{1,2}) *(?:ga|gauge|gage)", re.IGNORECASE)
_STANDARD = {number: f"{inches} in" for number, inches in STANDARD_GAUGE.items()}


def gauged(
    document: Document, materials: Mapping[str, Material], tables: Iterable[SheetGauges]
) -> tuple[Document, tuple[Problem, ...]]:
    """Return an order with the thicknesses that it gives by gauge, and the gauges that cannot be read.

    Of a material that one of ``tables`` names, a gauge is what that table says; else it is the manufacturers' standard
    gauge, which is of uncoated carbon steel. What a gauge was stays beside the thickness.
    """
    operations = document.tree.get("operations")
    if not isinstance(operations, list):
        return document, ()
    reader = _Reader(document, materials, {name: table for table in tables for name in table.materials})
    tree = dict(document.tree)
    tree["operations"] = [reader.operation(each, ("operations", index)) for index, each in enumerate(operations)]
    return Document(tree, document.places), tuple(reader.problems)


@dataclass
class _Reader:
    """Reads the components of an order, and gathers what is wrong with their gauges."""

    document: Document
    materials: Mapping[str, Material]
    tables: Mapping[str, SheetGauges]
    problems: list[Problem] = field(default_factory=list)

    def operation(self, operation: Any, path: KeyPath) -> Any:
        components = operation.get("components") if isinstance(operation, dict) else None
        if not isinstance(components, list):
            return operation
        read = [self._component(each, (*path, "components", index)) for index, each in enumerate(components)]
        return {**operation, "components": read}

    def _component(self, component: Any, path: KeyPath) -> Any:
        if not isinstance(component, dict):
            return component
        if "gauge" in component:
            self._refuse((*path, "gauge"), "", "a gauge is written as the thickness", "write 'thickness: 16 ga'")
            component = {key: value for key, value in component.items() if key != "gauge"}
        thickness = component.get("thickness")
        match = _GAUGE.fullmatch(thickness.strip()) if isinstance(thickness, str) else None
        if match is None:
            return component
        number, name = int(match["number"]), component.get("material")
        material, table = (self.materials.get(name), self.tables.get(name)) if isinstance(name, str) else (None, None)
        known = {row.gauge: _written(row.thickness) for row in table.rows} if table else _STANDARD
        fault = _fault(number, material, table, known)
        if fault:
            self._refuse((*path, "thickness"), str(thickness), *fault)
            known = {number: _written(material.thickness_from) if material else "1 mm"}  # nothing else is wrong
        gauge = {"number": str(number)} | ({"table": table.table} if table else {})
        return component | {"thickness": known[number], "gauge": gauge}

    def _refuse(self, path: KeyPath, value: str, message: str, remedy: str) -> None:
        self.problems.append(self.document.places.problem(path, value, message, remedy))


def _written(thickness: Quantity) -> str:
    """Return a thickness as a source writes it, to its last digit."""
    return f"{thickness.m!r} {spelling(thickness)}"


def _fault(
    number: int, material: Material | None, table: SheetGauges | None, known: Collection[int]
) -> MessageAndRemedy | None:
    """Return why a gauge is not the thickness of a component, message and remedy; None where it is one."""
    plain = material is None or (material.coating == "none" and material.base != "austenitic stainless")
    if table is None and not plain:
        message = "a gauge of coated or stainless sheet is another thickness, and no table of the plant gives it"
        remedy = "write the thickness that the supplier states, or a table 'kind: sheet gauges' that names the material"
        return message, remedy
    if number not in known:
        numbers = ", ".join(str(each) for each in sorted(known)) if table else f"{min(known)} to {max(known)}"
        owner = f"the table {table.table!r}" if table else "the manufacturers' standard gauge"
        return f"{owner} has the numbers {numbers}", "write the thickness, such as 0.25 in"
    return None
