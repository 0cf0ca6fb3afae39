"""What a qualification record proved, variable by variable."""

from __future__ import annotations

from weld_packets.calculation.qualification.groups import Groups, group_of_subgroup
from weld_packets.calculation.qualification.values import Tested, Value, extent, sizes, terms
from weld_packets.model.tables.qualification import QualificationRecord, TestedSheet, Variable
from weld_packets.units import as_written


def proved_by(record: QualificationRecord, groups: Groups) -> Tested:
    """Return what a record says of each variable."""
    found: dict[Variable, Value | None] = {**_any(record, groups), **_arc(record), **_spot(record)}
    return {variable: value for variable, value in found.items() if value is not None}


def coating_words(coating: str, mass: str) -> str:
    """Return a coating with its mass, as two are compared."""
    return f"{coating} {mass}".rstrip()


def is_tube(sheet: TestedSheet) -> bool:
    """Return whether a component of a test piece was stated to be a tube or hollow section."""
    return sheet.product not in (None, "plate")


def _any(record: QualificationRecord, groups: Groups) -> dict[Variable, Value | None]:
    sheets = record.sheets
    subgroups = [sheet.group or groups.of(sheet.material).sure for sheet in sheets]
    coatings = [
        coating_words(sheet.coating, as_written(sheet.coating_mass) if sheet.coating_mass else "") for sheet in sheets
    ]
    tests = {"impact": record.impact_tested, "hardness": record.hardness_tested}
    tested = [name for name, made in tests.items() if made]
    return {
        "process": terms(record.process),
        "mechanisation": terms(record.mechanisation),
        "weld type": terms(record.weld_type),
        "material": terms(*(sheet.material for sheet in sheets)),
        "material subgroup": terms(*subgroups),
        "material group": terms(*(group_of_subgroup(each) for each in subgroups)),
        "coating": terms(*coatings),
        "product": terms(*(sheet.product for sheet in sheets)),
        "outside diameter": sizes("outside diameter", *(each.outside_diameter for each in sheets if is_tube(each))),
        "thickness": sizes("thickness", *(sheet.thickness for sheet in sheets)),
        "sheets": terms(str(len(sheets))),
        "sheet thickness": sizes("sheet thickness", *(sheet.thickness for sheet in sheets)),
        "required tests": terms(*(tested or ["none"])),
    }


def _arc(record: QualificationRecord) -> dict[Variable, Value | None]:
    return {
        "throat": sizes("throat", record.throat),
        "passes": terms(record.passes),
        "position": terms(*record.positions),
        "filler": terms(record.filler),
        "filler diameter": sizes("filler diameter", record.filler_diameter),
        "gas": terms(record.gas),
        "carbon dioxide": sizes("carbon dioxide", record.carbon_dioxide),
        "polarity": terms(record.polarity),
        "transfer mode": terms(record.transfer_mode),
        "current": extent("current", record.current_from, record.current_to),
        "voltage": extent("voltage", record.voltage_from, record.voltage_to),
        "travel speed": extent("travel speed", record.travel_speed_from, record.travel_speed_to),
        "wire feed speed": extent("wire feed speed", record.wire_feed_from, record.wire_feed_to),
        "heat input": extent("heat input", record.heat_input_from, record.heat_input_to),
        "preheat": sizes("preheat", record.preheat),
        "interpass temperature": sizes("interpass temperature", record.interpass),
    }


def _spot(record: QualificationRecord) -> dict[Variable, Value | None]:
    return {
        "cap": terms(record.cap),
        "cap face": sizes("cap face", record.cap_face),
        "current type": terms(record.current_type),
        "electrode force": extent("electrode force", record.electrode_force_from, record.electrode_force_to),
        "weld time": extent("weld time", record.weld_time_from, record.weld_time_to),
        "weld current": extent("weld current", record.weld_current_from, record.weld_current_to),
        "pulses": terms(None if record.pulses is None else str(record.pulses)),
    }
