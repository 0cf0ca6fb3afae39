"""What people do at a cell, each act with the state that it needs and the state that it makes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from weld_packets.processes.cell.state import Act


def _act(name: str, needs: dict[str, tuple[Any, ...]], /, **makes: Any) -> Act:
    return Act(name, needs, makes)


_OUT: dict[str, tuple[Any, ...]] = {"inside": ("nobody",)}
_IN: dict[str, tuple[Any, ...]] = {"inside": ("setter",), "mode": ("manual",), "key": ("with the setter",)}
_STILL: dict[str, tuple[Any, ...]] = {"still": (True,)}
_LOCKED: dict[str, tuple[Any, ...]] = {"lock": ("on",), "inside": ("setter",)}
_ENERGISED: dict[str, tuple[Any, ...]] = {"energy": ("on",), "lock": ("off",)}
_READY_TO_RUN: dict[str, tuple[Any, ...]] = {
    **_OUT, **_ENERGISED, "mode": ("automatic",), "gate": ("closed",), "reset": (True,), "counted": (True,),
    "tools": ("outside",), "robots": ("home",), "wire": ("threaded",), "caps": ("ready",), "power_lock": ("off",),
}  # fmt: skip

# ---- going in
CYCLE_STOP = _act("stop the cycle", {}, cycle="stopped", robots="home")
TRY_EMERGENCY_STOP = _act(
    "try the emergency stop", {**_OUT, **_STILL, **_ENERGISED}, reset=False, emergency_stop="tried"
)
EMERGENCY_STOP = _act("press the emergency stop", {}, cycle="stopped", robots="away", reset=False)
OPEN_GATE_OFF_PATH = _act(
    "open the gate, the robots stopped off their path",
    {**_OUT, "cycle": ("stopped",), "reset": (False,)},
    gate="open",
    counted=False,
)
OPEN_GATE = _act(
    "open the gate", {**_OUT, "cycle": ("stopped",), "robots": ("home",)}, gate="open", reset=False, counted=False
)
TEST_GATE = Act("open the gate, drives on", {**OPEN_GATE.needs, "reset": (True,)}, OPEN_GATE.makes)
TAKE_KEY = _act(
    "turn to manual and take the key",
    {**_OUT, "cycle": ("stopped",)},
    mode="manual",
    key="with the setter",
    reset=False,
)
LOCK_OUT = _act(
    "lock the cell out",
    {**_OUT, **_STILL, "mode": ("manual",), "key": ("with the setter",), "gate": ("open",), "lock": ("off",)},
    lock="on",
    energy="off",
)
TRY_START = _act("try to start", {**_OUT, "lock": ("on",), "energy": ("off",)})
SECOND_LOCK = _act("put the lock of whoever takes over on", {**_OUT, "lock": ("on",), "energy": ("off",)})
HAND_OVER = _act(
    "take one of two locks off and hand the key over",
    {**_OUT, "lock": ("on",), "energy": ("off",), "mode": ("manual",), "key": ("with the setter",)},
)
ENTER = _act("go in", {"gate": ("open",), "mode": ("manual",), "key": ("with the setter",)}, inside="setter")

# ---- locked out
REACH_IN = _act("reach into gun, torch or feeder", _LOCKED, tools="inside")
TAKE_FIXTURE_OUT = _act("take the fixture out", {**_LOCKED, "fixture": ("empty",)}, tools="inside", table="bare")
FIT_FIXTURE = _act("fit the fixture", {**_LOCKED, "table": ("bare",)}, tools="inside", table="fixture")
FIT_ROLLS = _act("fit rolls and liner", _LOCKED, tools="inside", wire="rolls")
FIT_SPOOL = _act("fit the spool", {**_LOCKED, "wire": ("rolls", "threaded")}, tools="inside", wire="spool")
FIT_CAPS = _act("fit electrode caps", _LOCKED, tools="inside", caps="new")
DRESS_BY_HAND = _act("dress caps by hand", {**_LOCKED, "caps": ("ready",)}, tools="inside")
UNLOCK = _act(
    "take off the lock and restore energy",
    {**_OUT, "lock": ("on",), "tools": ("outside",), "mode": ("manual",)},
    lock="off",
    energy="on",
)

# ---- energy on, gate open, manual
SUPPLY = _act("check what flows", {**_IN, **_ENERGISED, **_STILL})
INCH_WIRE = _act(
    "inch the wire",
    {**_IN, **_ENERGISED, **_STILL, "power_lock": ("off",), "wire": ("spool",), "welding": ("inhibited",)},
    wire="inched",
)
LOCK_POWER = _act("lock the power sources out", {**_STILL, "power_lock": ("off",)}, power_lock="on")
GUIDE_WIRE = _act(
    "set the wire guide and cut the wire end",
    {**_IN, "torch_dead": (True,), "wire": ("inched", "threaded")},
    wire="threaded",
    tools="inside",
)
FIT_TIP = _act(
    "fit contact tip",
    {**_IN, "torch_dead": (True,), "wire": ("inched", "threaded")},
    wire="tipped",
    tools="inside",
)
CUT_WIRE = _act("cut the wire end", {**_IN, "torch_dead": (True,), "wire": ("tipped",)}, wire="threaded")
UNLOCK_POWER = _act("unlock the power sources", {"power_lock": ("on",)}, power_lock="off")
ALIGN_CAPS = _act(
    "align caps under force", {**_IN, **_ENERGISED, "caps": ("new",), "welding": ("inhibited",)}, caps="aligned"
)
ZERO_WEAR = _act("reset the wear zero", {**_ENERGISED, "caps": ("aligned",)}, caps="ready")
MEASURE_FORCE = _act(
    "measure the force",
    {**_IN, **_ENERGISED, "caps": ("ready",), "welding": ("inhibited",)},
    tools="inside",
)
AT_CONTROLS = _act("set at the controls", {**_ENERGISED, "mode": ("manual",), "cycle": ("stopped",)})
INHIBIT = _act("inhibit welding", {"cycle": ("stopped",)}, welding="inhibited")
SELECT_COUPON = _act("select the coupon programs", {**_ENERGISED, "cycle": ("stopped",)}, program="coupon")
SELECT_PART = _act("select the part's programs", {**_ENERGISED, "cycle": ("stopped",)}, program="part")
CLAMP_COUPON = _act(
    "clamp a coupon", {**_IN, **_STILL, "fixture": ("empty", "coupon")}, fixture="coupon", coupons="clamped"
)
LOAD_PART = _act("load the part", {**_IN, **_STILL, "fixture": ("empty",), "table": ("fixture",)}, fixture="part")
MEASURE_LOADED = _act("measure the loaded part", {**_IN, **_STILL, "fixture": ("part",)})
UNLOAD = _act("unload", {**_IN, **_STILL, **_ENERGISED, "fixture": ("coupon", "part", "unknown")}, fixture="empty")
SEND_OUT = _act("send everyone else out", {"gate": ("open",)}, inside="setter")
ONE_LIVE = _act(
    "leave one robot live, the other at home with its drives off",
    {**_IN, **_ENERGISED, "welding": ("inhibited",), "live": ("none", "one")},
    live="one",
)
MOVE_ONE = _act("move one robot", {**_IN, "live": ("one",), "welding": ("inhibited",)})
MOVE_HOME = _act("bring the last robot home", MOVE_ONE.needs, robots="home")
DRIVES_OFF = _act("switch all drives off", {**_IN, "robots": ("home",)}, live="none")

# ---- coming out
TAKE_OUT_TOOLS = _act("take tools out", {"inside": ("setter", "nobody"), **_STILL}, tools="outside")
LEAVE = _act("leave the cell", {"live": ("none",), "power_lock": ("off",)}, inside="nobody", tools="outside")
COUNT_OUT = _act("count everybody out", {**_OUT, "tools": ("outside",), "gate": ("open",)}, counted=True)
CLOSE_GATE = _act("close the gate", {**_OUT, "counted": (True,), "lock": ("off",)}, gate="closed")
TO_AUTOMATIC = _act(
    "turn to automatic", {**_OUT, "gate": ("closed",), "counted": (True,), "lock": ("off",)}, mode="automatic"
)
RESET = _act(
    "reset the safeguards",
    {**_OUT, "mode": ("automatic",), "gate": ("closed",), "counted": (True,), "robots": ("home",)},
    reset=True,
)
LOW_SPEED = _act("set a low override", {**_OUT, "cycle": ("stopped",)}, speed="low")
FULL_SPEED = _act("restore full override", {**_OUT, "cycle": ("stopped",)}, speed="full")
ENABLE = _act("enable welding", {**_OUT, "gate": ("closed",), "cycle": ("stopped",)}, welding="enabled")
_WELDING_PART: dict[str, tuple[Any, ...]] = {
    **_READY_TO_RUN, "program": ("part",), "fixture": ("part",), "welding": ("enabled",), "speed": ("full",),
    "coupons": ("accepted",), "emergency_stop": ("tried",),
}  # fmt: skip
FIRST_PART = _act("weld the first-off part", _WELDING_PART, cycle="running", robots="away", first_part="welded")
START = _act("start", {**_WELDING_PART, "first_part": ("accepted",)}, cycle="running", robots="away")
ACCEPT_COUPONS = _act("accept the coupons", {**_OUT, "coupons": ("welded",)}, coupons="accepted")
ACCEPT_FIRST_PART = _act("accept the first-off part", {**_OUT, "first_part": ("welded",)}, first_part="accepted")
POWER_DRESS = _act(
    "run the dressing program; it ends with the robot at home",
    {**_READY_TO_RUN, "cycle": ("stopped",)},
    cycle="stopped",
    robots="home",
)


def step_through(program: str, side: str) -> Act:
    """Return the act of stepping the robot of a side through ``coupon`` or ``part``; it ends at home."""
    needs = {**MOVE_ONE.needs, "program": (program,), "fixture": (program,)}
    steps = frozenset({f"{program} {side}"})
    return Act(f"step through the program of the {program}", needs, {"robots": "home"}, steps=steps)


def weld_coupons(sides: Iterable[str]) -> Act:
    """Return the act of welding coupons with the robots of some sides; it ends with both robots at home."""
    return Act(
        "weld the coupons",
        {
            **_READY_TO_RUN,
            "program": ("coupon",),
            "fixture": ("coupon",),
            "welding": ("enabled",),
            "speed": ("full",),
            "coupons": ("clamped", "welded"),
        },
        {"cycle": "stopped", "robots": "home", "coupons": "welded"},
        stepped=frozenset(f"coupon {side}" for side in sides),
    )


def dry_cycle(program: str, sides: Iterable[str]) -> Act:
    """Return the act of one cycle of the ``coupon`` or ``part`` programs without welding; it ends at home."""
    accepted = {"coupons": ("accepted",)} if program == "part" else {}
    return Act(
        f"run one dry cycle of the {program}",
        {
            **_READY_TO_RUN,
            "program": (program,),
            "fixture": (program,),
            "welding": ("inhibited",),
            "speed": ("low",),
            **accepted,
        },
        {"cycle": "stopped", "robots": "home"},
        stepped=frozenset(f"{program} {side}" for side in sides),
    )
