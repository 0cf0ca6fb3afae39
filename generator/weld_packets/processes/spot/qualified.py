"""What spots have of the variables by which a qualification record is compared."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.calculation.qualification.ordered import Has, allowed, of_materials, of_products, together
from weld_packets.calculation.qualification.values import Case, sizes, terms
from weld_packets.calculation.results import OperationResult, WeldSettings
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.order import SpotOperation, Stack
from weld_packets.model.qualification import WeldType

AUTOMATIC = "automatic"


def spot_cases(found: OperationResult, approved: ApprovedTables) -> Iterator[Case]:
    """Yield the spots of an operation, together what is equal in every variable."""
    operation: SpotOperation = found.operation
    stacks = {stack.id: stack for stack in operation.stacks}
    stack_of = {spot.id: stacks[spot.stack] for spot in operation.spots}
    spot: WeldType = "spot"
    welds = (
        (name, spot, _has(operation, stack_of[settings.welds[0]], settings, approved))
        for settings in found.settings
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
