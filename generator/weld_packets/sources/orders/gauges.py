"""Thicknesses of components by gauge number, as plants with US customary units write them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from weld_packets.errors import Problem
from weld_packets.model.materials import Material
from weld_packets.sources.reading.places import Document, KeyPath, typed

_GAUGE = re.compile(r"(?P<number>[0-9]{1,2}) *(?:ga|gauge|gage)", re.IGNORECASE)
STANDARD_GAUGE = {
    3: "0.2391", 4: "0.2242", 5: "0.2092", 6: "0.1943", 7: "0.1793", 8: "0.1644", 9: "0.1495", 10: "0.1345",
    11: "0.1196", 12: "0.1046", 13: "0.0897", 14: "0.0747", 15: "0.0673", 16: "0.0598", 17: "0.0538", 18: "0.0478",
    19: "0.0418", 20: "0.0359", 21: "0.0329", 22: "0.0299", 23: "0.0269", 24: "0.0239", 25: "0.0209", 26: "0.0179",
    27: "0.0164", 28: "0.0149", 29: "0.0135", 30: "0.0120",
}  # fmt: skip
"""Manufacturers' standard gauge of uncoated carbon steel sheet, in inches: the weight of a square foot in pounds, as a
supplier's table of hot and cold rolled sheet prints it (read: 10.000 at 3 to 0.500 at 30, with these thicknesses to
0.001 in), over 41.82 lb/ft² for an inch of thickness (a page on this gauge, read). Coated and stainless
sheet have other thicknesses and are refused: the one list of gauges of galvanized sheet that was found names no
document, and its inches and millimetres contradict each other at 22 (0.0306 in beside 0.853 mm)."""


def gauged(document: Document, materials: Mapping[str, Material]) -> tuple[Document, tuple[Problem, ...]]:
    """Return an order with the thicknesses in inches that it gives by gauge, and the gauges that cannot be read."""
    problems: list[Problem] = []
    operations = document.tree.get("operations")
    if not isinstance(operations, list):
        return document, ()
    tree = dict(document.tree)
    tree["operations"] = [
        _operation(operation, ("operations", index), document, materials, problems)
        for index, operation in enumerate(operations)
    ]
    return Document(tree, document.places), tuple(problems)


def _operation(
    operation: Any, path: KeyPath, document: Document, materials: Mapping[str, Material], problems: list[Problem]
) -> Any:
    components = operation.get("components") if isinstance(operation, dict) else None
    if not isinstance(components, list):
        return operation
    read = list(components)
    for index, component in enumerate(components):
        thickness = component.get("thickness") if isinstance(component, dict) else None
        match = _GAUGE.fullmatch(thickness.strip()) if isinstance(thickness, str) else None
        if match:
            faults = list(_faults(int(match["number"]), component, materials))
            at = (*path, "components", index, "thickness")
            problems += [document.places.problem(at, str(thickness), *fault) for fault in faults]
            known = f"{STANDARD_GAUGE[int(match['number'])]} in" if not faults else _any_of(component, materials)
            read[index] = component | {"thickness": known}
    return {**operation, "components": read}


def _any_of(component: dict[str, Any], materials: Mapping[str, Material]) -> str:
    """Return a thickness that nothing else is wrong with, in place of one that is refused already."""
    material = materials.get(str(component.get("material")))
    return typed(material.thickness_from) if material else "1 mm"


def _faults(number: int, component: dict[str, Any], materials: Mapping[str, Material]) -> Iterator[tuple[str, str]]:
    """Yield why a gauge is not the thickness of a component: message and remedy."""
    name = component.get("material")
    material = materials.get(name) if isinstance(name, str) else None
    if number not in STANDARD_GAUGE:
        known = f"{min(STANDARD_GAUGE)} to {max(STANDARD_GAUGE)}"
        yield f"the manufacturers' standard gauge has the numbers {known}", "write the thickness, such as 0.25 in"
    elif material and (material.coating != "none" or material.base == "austenitic stainless"):
        yield (
            (
                "gauges are read of uncoated carbon steel alone: in coated or stainless sheet a gauge is another "
                "thickness, and no document that could be cited gives it"
            ),
            "write the thickness that the supplier states for this gauge and coating, in inches or mm",
        )
