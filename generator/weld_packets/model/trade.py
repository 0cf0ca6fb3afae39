"""Words of the trade that a source may use, each from a standard or from common usage."""

from __future__ import annotations

from typing import Literal

Position = Literal["PA", "PB", "PC", "PD", "PE", "PF", "PG"]
"""ISO 6947 working positions."""
Joint = Literal["T fillet", "lap fillet", "corner fillet", "square butt", "flare bevel"]
QualityLevel = Literal["B", "C", "D"]
"""ISO 5817 quality levels."""
BaseMetal = Literal["low-carbon steel", "structural steel", "austenitic stainless"]
Coating = Literal["none", "hot-dip zinc", "electro zinc", "iron-zinc"]
SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
"""ANSI Z535.4 / ISO 3864-2 signal words; NOTICE is not about injury."""
Polarity = Literal["DC+", "DC-", "AC"]
"""DC+ is the electrode on the positive pole, DC- on the negative one."""
TransferMode = Literal["short arc", "spray", "globular", "pulsed"]
WarningStage = Literal["set up", "coupon", "loading", "dry run", "first-off"]
"""Stages of the work at which something is done about a warning, in their order."""
GoverningRule = Literal["thinner", "thinnest outside", "second thickest"]
"""Which sheet decides the row of a chart: see ``weld_packets.processes.spot``."""
Reliability = Literal["published", "from memory", "common practice, no source"]
"""How far the source of a value can be trusted; what is not published may warn and never blocks."""
TravelDirection = Literal["push", "drag", "perpendicular"]
