"""Tasks and stages: nothing of a list is lost or reordered, and every message is given once, where it applies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

import pytest
from weld_packets.packet.forms import by_task, set_up_form, task_digest
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.steps import Action, Callout, Task, TaskStage
from weld_packets.packet.steps.lists import printed_steps
from weld_packets.packet.steps.prove_out.prove_out import SET_UP, prove_drafts
from weld_packets.packet.steps.set_up import confirm_drafts, operation_set_up
from weld_packets.packet.steps.stages import HEAD, stages
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, as_task
from weld_packets.processes.cell.drafts import Task as DraftTask
from weld_packets.processes.cell.state import AS_FOUND, UnsafeSequenceError

KILLERS = 5
MOST_TICKS = 35
MOST_BOXES = 8


@pytest.fixture(scope="module")
def packets(demo_packets: dict[str, Packet]) -> tuple[Packet, ...]:
    return tuple(demo_packets.values())


def _lists(packet: Packet) -> Iterator[tuple[str, tuple[TaskStage, ...], tuple[Action, ...]]]:
    for operation in packet.operations:
        yield f"{operation.name}, set-up", operation.set_up_stages, (*operation.confirm, *operation.set_up)
        yield f"{operation.name}, prove-out", operation.prove_stages, operation.prove
    for start in packet.starts:
        yield f"start of {start.operation}", start.stages, start.steps
    if packet.changeover is not None:
        yield "changeover", packet.changeover.stages, packet.changeover.steps


def _tasks(found: Sequence[TaskStage]) -> list[Task]:
    return [task for stage in found for task in stage.tasks]


def _flat(found: Sequence[TaskStage], steps: Sequence[Action]) -> list[Action]:
    return [step for task in _tasks(found) for step in by_task(steps)[task.key]]


# ---------------------------------------------------------------- nothing lost


def test_the_tasks_of_every_list_of_the_demo_hold_its_steps_each_once_and_in_order(packets: tuple[Packet, ...]) -> None:
    for packet in packets:
        for name, found, steps in _lists(packet):
            assert _flat(found, steps) == list(steps), name
            keys = [task.key for task in _tasks(found)]
            assert len(set(keys)) == len(keys), name


def test_the_steps_behind_the_tasks_are_the_drafts_that_were_walked(make: Any) -> None:
    for view in make.views(make.arc_operation(), make.spot_operation()):
        for drafts, start in (
            ((*confirm_drafts(view), *operation_set_up(view)), AS_FOUND),
            (tuple(prove_drafts(view)), SET_UP),
        ):
            steps = printed_steps(drafts, (), start)
            shown = _flat(stages("list", drafts, steps, (), start), steps)
            given = [(step.do, step.see, step.value, step.hold, step.key) for step in shown]
            assert given == [(each.do, each.see, each.value, each.hold, each.key) for each in drafts]


def test_a_task_cannot_hide_a_step_that_asks_for_a_state_that_is_not_there(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    drafts = list(operation_set_up(view))
    locked = next(at for at, each in enumerate(drafts) if acts.LOCK_OUT in each.acts)
    drafts[locked] = drafts[locked]._replace(acts=())
    with pytest.raises(UnsafeSequenceError):
        printed_steps(drafts, (), AS_FOUND)


def test_a_hold_point_is_the_last_step_of_its_task(packets: tuple[Packet, ...]) -> None:
    for packet in packets:
        for _, found, steps in _lists(packet):
            for task in _tasks(found):
                holds = [step.hold for step in by_task(steps)[task.key]]
                assert task.hold is any(holds)
                assert not any(holds[:-1]), task.key


def test_the_digest_of_a_task_follows_every_step_behind_it(make: Any) -> None:
    sheet: OperationSheet = make.packet(make.arc_operation()).operations[0]
    task = next(each for each in _tasks(sheet.set_up_stages) if len(by_task(sheet.set_up).get(each.key, ())) > 1)
    own = by_task(sheet.set_up)[task.key]
    for at in range(len(own)):
        changed = tuple(
            step.model_copy(update={"see": "something else"}) if step is own[at] else step for step in sheet.set_up
        )
        assert task_digest(task, by_task(changed)[task.key]) != task_digest(task, by_task(sheet.set_up)[task.key])
    assert {step.key for step in set_up_form(sheet).steps if step.list == "set-up"} == {
        each.key for each in _tasks(sheet.set_up_stages)
    }


# ---------------------------------------------------------------- stages


def test_a_stage_follows_from_what_the_steps_do_to_the_cell(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    drafts = (*confirm_drafts(view), *operation_set_up(view))
    found = stages("set-up", drafts, printed_steps(drafts, (), AS_FOUND), (), AS_FOUND)
    assert [(each.title, each.mode, each.gate, each.lock, each.has_key) for each in found] == [
        ("All out, cell as found", "automatic", "closed", "off", False),
        ("Locked out", "manual", "open", "on", True),
        ("Inside, energy on", "manual", "open", "off", True),
    ]
    assert found[0].tasks[0].key == "confirm"
    assert [found[1].tasks[at].key for at in (0, -1)] == ["lock-out", "take-lock-off"]


def test_a_prove_out_changes_its_stage_where_the_mode_or_the_gate_changes(make: Any) -> None:
    (view,) = make.views(make.arc_operation())
    found = stages("prove-out", tuple(prove_drafts(view)), printed_steps(prove_drafts(view), (), SET_UP), (), SET_UP)
    assert [each.title for each in found] == [
        "One person inside", "All counted out", "All out, cell stopped",
        "One person inside", "All counted out", "All out, cell stopped",
    ]  # fmt: skip
    for each in found:
        assert (each.mode == "automatic") is (each.title == "All counted out")
        assert each.has_key


def test_steps_that_leave_the_cell_as_it_is_have_no_state() -> None:
    drafts = (Draft("Count the parts.", key="count"),)
    (only,) = stages("order", drafts, printed_steps(drafts, ()), (), None)
    assert (only.title, only.mode) == ("", "")


def test_equal_tasks_that_are_apart_stay_apart() -> None:
    one = DraftTask("one", "Do it.")
    drafts = (*as_task(one, [Draft("A.", key="a")]), Draft("B.", key="b"), *as_task(one, [Draft("C.", key="c")]))
    (only,) = stages("list", drafts, printed_steps(drafts, ()), (), None)
    assert [task.key for task in only.tasks] == ["one", "b", "one"]


# ---------------------------------------------------------------- messages


def _keys_of(found: Sequence[TaskStage]) -> Counter[str]:
    heads = [key for stage in found for key in stage.callouts]
    return Counter((*heads, *(key for task in _tasks(found) for key in task.callouts)))


def _callouts(packet: Packet) -> dict[str, Callout]:
    return {each.key: each for each in packet.callouts}


def test_every_message_that_bites_at_a_stage_of_work_is_stated_there_and_the_others_are_grouped(
    packets: tuple[Packet, ...],
) -> None:
    """What no list gives has no stage of work: it holds at all times, and is grouped on the safety page."""
    at = {"confirm": 0, "set up": 0, "prove": 1}
    for packet in packets:
        for operation in packet.operations:
            given = (_keys_of(operation.set_up_stages), _keys_of(operation.prove_stages))
            for callout in (_callouts(packet)[key] for key in operation.callouts):
                for number in {at[stage] for stage in callout.stages if stage in at}:
                    assert given[number][callout.key], (operation.name, callout.key)
            assert set(given[0]) | set(given[1]) <= set(operation.callouts)


def test_no_message_is_stated_twice_on_a_page_but_the_danger_of_every_automatic_stage(
    packets: tuple[Packet, ...],
) -> None:
    for packet in packets:
        known = _callouts(packet)
        for operation in packet.operations:
            for found in (operation.set_up_stages, operation.prove_stages):
                again = {key for key, times in _keys_of(found).items() if times > 1}
                assert {known[key].word for key in again} <= {"DANGER"}


def test_the_danger_is_at_the_head_of_every_stage_in_which_the_cell_is_in_automatic(
    packets: tuple[Packet, ...],
) -> None:
    for packet in packets:
        for operation in packet.operations:
            for stage in (*operation.set_up_stages, *operation.prove_stages):
                assert ("inside-automatic" in stage.callouts) is (stage.mode == "automatic"), stage.key


def test_a_third_message_of_a_stage_is_stated_in_a_sentence_of_its_task() -> None:
    task = DraftTask("all", "Do it.")
    drafts = tuple(
        as_task(task, [Draft(f"Do {topic}.", key=topic, topics=(topic,)) for topic in ("enter", "caps", "hot")])
    )
    callouts = [
        Callout(
            key=key, word="WARNING", signs=(sign,), hazard="h", consequence="c", avoid="a", why="", source="",
            stages=("set up",), at_head=True,
        )
        for key, sign in (("one", "M021"), ("two", "W019"), ("three", "W017"))
    ]  # fmt: skip
    (only,) = stages("list", drafts, printed_steps(drafts, callouts, AS_FOUND), callouts, AS_FOUND)
    assert only.callouts == ("one", "two")
    assert only.tasks[0].callouts == ("three",)


# ---------------------------------------------------------------- how much is asked of a reader


def test_no_operation_of_the_demo_asks_for_more_ticks_or_shows_more_boxes_than_are_read(
    packets: tuple[Packet, ...],
) -> None:
    for packet in packets:
        for operation in packet.operations:
            found = (*operation.set_up_stages, *operation.prove_stages)
            assert KILLERS + len(_tasks(found)) <= MOST_TICKS, operation.name
            assert sum(len(stage.callouts) for stage in found) <= MOST_BOXES, operation.name
            assert all(len(stage.callouts) <= HEAD for stage in found)


def test_a_start_has_few_ticks(packets: tuple[Packet, ...]) -> None:
    for packet in packets:
        for start in packet.starts:
            assert 5 <= len(_tasks(start.stages)) <= 7


def test_every_task_of_the_demo_begins_with_a_verb(packets: tuple[Packet, ...], verbs: frozenset[str]) -> None:
    for packet in packets:
        for _, found, _ in _lists(packet):
            for task in _tasks(found):
                assert task.do.split()[0] in verbs, task.do
