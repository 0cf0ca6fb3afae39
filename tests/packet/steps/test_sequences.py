"""Every list of steps, of the demo and of orders made up here, walked through twice.

Once through the program's own model of a cell, which must also end where the next list begins; once by a reader of the
printed sentences, who knows another, plainer model.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product
from types import ModuleType
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from weld_packets.packet.changeover.sheet import Previous, changeover
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action
from weld_packets.packet.safety.messages import messages
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import PROVED, SET_UP, prove_drafts
from weld_packets.packet.steps.run.run import RUNNING, called_for, run_lists, start_of
from weld_packets.packet.steps.run.start import start_drafts
from weld_packets.packet.steps.set_up import operation_set_up, set_up_drafts, set_up_steps
from weld_packets.processes.cell.drafts import Draft, Scope
from weld_packets.processes.cell.state import AS_FOUND, CellState, UnsafeSequenceError, walk

# What the printed lists begin from, in the words of the reader.
AT_GATE = {
    "mode": "manual", "gate": "open", "lock": False, "inside": 0, "running": False, "welding": False, "reset": False,
    "out": False, "drives": "none",
}  # fmt: skip
ACCEPTED = {**AT_GATE, "gate": "closed", "out": True}
INSIDE = {**AT_GATE, "inside": 1}


def states(drafts: Iterator[Draft], start: CellState) -> Iterator[tuple[Draft, CellState]]:
    """Yield each step with the state after it."""
    state = start
    for each in drafts:
        state = walk(each.acts, state)
        yield each, state


def end_of(drafts: Iterable[Draft], start: CellState) -> CellState:
    """Return the state in which a list of steps leaves the cell."""
    return walk((act for draft in drafts for act in draft.acts), start)


def lists_of(view: OperationView) -> Iterator[tuple[str, tuple[Draft, ...], CellState]]:
    """Yield every list of one operation with the state in which it begins."""
    yield "set up", tuple(operation_set_up(view)), AS_FOUND
    yield "set up after another", tuple(operation_set_up(view, last=view)), AS_FOUND
    yield "prove", tuple(prove_drafts(view)), SET_UP
    yield "start", tuple(start_drafts(view)), PROVED
    for called in called_for((view,)):
        yield called.key, called.drafts, start_of(called)


def check_lists(view: OperationView) -> None:
    """Check what the program's own model cannot say of itself: what happens between the lists, and in which order."""
    for name, drafts, start in lists_of(view):
        for step, state in states(iter(drafts), start):
            assert state.inside == "nobody" or state.mode == "manual", (name, step.do)
            assert state.inside != "others", (name, step.do)
        end = end_of(drafts, start)
        if name not in {"go-in", "hand-over"}:
            assert (end.lock, end.power_lock, end.inside, end.energy) == ("off", "off", "nobody", "on"), name
            assert end.tools == "outside", name
        assert (end.wire, end.caps) == ("threaded", "ready"), name
    assert end_of(operation_set_up(view), AS_FOUND) == SET_UP
    assert end_of(prove_drafts(view), SET_UP) == PROVED
    assert end_of(start_drafts(view), PROVED) == RUNNING


def _begins(key: str, reader: ModuleType) -> dict[str, Any]:
    starts = {"run-again": INSIDE, "hand-over": {**INSIDE, "lock": True}, "start-again": ACCEPTED}
    return starts.get(key, reader.RUNNING)


def check_read(view: OperationView, reader: ModuleType) -> None:
    """Check that a reader of the printed sentences stops at none of them."""
    printed = (
        (set_up_steps(operation_set_up(view), ()), reader.RUNNING, AT_GATE),
        (set_up_steps(operation_set_up(view, last=view), (), last=view), reader.RUNNING, AT_GATE),
        (printed_steps(prove_drafts(view), (), SET_UP), AT_GATE, ACCEPTED),
        (printed_steps(start_drafts(view), (), PROVED), ACCEPTED, reader.RUNNING),
    )
    for steps, start, end in printed:
        seen = reader.read(steps, start)
        assert seen.wrong == []
        assert {name: seen.state[name] for name in end} == end
    _, lists = run_lists((view,), "", ())
    for each in lists:
        seen = reader.read(each.steps, _begins(each.key, reader))
        assert seen.wrong == [], each.key
        ends = {"go-in": "locked", "hand-over": "locked", "end": "left"}.get(each.key, "running")
        locked, running = seen.state["lock"], seen.state["running"]
        assert (locked, running) == {"locked": (True, False), "left": (False, False), "running": (False, True)}[ends]


