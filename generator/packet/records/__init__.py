"""What every reader of a packet sees, as plain data: all numbers are text already, nothing is computed later.

A packet is complete: the site renders these records and nothing else, and a released record holds exactly this.
Every text is the user's own and unescaped; the site escapes.
"""

from generator.packet.records.changeover import ChangeLine, Changeover
from generator.packet.records.control import Control
from generator.packet.records.details import WeldDetail
from generator.packet.records.figures import Amount, PutIn, Remark, Span, TracePoint, Value
from generator.packet.records.limits import WeldLimit
from generator.packet.records.order import CellStart, InspectionLine, OrderHead, Packet, TableUse
from generator.packet.records.pair import InterlockLine, PairSheet
from generator.packet.records.plain import Fact, Plain
from generator.packet.records.row import NOT_STATED, CouponProgram, FaultLine, MachineLine, Program, RowSheet
from generator.packet.records.run import ConsumableLine, FittedAtEnd, RunEvent, RunPlan, RunRule
from generator.packet.records.safety import Callout, RowFact
from generator.packet.records.settings import Check, PassLine, SettingGroup
from generator.packet.records.steps import Action, Lead, Procedure
from generator.packet.records.warning import OperationWarning
from generator.packet.records.welds import PartLine, PartOutline, Picture, WeldGeometry, WeldLine

__all__ = [
    "NOT_STATED",
    "Action",
    "Amount",
    "Callout",
    "CellStart",
    "ChangeLine",
    "Changeover",
    "Check",
    "ConsumableLine",
    "Control",
    "CouponProgram",
    "Fact",
    "FaultLine",
    "FittedAtEnd",
    "InspectionLine",
    "InterlockLine",
    "Lead",
    "MachineLine",
    "OperationWarning",
    "OrderHead",
    "Packet",
    "PairSheet",
    "PartLine",
    "PartOutline",
    "PassLine",
    "Picture",
    "Plain",
    "Procedure",
    "Program",
    "PutIn",
    "Remark",
    "RowFact",
    "RowSheet",
    "RunEvent",
    "RunPlan",
    "RunRule",
    "SettingGroup",
    "Span",
    "TableUse",
    "TracePoint",
    "Value",
    "WeldDetail",
    "WeldGeometry",
    "WeldLimit",
    "WeldLine",
]
