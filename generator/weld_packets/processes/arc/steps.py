"""What is done at a cell for a wire that melts in the arc, and for its gas: fitted, changed, opened and shut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.model.machines import Robot
from weld_packets.model.tables import Gas, Wire
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import (
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
from weld_packets.processes.family import Kit, View


def wire_of(view: View) -> Wire:
    """Return the wire of an operation that has one."""
    return view.approved.wires[view.operation.wire]


def gas_of(view: View) -> Gas:
    """Return the shielding gas."""
    return view.approved.gases[view.operation.gas]


# ---------------------------------------------------------------- wire


def wire_locked(view: View, polarity: str, *, refitted: bool) -> Iterator[Draft]:
    """Yield what is done to the wire under lock: the old one out, rolls and liner, the spool; then the return path."""
    robots = names(view.robots)
    task = Task(
        "wire",
        "Fit wire: drive rolls, liner, spool. Check work leads and work clamps.",
        "Old wire and chips out, nozzles clean. Size on rolls and liner is the wire's. Leads tight on clean metal.",
        f"{wire_words(view)}, {polarity}" if polarity else wire_words(view),
    )
    yield from as_task(
        task,
        (
            old_wire_out(robots),
            nozzles_cleaned(robots),
            rolls_fitted(view, robots),
            spool_locked(view, robots),
            work_leads_locked(view, polarity, refitted=refitted),
        ),
    )


def wire_words(view: View) -> str:
    """Return the wire and its diameter."""
    wire = wire_of(view)
    return f"{wire.id}, {view.length(wire.diameter)}"


def spool_changed(view: View, robot: str) -> Iterator[Draft]:
    """Yield a new spool of the same wire under lock."""
    task = Task(
        f"spool-{robot}",
        f"Fit a full wire spool on {robot}.",
        "Old wire and chips out; the brake stops the spool.",
        wire_words(view),
    )
    yield from as_task(task, (old_wire_out(robot), spool_locked(view, robot)))


def old_wire_out(robots: str) -> Draft:
    """Return the removal of the wire that is left, under lock."""
    return Draft(
        f"Take nozzle and contact tip of {robots} off and pull the old wire out.",
        see="No chips in the liner; the old spool is off.",
        topics=("wire", "hot"),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("old-wire-out", robots),
    )


def nozzles_cleaned(robots: str) -> Draft:
    """Return the cleaning of nozzles and diffusers, under lock."""
    return Draft(
        f"Clean nozzles and gas diffusers of {robots}.",
        see="No spatter is left. The insulators are whole.",
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("clean-nozzles", robots),
    )


def rolls_fitted(view: View, robots: str) -> Draft:
    """Return the fitting of drive rolls and liner for the wire, under lock."""
    return Draft(
        f"Fit drive rolls and liner on {robots}.",
        see="The size on each is the wire's.",
        value=view.length(wire_of(view).diameter),
        acts=(acts.ENTER, acts.FIT_ROLLS),
        key=step_key("fit-rolls", robots),
    )


def spool_locked(view: View, robots: str) -> Draft:
    """Return the fitting of a spool under lock; ``robots`` as a step names them."""
    wire = wire_of(view)
    return Draft(
        f"Fit a full wire spool on {robots} and feed the wire end into the liner by hand.",
        see=f"Label: {wire.designation}, {wire.standard}. The brake stops the spool.",
        value=wire_words(view),
        topics=("wire",),
        acts=(acts.ENTER, acts.FIT_SPOOL),
        key=step_key("fit-spool", robots),
    )


def work_leads_locked(view: View, polarity: str, *, refitted: bool) -> Draft:
    """Return the check of the return path; ``refitted`` where another fixture is on the table."""
    robots = names(view.robots)
    leads = f"work lead and work clamp of {robots}"
    return Draft(
        f"Fit {leads} to the fixture and check them." if refitted else f"Check {leads}.",
        see="Tight, on clean metal; no bare copper.",
        value=polarity,
        acts=(acts.ENTER, acts.REACH_IN),
        key="work-leads",
    )


def wire_inched(robots: str) -> Draft:
    """Return the inching of the wire, gate open and energy on."""
    return Draft(
        f"Inch the wire on {robots}, rolls covered, torch pointing away.",
        see="Nobody touches wire or torch. It runs freely and comes out straight.",
        topics=("wire",),
        acts=(acts.ENTER, acts.INCH_WIRE),
        key=step_key("inch-wire", robots),
    )


def sources_off(robots: str) -> Draft:
    """Return the locking out of the power sources alone."""
    return Draft(
        f"Switch off the power source of {robots} and lock it off.",
        see="The display is dark.",
        topics=("enter",),
        acts=(acts.LOCK_POWER,),
        key=step_key("power-source-off", robots),
    )


def sources_on() -> Draft:
    """Return the unlocking of the power sources."""
    return Draft(
        "Unlock the power source and switch it on.",
        see="No fault shows. Nobody touches torch or wire.",
        acts=(acts.UNLOCK_POWER,),
        key="power-source-on",
    )


def wire_energised(view: View, robots: str, distance: str) -> Iterator[Draft]:
    """Yield inching, then contact tip and wire end with the power sources locked out."""
    task = Task(
        step_key("thread-wire", robots),
        "Inch the wire; lock the power source off, fit the contact tips, cut the wire, unlock.",
        "Torch pointing away, nobody touches it while the wire runs. Size stamped on the tip is the wire's.",
        view.length(wire_of(view).diameter),
    )
    yield from as_task(
        task, (wire_inched(robots), sources_off(robots), *tip_and_end(view, robots, distance), sources_on())
    )


def tip_off(robots: str) -> Draft:
    """Return the removal of an old contact tip; cell or power source is locked out."""
    return Draft(
        f"Take nozzle and old contact tip of {robots} off.",
        see="They may be hot from the arc.",
        topics=("hot",),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("contact-tip-off", robots),
    )


def tip_and_end(view: View, robots: str, distance: str) -> Iterator[Draft]:
    """Yield a new contact tip and the wire end cut; cell or power source is locked out."""
    yield Draft(
        f"Fit a new contact tip on {robots}.",
        see="The stamped size is the wire's. Tight with the spanner, nozzle back on.",
        value=view.length(wire_of(view).diameter),
        topics=("wire",),
        acts=(acts.ENTER, acts.FIT_TIP),
        key=step_key("fit-contact-tip", robots),
    )
    yield Draft(
        f"Cut the wire end of {robots} to stick-out.",
        see="As the tool centre point was taught. No ball on the end.",
        value=distance,
        acts=(acts.ENTER, acts.CUT_WIRE),
        key=step_key("cut-wire", robots),
    )


def tip_changed(view: View, robot: str) -> Iterator[Draft]:
    """Yield a new contact tip under lock."""
    task = Task(
        f"contact-tip-{robot}",
        f"Fit a new contact tip on {robot} and cut the wire end.",
        "The stamped size is the wire's. No ball on the end.",
        view.length(wire_of(view).diameter),
    )
    yield from as_task(task, tip_and_end(view, robot, distance_of([view])))


def distance_of(views: Iterable[View]) -> str:
    """Return contact tip to work distance of some operations; empty where they do not share one."""
    found = {amount for view in views for amount in view.amounts("contact_distance")}
    return f"contact tip to work distance {found.pop()}" if len(found) == 1 else ""


# ---------------------------------------------------------------- gas


def cylinder_changed(view: View, where: str) -> Iterator[Draft]:
    """Yield the change of the cylinder under lock; ``where`` are the robots or the cell as a step names them."""
    task = Task(
        "gas",
        f"Close and bleed the old gas cylinder, connect a full one to {where}.",
        "Both gauges at zero before the regulator comes off; valve cap on; new cylinder chained, its label read.",
        gas_of(view).id,
    )
    yield from as_task(task, (cylinder_shut(), gas_locked(view, where)))


def gas_locked(view: View, where: str) -> Draft:
    """Return the connection of the gas; ``where`` are the robots or the cell as a step names them."""
    gas = gas_of(view)
    return Draft(
        f"Connect a full cylinder to {where}.",
        see=f"{gas.group}, {gas.content}; {gas.cylinder_name} chained, its label read",
        value=gas.id,
        topics=("gas",),
        acts=(acts.ENTER, acts.REACH_IN),
        key="connect-gas",
    )


def cylinder_shut() -> Draft:
    """Return the step that takes the pressure off the gas line."""
    return Draft(
        "Close the cylinder valve and bleed the regulator.",
        see="Both gauges read zero. Fit the valve cap before the cylinder is moved.",
        topics=("gas",),
        key="close-cylinder",
    )


def cylinder_open(view: View) -> Draft:
    """Return the opening of the cylinder, which the end of the last run has left shut."""
    return Draft(
        "Open the cylinder valve slowly and read the gas flow of both robots.",
        see=f"{gas_of(view).id}, within the allowed range of the settings.",
        value=view.listed(view.amounts("gas_flow")),
        topics=("gas",),
        key="open-cylinder",
    )


def purged() -> Draft:
    """Return purging and the search for leaks."""
    return Draft(
        "Open the cylinder valve slowly, purge both torches and test every joint with leak spray.",
        see="No bubble at any joint.",
        topics=("gas",),
        acts=(acts.ENTER, acts.SUPPLY),
        key="purge-gas",
    )


def purged_and_set(view: View, how: str, *, purge: bool) -> Iterator[Draft]:
    """Yield the gas flow, after a new cylinder with purging before it, as one task with energy on."""
    do, see = "Set the gas flow at each nozzle.", f"Flow inside its allowed range; {how}."
    if purge:
        do, see = "Open the cylinder slowly, purge, test for leaks, set the gas flow.", f"No bubble at any joint. {see}"
    task = Task("gas-flow", do, see, view.listed(view.amounts("gas_flow")))
    yield from as_task(task, (*((purged(),) if purge else ()), *flow_set(view, how)))


def flow_set(view: View, how: str) -> Iterator[Draft]:
    """Yield the gas flow, set where it protects the weld; ``how`` is what to look after while it is measured."""
    return counted_keys(_flow_set(view, how))


def _flow_set(view: View, how: str) -> Iterator[Draft]:
    for robots, amount, see in view.by_value("gas_flow", how):
        yield Draft(
            f"Set the gas flow of {robots} with a flow meter at the nozzle.",
            see=see,
            value=amount,
            topics=("gas",),
            acts=(acts.ENTER, acts.SUPPLY),
            key=step_key("gas-flow", robots),
        )


# ---------------------------------------------------------------- lists of a run


def by_item(views: Sequence[View], item: str) -> dict[str, list[View]]:
    """Return operations by what they name as ``item``, such as their wire; those that name none are left out."""
    found: dict[str, list[View]] = {}
    for view in views:
        name = getattr(view.operation, item)
        if name is not None:
            found.setdefault(name, []).append(view)
    return found


def robots_of(views: Iterable[View]) -> list[Robot]:
    """Return the robots of some operations."""
    return [robot for view in views for robot in view.robots]


def spool_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a spool change for each wire."""
    for name, using in by_item(views, "wire").items():
        yield Called(
            f"spool-{name}", f"Change a wire spool ({name})", names(robots_of(using)),
            f"{BY_COUNT}, before the wire runs out.", tuple(_new_spool(using, kit)),
        )  # fmt: skip


