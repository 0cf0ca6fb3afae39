"""Going into a cell and coming out of it again: the same steps wherever a list needs them."""

from __future__ import annotations

from collections.abc import Iterator

from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, Task, as_task


def stop_and_open(call: str, cell: str = "the cell") -> Iterator[Draft]:
    """Yield the steps from a cell that runs to its open gate, welding inhibited and the key in hand.

    ``call`` says whom to call where the drives do not drop out.
    """
    yield from as_task(
        Task(
            "stop-and-open",
            f"Stop {cell}, open the gate, take the key, inhibit welding.",
            f"Robots at home, gate shown open, drives off, welding inhibited. If not, nobody goes in: call {call}.",
            "manual",
        ),
        (_cycle_stop(cell), _gate_opened(call), *_inhibited()),
    )


def _cycle_stop(cell: str) -> Draft:
    return Draft(
        f"Stop {cell} with cycle stop.",
        see="Both robots are at home. Nothing moves.",
        acts=(acts.CYCLE_STOP,),
        key="cycle-stop",
    )


def test_and_open(call: str, cell: str, emptied: Draft | None) -> Iterator[Draft]:
    """Yield the same with a test of the emergency stop: for the first entry of a set-up, which ``emptied`` may end."""
    yield from as_task(
        Task(
            "stop-and-test",
            f"Stop {cell}, test the emergency stop, reset from outside.",
            "Both robots at home. The drives drop out at the test and come back at the reset; nothing moves. If not, "
            f"nobody goes in: call {call}.",
        ),
        _stop_and_test(cell, call),
    )
    gate, rest = gate_tested(call), _inhibited()
    out = ", take out any part" if emptied else ""
    yield from as_task(
        Task(
            "open-gate",
            f"Open the gate, take the key, inhibit welding{out}.",
            f"The panel shows the gate open and drives off. If not, nobody goes in: call {call}.",
            "manual, welding inhibited",
        ),
        (gate, *rest, *((emptied,) if emptied else ())),
    )


def _stop_and_test(cell: str, call: str) -> Iterator[Draft]:
    stop = _cycle_stop(cell)
    yield stop._replace(see=f"{stop.see} If it was left in manual: count out, close the gate, automatic, reset first.")
    yield Draft(
        "Press the emergency stop at the panel, then release it.",
        see="The drives of both robots drop out. After the release nothing moves. If not, nobody goes in: call "
        f"{call}.",
        acts=(acts.TRY_EMERGENCY_STOP,),
        key="try-emergency-stop",
    )
    yield Draft(
        "Reset from outside, and do not press cycle start.",
        see="The panel shows drives on. Both robots are at home; nobody is inside.",
        topics=("start",),
        acts=(acts.RESET,),
        key="reset-after-test",
    )


def _gate_opened(call: str) -> Draft:
    return Draft(
        "Open the gate and stay outside.",
        see=f"The panel shows the gate open and all drives off. If not, nobody goes in: call {call}.",
        acts=(acts.OPEN_GATE,),
        key="open-gate",
    )


def gate_tested(call: str) -> Draft:
    """Return the opening of the gate of a cell whose drives are on: where they are off already, it tests nothing."""
    return _gate_opened(call)._replace(acts=(acts.TEST_GATE,))


def _inhibited() -> Iterator[Draft]:
    yield to_manual("Both pendants show manual. The key stays with you.")
    yield Draft(
        "Select dry run (welding inhibited) on both robots.",
        see="Both pendants show it.",
        value="welding inhibited",
        acts=(acts.INHIBIT,),
        key="inhibit-welding",
    )


def to_manual(see: str) -> Draft:
    """Return the step that takes automatic from a cell and its key along; ``see`` is what to look for."""
    return Draft(
        "Turn the mode switch to manual and take the key.",
        see=see,
        value="manual",
        acts=(acts.TAKE_KEY,),
        key="to-manual",
    )


