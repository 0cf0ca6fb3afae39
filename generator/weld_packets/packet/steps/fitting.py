"""What is fitted in a cell, in two halves: locked out, and with energy back and the gate open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.model.machines import Robot
from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.records import SettingGroup
from weld_packets.packet.steps import acts
from weld_packets.packet.steps.placing import Draft
from weld_packets.units import as_written
from weld_packets.units.scales import sheet_amount
from weld_packets.wording.english import capital, joined, listed


def names(robots: Iterable[Robot]) -> str:
    """Return the robots as a step names them, such as ``C1A and C1B``."""
    return listed(robot.id for robot in robots)


# ---------------------------------------------------------------- fixture


def fixture_locked(view: OperationView) -> Iterator[Draft]:
    """Yield what is done to the fixture under lock."""
    yield Draft(
        "Take the old fixture out of the cell, its air and plugs first.",
        see="Table and locating pins are clean. No part or tool of the last order is left.",
        acts=(acts.ENTER, acts.TAKE_FIXTURE_OUT),
    )
    yield Draft(
        "Fit the fixture, clamp it down and connect its air and plugs.",
        see=f"Zero at: {view.operation.datum}",
        value=view.operation.fixture,
        acts=(acts.ENTER, acts.FIT_FIXTURE),
    )


def emptied() -> Draft:
    """Return the step that leaves a fixture that stays empty."""
    return Draft(
        "Take any part of the last order out of the fixture.",
        see="Stops and clamps are clean.",
        acts=(acts.ENTER, acts.UNLOAD),
    )


def fixture_energised(view: OperationView) -> Iterator[Draft]:
    """Yield what is checked of the fixture with energy on."""
    yield Draft(
        "Check the air pressure of the cell and the fixture.",
        see="At the value on the machine's plate. Nothing hisses.",
        acts=(acts.ENTER, acts.SUPPLY),
    )
    yield Draft(
        f"Read the user frame of {view.operation.fixture} on both pendants.",
        see=f"Its zero is the datum: {view.operation.datum}",
        value=view.operation.fixture,
        acts=(acts.AT_CONTROLS,),
    )


# ---------------------------------------------------------------- arc: wire and gas


def wire_locked(view: OperationView) -> Iterator[Draft]:
    """Yield what is done to the wire under lock: contact tip and old wire out, rolls and liner, then the spool."""
    if view.wire is None:
        return
    robots = names(view.robots)
    yield old_wire_out(robots)
    yield Draft(
        f"Clean nozzles and gas diffusers of {robots}.",
        see="No spatter is left. The insulators are whole.",
        acts=(acts.ENTER, acts.REACH_IN),
    )
    yield Draft(
        f"Fit drive rolls and liner on {robots}.",
        see="The size on each is the wire's.",
        value=sheet_amount(view.wire.diameter, view.order.show_first).text,
        acts=(acts.ENTER, acts.FIT_ROLLS),
    )
    yield from spool_locked(view, robots)


def spool_locked(view: OperationView, robots: str) -> Iterator[Draft]:
    """Yield the change of a spool under lock; ``robots`` as a step names them."""
    wire = view.wire
    if wire is None:
        return
    yield Draft(
        f"Fit a full wire spool on {robots} and feed the wire end into the liner by hand.",
        see=f"Label: {wire.designation}, {wire.standard}. The brake stops the spool.",
        value=f"{wire.id}, {sheet_amount(wire.diameter, view.order.show_first).text}",
        topics=("wire",),
        acts=(acts.ENTER, acts.FIT_SPOOL),
    )


def work_leads_locked(view: OperationView) -> Iterator[Draft]:
    """Yield the check of the return path."""
    if view.wire is not None:
        yield Draft(
            f"Check work lead and work clamp of {names(view.robots)}.",
            see="Tight, on clean metal; no bare copper.",
            value=view.wire.polarity or "",
            acts=(acts.ENTER, acts.REACH_IN),
        )


def wire_energised(view: OperationView, robots: str, distance: str) -> Iterator[Draft]:
    """Yield inching, then contact tip and wire end with the power sources locked out."""
    if view.wire is None:
        return
    yield Draft(
        f"Inch the wire on {robots}, rolls covered, torch pointing away.",
        see="Nobody touches wire or torch. It runs freely and comes out straight.",
        topics=("wire",),
        acts=(acts.ENTER, acts.INCH_WIRE),
    )
    yield Draft(
        f"Switch off the power source of {robots} and lock it off.",
        see="The display is dark.",
        topics=("enter",),
        acts=(acts.LOCK_POWER,),
    )
    yield from tip_and_end(view, robots, distance)
    yield Draft(
        "Unlock the power source and switch it on.",
        see="No fault shows. Nobody touches torch or wire.",
        acts=(acts.UNLOCK_POWER,),
    )


def tip_off(robots: str) -> Draft:
    """Return the removal of an old contact tip; cell or power source is locked out."""
    return Draft(
        f"Take nozzle and old contact tip of {robots} off.",
        see="They may be hot from the arc.",
        topics=("hot",),
        acts=(acts.ENTER, acts.REACH_IN),
    )


def tip_and_end(view: OperationView, robots: str, distance: str) -> Iterator[Draft]:
    """Yield a new contact tip and the wire end cut; cell or power source is locked out."""
    if view.wire is None:
        return
    yield Draft(
        f"Fit a new contact tip on {robots}.",
        see="The stamped size is the wire's. Tight with the spanner, nozzle back on.",
        value=sheet_amount(view.wire.diameter, view.order.show_first).text,
        topics=("wire",),
        acts=(acts.ENTER, acts.FIT_TIP),
    )
    yield Draft(
        f"Cut the wire end of {robots} to stick-out.",
        see="As the tool centre point was taught. No ball on the end.",
        value=distance,
        acts=(acts.ENTER, acts.CUT_WIRE),
    )


def distance_of(views: Iterable[OperationView]) -> str:
    """Return contact tip to work distance of some operations; empty where they do not share one."""
    found = {value.text for view in views for _, value in view.values("contact_distance")}
    return f"contact tip to work {found.pop()}" if len(found) == 1 else ""


def gas_locked(view: OperationView, where: str) -> Iterator[Draft]:
    """Yield the connection of the gas; ``where`` are the robots or the cell as a step names them."""
    gas = view.gas
    if gas is not None:
        yield Draft(
            f"Connect a full cylinder to {where}.",
            see=f"{gas.group}, {gas.content}; {gas.cylinder_name} chained, its label read",
            value=gas.id,
            topics=("gas",),
            acts=(acts.ENTER, acts.REACH_IN),
        )


def cylinder_shut() -> Draft:
    """Return the step that takes the pressure off the gas line."""
    return Draft(
        "Close the cylinder valve and bleed the regulator.",
        see="Both gauges read zero. Fit the valve cap before the cylinder is moved.",
        topics=("gas",),
    )


def cylinder_open(view: OperationView) -> Iterator[Draft]:
    """Yield the opening of the cylinder, which the end of the last run has left shut."""
    if view.gas is not None:
        found = [value.text for _, value in view.values("gas_flow")]
        yield Draft(
            "Open the cylinder valve slowly and read the gas flow of both robots.",
            see=f"{view.gas.id}, within the allowed range of the settings.",
            value=listed(dict.fromkeys(found)),
            topics=("gas",),
        )


def dress_by_hand(robots: str, face: str) -> Draft:
    """Return the dressing of caps by hand, under lock."""
    return Draft(
        f"Dress both caps of {robots} with the hand dresser.",
        see="Both faces round, clean and square. Measure the face.",
        value=f"face {face}",
        topics=("caps",),
        acts=(acts.ENTER, acts.DRESS_BY_HAND),
    )


def old_wire_out(robots: str) -> Draft:
    """Return the removal of the wire that is left, under lock."""
    return Draft(
        f"Take nozzle and contact tip of {robots} off and pull the old wire out.",
        see="No chips in the liner; the old spool is off.",
        topics=("wire", "hot"),
        acts=(acts.ENTER, acts.REACH_IN),
    )


def purge_energised(view: OperationView) -> Iterator[Draft]:
    """Yield purging and the search for leaks."""
    if view.gas is not None:
        yield Draft(
            "Open the cylinder valve slowly, purge both torches and test every joint with leak spray.",
            see="No bubble at any joint.",
            topics=("gas",),
            acts=(acts.ENTER, acts.SUPPLY),
        )


def flow_energised(view: OperationView) -> Iterator[Draft]:
    """Yield the gas flow, set where it protects the weld."""
    for robots, amount, see in _by_value(view, "gas_flow", "hold the meter over the nozzle, wire not touched"):
        yield Draft(
            f"Set the gas flow of {robots} with a flow meter at the nozzle.",
            see=see,
            value=amount,
            topics=("gas",),
            acts=(acts.ENTER, acts.SUPPLY),
        )


def _by_value(view: OperationView, key: str, how: str) -> Iterator[tuple[str, str, str]]:
    """Yield robots, amount and what to see, once for each amount and allowed range that some groups share."""
    equal: dict[tuple[str, str], list[SettingGroup]] = {}
    for group, value in view.values(key):
        equal.setdefault((value.text, value.allowed), []).append(group)
    for (amount, allowed), groups in equal.items():
        robots = listed(dict.fromkeys(robot for group in groups for robot in group.robots))
        several = "" if len(groups) == len(view.groups) else listed(group.name for group in groups)
        yield robots, amount, capital(joined((several, f"allowed {allowed}" if allowed else "", how)))


# ---------------------------------------------------------------- spot: caps, water, force


def caps_locked(view: OperationView, robots: Sequence[Robot], words: str = "") -> Iterator[Draft]:
    """Yield the change of electrode caps under lock, each kind of cap once; ``words`` for the robots' names."""
    for cap_id, equal in _by_cap(view, robots).items():
        cap = view.approved.caps[cap_id]
        yield Draft(
            f"Close the cooling water of {words or names(equal)} and take the old caps off.",
            see="No water runs out.",
            acts=(acts.ENTER, acts.REACH_IN),
        )
        yield Draft(
            f"Fit two new electrode caps on {words or names(equal)}.",
            see=f"{cap.designation}, {cap.standard}; tapers clean, pressed home, no drip",
            value=f"{cap.id}, face {as_written(cap.face)}",
            acts=(acts.ENTER, acts.FIT_CAPS),
        )


