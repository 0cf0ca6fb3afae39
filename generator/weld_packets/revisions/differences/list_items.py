"""How the items of a packet are recognised in another revision, and what they are called in a list of changes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from weld_packets.packet.records.forms import RequiredResult, ResultChoice, SupplyCounter
from weld_packets.packet.records.operation import (
    CouponProgram,
    FaultLine,
    Holder,
    InterlockLine,
    MachineLine,
    OperationSheet,
    ProcedureItemLine,
    ProcedureLine,
    Program,
    SizeLine,
    TestPiece,
)
from weld_packets.packet.records.order import (
    CellStart,
    ChangeLine,
    ConsumableLine,
    FittedAtEnd,
    InspectionLine,
    RunEvent,
    RunRule,
)
from weld_packets.packet.records.qualification import RecordHead, RecordLine, VariableLine, WeldQualification
from weld_packets.packet.records.settings import (
    Check,
    ComponentLine,
    ComponentOutline,
    LegendLine,
    LinkedLimit,
    OperationWarning,
    PassLine,
    Picture,
    SettingGroup,
    WeldDetail,
    WeldLimit,
)
from weld_packets.packet.records.steps import Callout, OperationFact, Procedure, Task, TaskStage
from weld_packets.packet.records.values import Fact, Remark, TableUse, Value
from weld_packets.revisions.differences.changes import FieldPath


@dataclass(frozen=True)
class ItemName:
    """What an item is recognised by in another revision, and what it is called."""

    key: Callable[[Any], str]
    words: Callable[[Any], str]


ITEM_NAMES: Mapping[type, ItemName] = {
    OperationSheet: ItemName(lambda operation: operation.name, lambda operation: f"operation {operation.number}"),
    SettingGroup: ItemName(lambda group: group.key, lambda group: group.title),
    Value: ItemName(lambda value: value.key, lambda value: value.label),
    Callout: ItemName(lambda callout: callout.key, lambda callout: f"callout {callout.word}: {callout.hazard}"),
    OperationFact: ItemName(lambda fact: fact.who, lambda fact: f"fact of {fact.who.lower()}"),
    ConsumableLine: ItemName(
        lambda line: f"{line.operation}/{','.join(line.robots)}/{line.what}",
        lambda line: f"{line.what} of {line.operation_name}",
    ),
    Check: ItemName(lambda check: check.subject, lambda check: f"check {check.subject}"),
    Remark: ItemName(lambda remark: remark.text, lambda remark: f"{remark.weight} “{remark.text}”"),
    OperationWarning: ItemName(lambda warning: warning.text, lambda warning: f"warning “{warning.text}”"),
    WeldDetail: ItemName(lambda detail: f"{detail.key}/{detail.of}", lambda detail: detail.label),
    WeldLimit: ItemName(lambda limit: f"{limit.key}/{limit.of}", lambda limit: f"limit of {limit.name}"),
    Program: ItemName(lambda program: program.robot, lambda program: f"program of {program.robot}"),
    CouponProgram: ItemName(
        lambda coupon: f"{coupon.robot}/{coupon.weld_schedule}",
        lambda coupon: (
            f"coupon program of {coupon.robot}"
            + (f" for weld schedule {coupon.weld_schedule}" if coupon.weld_schedule else "")
        ),
    ),
    Picture: ItemName(lambda picture: picture.key, lambda picture: f"diagram {picture.title}"),
    LegendLine: ItemName(lambda line: line.text, lambda line: f"line of the legend “{line.text}”"),
    ComponentOutline: ItemName(lambda outline: outline.component, lambda outline: f"outline of {outline.component}"),
    ComponentLine: ItemName(lambda part: part.key, lambda part: f"component {part.key}"),
    RequiredResult: ItemName(
        lambda result: result.key,
        lambda result: f"{result.stage} result {result.what}" + (f" of {result.robot}" if result.robot else ""),
    ),
    SupplyCounter: ItemName(lambda counter: counter.key, lambda counter: f"counter {counter.what}"),
    LinkedLimit: ItemName(
        lambda limit: f"{limit.value}/{limit.other}",
        lambda limit: f"{limit.value.replace('_', ' ')} beside {limit.other.replace('_', ' ')}",
    ),
    FaultLine: ItemName(lambda fault: fault.sign, lambda fault: f"fault “{fault.sign}”"),
    InspectionLine: ItemName(
        lambda line: f"{line.operation}/{line.stage}/{line.what}",
        lambda line: f"inspection {line.operation_name}: {line.what}",
    ),
    TableUse: ItemName(lambda use: use.table, lambda use: f"table {use.table}"),
    Fact: ItemName(lambda fact: fact.name, lambda fact: f"formula {fact.name}"),
    RunEvent: ItemName(
        lambda event: f"{event.operation}/{event.robot}/{event.what}",
        lambda event: f"{event.what} at {event.robot or event.cell}",
    ),
    RunRule: ItemName(lambda rule: f"{rule.operation}/{','.join(rule.robots)}", lambda rule: f"rule of {rule.cell}"),
    FittedAtEnd: ItemName(
        lambda left: f"{left.place}/{left.what}", lambda left: f"{left.what} of {left.place} at the end of the order"
    ),
    CellStart: ItemName(lambda start: start.operation, lambda start: f"start of {start.operation.replace('-', ' ')}"),
    TaskStage: ItemName(lambda stage: stage.key, lambda stage: f"stage “{stage.title or stage.key}”"),
    Task: ItemName(lambda task: task.key, lambda task: f"task “{task.do}”"),
    Procedure: ItemName(lambda procedure: procedure.key, lambda procedure: f"list “{procedure.title}”"),
    WeldQualification: ItemName(lambda found: ",".join(found.welds), lambda found: f"qualification of {found.title}"),
    VariableLine: ItemName(lambda line: line.variable, lambda line: line.variable),
    ProcedureItemLine: ItemName(lambda item: item.label, lambda item: f"item {item.label}"),
    ProcedureLine: ItemName(
        lambda line: f"{line.of}/{line.text}", lambda line: f"“{line.of}: {line.text}”" if line.of else f"“{line.text}”"
    ),
    MachineLine: ItemName(lambda line: line.name, lambda line: f"machine: {line.name}"),
    PassLine: ItemName(lambda line: str(line.number), lambda line: f"pass {line.number}"),
    InterlockLine: ItemName(lambda line: str(line.number), lambda line: f"interlock {line.number}"),
    ResultChoice: ItemName(lambda choice: choice.text, lambda choice: f"choice “{choice.text}”"),
    Holder: ItemName(lambda holder: holder.number, lambda holder: f"qualification of {holder.number}"),
    SizeLine: ItemName(lambda line: line.key, lambda line: f"size {line.name}"),
    TestPiece: ItemName(lambda piece: ",".join(piece.welds), lambda piece: f"test piece for {piece.title}"),
    RecordHead: ItemName(lambda head: head.record, lambda head: f"record {head.record}"),
    RecordLine: ItemName(lambda line: line.record, lambda line: f"record {line.record}"),
    ChangeLine: ItemName(lambda line: f"{line.cell}/{line.what}", lambda line: f"{line.cell}, {line.what}"),
}
"""List items that are recognised by a key; steps and sentences are recognised by their text."""

_FIELD_WORDS = {
    "head": "", "do": "", "what": "", "text": "", "key": "address", "anchor": "address", "confirm": "to confirm",
    "set_up": "set-up", "prove": "prove-out", "run_steps": "run", "cautions": "general caution",
    "set_up_stages": "set-up", "prove_stages": "prove-out",
    "notes": "note", "remedies": "remedy", "starts": "start", "procedures": "list", "stop_if": "condition to stop",
    "window": "allowed range", "coupled": "two settings together", "linked": "limit as a number",
    "see": "what to see", "pair": "both robots",
    "waits": "wait", "proof": "check of the interlock", "release_after": "released after", "limits": "limit",
    "request_before": "requested before", "first": "first robot", "second": "second robot", "charts": "chart",
    "is_checked": "distance checked", "pass_lines": "passes", "pass_source": "source of the passes",
    "pass_count": "passes", "outside": "reason for no value", "step": "machine step", "basis": "counted from",
    "every": "how often", "how": "method", "accept": "accepted when", "avoid": "how to avoid it",
    "word": "signal word", "stop_when": "stop", "sign": "fault", "hold": "hold point", "where": "place",
    "per_part": "for one part", "over_run": "for the run", "events_note": "note on the changes due",
    "model": "what the duration counts", "bottleneck": "slowest operation", "first_due": "first change due",
    "short": "short name", "weld_columns": "columns of the weld table", "cell_name": "name of the cell",
    "show_first": "units shown first", "revision_intent": "reason for the revision", "slug": "folder",
    "emergency_if": "condition for the emergency stop", "due_soon": "change better done at set-up",
}  # fmt: skip


def field_words(name: str) -> str:
    """Return what a field is called in a list of changes; empty where what it holds says enough."""
    return _FIELD_WORDS.get(name, name.replace("_", " "))


@dataclass(frozen=True)
class Location:
    """A place in the packet, for a program and in words."""

    path: FieldPath = ()
    words: tuple[str, ...] = ()

    def into(self, step: str, words: str) -> Location:
        """Return the place one step further down."""
        return Location((*self.path, step), (*self.words, words) if words else self.words)

    @property
    def where(self) -> tuple[str, ...]:
        """Return the words of the surroundings."""
        return self.words[:-1]

    @property
    def what(self) -> str:
        """Return the words of the thing itself."""
        return self.words[-1] if self.words else ""
