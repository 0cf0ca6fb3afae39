"""What is done at a cell for spot guns: caps fitted, dressed and changed, cooling water, force."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.grouping import grouped
from weld_packets.model.tables.machines import Gun, Robot
from weld_packets.model.tables.materials import Cap
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import (
    AFTER_STOP,
    BY_COUNT,
    ROBOT,
    Called,
    Draft,
    Task,
    as_task,
    counted_keys,
    names,
    step_key,
)
from weld_packets.processes.view import Kit, View


def gun_of(view: View, robot: Robot) -> Gun:
    """Return the gun that a robot carries."""
    return view.approved.guns[robot.equipment]


def cap_of(view: View, robot: Robot) -> Cap:
    """Return the electrode cap of a robot's gun."""
    return view.approved.caps[gun_of(view, robot).cap]


def cooling_of(view: View, robot: Robot) -> str:
    """Return how much water cools each electrode of a robot's gun at least; empty where no table states it."""
    flow = gun_of(view, robot).cooling_flow
    return "" if flow is None else f"at least {view.flow(flow)} through each electrode"


def caps_locked(view: View, robots: Sequence[Robot], words: str = "") -> Iterator[Draft]:
    """Yield the change of electrode caps under lock, each kind of cap once; ``words`` for the robots' names."""
    for cap_id, equal in grouped((gun_of(view, robot).cap, robot) for robot in robots).items():
        of, cap = words or names(equal), view.approved.caps[cap_id]
        task = Task(
            step_key("caps", of),
            f"Close the cooling water and change the caps of {of}.",
            "Tapers clean, caps pressed home.",
            f"{cap.id}, face {view.stated(cap.face)}",
        )
        yield from as_task(task, _caps_changed(view, cap, of))


def _caps_changed(view: View, cap: Cap, of: str) -> Iterator[Draft]:
    yield Draft(
        f"Close the cooling water of {of} and take the old caps off.",
        see="No water runs out. They may be hot from welding.",
        topics=("hot",),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("old-caps-out", of),
    )
    yield Draft(
        f"Fit two new electrode caps on {of}.",
        see=f"{cap.designation}, {cap.standard}; tapers clean, pressed home",
        value=f"{cap.id}, face {view.stated(cap.face)}",
        acts=(acts.ENTER, acts.FIT_CAPS),
        key=step_key("fit-caps", of),
    )


def water_opened(view: View) -> Draft:
    """Return the check of the cooling water, at each gun."""
    return Draft(
        f"Open the cooling water of {names(view.robots)} and read the flow at each gun.",
        see="No joint drips.",
        value=_cooling([view]),
        acts=(acts.ENTER, acts.SUPPLY),
        key="open-water",
    )


def water_opened_again(views: Sequence[View]) -> Draft:
    """Return the same check in a list for all cells of an order."""
    return Draft(
        "At a spot cell, open the cooling water and read the flow at each gun.",
        see="No joint drips. No water, no welding.",
        value=_cooling(views),
        acts=(acts.ENTER, acts.SUPPLY),
    )


def water_shut(view: View) -> Draft:
    """Return the closing of the cooling water where a cell falls out of use, under lock."""
    return Draft(
        f"Close the cooling water of {names(view.robots)}.",
        see="Nothing drips.",
        acts=(acts.ENTER, acts.REACH_IN),
        key="close-water",
    )


def water_shut_at_the_end() -> Draft:
    """Return what closes the cooling water at the end of a run."""
    return Draft("At a spot cell, close the cooling water.", see="Nothing drips.")


def _cooling(views: Iterable[View]) -> str:
    """Return how much water each gun needs, guns that need the same together."""
    flows = grouped((cooling_of(view, robot) or "flow not stated", robot) for view in views for robot in view.robots)
    return "; ".join(flow if len(flows) == 1 else f"{names(robots)}: {flow}" for flow, robots in flows.items())


_ALIGNED = "Both prints round and on one axis, hands clear. The control shows no wear for the new caps."


def caps_made_ready(view: View, robots: str) -> Iterator[Draft]:
    """Yield the cooling water, and what new caps need with energy on, as one task."""
    task = Task(
        "caps-ready",
        "Open the cooling water, align the new caps under low force, reset the wear zero.",
        _ALIGNED,
        _cooling([view]),
    )
    yield from as_task(task, (water_opened(view), *caps_energised(robots)))


def caps_aligned(robot: str) -> Iterator[Draft]:
    """Yield what the new caps of one robot need with energy on, as one task."""
    do = f"Align the new caps of {robot} under low force, reset the wear zero."
    yield from as_task(Task(step_key("caps-ready", robot), do, _ALIGNED), caps_energised(robot))


