"""The state of a cell while people work at it, and what may never be: every list of steps is walked through it.

An act says what it needs and what it makes. The rules hold whatever an act says, so that an act that is described
wrongly is found as well as a step in the wrong place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any, Literal


@dataclass(frozen=True)
class CellState:
    """One cell at one moment.

    Attributes:
        mode: where the mode switch is; ``key`` says who has its key.
        gate: the interlocked gate.
        lock: the setter's own lock on the isolator of the cell; ``power_lock`` the one on the arc power sources alone.
        energy: electric and pneumatic energy of the cell.
        inside: who is inside the fence; ``others`` means anybody besides the setter.
        counted: whether everybody was counted out since the gate was last open with somebody inside.
        reset: whether the safeguards are reset since the gate, the mode or the emergency stop was last used.
        cycle: whether a program runs in automatic.
        robots: ``home`` where both are at home and can be left alone.
        live: how many robots an enabling device can move in manual; the others have their drives off.
        welding: whether the programs may weld.
        program: what the selected programs weld, on both robots.
        speed: the speed override.
        fixture: what is clamped.
        tools: where tools and loose parts are.
        wire: how far the wire is fitted; ``threaded`` is ready to weld.
        caps: ``new`` ones are aligned under force before the wear zero is reset, and reset before any dressing.
        table: whether a fixture is on it.
        emergency_stop: whether it was tried since the set-up began.
        stepped: the programs that were stepped through dry, such as ``part A`` for the part's program of robot A.
        coupons: how far the coupons are; ``first_part`` the same of the first-off part.

    """

    mode: Literal["automatic", "manual"] = "automatic"
    key: Literal["in the switch", "with the setter"] = "in the switch"
    gate: Literal["closed", "open"] = "closed"
    lock: Literal["off", "on"] = "off"
    power_lock: Literal["off", "on"] = "off"
    energy: Literal["on", "off"] = "on"
    inside: Literal["nobody", "setter", "others"] = "nobody"
    counted: bool = True
    reset: bool = True
    cycle: Literal["running", "stopped"] = "running"
    robots: Literal["home", "away"] = "away"
    live: Literal["none", "one", "both"] = "none"
    welding: Literal["enabled", "inhibited"] = "enabled"
    program: Literal["unknown", "coupon", "part"] = "unknown"
    speed: Literal["full", "low"] = "full"
    fixture: Literal["unknown", "empty", "coupon", "part"] = "unknown"
    tools: Literal["outside", "inside"] = "outside"
    wire: Literal["threaded", "rolls", "spool", "inched", "tipped"] = "threaded"
    caps: Literal["ready", "new", "aligned"] = "ready"
    table: Literal["fixture", "bare"] = "fixture"
    emergency_stop: Literal["untried", "tried"] = "untried"
    stepped: frozenset[str] = frozenset()
    coupons: Literal["none", "clamped", "welded", "accepted"] = "none"
    first_part: Literal["none", "welded", "accepted"] = "none"

    @property
    def torch_dead(self) -> bool:
        """Whether nothing can put voltage on the torch."""
        return self.lock == "on" or self.power_lock == "on"

    @property
    def still(self) -> bool:
        """Whether no robot, gun or feeder can move unless somebody inside moves it."""
        return self.cycle == "stopped" and self.live == "none"


AS_FOUND = CellState()
"""A cell that runs, or may start at any moment: what whoever comes to it has to expect."""


@dataclass(frozen=True, eq=False)
class Act:
    """What is done to a cell: the values that some of its states must have, and those that it gives to some.

    ``takes`` is walked first: the acts of a list that a step refers to as a whole. ``steps`` is the program that is
    stepped through, ``stepped`` those that must have been stepped through before.
    """

    name: str
    needs: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    makes: dict[str, Any] = field(default_factory=dict)
    takes: tuple[Act, ...] = ()
    steps: frozenset[str] = frozenset()
    stepped: frozenset[str] = frozenset()


class UnsafeSequenceError(ValueError):
    """A list of steps would bring somebody into danger, or asks for what it has not made: an internal error."""


Rule = Callable[[CellState], bool]


def _not_inside_in_automatic(state: CellState) -> bool:
    return state.inside == "nobody" or state.mode == "manual"


def _inside_only_behind_key_or_lock(state: CellState) -> bool:
    return state.inside == "nobody" or (state.gate == "open" and state.key == "with the setter")


def _runs_only_behind_a_closed_gate(state: CellState) -> bool:
    safe = state.mode == "automatic" and state.gate == "closed" and state.reset and state.counted
    return state.cycle == "stopped" or (safe and state.energy == "on" and state.inside == "nobody")


def _nobody_inside_while_both_robots_can_move(state: CellState) -> bool:
    return state.inside == "nobody" or (state.live != "both" and (state.live == "none" or state.inside == "setter"))


def _no_welding_with_somebody_inside(state: CellState) -> bool:
    return state.inside == "nobody" or state.welding == "inhibited" or state.still


def _no_energy_under_a_lock(state: CellState) -> bool:
    return state.lock == "off" or state.energy == "off"


def _no_motion_in_manual_with_the_gate_closed(state: CellState) -> bool:
    return state.live == "none" or (state.mode == "manual" and state.gate == "open")


RULES: dict[str, Rule] = {
    "somebody is inside in automatic": _not_inside_in_automatic,
    "somebody is inside without the key in hand and the gate open": _inside_only_behind_key_or_lock,
    "a program runs without closed gate, reset and count": _runs_only_behind_a_closed_gate,
    "a robot can move beside somebody who does not hold its enabling device": _nobody_inside_while_both_robots_can_move,
    "somebody is inside while a program may move and weld": _no_welding_with_somebody_inside,
    "a locked-out cell has energy": _no_energy_under_a_lock,
    "a robot can be moved in manual with nobody beside it": _no_motion_in_manual_with_the_gate_closed,
}
"""What may never be, in any state, by what is wrong where it does not hold."""


def done(act: Act, state: CellState) -> CellState:
    """Return the state after an act; raise UnsafeSequenceError where it needs another one, or breaks a rule."""
    for part in act.takes:
        state = done(part, state)
    return _alone(act, state)


@lru_cache(maxsize=4096)  # orders have most of their steps in common, and with them acts and states
def _alone(act: Act, state: CellState) -> CellState:
    for name, wanted in act.needs.items():
        found = getattr(state, name)
        if found not in wanted:
            raise UnsafeSequenceError(f"{act.name}: needs {name} {' or '.join(map(str, wanted))}, and it is {found}")
    if missing := act.stepped - state.stepped:
        raise UnsafeSequenceError(f"{act.name}: nobody has stepped through the program of {', '.join(sorted(missing))}")
    after = replace(state, **act.makes, stepped=state.stepped | act.steps)
    for wrong, rule in RULES.items():
        if not rule(after):
            raise UnsafeSequenceError(f"{act.name}: {wrong}")
    return after


def walk(acts: Iterable[Act], state: CellState) -> CellState:
    """Return the state at the end of some acts."""
    for act in acts:
        state = done(act, state)
    return state


def stage_words(state: CellState) -> str:
    """Return where people stand and in which state the cell is, as the heading of the steps done in it."""
    if state.lock == "on":
        return "Cell locked out"
    if state.mode == "automatic":
        return "Outside the fence, cell in automatic"
    if state.gate == "closed":
        return "Gate closed, cell in manual, key with you"
    return "Gate open, cell in manual, key with you"
