"""What arc seams have of the variables by which a qualification record is compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from weld_packets.calculation.qualification.ordered import Has, allowed, of_materials, of_products, together
from weld_packets.calculation.qualification.values import Case, Extent, Value, number, sizes, terms
from weld_packets.calculation.readings import value_of
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.calculation.trace import Lookup
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import ArcOperation, Seam
from weld_packets.model.processes import arc_process
from weld_packets.model.qualification import Variable, WeldType
from weld_packets.model.trade import Joint, TransferMode
from weld_packets.processes.arc.around import is_said_round, welded_around
from weld_packets.processes.arc.heat.heat import heat_input
from weld_packets.units import Quantity, quantity

AUTOMATIC = "automatic"
"""A robot that runs its program, with nobody who corrects it during the weld."""
_TYPES: Mapping[Joint, WeldType] = {"square butt": "butt", "flare bevel": "flare"}
"""Every other joint is a fillet."""


def arc_cases(found: OperationResult, approved: ApprovedTables) -> Iterator[Case]:
    """Yield the seams of an operation, together what is equal in every variable."""
    operation: ArcOperation = found.operation
    seams = {seam.id: seam for seam in operation.seams}
    around = welded_around(operation.seams)
    welds = (
        (name, _TYPES.get(seams[name].joint, "fillet"), _has(operation, seams[name], settings, approved, around))
        for settings in found.settings
        for name in settings.welds
    )
    return together(welds, operation.required_tests)


def _has(
    operation: ArcOperation,
    seam: Seam,
    settings: WeldSettings,
    approved: ApprovedTables,
    around: frozenset[frozenset[str]],
) -> Has:
    components = [each for name in seam.components for each in operation.components if each.id == name]
    products = of_products(components, approved)
    if frozenset(seam.components) in around and not is_said_round(components):
        products["product"] = None  # a tube or a bar: which one, the order does not say
    found: dict[Variable, Value | None] = {
        "process": terms(operation.process),
        "mechanisation": terms(AUTOMATIC),
        "weld type": terms(_TYPES.get(seam.joint, "fillet")),
        **of_materials([approved.materials[each.material] for each in components], approved),
        **products,
        "thickness": sizes("thickness", *(each.thickness for each in components)),
    }
    if seam.joint != "square butt":
        found["throat"] = sizes("throat", value_of(settings.figure("throat")))
    found |= {
        "passes": terms("several" if settings.pass_count > 1 else "one"),
        "position": terms(seam.position),
        **_consumables(operation, approved),
        **_electrical(settings, approved),
        "heat input": heat_inputs(operation.process, settings),
        "preheat": sizes("preheat", _figure(settings, "preheat") or _figure(settings, "working_temperature")),
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


def heat_inputs(process: str, settings: WeldSettings) -> Extent | None:
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


def _figure(settings: WeldSettings, key: str) -> Quantity | None:
    return next((each.value for each in settings.figures() if each.key == key), None)