def _by_cap(view: OperationView, robots: Sequence[Robot]) -> dict[str, list[Robot]]:
    found: dict[str, list[Robot]] = {}
    for robot in robots:
        cap = view.cap(robot)
        if cap is not None:
            found.setdefault(cap.id, []).append(robot)
    return found


def water_energised(view: OperationView) -> Iterator[Draft]:
    """Yield the check of the cooling water, at each gun."""
    guns = [robot for robot in view.robots if view.gun(robot) is not None]
    if guns:
        yield Draft(
            f"Open the cooling water of {names(guns)} and read the flow at each gun.",
            see="No joint drips.",
            value=_cooling(view, guns),
            acts=(acts.ENTER, acts.SUPPLY),
        )


def _cooling(view: OperationView, guns: Iterable[Robot]) -> str:
    """Return how much water each gun needs, guns that need the same together."""
    flows: dict[str, list[str]] = {}
    for robot in guns:
        flows.setdefault(view.cooling(robot) or "flow not stated", []).append(robot.id)
    return joined(flow if len(flows) == 1 else f"{listed(robots)}: {flow}" for flow, robots in flows.items())


def caps_energised(robots: str) -> Iterator[Draft]:
    """Yield what new caps need before anything is dressed or welded: alignment under force, then the wear zero."""
    yield Draft(
        f"Close the gun of {robots} at low force on carbon paper held in a holder.",
        see="Hands clear. Both prints round and on one axis. If not, lock out, align, close again.",
        topics=("caps",),
        acts=(acts.ENTER, acts.ALIGN_CAPS),
    )
    yield Draft(
        f"Reset the wear zero of the gun of {robots}.",
        see="The control shows no wear for the new caps.",
        acts=(acts.ZERO_WEAR,),
    )


def force_energised(view: OperationView) -> Iterator[Draft]:
    """Yield the measurement of the electrode force at every gun."""
    for robots, amount, see in _by_value(view, "electrode_force", "hands clear of the caps"):
        yield Draft(
            f"Measure the force of {robots} with a force gauge in a holder.",
            see=see,
            value=amount,
            topics=("caps",),
            acts=(acts.ENTER, acts.MEASURE_FORCE),
        )
