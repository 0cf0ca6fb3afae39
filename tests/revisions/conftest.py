"""One small packet that fills every field, and ways to alter and release it."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.operation import CouponProgram, FaultLine, OperationSheet, Program
from weld_packets.packet.records.order import (
    ChangeLine,
    Changeover,
    ConsumableLine,
    FittedAtEnd,
    InspectionLine,
    OrderHead,
    Packet,
    RunEvent,
    RunPlan,
    RunRule,
)
from weld_packets.packet.records.settings import (
    Check,
    ComponentLine,
    ComponentOutline,
    OperationWarning,
    Picture,
    SettingGroup,
    WeldGeometry,
    WeldLimit,
    WeldLine,
)
from weld_packets.packet.records.steps import Action, Callout
from weld_packets.packet.records.values import Fact, PutIn, Remark, TableUse, TracePoint, Value
from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import Code, SourceFile
from weld_packets.revisions.register.entries import Entry
from weld_packets.revisions.register.filed import filed_bytes
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import Release, Signatures, Withdrawal
from weld_packets.revisions.store.files import load_register
from weld_packets.revisions.store.releasing import Published, record_release, record_withdrawal
from weld_packets.units import Amount, Span

FIRST = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def _amount(value: str, unit: str, second: str = "", second_unit: str = "") -> Amount:
    return Amount(value=value, unit=unit, second=second, second_unit=second_unit)


def _current(value: str = "8.4") -> Value:
    return Value(
        key="weld_current", figure="weld_current",
        label="weld current",
        symbol="I",
        anchor="lc-a-weld-current",
        amount=_amount(value, "kA"),
        window=Span(low="8.0", high="9.2", second_low="8.1", second_high="9.1", origin="table spot-lc"),
        step=_amount("0.1", "kA"),
        remarks=(Remark(weight="note", text="with a fresh cap", source="schedule note 2"),),
        trace=(
            TracePoint(form="given", label="governing thickness", result=_amount("1.2", "mm", "0.047", "in"),
                       origin="order, operation 2"),
            TracePoint(form="lookup", label="current", result=_amount("8.41", "kA"), table="spot-lc", revision="3",
                       source="shop trials", column="current", at="1.2 mm", rows=("1.0 mm", "1.2 mm"),
                       values=("8.0", "8.41"), fraction="1"),
            TracePoint(form="rounded", label="gun-4", result=_amount(value, "kA"), at="8.41 kA", symbol="I",
                       origin="step 0.1 kA"),
        ),
    )  # fmt: skip


def _heat() -> Value:
    return Value(
        key="heat_input", figure="heat_input", label="heat input", symbol="Q", anchor="lc-a-heat-input", amount=None,
        outside="outside the method",
        trace=(
            TracePoint(
                form="formula", label="heat input", result=_amount("0.6", "kJ/mm"), symbol="Q",
                expression="k * U * I / v",
                source="EN 1011-1:2009", clause="heat input", validity="any steel", standing="published",
                numbers=(PutIn(symbol="U", name="arc voltage", amount=_amount("21", "V")),
                         PutIn(symbol="I", name="current", amount=_amount("180", "A"))),
            ),
        ),
    )  # fmt: skip


def _operation() -> OperationSheet:
    return OperationSheet(
        key="operation-2", number=2, name="Door panel", cell="C2", cell_name="Cell 2", robots=("R3", "R4"), process="21",  # noqa: E501
        process_name="resistance spot welding", fixture="FX-7", datum="lower left pin",
        components=(
            ComponentLine(key="P1", name="Skin", material="DC04", coating="none", thickness=_amount("1.2", "mm")),
               ComponentLine(key="P2", name="Frame", material="DC04", coating="none", thickness=_amount("1.0", "mm"))),
        confirm=(Action(do="Confirm the pair", see="R3 and R4", value="R3/R4"),),
        programs=(Program(robot="R3", side="A", number="211", code="R3:211"),
                  Program(robot="R4", side="B", number="212", code="R4:212")),
        groups=(
            SettingGroup(key="lc-a", title="1.2 + 1.0 mm", robots=("R3", "R4"), welds=("s1", "s2", "s3"), pass_count=1,
                         dialled=(_current(),), derived=(_heat(),),
                         checks=(Check(subject="pitch", text="30 mm, minimum 25 mm", outcome="passed",
                                       source="ISO 14373"),)),
        ),
        pictures=(Picture(key="map", title="Spot map", description="three spots", caption="datum at the left",
                          svg="<svg/>"),),
        weld_columns=("Spot", "Robot", "x, mm"),
        welds=(WeldLine(key="s1", cells=("s1", "R3", "10")), WeldLine(key="s2", cells=("s2", "R3", "40")),
               WeldLine(key="s3", cells=("s3", "R4", "70"))),
        geometry=(WeldGeometry(key="s1", robot="R3", side="A", form="spot", pieces=(("10", "0", "0"),), label="A1"),
                  WeldGeometry(key="s2", robot="R3", side="A", form="spot", pieces=(("40", "0", "0"),), label="A2"),
                  WeldGeometry(key="s3", robot="R4", side="B", form="spot", pieces=(("70", "0", "0"),), label="B1")),
        set_up=(Action(do="Load the fixture", see="pins in", callouts=("crush",)),
                Action(do="Set the current", see="shown", value="8.4 kA"),
                Action(do="Sign", see="signed", hold=True)),
        prove=(Action(do="Run one coupon", see="nugget 4.4 mm"),),
        faults=(FaultLine(sign="expulsion", remedies=("dress caps", "lower current"), stop_when="twice in ten",
                          source="shop"),),
        checks=(Check(subject="reach", text="not stated for robot R4", outcome="not checked", source="rating plate"),),
        callouts=("crush",),
        times=(
            Value(
                key="time", figure="time", label="weld time per part", symbol="t",
                anchor="time", amount=_amount("9", "s"),
            ),
        ),
        notes=("note the left pin",),
        coupon_programs=(CouponProgram(robot="R3", weld_schedule="7", program="T7", welds="1.2 + 1.0 mm"),),
        outlines=(ComponentOutline(component="P1", points=(("0", "0", "0"), ("90", "0", "0"), ("90", "60", "0"))),),
        warnings=(OperationWarning(weight="not checked", text="not stated for robot R4", about=("reach",),
                                   groups=("1.2 + 1.0 mm",), welds=("s1", "s2", "s3"), source="rating plate",
                                   do="Measure the reach of R4.", stage="set up"),),
        limits=(WeldLimit(key="undercut", numbers=("5011", "5012"), name="undercut", level="C", text="at most 0.3 mm",
                          size=_amount("0.3", "mm", "0.011", "in"), short=True, of="lap fillet", welds=("s1",),
                          source="ISO 5817"),),
    )  # fmt: skip


def demo_packet() -> Packet:
    return Packet(
        head=OrderHead(slug="door-1", number="W-100", title="Locker doors", part_number="LK-1", part_name="Door",
                       quantity=500, due="2026-06-01", revision_intent="first issue", previous_order="frame-1",
                       plant="Parcel cabinets", show_first="metric", supervisor="the shift supervisor (extension 2)",
                       shift_hours="8", time_zone="Europe/London", copy_days="14",
                       risk_assessment="RA-7 of 2026-01-12"),
        operations=(_operation(),),
        changeover=Changeover(
            previous_order="frame-1", previous_title="Frames",
            lines=(ChangeLine(cell="Cell 2", what="Fixture", before="FX-1", after="FX-7", stays=False, do="fit it"),),
            steps=(Action(do="Change caps", see="16 mm"),)),
        callouts=(Callout(key="crush", word="WARNING", signs=("W024",), hazard="Crushing", consequence="Lost fingers",
                          avoid="Keep out", why="gun force 3 kN", source="ISO 10218-2", stages=("set-up",)),),
        cautions=("site rules come first",),
        start=(Action(do="Everyone out", see="gate shut", hold=True),),
        run=RunPlan(
            values=(
                Value(key="run", figure="run", label="duration", symbol="T", anchor="run", amount=_amount("3", "h")),
            ),
            bottleneck="operation 2", model="operations run side by side",
            events=(RunEvent(part_number=120, operation="operation-2", operation_name="Door panel", cell="C2", robot="R3",  # noqa: E501
                             what="dress caps", basis="every 360 spots", supply="Electrode caps", places=("R3",),
                             dressing=True),),
            events_note="counted from fresh caps",
            consumables=(ConsumableLine(operation="operation-2", operation_name="Door panel", cell="C2", robots=("R3",),
                                        what="Electrode caps", per_part=_amount("20", "welds"),
                                        over_run=_amount("10000", "welds"), due=("dress: once",), anchor="use-caps",
                                        start="4 of 30 dressings done", in_prove_out=_amount("25", "welds"),
                                        not_counted=("coupons",)),),
            rules=(RunRule(operation="operation-2", operation_name="Door panel", cell="C2", robots=("R3",), text="R3: every 20 parts",  # noqa: E501
                           basis="20 welds a part", supply="Electrode caps"),),
            first_due="dress caps at R3, after 20 parts",
            fitted_at_end=(FittedAtEnd(place="R3", what="Electrode caps", item="cap-16", used="9/50", share="18 %",
                                       dressings=4, order="W-99", revision="C", begun="1/50",
                                       dressings_begun=3, turns=30, lesser_noun="dressing", proof="1/25"),)),
        run_steps=(Action(do="Watch the first ten", see="no expulsion"),),
        inspections=(InspectionLine(operation="operation-2", operation_name="Door panel", stage="first-off", what="peel test",  # noqa: E501
                                    how="chisel", accept="4.4 mm", every="each start", source="ISO 10447"),),
        tables=(TableUse(table="spot-lc", title="Uncoated", revision="3", source="shop trials",
                         approved_by="Welding engineer", approved_on="2026-01-10", rows=("1.0 mm", "1.2 mm"),
                         notes=("caps 16 mm",)),),
        formulas=(Fact(name="heat input", value="Q = k U I / v", note="EN 1011-1"),),
    )  # fmt: skip


def with_leaf(packet: Packet, path: tuple[str | int, ...], value: Any) -> Packet:
    """Return ``packet`` with the leaf at ``path`` replaced."""
    raw = json.loads(packet.model_dump_json())
    inner = raw
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = value
    return Packet.model_validate_json(json.dumps(raw), strict=True)


def signatures(**changed: Any) -> Signatures:
    given: dict[str, Any] = {
        "author": "Process engineer",
        "approver": "Welding coordinator",
        "reason": "first issue",
        "effective": Effective(kind="date", start="2026-03-02"),
        "recorded": FIRST,
        "code": Code(version="0.2.0", commit="0" * 40),
    }
    return Signatures(**(given | changed))


SOURCES = (SourceFile(path="instructions/door-1/order.yaml", sha256="0" * 64),)


class Plant:
    """A workspace with one order to release from and another to change over from."""

    def __init__(self, root: Path) -> None:
        self.instructions = root / "instructions"
        self.packet = demo_packet()
        for order in ("door-1", "frame-1"):
            self.add_order(order)

    def add_order(self, order: str) -> None:
        (self.instructions / order).mkdir(parents=True)
        (self.instructions / order / "order.yaml").write_text("order: W-100\n")

    def wanted(self, packet: Packet | None = None, approved: str = "", **by: Any) -> Release:
        return Release(packet or self.packet, SOURCES, signatures(**by), approved)

    def release(self, packet: Packet | None = None, day: int = 2, **by: Any) -> Published:
        when = datetime(2026, 3, day, 8, 0, tzinfo=UTC)
        by = {"recorded": when, "effective": Effective(kind="date", start=when.date().isoformat())} | by
        return record_release(self.instructions, self.wanted(packet, **by))

    def withdraw(self, revision: str, day: int = 20, **by: Any) -> Published:
        when = datetime(2026, 3, day, 8, 0, tzinfo=UTC)
        by = {"recorded": when, "effective": Effective(kind="date", start=when.date().isoformat())} | by
        return record_withdrawal(self.instructions, Withdrawal("door-1", revision, signatures(reason="cracks", **by)))

    def titled(self, title: str, slug: str = "door-1") -> Packet:
        """Return the packet under another title, so that there is something to release."""
        head = self.packet.head.model_copy(update={"title": title, "slug": slug})
        return self.packet.model_copy(update={"head": head})

    def three(self) -> list[Published]:
        """Release A, B and C on 2, 9 and 16 March, and withdraw C on the 20th."""
        made = [self.release(self.titled(mark), day) for mark, day in (("first", 2), ("second", 9), ("third", 16))]
        return [*made, self.withdraw("C")]

    def write_register(self, entries: Iterable[Entry]) -> None:
        write_register(self.instructions, entries)

    def entry_files(self) -> list[Path]:
        return entry_files(self.instructions)

    def files(self) -> dict[str, bytes]:
        found = (path for path in sorted(self.instructions.rglob("*")) if path.is_file())
        return {path.relative_to(self.instructions).as_posix(): path.read_bytes() for path in found}


def write_register(instructions: Path, entries: Iterable[Entry]) -> None:
    """Make the register anew, of these entries, as somebody would who knows the format."""
    shutil.rmtree(instructions / "register", ignore_errors=True)
    (instructions / "register").mkdir()
    register = Register()
    for entry in entries:
        register = register.with_entry(entry)
    for each in register.filed:
        (instructions / "register" / each.name).write_bytes(filed_bytes(each))


def entry_files(instructions: Path) -> list[Path]:
    """Return the files of the register's entries, oldest first."""
    return [instructions / "register" / each.name for each in load_register(instructions).filed]


@pytest.fixture
def packet() -> Packet:
    return demo_packet()


@pytest.fixture
def leaf() -> Callable[..., Packet]:
    return with_leaf


@pytest.fixture
def signed() -> Callable[..., Signatures]:
    return signatures


@pytest.fixture
def plant(tmp_path: Path) -> Plant:
    return Plant(tmp_path)
