"""What is done at a cell for every arc: its wire, melting or cold, its torches, work leads and power sources."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.grouping import grouped
from weld_packets.model.tables.machines import Robot
from weld_packets.model.tables.materials import Wire
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import Draft, names, step_key
from weld_packets.processes.view import View


def wire_of(view: View) -> Wire:
    """Return the wire of an operation that has one."""
    return view.approved.wires[view.operation.wire]


def wire_words(view: View) -> str:
    """Return the wire and its diameter."""
    wire = wire_of(view)
    return f"{wire.id}, {view.length(wire.diameter)}"


def distance_words(views: Iterable[View], figure: str, words: str) -> str:
    """Return a distance of the torch, ``words`` before it; empty where some operations do not share one."""
    found = {amount for view in views for amount in view.amounts(figure)}
    return f"{words} {found.pop()}" if len(found) == 1 else ""


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


def by_item(views: Sequence[View], item: str) -> dict[str, list[View]]:
    """Return operations by what they name as ``item``, such as their wire; those that name none are left out."""
    named = ((getattr(view.operation, item), view) for view in views)
    return grouped((name, view) for name, view in named if name is not None)


def robots_of(views: Iterable[View]) -> list[Robot]:
    """Return the robots of some operations."""
    return [robot for view in views for robot in view.robots]
