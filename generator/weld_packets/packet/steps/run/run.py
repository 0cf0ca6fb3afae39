"""While an order runs: what is watched and checked, and every list that brings hands into a cell or ends the run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from weld_packets.model.tables.inspection import Occasion
from weld_packets.packet.operation.inspections import inspections_at, inspections_for
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records.steps import Action, Callout, Procedure
from weld_packets.packet.steps.entry import take_lock_off
from weld_packets.packet.steps.lists import printed_steps, shared_out
from weld_packets.packet.steps.prove_out.prove_out import PROVED
from weld_packets.packet.steps.prove_out.welding import judged, preheated
from weld_packets.packet.steps.run.failures import after_failure, after_power_failure, after_stop
from weld_packets.packet.steps.run.going_in import (
    GO_IN,
    RUN_AGAIN,
    coupons,
    coupons_and_load,
    go_in,
    in_first,
    load_next,
    out_last,
    run_again,
    words_of,
)
from weld_packets.packet.steps.run.shift import end, handed_over, start_again
from weld_packets.processes.cell.drafts import AFTER_STOP, Called, Draft, Lead, one_by_one
from weld_packets.processes.cell.state import CellState
from weld_packets.processes.family import by_family
from weld_packets.processes.view import cells_of
from weld_packets.wording.english import inside

RUNNING = replace(
    PROVED, mode="automatic", reset=True, cycle="running", robots="away", welding="enabled", fixture="part"
)
"""A cell in its run, as the starting list leaves it."""


def run_lists(
    views: Sequence[OperationView], first_due: str, callouts: Sequence[Callout]
) -> tuple[tuple[Action, ...], tuple[Procedure, ...]]:
    """Return what is done during a run, and every list that it may call for, going in and running again first.

    A message of the run is given once, in the list that has the step which it is about.
    """
    watching = tuple(_watched(views, first_due))
    called = {each.key: each for each in called_for(views)}
    messages = shared_out({_WATCHING: watching, **{key: each.drafts for key, each in called.items()}}, callouts)
    lists = tuple(_procedure(each, messages[key]) for key, each in called.items())
    return printed_steps(watching, messages[_WATCHING]), lists


_WATCHING = "during the run"


def called_for(views: Sequence[OperationView]) -> Iterator[Called]:
    """Yield the lists; things that are changed by the same procedure in several cells share one."""
    every = cells_of(views)
    yield Called("go-in", GO_IN, every, f"Before hands go to {_hands_at(views)}.", tuple(go_in(views[0].call)))
    yield Called("run-again", RUN_AGAIN, every, "After every entry, once the lock is off.", tuple(run_again(views)))
    yield Called(
        "load", "Load the next part", every,
        "Where a cell is loaded through its gate. A loading place with a guard of its own: by its own instruction.",
        tuple(load_next()),
    )  # fmt: skip
    for family, own in by_family(views):
        yield from family.run_lists(own, _Kit(views[0].call))
    yield Called(
        "coupon", "Weld and test coupons during the run", every,
        "After any change of a setting, before the next part; and wherever a check asks for a coupon.",
        tuple(coupons(views)),
    )  # fmt: skip
    yield Called(
        "after-stop", AFTER_STOP, every,
        "Before anything moves again. Where an alarm has stopped a robot off its home: press the emergency stop, "
        "then by this list too.",
        tuple(after_stop(views)),
    )  # fmt: skip
    yield Called(
        "failure", "After a leak, or when water, gas, air or extraction fails", every,
        "Before anybody goes near what leaks.", tuple(after_failure(views)),
    )  # fmt: skip
    yield Called(
        "power", "After a power failure", every,
        "As soon as the power fails, before it comes back.", tuple(after_power_failure(views)),
    )  # fmt: skip
    yield Called(
        "end", "Stop at the end of the run or the shift", every,
        "The emergency stop is not for this.", tuple(end(views)),
    )  # fmt: skip
    yield Called(
        "hand-over", "Hand over a cell that is locked out", every,
        "When somebody else goes on with work inside, also in a set-up. A cell without a lock: by the list above; a "
        "prove-out then begins its stage anew.",
        tuple(handed_over(views)),
    )  # fmt: skip
    yield Called(
        "start-again", "Start again after the end of a shift", every,
        "After “Stop at the end of the run or the shift”, by whoever takes over the key.", tuple(start_again(views)),
    )  # fmt: skip


@dataclass(frozen=True)
class _Kit:
    """What the lists of all families share; ``call`` says whom to call."""

    call: str

    def changed(
        self, locked: Iterable[Draft], energised: Iterable[Draft], what: str, checks: Iterable[Draft] = ()
    ) -> tuple[Draft, ...]:
        return in_first(self.call), *locked, *take_lock_off(), *energised, *out_last(what, checks)

    def coupons(self, view: Any, made_ready: Iterable[Draft]) -> Iterator[Draft]:
        return coupons_and_load(view, made_ready)

    def checks(self, views: Sequence[Any], occasion: Occasion) -> Iterator[Draft]:
        found = ((each, view) for view in views for each in inspections_for(view, occasion))
        for each in dict.fromkeys((inside(check.what), judged(check, view)) for check, view in found):
            yield Draft(f"Check the next part before the run goes on: {each[0]}.", see=each[1])


def _hands_at(views: Sequence[OperationView]) -> str:
    """Return where hands go during a run: tools first, then what is changed at them."""
    words = words_of(views)
    things = [*(tool for each in words for tool in each.tools), *(worn for each in words for worn in each.worn)]
    *most, last = dict.fromkeys(things)
    return f"{', '.join(most)} or {last}" if most else last


def start_of(called: Called) -> CellState:
    """Return the state of the cell in which a list begins."""
    return _STARTS.get(called.key, RUNNING)


def _procedure(called: Called, callouts: Sequence[Callout]) -> Procedure:
    return Procedure(
        key=called.key,
        title=called.title,
        where=called.where,
        when=called.when,
        steps=printed_steps(one_by_one(called.drafts), callouts, start_of(called)),
    )


# ---------------------------------------------------------------- what is watched


_SHIFT = Lead(page="going-in", anchor="list-start-again", words="Start again after the end of a shift")


def _watched(views: Sequence[OperationView], first_due: str) -> Iterator[Draft]:
    """Yield what is done while the order runs; ``first_due`` says what the schedule asks for first, if anything."""
    yield Draft("Watch every cell from outside the fence.", see="Robots, welds and clamps as on the first-off part.")
    yield Draft(
        "Load every part by its list.",
        see="Both robots at home before you reach in. Nobody is inside at the reset.",
        topics=("parts",),
        lead=Lead(page="going-in", anchor="list-load", words="Load the next part"),
    )
    for view in views:
        yield from preheated(view, f"each part of {view.operation.name}")
    yield Draft(
        "Compare the part counter with the work order.",
        see="Both show the same count. It counts the parts of the run: no coupon, no first-off part.",
        value=f"{views[0].order.quantity} parts",
    )
    for view in views:
        for check in inspections_at(view, "in process"):
            yield Draft(
                f"Check {view.operation.name}: {inside(check.what)}.",
                see=check.how,
                value=check.every,
                lead=_SHIFT if "shift start" in check.occasions else None,
            )
    if first_due:
        yield Draft(
            "Follow the change and dress schedule by part count.",
            see=f"First: {first_due}. Go in only by the lists.",
            lead=Lead(page="going-in", anchor="list-go-in", words="Going in during the run"),
        )
    for view in views:
        for check in inspections_at(view, "last-off"):
            yield Draft(f"Check the last part of {view.operation.name}: {inside(check.what)}.", see=check.how)


# ---------------------------------------------------------------- where lists begin


_INSIDE = replace(
    RUNNING, mode="manual", gate="open", inside="setter", counted=False, reset=False, cycle="stopped",
    robots="home", welding="inhibited", tools="inside",
)  # fmt: skip
"""A cell with its lock off and the setter inside, the work of a list done."""
_ENDED = replace(_INSIDE, gate="closed", inside="nobody", counted=True, fixture="empty", tools="outside")
"""A cell as the end of a run or shift leaves it."""
_LOCKED = replace(_INSIDE, lock="on", energy="off")
"""A cell in the middle of work under lock."""
_STARTS = {"run-again": _INSIDE, "hand-over": _LOCKED, "start-again": _ENDED}
"""Where a list begins that does not begin at a cell that runs."""