def to_automatic(seen_inside: str) -> Iterator[Draft]:
    """Yield the steps that ready a closed cell for its start; ``seen_inside`` is what to see in it at the reset."""
    yield Draft(
        "Turn the mode switch to automatic and take the key.",
        see="The panel shows automatic.",
        value="automatic",
        acts=(acts.TO_AUTOMATIC,),
        key="to-automatic",
    )
    yield Draft("Reset from outside, where you see the whole cell.", see=seen_inside, acts=(acts.RESET,), key="reset")


def lock_out(cell: str) -> Iterator[Draft]:
    """Yield the steps that take all energy from a ``cell``, such as ``cell C1``, from its open gate."""
    task = Task(
        "lock-out",
        f"Lock out {cell} with your own lock, then try to move it.",
        "Nothing moves, pendants dark, air gauge at zero: zero energy verified.",
    )
    yield from as_task(task, _locked_out(cell))


def _locked_out(cell: str) -> Iterator[Draft]:
    yield Draft(
        f"Shut down, isolate and lock out {cell} with your own lock.",
        see="Air, springs and stored pressure are released; what can drop is lowered or propped. Whoever else goes in "
        "adds a lock.",
        topics=("enter",),
        acts=(acts.LOCK_OUT,),
        key="lock-out",
    )
    yield tried("Try both robots with the enabling device, then a clamp at its button.")


def tried(do: str) -> Draft:
    """Return the step that proves a lock-out: ``do`` says who tries to start."""
    return Draft(
        do,
        see="Nothing moves, pendants dark, air gauge at zero: zero energy verified. Controls back to off.",
        acts=(acts.TRY_START,),
        key="verify-zero-energy",
    )


def take_lock_off() -> Iterator[Draft]:
    """Yield the steps that give a locked cell its energy back."""
    task = Task(
        "take-lock-off",
        "Leave the cell, take off your lock, restore energy.",
        "Nobody inside, tools out. Manual, key with you, welding inhibited; nothing moves.",
    )
    yield from as_task(task, _lock_taken_off())


def _lock_taken_off() -> Iterator[Draft]:
    yield Draft("Leave the cell with your tools.", see="Nobody is inside.", acts=(acts.LEAVE,), key="leave-locked-cell")
    yield Draft(
        "Take off your lock and restore energy.",
        see="No other lock is on, and everybody at the cell knows. Mode switch on manual, key with you. Both pendants "
        "still show welding inhibited. Nothing moves.",
        acts=(acts.UNLOCK,),
        key="take-lock-off",
    )


def wait_outside(meanwhile: str) -> Draft:
    """Return the step that leaves a cell safe, in manual, ``meanwhile`` something is looked at elsewhere."""
    return Draft(
        f"Leave the cell and close the gate {meanwhile}.",
        see="It stays in manual, welding inhibited, the key with you.",
        acts=(acts.LEAVE, acts.COUNT_OUT, acts.CLOSE_GATE),
        key="wait-outside",
    )


def count_out_to_automatic() -> Iterator[Draft]:
    """Yield the steps from the open gate to a cell that is ready to start in automatic: tools first, the count last."""
    task = Task(
        "count-out",
        "Take tools out, count everybody out, close the gate, switch to automatic, reset.",
        "As many came out as went in. Nobody inside, robots at home; the panel shows automatic.",
        "automatic",
    )
    yield from as_task(task, _counted_out())


def _counted_out() -> Iterator[Draft]:
    yield Draft(
        "Take tools, gauges and loose parts out of the cell.",
        see="Table, fixture and floor are clear.",
        acts=(acts.TAKE_OUT_TOOLS,),
        key="take-tools-out",
    )
    yield Draft(
        "Stand at the gate and count everybody out.",
        see="As many came out as went in. Nobody is behind the fixture or under the table.",
        topics=("start",),
        acts=(acts.LEAVE, acts.COUNT_OUT),
        key="count-out",
    )
    yield Draft("Close the gate.", see="Nobody enters after this.", acts=(acts.CLOSE_GATE,), key="close-gate")
    yield from to_automatic("Nobody is inside. Both robots are at home.")
