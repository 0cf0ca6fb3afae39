"""What every reader of a packet sees, as plain data: all numbers are text already, nothing is computed later.

A packet is complete: the site renders these records and nothing else, and a released record holds exactly this.
Every text is the user's own and unescaped; the site escapes.
"""

from weld_packets.packet.records.changeover import ChangeLine, Changeover
from weld_packets.packet.records.control import Control
from weld_packets.packet.records.details import WeldDetail
from weld_packets.packet.records.figures import Amount, PutIn, Remark, Span, TracePoint, Value
from weld_packets.packet.records.limits import WeldLimit
from weld_packets.packet.records.operation import (
    NOT_STATED,
    CouponProgram,
    FaultLine,
    MachineLine,
    OperationSheet,
    Program,
)
from weld_packets.packet.records.order import CellStart, InspectionLine, OrderHead, Packet, TableUse
from weld_packets.packet.records.pair import InterlockLine, PairSheet
from weld_packets.packet.records.plain import Fact, Plain
from weld_packets.packet.records.run import ConsumableLine, FittedAtEnd, RunEvent, RunPlan, RunRule
from weld_packets.packet.records.safety import Callout, OperationFact
from weld_packets.packet.records.settings import Check, PassLine, SettingGroup
from weld_packets.packet.records.steps import Action, Lead, Procedure
from weld_packets.packet.records.warning import OperationWarning
from weld_packets.packet.records.welds import ComponentLine, ComponentOutline, Picture, WeldGeometry, WeldLine

__all__ = [
    "NOT_STATED",
    "Action",
    "Amount",
    "Callout",
    "CellStart",
    "ChangeLine",
    "Changeover",
    "Check",
    "ComponentLine",
    "ComponentOutline",
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
    "OperationFact",
    "OperationSheet",
    "OperationWarning",
    "OrderHead",
    "Packet",
    "PairSheet",
    "PassLine",
    "Picture",
    "Plain",
    "Procedure",
    "Program",
    "PutIn",
    "Remark",
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