# ---------------------------------------------------------------- orders made up here

SCHEDULES = st.integers(1, 3)
CLAMPS = st.lists(st.sampled_from(["K1 rail", "K2 plate", "K3 strip"]), max_size=3)


def _operation(make: Any, process: str, schedules: int, **more: Any) -> Any:
    """Return an operation with a weld of each weld schedule on each robot."""
    welds = [(side, number) for side in "AB" for number in range(1, schedules + 1)]
    if process == "21":
        spots = [
            {
                "id": f"{side}{number}",
                "robot": f"C5{side}",
                "stack": "k1",
                "x": f"{30 * number} mm",
                "y": "0 mm",
                "z": "0 mm",
            }
            for side, number in welds
        ]
        return make.spot_operation(spots=spots, **more)
    seams = [
        {"id": f"{side}{number}", "robot": f"C1{side}", "joint": "T fillet", "position": "PB",
         "components": ["p1", "p2"],
         "throat": "3 mm", "path": {"unit": "mm", "start": ["0", f"{9 * number}", "0"],
                                    "pieces": [{"to": ["50", f"{9 * number}", "0"]}]}}
        for side, number in welds
    ]  # fmt: skip
    return make.arc_operation(seams=seams, **more)


def _view(make: Any, process: str, dressing: str, schedules: int, clamps: list[str], *, named: bool) -> OperationView:
    cell = "C1" if process == "135" else "C5"
    programs = {
        f"{cell}{side}": {str(number): f"T{number}{side}" for number in range(1, schedules + 1)} for side in "AB"
    }
    more: dict[str, Any] = {"coupon programs": programs} if named else {}
    operation = _operation(make, process, schedules, clamps=clamps, **more)
    settings_of = make.arc_settings if process == "135" else make.spot_settings

    def numbered(result: Any) -> Any:
        found = [
            replace(
                settings_of(f"{cell}{side}", (f"{side}{number}",)),
                key=f"s{number}-{cell}{side}".lower(),
                weld_schedule=number if named else None,
            )
            for side in "AB"
            for number in range(1, schedules + 1)
        ]
        return replace(result, settings=tuple(found))

    guns = {key: gun.model_copy(update={"dressing": dressing}) for key, gun in make.approved.guns.items()}
    (view,) = make.views(operation, change=numbered)
    return replace(view, approved=replace(make.approved, guns=guns))


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(
    process=st.sampled_from(["135", "21"]),
    dressing=st.sampled_from(["power", "hand"]),
    schedules=SCHEDULES,
    clamps=CLAMPS,
    named=st.booleans(),
)
def test_every_list_of_a_made_up_order_is_safe_and_leads_to_the_next(  # noqa: PLR0917 (hypothesis passes by name)
    make: Any, reader: ModuleType, process: str, dressing: str, schedules: int, clamps: list[str], named: bool
) -> None:
    view = _view(make, process, dressing, schedules, clamps, named=named)
    check_lists(view)
    check_read(view, reader)


@pytest.mark.parametrize(
    "parts", [set(), *({part} for part in ("fixture", "wire", "gas", "caps")), {"fixture", "wire"}]
)
@pytest.mark.parametrize("process", ["135", "21"])
@pytest.mark.parametrize("value", [True, False])
def test_whatever_a_changeover_leaves_of_a_set_up_is_safe_and_ends_as_the_whole_does(
    make: Any, reader: ModuleType, process: str, parts: set[str], value: bool
) -> None:
    view = _view(make, process, "power", 2, [], named=True)
    fitted = {(each.word, each.place) for each in view.family.fitted(view.operation, view.approved)}
    scope = Scope(
        fixture="fixture" in parts,
        new=frozenset((word, place) for word, place in fitted if word in parts and place != "C5B"),
        wants=lambda _: value,
    )
    drafts = tuple(set_up_drafts(view, scope, lambda *_: value))
    assert end_of(drafts, AS_FOUND) == SET_UP
    seen = reader.read(printed_steps(drafts, (), AS_FOUND), reader.RUNNING)
    assert seen.wrong == []
    locked = any(step.do.startswith("Shut down, isolate") for step in drafts)
    assert locked == scope.locked


