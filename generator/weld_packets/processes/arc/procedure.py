"""The procedure of arc welds: what they have of the variables of a qualification record, and what a WPS of them lists.

The list is that of ISO 15609-1:2019, headings read in its list of contents.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import dist, tau

from weld_packets.calculation.places.path import pieces_of
from weld_packets.calculation.qualification.ordered import allowed, of_materials, of_products, together
from weld_packets.calculation.qualification.rules import Proof
from weld_packets.calculation.qualification.values import Case, Extent, Value, number, sizes, terms
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Lookup
from weld_packets.geometry.arcs import Arc
from weld_packets.geometry.vectors import Point
from weld_packets.model.order import Component
from weld_packets.model.processes import arc_process
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.qualification import Variable, WeldType
from weld_packets.model.trade import Joint, TransferMode
from weld_packets.processes.answers import AUTOMATIC, Procedure, ProcedureItem
from weld_packets.processes.arc.heat.heat import heat_input
from weld_packets.processes.arc.records import ArcOperation, Seam
from weld_packets.units import Quantity, from_decimal, quantity

_TYPES: Mapping[Joint, WeldType] = {"square butt": "butt", "flare bevel": "flare"}
"""Every other joint is a fillet."""
_ALL_AROUND = 0.95
"""Share of a circle from which on it is welded all around: seams that meet may leave a little between them."""
_ONE_CENTRE = 1.0
"""Millimetres within which two arcs have one centre."""
_GROOVES: Mapping[Variable, tuple[str, ...]] = {"weld type": ("butt", "flare")}
"""A fillet lies in the corner of two components: it has no groove, none to gouge, and nothing to back."""
ARC_PROCEDURE = Procedure(
    "ISO 15609-1:2019",
    "headings 4.1 to 4.4.11 read in the list of contents of ISO 15609-1:2019; what belongs to each is from memory, and "
    "the clauses after 4.4.11 are not known",
    (
        ProcedureItem("4.2", "Manufacturer", ("manufacturer",)),
        ProcedureItem("4.2", "Procedure (WPS)", ("procedure",)),
        ProcedureItem("4.2", "Qualification record (WPQR)", ("records",)),
        ProcedureItem("4.3.1", "Parent materials and groups", ("materials",)),
        ProcedureItem("4.3.2", "Thickness, outside diameter", ("dimensions",)),
        ProcedureItem("4.4.1", "Process, mechanisation", ("process",)),
        ProcedureItem("4.4.2", "Joint, throat, leg, gap", ("joint",), ("root_gap",), ("throat", "leg")),
        ProcedureItem("4.4.2", "Groove: root face, angle", of_welds=_GROOVES),
        ProcedureItem("4.4.2", "Passes in sequence", ("passes",)),
        ProcedureItem("4.4.3", "Position", ("position",)),
        ProcedureItem("4.4.4", "Edge preparation, cleaning"),
        ProcedureItem("4.4.4", "Jigging, fixture", ("jigging",)),
        ProcedureItem("4.4.4", "Tacks", (), ("tacks",)),
        ProcedureItem("4.4.5", "Weave: amplitude, frequency, dwell, width"),
        ProcedureItem("4.4.5", "Torch angles", (), (), ("work_angle", "travel_angle")),
        ProcedureItem("4.4.6", "Back gouging: method, depth, shape", of_welds=_GROOVES),
        ProcedureItem("4.4.7", "Backing: material, size", of_welds=_GROOVES),
        ProcedureItem("4.4.7", "Backing gas"),
        ProcedureItem("4.4.8", "Filler, standard, diameter", ("consumables",)),
        ProcedureItem("4.4.8", "Filler: maker, trade name"),
        ProcedureItem("4.4.8", "Number of wires", ("wires",)),
        ProcedureItem("4.4.8", "Handling of the filler: drying, holding"),
        ProcedureItem("4.4.9", "Type of current, polarity", (), ("polarity",)),
        ProcedureItem("4.4.9", "Current", (), (), ("welding_current",)),
        ProcedureItem("4.4.9", "Pulse data", of_welds={"transfer mode": ("pulsed",)}),
        ProcedureItem("4.4.10", "Travel speed", (), (), ("travel_speed",)),
        ProcedureItem("4.4.10", "Wire feed speed", (), (), ("wire_feed_speed",)),
        ProcedureItem("4.4.11", "Preheat", (), ("preheat", "working_temperature")),
        ProcedureItem("", "Interpass temperature", (), ("interpass",)),
        ProcedureItem("", "Preheat maintenance"),
        ProcedureItem("", "Post-heating"),
        ProcedureItem("", "Heat treatment after welding"),
        ProcedureItem("", "Shielding gas, flow", ("gas",), (), ("gas_flow",)),
        ProcedureItem("", "Heat input, by the allowed ranges", (), (), (), ("heat input",)),
        ProcedureItem("", "Metal transfer", (), ("transfer",)),
        ProcedureItem("", "Arc voltage", (), (), ("arc_voltage",)),
        ProcedureItem("", "Contact tip to work distance, nozzle", (), ("nozzle",), ("contact_distance",)),
    ),
    "of a fillet: visual test and test for surface cracks over the whole length, two macro sections, hardness but for "
    "groups 1.1 and 8; of a butt also radiographic or ultrasonic test, two tensile and four bend tests (ISO 15614-1, "
    "level 2, from memory)",
    Proof("ISO 15614-1", "2017+A1:2019", "2"),
)


def arc_cases(found: OperationResult, approved: ApprovedTables) -> Iterator[Case]:
    """Yield the seams of an operation, together what is equal in every variable."""
    operation: ArcOperation = found.operation
    seams = {seam.id: seam for seam in operation.seams}
    around = welded_around(operation.seams)
    welds = (
        (seam.id, _type(seam), {**_of_seam(operation, seam, approved, around), **welded})
        for settings in found.settings
        for welded in (_as_set(operation, seams[settings.welds[0]], settings, approved),)
        for seam in map(seams.__getitem__, settings.welds)
    )
    return together(welds, operation.required_tests)


def _type(seam: Seam) -> WeldType:
    return _TYPES.get(seam.joint, "fillet")


def _of_seam(
    operation: ArcOperation, seam: Seam, approved: ApprovedTables, around: frozenset[frozenset[str]]
) -> dict[Variable, Value | None]:
    """Return what a seam has of its process and of its components."""
    components = [each for name in seam.components for each in operation.components if each.id == name]
    products = of_products(components, approved)
    if frozenset(seam.components) in around and not _is_said_round(components):
        products["product"] = None  # a tube or a bar: which one, the order does not say
    return {
        "process": terms(operation.process),
        "mechanisation": terms(AUTOMATIC),
        "weld type": terms(_type(seam)),
        **of_materials([approved.materials[each.material] for each in components], approved),
        **products,
        "thickness": sizes("thickness", *(each.thickness for each in components)),
    }


def _as_set(
    operation: ArcOperation, seam: Seam, settings: WeldSettings, approved: ApprovedTables
) -> dict[Variable, Value | None]:
    """Return what the seams of some settings, of which ``seam`` is one, have in common: they share the joint too."""
    found: dict[Variable, Value | None] = {}
    if seam.joint != "square butt":
        found["throat"] = sizes("throat", value_of(settings.figure("throat")))
    found |= {
        "passes": terms("several" if settings.pass_count > 1 else "one"),
        "position": terms(seam.position),
        **_consumables(operation, approved),
        **_electrical(settings, approved),
        "heat input": _heat_inputs(operation.process, settings),
        "preheat": sizes("preheat", _warmest(settings)),
    }
    if settings.pass_count > 1:
        found["interpass temperature"] = sizes("interpass temperature", _figure(settings, "interpass_temperature"))
    return found


def _consumables(operation: ArcOperation, approved: ApprovedTables) -> dict[Variable, Value | None]:
    gas = approved.gases[operation.gas]
    found: dict[Variable, Value | None] = {}
    if operation.wire is not None:
        wire = approved.wires[operation.wire]
        found["filler"] = terms(wire.classification or wire.id)
        found["filler diameter"] = sizes("filler diameter", wire.diameter)
        found["polarity"] = terms(wire.polarity)
    found["gas"] = terms(gas.group)
    found["carbon dioxide"] = sizes("carbon dioxide", gas.carbon_dioxide)
    return found


def _electrical(settings: WeldSettings, approved: ApprovedTables) -> dict[Variable, Value | None]:
    found: dict[Variable, Value | None] = {}
    transfer = _transfer(settings, approved)
    if transfer is not None:
        found["transfer mode"] = terms(transfer)
    found["current"] = allowed("current", settings, "welding_current")
    found["voltage"] = allowed("voltage", settings, "arc_voltage")
    found["travel speed"] = allowed("travel speed", settings, "travel_speed")
    feed = allowed("wire feed speed", settings, "wire_feed_speed")
    return found if feed is None else {**found, "wire feed speed": feed}


def _transfer(settings: WeldSettings, approved: ApprovedTables) -> TransferMode | None:
    """Return the mode of transfer of the chart that gave the settings; None where the arc melts no wire."""
    tables = (step.table for figure in settings.figures() for step in figure.trace if isinstance(step, Lookup))
    return next((approved.arc_charts[table].transfer for table in tables if table in approved.arc_charts), None)


def _heat_inputs(process: str, settings: WeldSettings) -> Extent | None:
    """Return the heat input between both ends of the allowed ranges of voltage, current and travel speed, in kJ/mm."""
    voltage = allowed("voltage", settings, "arc_voltage")
    current = allowed("current", settings, "welding_current")
    speed = allowed("travel speed", settings, "travel_speed")
    if voltage is None or current is None or speed is None or not speed.low:
        return None
    share = arc_process(process).thermal_efficiency

    def heat(volts: object, amperes: object, speed_mm_s: object) -> Quantity:
        return heat_input.work(
            thermal_efficiency=quantity(share, "1"),
            arc_voltage=quantity(float(str(volts)), "V"),
            welding_current=quantity(float(str(amperes)), "A"),
            travel_speed=quantity(float(str(speed_mm_s)), "mm/s"),
        ).result

    low = number("heat input", heat(voltage.low, current.low, speed.high))
    return Extent(low, number("heat input", heat(voltage.high, current.high, speed.low)))


def _warmest(settings: WeldSettings) -> Quantity | None:
    """Return the temperature at which the components are welded: as required, or a calculated preheat as shown."""
    found = {each.key: each for each in settings.figures()}
    figure = found.get("working_temperature", found.get("preheat"))
    return None if figure is None or figure.text is None else from_decimal(figure.text, figure.unit)


def _figure(settings: WeldSettings, key: str) -> Quantity | None:
    return next((each.value for each in settings.figures() if each.key == key), None)


# ---------------------------------------------------------------- components that are welded around


@dataclass
class _Circle:
    pair: frozenset[str]
    centre: Point
    sweep: float = 0.0


def welded_around(seams: Sequence[Seam]) -> frozenset[frozenset[str]]:
    """Return the pairs of components of which one is upright on the other and is welded all around in a circle.

    Only a T fillet has an upright component; a disc that lies flat is welded around by a lap fillet, and is a plate.
    A circle may be of several seams, by either robot.
    """
    circles: list[_Circle] = []
    for seam in seams:
        if seam.joint == "T fillet":
            for piece in pieces_of(seam.path):
                if isinstance(piece, Arc):
                    _circle(circles, frozenset(seam.components), piece.centre).sweep += piece.sweep
    return frozenset(each.pair for each in circles if each.sweep >= _ALL_AROUND * tau)


def _circle(circles: list[_Circle], pair: frozenset[str], centre: Point) -> _Circle:
    known = next((each for each in circles if each.pair == pair and dist(each.centre, centre) <= _ONE_CENTRE), None)
    if known is None:
        circles.append(known := _Circle(pair, centre))
    return known


def _is_said_round(components: Sequence[Component]) -> bool:
    """Return whether the order says of one of some components that it is a round tube."""
    return any(each.section is not None and each.section.form == "round tube" for each in components)
