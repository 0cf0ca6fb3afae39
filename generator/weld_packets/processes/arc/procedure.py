"""The content of a procedure specification of arc welds: ISO 15609-1:2019, headings read in its list of contents."""

from __future__ import annotations

from weld_packets.calculation.qualification.rules import Proof
from weld_packets.processes.procedure import Procedure, ProcedureItem

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
        ProcedureItem("4.4.2", "Groove: root face, angle"),
        ProcedureItem("4.4.2", "Passes in sequence", ("passes",)),
        ProcedureItem("4.4.3", "Position", ("position",)),
        ProcedureItem("4.4.4", "Edge preparation, cleaning"),
        ProcedureItem("4.4.4", "Jigging, fixture", ("jigging",)),
        ProcedureItem("4.4.4", "Tacks", (), ("tacks",)),
        ProcedureItem("4.4.5", "Weave: amplitude, frequency, dwell, width"),
        ProcedureItem("4.4.5", "Torch angles", (), (), ("work_angle", "travel_angle")),
        ProcedureItem("4.4.6", "Back gouging: method, depth, shape"),
        ProcedureItem("4.4.7", "Backing: material, size, gas"),
        ProcedureItem("4.4.8", "Filler, standard, diameter", ("consumables",)),
        ProcedureItem("4.4.8", "Filler: maker, trade name"),
        ProcedureItem("4.4.8", "Number of wires", ("wires",)),
        ProcedureItem("4.4.8", "Handling of the filler: drying, holding"),
        ProcedureItem("4.4.9", "Type of current, polarity", (), ("polarity",)),
        ProcedureItem("4.4.9", "Current", (), (), ("welding_current",)),
        ProcedureItem("4.4.9", "Pulse data"),
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