@pytest.mark.parametrize(("before", "after"), list(product(("arc", "spot", "both"), repeat=2)))
def test_no_changeover_asks_for_energy_under_a_lock_or_leaves_one_hanging(
    make: Any, reader: ModuleType, before: str, after: str
) -> None:
    operations = {"arc": ("arc_operation",), "spot": ("spot_operation",), "both": ("arc_operation", "spot_operation")}
    earlier = make.views(*(getattr(make, name)(fixture="F-old") for name in operations[before]), order="WO-0")
    views = make.views(*(getattr(make, name)() for name in operations[after]))
    sheet = changeover(views, Previous(earlier[0].order, earlier), messages(views))
    for steps in _cell_by_cell(sheet.steps):
        seen = reader.read(steps, reader.RUNNING)
        assert seen.wrong == []
        assert not seen.state["lock"]
        assert seen.state["inside"] == 0


def _cell_by_cell(steps: tuple[Action, ...]) -> Iterator[list[Action]]:
    """Yield the staged steps of each cell; each begins at a cell that runs."""
    for place in dict.fromkeys(step.place for step in steps):
        part = [step for step in steps if step.stage and step.place == place]
        if part:
            yield part


# ---------------------------------------------------------------- the demo


@pytest.fixture(scope="module")
def packets(demo_packets: dict[str, Packet]) -> tuple[Packet, ...]:
    return tuple(demo_packets.values())


def test_every_list_of_the_demo_reads_safe(packets: tuple[Packet, ...], reader: ModuleType) -> None:
    for packet in packets:
        for operation in packet.operations:
            assert reader.read(operation.set_up, reader.RUNNING).wrong == []
            assert reader.read(operation.prove, AT_GATE).wrong == []
        for start in packet.starts:
            assert reader.read(start.steps, ACCEPTED).wrong == []
        for each in packet.procedures:
            assert reader.read(each.steps, _begins(each.key, reader)).wrong == []
        if packet.changeover is not None:
            for steps in _cell_by_cell(packet.changeover.steps):
                assert reader.read(steps, reader.RUNNING).wrong == []


def test_both_ways_of_dressing_are_in_the_demo(packets: tuple[Packet, ...]) -> None:
    keys = {each.key.split("-cap")[0] for packet in packets for each in packet.procedures}
    assert {"dress-power", "dress-hand"} <= keys


# ---------------------------------------------------------------- and a list that is wrong is found


def test_a_list_without_its_count_is_refused(make: Any) -> None:
    view = _view(make, "135", "power", 1, [], named=True)
    drafts = [step for step in prove_drafts(view) if not step.do.startswith("Stand at the gate and count")]
    with pytest.raises(UnsafeSequenceError, match="close the gate: needs inside nobody"):
        printed_steps(drafts, (), SET_UP)


@pytest.mark.parametrize("name", ["set up", "prove", "start"])
def test_no_step_that_changes_the_cell_can_be_left_out_unnoticed(make: Any, reader: ModuleType, name: str) -> None:
    """Of each list, each step that does something is taken out, and one model or the other must notice.

    ``UNNOTICED`` are those that may be missing, with the reason.
    """
    view = _view(make, "135", "power", 1, ["K1 rail"], named=True)
    found = {each: (drafts, start) for each, drafts, start in lists_of(view)}
    drafts, start = found[name]
    begin = {"set up": reader.RUNNING, "prove": AT_GATE, "start": ACCEPTED}[name]
    end = end_of(drafts, start)
    unnoticed = []
    for index, step in enumerate(drafts):
        if not step.acts or walk(step.acts, end_of(drafts[:index], start)) == end_of(drafts[:index], start):
            continue
        rest = [*drafts[:index], *drafts[index + 1 :]]
        try:
            same = end_of(rest, start) == end and reader.read(printed_steps(rest, (), start), begin).wrong == []
        except UnsafeSequenceError:
            same = False
        if same:
            unnoticed.append(step.do)
    assert unnoticed == UNNOTICED[name]


UNNOTICED = {
    "set up": [
        "Fit drive rolls and liner on C1A and C1B.",  # a spool alone may be changed
        "Check the air pressure of the cell and the fixture.",  # changes nothing but that somebody goes in
    ],
    "prove": [],
    "start": [],
}