def caps_energised(robots: str) -> Iterator[Draft]:
    """Yield what new caps need before anything is dressed or welded: alignment under force, then the wear zero."""
    yield Draft(
        f"Close the gun of {robots} at low force on carbon paper held in a holder.",
        see="Hands clear. Both prints round and on one axis. If not, lock out, align, close again.",
        topics=("caps",),
        acts=(acts.ENTER, acts.ALIGN_CAPS),
        key=step_key("align-caps", robots),
    )
    yield Draft(
        f"Reset the wear zero of the gun of {robots}.",
        see="The control shows no wear for the new caps.",
        acts=(acts.ZERO_WEAR,),
        key=step_key("zero-wear", robots),
    )


def force_measured(view: View) -> Iterator[Draft]:
    """Yield the measurement of the electrode force at every gun, as one task."""
    task = Task(
        "measure-force",
        "Measure the electrode force of both guns, gauge in a holder.",
        "Each inside its allowed range; hands clear of the caps.",
        view.listed(view.amounts("electrode_force")),
    )
    return as_task(task, counted_keys(_force_measured(view)))


def _force_measured(view: View) -> Iterator[Draft]:
    for robots, amount, see in view.by_value("electrode_force", "hands clear of the caps"):
        yield Draft(
            f"Measure the force of {robots} with a force gauge in a holder.",
            see=see,
            value=amount,
            topics=("caps",),
            acts=(acts.ENTER, acts.MEASURE_FORCE),
            key=step_key("measure-force", robots),
        )


def dressed_by_hand(robots: str, face: str) -> Draft:
    """Return the dressing of caps by hand, under lock."""
    return Draft(
        f"Dress both caps of {robots} with the hand dresser.",
        see="They may be hot from welding. Both faces round, clean and square. Measure the face.",
        value=f"face {face}",
        topics=("caps", "hot"),
        acts=(acts.ENTER, acts.DRESS_BY_HAND),
        key=step_key("dress-caps", robots),
    )


def dressed_by_power(robot: str) -> Draft:
    """Return the dressing of a robot's caps from outside, in automatic with the gate closed."""
    return Draft(
        f"Start the dressing program of {robot} at the panel, from outside.",
        see="It dresses both caps and returns home. Nobody goes in; no part program is started.",
        topics=("start",),
        acts=(acts.POWER_DRESS,),
        key=step_key("dress-caps", robot),
    )


# ---------------------------------------------------------------- lists of a run


def _guns(views: Iterable[View]) -> dict[tuple[str, str], list[tuple[View, Robot]]]:
    """Return the robots, by electrode cap and how it is dressed."""
    guns = ((gun_of(view, robot), view, robot) for view in views for robot in view.robots)
    return grouped(((gun.cap, gun.dressing), (view, robot)) for gun, view, robot in guns)


def dressing_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a dressing for each kind of cap and each method of dressing."""
    for (cap, method), robots in _guns(views).items():
        view = robots[0][0]
        face = view.stated(view.approved.caps[cap].face)
        by_hand = method == "hand"
        yield Called(
            f"dress-{method}-{cap}",
            f"Dress electrode caps {'by hand' if by_hand else 'at the power dresser'}",
            names(robot for _, robot in robots),
            f"{BY_COUNT}, or when caps mushroom. If caps stick: “{AFTER_STOP}”.",
            tuple((_by_hand if by_hand else _by_power)(face, [view for view, _ in robots], kit)),
        )


def _by_hand(face: str, views: Sequence[View], kit: Kit) -> Iterable[Draft]:
    closed = Draft(
        "Close the gun of the robot, hands clear.",
        see="The control takes over the new wear of the caps.",
        acts=(acts.ENTER, acts.MEASURE_FORCE),
    )
    return kit.changed([dressed_by_hand(ROBOT, face)], [closed], "the dressing", kit.checks(views, "tip dress"))


def _by_power(face: str, views: Sequence[View], kit: Kit) -> Iterator[Draft]:
    yield Draft(
        "Stop the cell with cycle stop. The gate stays closed.",
        see="Both robots are at home.",
        acts=(acts.CYCLE_STOP,),
    )
    yield Draft(
        "Start the dressing program at the panel, from outside.",
        see="The robot dresses both caps and returns home. Nobody goes in.",
        topics=("start",),
        acts=(acts.POWER_DRESS,),
    )
    yield Draft(
        "Select the part programs again and press cycle start.",
        see=f"Look at the first welds. Face {face}, measured at the next entry.",
        acts=(acts.SELECT_PART, acts.START),
    )
    yield from kit.checks(views, "tip dress")
    yield Draft("Write down the part count and the dressing.", see="The next order counts from it.")


def cap_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a change of caps for each kind of cap."""
    shared = grouped((cap, each) for (cap, _), robots in _guns(views).items() for each in robots)
    for cap, robots in shared.items():
        view, robot = robots[0]
        proved = kit.coupons(view, caps_energised(ROBOT))
        yield Called(
            f"caps-{cap}",
            "Change electrode caps",
            names(robot for _, robot in robots),
            f"After {views[0].approved.plant.cap_change_after.rstrip('.')}.",
            kit.changed(caps_locked(view, [robot], ROBOT), proved, "the cap change"),
        )
