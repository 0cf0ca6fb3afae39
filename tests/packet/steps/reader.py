"""Reads the printed steps of a list as somebody does who walks through them, and knows nothing of how they were made.

Each sentence is looked up by how it begins; what it asks of the cell and does to it is written here a second time,
in a plainer model than the program's own. A sentence that nobody has thought about is a failure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from weld_packets.packet.records.steps import Action

RUNNING = {
    "mode": "automatic", "gate": "closed", "lock": False, "inside": 0, "running": True, "welding": True, "reset": True,
    "out": True, "drives": "both",
}  # fmt: skip


@dataclass
class Seen:
    """What a reader has seen: the state of the cell now, and each thing that went wrong."""

    state: dict[str, Any] = field(default_factory=lambda: dict(RUNNING))
    wrong: list[str] = field(default_factory=list)


HANDS_IN = {"lock": True}
BESIDE = {"mode": "manual", "gate": "open", "welding": False, "running": False}
SHUT = {"mode": "automatic", "gate": "closed", "inside": 0, "lock": False, "reset": True, "out": True}
ENTERED = {"inside": 1}

SENTENCES: tuple[tuple[str, Mapping[str, Any], Mapping[str, Any]], ...] = (
    # going in
    ("Stop (?:the cell|cell C\\d+) with cycle stop", {"inside": 0}, {"running": False, "drives": "none"}),
    ("Reset from outside, and do not press", {"mode": "automatic", "gate": "closed", "inside": 0, "out": True},
     {"reset": True}),
    ("Check that .+ is complete at cell", {"inside": 0}, {}),
    ("Let the cycle end", {"inside": 0}, {"running": False, "drives": "none"}),
    ("Press the emergency stop at the panel", {"inside": 0, "running": False}, {"reset": False}),
    ("Leave the emergency stop pressed|Press the emergency stop and stay", {"inside": 0},
     {"running": False, "reset": False, "drives": "none"}),
    ("At fire or smoke|Shut off what leaks|Read every alarm", {"inside": 0, "running": False}, {}),
    ("Compare settings, speed override", {"mode": "manual", "running": False, "inside": 0}, {}),
    ("Go on by the list “After an emergency stop", {"mode": "manual", "inside": 0, "running": False},
     {**SHUT, "running": True, "welding": True, "drives": "both"}),
    ("Open the gate, look into the whole cell, then close it", {"mode": "manual", "inside": 0, "running": False},
     {"gate": "closed", "reset": False, "out": True}),
    ("Turn the mode switch to automatic, take the key, reset from outside, and do not press",
     {"gate": "closed", "inside": 0, "out": True, "lock": False, "running": False},
     {"mode": "automatic", "reset": True}),
    ("Press the emergency stop at the panel, release it, then reset",
     {"inside": 0, "running": False, "reset": True, "gate": "closed"}, {}),
    ("Go in alone, key in hand", {**BESIDE, "drives": "none", "lock": False}, ENTERED),
    ("Leave the cell, everybody with you, and show who takes over", {"lock": True}, {"inside": 0}),
    ("Let the one who takes over|Take your lock off and hand over", {"lock": True, "inside": 0}, {}),
    ("Call whoever repairs", HANDS_IN, ENTERED),
    ("Open what was shut", {**BESIDE, "lock": False}, ENTERED),
    ("Open the gate and stay outside", {"running": False}, {"gate": "open", "reset": False, "out": False}),
    ("Open the gate and go in alone", {"mode": "manual", "welding": False, "running": False, "drives": "none"},
     {"gate": "open", "inside": 1, "reset": False, "out": False}),
    ("Open the gate and (?:check|load)", {"mode": "manual", "welding": False, "running": False},
     {"gate": "open", "inside": 1, "reset": False, "out": False}),
    ("Turn the mode switch to manual", {"running": False, "inside": 0}, {"mode": "manual", "reset": False}),
    ("Select dry run", {"running": False}, {"welding": False}),
    ("Shut down, isolate and lock out", {"mode": "manual", "gate": "open", "inside": 0}, {"lock": True}),
    ("Try both robots with the enabling device, then a clamp", {"lock": True, "inside": 0}, {}),
    ("Go in by the list", {"mode": "automatic", "inside": 0},
     {"mode": "manual", "gate": "open", "lock": True, "inside": 1, "running": False, "welding": False, "reset": False,
      "out": False, "drives": "none"}),
    # locked out
    ("Take the old fixture|Fit the fixture|Clear cell", {**HANDS_IN, "clamped": False}, ENTERED),
    ("Fit drive rolls|Fit a full wire spool|Clean nozzles", HANDS_IN, ENTERED),
    ("Take nozzle and (?:old )?contact tip of .* off|Check work lead|Fit work lead", HANDS_IN, ENTERED),
    ("Close the cooling water|Fit two new electrode caps", HANDS_IN, ENTERED),
    ("Dress both caps of .* with the hand dresser", HANDS_IN, ENTERED),
    ("Connect a full cylinder", HANDS_IN, ENTERED),
    ("Take gas nozzle and tungsten electrode of .* out|Fit the electrode of .* to the gauge", HANDS_IN, ENTERED),
    ("Pull the old cold wire of .* out", HANDS_IN, ENTERED),
    ("Grind the electrode", {}, {}),
    ("Set the wire guide of .* and cut the wire end", {"running": False, "power": "locked"}, ENTERED),
    ("Leave the cell with your tools", {}, {"inside": 0}),
    ("Take off your lock", {"lock": True, "inside": 0, "mode": "manual"}, {"lock": False}),
    # energy on, in manual
    ("Check the air pressure|Read the user frame|Open the cooling water", {**BESIDE, "lock": False}, ENTERED),
    ("Open the cylinder valve slowly|Set the gas flow|Read the gas flow", {**BESIDE, "lock": False}, ENTERED),
    ("At (?:an arc|a spot) cell, open", {**BESIDE, "lock": False}, ENTERED),
    ("Inch the wire|Close the gun of|Reset the wear zero|Measure the force", {**BESIDE, "lock": False}, ENTERED),
    ("Switch off the power source", BESIDE, {"power": "locked"}),
    ("Fit a new contact tip|Cut the wire end", {"running": False}, ENTERED),
    ("Unlock the power source and switch it on", {"power": "locked"}, {"power": ""}),
    ("Select weld schedule|Call up the settings|Set ", {"running": False, "lock": False}, {}),
    ("Compare every value", {"running": False, "lock": False}, {}),
    ("Take out any part that is still in the fixture, then leave", {**BESIDE, "lock": False, "drives": "none"},
     {"inside": 0, "clamped": False}),
    ("Take out any part that is still in the fixture", {**BESIDE, "lock": False, "drives": "none"},
     {**ENTERED, "clamped": False}),
    ("Take (?:the part|the coupons|the first-off part|the last part) out",
     {"gate": "open", "mode": "manual", "drives": "none", "running": False, "lock": False}, ENTERED),
    # proving
    ("Send everyone else out and go in alone", {"mode": "manual", "gate": "open", "welding": False}, ENTERED),
    ("Read mode and dry run", {"mode": "manual", "welding": False}, {}),
    ("Clamp test coupons|Measure the t(?:hickness|emperature) of|Fit the probe of a|Close (?:clamp|every)",
     {**BESIDE, "lock": False, "drives": "none"}, ENTERED),
    ("Load the fixture|Read the component and clamp",
     {**BESIDE, "lock": False, "drives": "none"}, ENTERED),
    ("Switch the drives of [^b]", BESIDE, {"drives": "one"}),
    ("Test the enabling device|Move .* to its reference point|Step ", {**BESIDE, "drives": "one", "inside": 1}, {}),
    ("Check distance and angles|Free the robot", {**BESIDE, "drives": "one", "inside": 1}, {}),
    ("Select the part program on", {"running": False}, {}),
    ("Switch the drives of both robots off", BESIDE, {"drives": "none"}),
    ("Go in alone, key and pendant in hand, the drives of one robot off", BESIDE, {"inside": 1, "drives": "one"}),
    ("Bring the other robot home", {**BESIDE, "drives": "one"}, {"drives": "none"}),
    ("After a collision, (?:look for damage|check the tool)", BESIDE, {}),
    # coming out
    ("Take tools, gauges", {"running": False}, {"tools": "out"}),
    ("Stand at the gate, count everybody out, and close it", {"lock": False, "drives": "none"},
     {"inside": 0, "out": True, "gate": "closed"}),
    ("Stand at the gate and count everybody out", {"gate": "open", "lock": False, "drives": "none", "tools": "out"},
     {"inside": 0, "out": True}),
    ("Close the gate", {"inside": 0, "out": True, "lock": False}, {"gate": "closed"}),
    ("Load the components on their stops", {"mode": "manual", "gate": "open", "running": False, "drives": "none",
     "lock": False}, ENTERED),
    ("Leave the cell and close the gate|Leave the cell with your tools, everybody", {"lock": False, "drives": "none"},
     {"inside": 0, "out": True, "gate": "closed"}),
    ("Turn the mode switch to automatic", {"gate": "closed", "inside": 0, "out": True, "lock": False},
     {"mode": "automatic", "reset": False}),
    ("Reset from outside", {"mode": "automatic", "gate": "closed", "inside": 0, "out": True}, {"reset": True}),
    ("Enable welding", {"gate": "closed", "inside": 0, "running": False}, {"welding": True}),
    ("Restore full speed|Select the coupon programs at the panel", {"inside": 0}, {}),
    ("Read the .* on .* for the coupons|Watch the display of", {"inside": 0}, {}),
    ("(?:Read|Select) the part programs (?:back|and read)", {"inside": 0, "gate": "closed"}, {}),
    ("Press cycle start: one dry cycle", {**SHUT, "welding": False}, {"running": False, "drives": "none"}),
    ("Press cycle start and weld the coupons", {**SHUT, "welding": True}, {"running": False, "drives": "none"}),
    ("Press cycle start", {**SHUT, "welding": True}, {"running": True, "drives": "both"}),
    ("Select the part programs again and press cycle start", {**SHUT, "welding": True}, {"running": True}),
    ("Start the dressing program", {**SHUT, "running": False}, {}),
    ("Come out by the list", {"lock": False, "mode": "manual", "gate": "open", "power": ""},
     {**SHUT, "running": True, "welding": True, "drives": "both"}),
    # with people outside, or of no matter to the cell
    ("Prove |Peel |Compare the |Measure the (?:throat|edge)|Check on the coupon|Keep (?:the )?current", {}, {}),
    ("Measure the tacks|Measure the root gap", {**BESIDE, "lock": False, "drives": "none", "inside": 1}, {}),
    ("Measure the step|Measure width", {}, {}),
    ("Inspect start|Remove |Check the direction|Check in both programs", {}, {}),
    ("Test every coupon|Compare the coupons|Inspect the first-off part|Hold |Check that inspection", {"inside": 0}, {}),
    ("Weld and test coupons: prove-out", {"mode": "manual", "lock": False},
     {"inside": 0, "gate": "closed", "out": True, "running": False, "welding": False, "drives": "none"}),
    ("Weld and test the coupons of the shift", {"mode": "manual", "lock": False},
     {"inside": 0, "gate": "closed", "out": True, "running": False, "welding": False, "drives": "none"}),
    ("Change and dress what is due|Check the next part before the run goes on", {}, {}),
    ("Keep a fire watch", {"inside": 0}, {}),
    ("Write down|Hand over the key|At (?:an arc|a spot) cell, close|Close the cylinder valve and bleed", {}, {}),
    ("Check that no combustibles|Read the part counter|Close the curtain|Switch the fume extraction on", {}, {}),
)  # fmt: skip


def read(steps: Iterable[Action], start: Mapping[str, Any]) -> Seen:
    """Walk through printed steps from a state; ``wrong`` says what a careful reader would stop at."""
    seen = Seen({"clamped": True} | dict(start) | {"power": "", "tools": "out"})
    for number, step in enumerate(steps, 1):
        _one(seen, number, step)
    return seen


def _one(seen: Seen, number: int, step: Action) -> None:
    found = next((entry for entry in SENTENCES if re.match(entry[0], step.do)), None)
    if found is None:
        seen.wrong.append(f"{number}. {step.do}: nobody has thought about this sentence")
        return
    _, needs, makes = found
    unmet = {name: wanted for name, wanted in needs.items() if seen.state[name] != wanted}
    if unmet:
        seen.wrong.append(f"{number}. {step.do}: wants {unmet}, it is { {name: seen.state[name] for name in unmet} }")
    seen.state.update(makes)
    if seen.state["inside"]:
        if makes.get("inside") and found[1].get("lock") is not True:
            seen.state["tools"] = "in"
        _inside(seen, number, step)


def _inside(seen: Seen, number: int, step: Action) -> None:
    state = seen.state
    safe = state["mode"] == "manual" and state["gate"] == "open" and not state["running"]
    welds = state["welding"] and not state["lock"] and state["drives"] != "none"
    if not safe or welds or state["drives"] == "both":
        seen.wrong.append(f"{number}. {step.do}: somebody is inside, {state}")