def _new_spool(views: Sequence[View], kit: Kit) -> Iterator[Draft]:
    yield kit.go_in()
    yield old_wire_out(ROBOT)
    yield spool_locked(views[0], ROBOT)
    yield from kit.take_lock_off()
    yield from wire_energised(views[0], ROBOT, distance_of(views))
    yield from kit.run_again("the spool change", kit.checks(views, "wire change"))


def tip_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a change of contact tip for each wire."""
    for name, using in by_item(views, "wire").items():
        yield Called(
            f"tip-{name}", f"Change a contact tip ({name})", names(robots_of(using)),
            f"{BY_COUNT}, or when the arc stutters.", tuple(_new_tip(using, kit)),
        )  # fmt: skip


def _new_tip(views: Sequence[View], kit: Kit) -> Iterator[Draft]:
    yield kit.go_in()
    yield tip_off(ROBOT)
    yield from tip_and_end(views[0], ROBOT, distance_of(views))
    yield from kit.take_lock_off()
    yield from kit.run_again("the contact-tip change", kit.checks(views, "contact-tip change"))


def gas_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a cylinder change for each gas."""
    for name, using in by_item(views, "gas").items():
        yield Called(
            f"gas-{name}", f"Change the gas cylinder ({name})", kit.cells(using),
            f"{BY_COUNT}, or when the flow falls.", tuple(_new_cylinder(using, kit)),
        )  # fmt: skip


def _new_cylinder(views: Sequence[View], kit: Kit) -> Iterator[Draft]:
    yield kit.go_in()
    yield cylinder_shut()
    yield gas_locked(views[0], "the cell")
    yield from kit.take_lock_off()
    yield purged()
    yield Draft(
        "Read the gas flow at both nozzles with a flow meter.",
        see="As in the settings of the cell. Extraction running.",
        topics=("gas",),
        acts=(acts.ENTER, acts.SUPPLY),
    )
    yield from kit.run_again("the cylinder change", kit.checks(views, "cylinder change"))


def shut_at_the_end() -> Draft:
    """Return what closes the gas at the end of a run."""
    return Draft(
        "At an arc cell, close the cylinder valve and bleed the regulator.",
        see="Extraction runs until the fume is gone.",
        topics=("gas",),
    )


def open_at_the_start() -> Draft:
    """Return what opens the gas at the start of a shift."""
    return Draft(
        "At an arc cell, open the cylinder valve slowly and read the gas flow.",
        see="Within the allowed range of the settings. You stand to one side.",
        topics=("gas",),
    )
