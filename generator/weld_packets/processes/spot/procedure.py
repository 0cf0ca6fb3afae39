"""The content of a procedure specification of spots: ISO 15609-5:2011, whose items are from memory."""

from __future__ import annotations

from weld_packets.calculation.qualification.rules import Proof
from weld_packets.processes.procedure import Procedure, ProcedureItem

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
