"""What is done at a cell for a wire that melts in the arc: wire, spools and contact tips fitted and changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.processes.arc.cell.steps import (
    by_item,
    distance_words,
    nozzles_cleaned,
    robots_of,
    rolls_fitted,
    sources_off,
    sources_on,
    spool_locked,
    wire_inched,
    wire_of,
    wire_words,
    work_leads_locked,
)
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import (
    AFTER_STOP,
    BY_COUNT,
    ROBOT,
    Called,
    Draft,
    Task,
    as_task,
    names,
    step_key,
)
from weld_packets.processes.view import Kit, View


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
        see="They may be hot from the arc. No chips in the liner; the old spool is off.",
        topics=("wire", "hot"),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("old-wire-out", robots),
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
    return distance_words(views, "contact_distance", "contact tip to work distance")


def spool_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a spool change for each wire."""
    for name, using in by_item(views, "wire").items():
        locked = (old_wire_out(ROBOT), spool_locked(using[0], ROBOT))
        energised = wire_energised(using[0], ROBOT, distance_of(using))
        yield Called(
            f"spool-{name}", f"Change a wire spool ({name})", names(robots_of(using)),
            f"{BY_COUNT}, before the wire runs out.",
            kit.changed(locked, energised, "the spool change", kit.checks(using, "wire change")),
        )  # fmt: skip


def tip_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a change of contact tip for each wire."""
    for name, using in by_item(views, "wire").items():
        locked = (tip_off(ROBOT), *tip_and_end(using[0], ROBOT, distance_of(using)))
        yield Called(
            f"tip-{name}", f"Change a contact tip ({name})", names(robots_of(using)),
            f"{BY_COUNT}, or when the arc stutters. If the wire sticks: “{AFTER_STOP}”.",
            kit.changed(locked, (), "the contact-tip change", kit.checks(using, "contact-tip change")),
        )  # fmt: skip
