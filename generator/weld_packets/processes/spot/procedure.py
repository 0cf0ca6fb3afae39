"""The procedure of spots: what they have of the variables of a qualification record, and what a WPS of them lists.

The list is that of ISO 15609-5:2011, whose items are from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.qualification.ordered import Has, allowed, of_materials, of_products, together
from weld_packets.calculation.qualification.rules import Proof
from weld_packets.calculation.qualification.values import Case, sizes, terms
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.model.tables.approved import ApprovedTables
from weld_packets.model.tables.qualification import WeldType
from weld_packets.processes.answers import AUTOMATIC, Procedure, ProcedureItem
from weld_packets.processes.spot.records import SpotOperation, Stack

SPOT_PROCEDURE = Procedure(
    "ISO 15609-5:2011",
    "title page and corrigendum read; its list of items is from memory",
    (
        ProcedureItem("", "Manufacturer", ("manufacturer",)),
        ProcedureItem("", "Procedure (WPS)", ("procedure",)),
        ProcedureItem("", "Qualification record (WPQR)", ("records",)),
        ProcedureItem("", "Part, drawing", ("part",)),
        ProcedureItem("", "Process, mechanisation", ("process",)),
        ProcedureItem("", "Sheets in order, coating", ("stack",)),
        ProcedureItem("", "Surface, cleaning, waiting time"),
        ProcedureItem(
            "", "Overlap, pitch, edge distance", (), (), ("minimum_overlap", "minimum_pitch", "minimum_edge_distance")
        ),
        ProcedureItem("", "Welds in sequence", ("sequence",)),
        ProcedureItem("", "Permitted gap"),
        ProcedureItem("", "Jigging, fixture", ("jigging",)),
        ProcedureItem("", "Machine, current type, stepper, cooling", ("machines",)),
        ProcedureItem("", "Electrode caps, each side", ("consumables",), (), ("cap_face",)),
        ProcedureItem("", "Dressing and change of the caps", ("wear",)),
        ProcedureItem("", "Calibration of the force"),
        ProcedureItem("", "Electrode force", (), (), ("electrode_force",)),
        ProcedureItem("", "Squeeze time", (), (), ("squeeze_time",)),
        ProcedureItem("", "Upslope, downslope", (), (), ("upslope_time",)),
        ProcedureItem("", "Weld time, pulses", (), (), ("weld_time", "pulses", "cool_time")),
        ProcedureItem("", "Hold time", (), (), ("hold_time",)),
        ProcedureItem("", "Control of the current: mode"),
        ProcedureItem("", "Weld current", (), (), ("weld_current",)),
        ProcedureItem(
            "",
            "Weld diameter required",
            (),
            (),
            ("target_weld_diameter", "set_up_weld_diameter", "minimum_weld_diameter"),
        ),
        ProcedureItem(
            "",
            "Strength of a spot",
            ("strength",),
            (),
            ("test_shear_strength", "test_cross_tension", "shear_resistance"),
        ),
        ProcedureItem("", "Failure type in the test", ("failure types",)),
        ProcedureItem("", "Penetration"),
        ProcedureItem("", "Indentation, surface class", (), (), ("visible_indentation",)),
        ProcedureItem("", "Tests and frequency", ("tests",)),
        ProcedureItem("", "Treatment after welding"),
    ),
    "number of test pieces and tests not read (ISO 15614-12, 6.2 and 7.1 to 7.4); to be fixed before the test by the "
    "performance and quality class of the part",
    Proof("ISO 15614-12", "2014"),
)


def spot_cases(found: OperationResult, approved: ApprovedTables) -> Iterator[Case]:
    """Yield the spots of an operation, together what is equal in every variable."""
    operation: SpotOperation = found.operation
    stacks = {stack.id: stack for stack in operation.stacks}
    stack_of = {spot.id: stacks[spot.stack] for spot in operation.spots}
    spot: WeldType = "spot"
    welds = (
        (name, spot, has)
        for settings in found.settings
        for has in (_has(operation, stack_of[settings.welds[0]], settings, approved),)
        for name in settings.welds
    )
    return together(welds, operation.required_tests)


def _has(operation: SpotOperation, stack: Stack, settings: WeldSettings, approved: ApprovedTables) -> Has:
    components = {each.id: each for each in operation.components}
    sheets = [components[name] for name in stack.sheets]
    gun = approved.guns[approved.robots[settings.robot].equipment]
    products = of_products(sheets, approved)
    pulses = next((figure.text for figure in settings.figures() if figure.key == "pulses"), None)
    return {
        "process": terms(operation.process),
        "mechanisation": terms(AUTOMATIC),
        **of_materials([approved.materials[each.material] for each in sheets], approved),
        **(products if "outside diameter" in products else {}),  # sheets without a tube are not compared by it
        "sheets": terms(str(len(sheets))),
        "sheet thickness": sizes("sheet thickness", *(each.thickness for each in sheets)),
        "cap": terms(gun.cap),
        "cap face": sizes("cap face", approved.caps[gun.cap].face),
        "current type": terms(gun.current_type),
        "electrode force": allowed("electrode force", settings, "electrode_force"),
        "weld time": allowed("weld time", settings, "weld_time"),
        "weld current": allowed("weld current", settings, "weld_current"),
        "pulses": terms("1" if pulses is None else str(int(pulses))),
    }
