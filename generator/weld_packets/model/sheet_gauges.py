"""Thicknesses of sheet by gauge number: the one gauge that a document gives, and those that a plant states itself."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Mark, Record, Thickness, Whole
from weld_packets.model.table import Table

STANDARD_GAUGE: Mapping[int, str] = MappingProxyType({
    3: "0.2391", 4: "0.2242", 5: "0.2092", 6: "0.1943", 7: "0.1793", 8: "0.1644", 9: "0.1495", 10: "0.1345",
    11: "0.1196", 12: "0.1046", 13: "0.0897", 14: "0.0747", 15: "0.0673", 16: "0.0598", 17: "0.0538", 18: "0.0478",
    19: "0.0418", 20: "0.0359", 21: "0.0329", 22: "0.0299", 23: "0.0269", 24: "0.0239", 25: "0.0209", 26: "0.0179",
    27: "0.0164", 28: "0.0149", 29: "0.0135", 30: "0.0120",
})  # fmt: skip
"""Manufacturers' standard gauge of uncoated carbon steel sheet, in inches.

It is the weight of a square foot in pounds, as a supplier's table of hot and cold rolled sheet prints it (read: 10.000
at 3 to 0.500 at 30, with these thicknesses to 0.001 in), over 41.82 lb/ft² for an inch of thickness (a page on this
gauge, read). Coated and stainless sheet have other thicknesses: the one list of gauges of galvanized sheet that was
found names no document, and its inches and millimetres contradict each other at 22 (0.0306 in beside 0.853 mm). A plant
states those of its supplier in a table.
"""


class Gauge(Record):
    """The gauge by which an order gives a thickness, and the table that it was read from.

    Without a ``table`` it is the manufacturers' standard gauge.
    """

    number: Whole
    table: Mark | None = None


class SheetGauge(Record):
    """One gauge number of a table, and the thickness that it is."""

    gauge: Whole
    thickness: Thickness


class SheetGauges(Table):
    """What a gauge number is in sheet of some materials: by their supplier, or by a document that the plant has."""

    kind: Literal["sheet gauges"]
    materials: Annotated[
        tuple[Mark, ...], Field(min_length=1, description="materials of which this is the gauge, by their identifiers")
    ]
    columns: dict[str, str] = {}
    rows: Annotated[tuple[SheetGauge, ...], Field(min_length=1)]
