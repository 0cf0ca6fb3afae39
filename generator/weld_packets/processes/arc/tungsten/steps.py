"""What people do for an arc from a tungsten electrode: the electrode ground, fitted and changed, cold wire threaded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from weld_packets.processes.arc.cell import steps as common
from weld_packets.processes.arc.tungsten.records import Electrode
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


def electrode_words(view: View, electrode: Electrode) -> str:
    """Return the electrode and its diameter."""
    return f"{electrode.designation}, {view.length(electrode.diameter)}"


def electrode_out(robots: str) -> Draft:
    """Return the removal of an electrode, under lock."""
    return Draft(
        f"Take gas nozzle and tungsten electrode of {robots} out.",
        see="They may be hot from the arc. Collet and diffuser are whole.",
        topics=("hot",),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("electrode-out", robots),
    )


def electrode_ground(electrode: Electrode, of: str) -> Draft:
    """Return the grinding of an electrode, outside the cell."""
    return Draft(
        f"Grind the electrode of {of} lengthwise, on a wheel for tungsten alone, with extraction.",
        see="Goggles on. No dust breathed. The grinding marks run along the electrode.",
        value=electrode.tip,
        topics=("parts",),
        key=step_key("grind-electrode", of),
    )


def electrode_in(view: View, electrode: Electrode, robots: str, distance: str) -> Draft:
    """Return the fitting of an electrode, under lock or with the power sources locked off."""
    return Draft(
        f"Fit the electrode of {robots} to the gauge, and the gas nozzle over it.",
        see=f"{electrode.designation}, {electrode.standard}, {view.length(electrode.diameter)}. Tight in its collet.",
        value=distance,
        topics=("wire",),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("fit-electrode", robots),
    )


def electrode_new(view: View, electrode: Electrode, robots: str, distance: str) -> Iterator[Draft]:
    """Yield the change of an electrode under lock: the old one out, a new one ground and fitted."""
    yield electrode_out(robots)
    yield electrode_ground(electrode, robots)
    yield electrode_in(view, electrode, robots, distance)


def cold_wire_locked(view: View, robots: str, *, rolls: bool) -> Iterator[Draft]:
    """Yield the change of cold wire under lock; ``rolls`` where another wire was fitted."""
    yield Draft(
        f"Pull the old cold wire of {robots} out of its guide.",
        see="The torch may be hot from the arc. No chips in the guide; the old spool is off.",
        topics=("wire", "hot"),
        acts=(acts.ENTER, acts.REACH_IN),
        key=step_key("old-wire-out", robots),
    )
    if rolls:
        yield common.rolls_fitted(view, robots)
    yield common.spool_locked(view, robots)


def cold_wire_energised(robots: str) -> Iterator[Draft]:
    """Yield the threading of cold wire with energy back; its end is cut with the power sources locked off."""
    task = Task(
        step_key("thread-wire", robots),
        "Inch the cold wire; lock the power source off, set the wire guide, cut the end, unlock.",
        "Torch pointing away, nobody touches it while the wire runs. The wire does not touch the electrode.",
    )
    yield from as_task(task, _cold_wire_threaded(robots))


def _cold_wire_threaded(robots: str) -> Iterator[Draft]:
    yield common.wire_inched(robots)
    yield common.sources_off(robots)
    yield Draft(
        f"Set the wire guide of {robots} and cut the wire end where it meets the pool.",
        see="As the tool centre point was taught. The wire does not touch the electrode.",
        topics=("wire",),
        acts=(acts.ENTER, acts.GUIDE_WIRE),
        key=step_key("wire-guide", robots),
    )
    yield common.sources_on()


def distance_of(views: Iterable[View]) -> str:
    """Return the distance of the electrode of some operations; empty where they do not share one."""
    return common.distance_words(views, "arc_length", "electrode to work")


def electrode_lists(views: Sequence[View], electrodes: dict[str, Electrode], kit: Kit) -> Iterator[Called]:
    """Yield the lists of a grinding and of a change, for each kind of electrode."""
    for name, using in common.by_item(views, "electrode").items():
        where = names(common.robots_of(using))
        steps = tuple(electrode_new(using[0], electrodes[name], ROBOT, distance_of(using)))
        yield Called(
            f"grind-{name}", f"Grind the electrode ({name})", where,
            f"{BY_COUNT}, or when the arc wanders or the tip is touched.", kit.changed(steps, (), "the grinding"),
        )  # fmt: skip
        yield Called(
            f"electrode-{name}", f"Change the electrode ({name})", where,
            f"{BY_COUNT}, or when the electrode is too short for its collet.",
            kit.changed(steps, (), "the electrode change"),
        )  # fmt: skip


def spool_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a spool change for each cold wire."""
    for name, using in common.by_item(views, "wire").items():
        locked, energised = cold_wire_locked(using[0], ROBOT, rolls=False), cold_wire_energised(ROBOT)
        yield Called(
            f"spool-{name}", f"Change a spool of cold wire ({name})", names(common.robots_of(using)),
            f"{BY_COUNT}, before the wire runs out. If the wire sticks: “{AFTER_STOP}”.",
            kit.changed(locked, energised, "the spool change", kit.checks(using, "wire change")),
        )  # fmt: skip
