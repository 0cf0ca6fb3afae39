"""What is done at a cell for shielding gas: cylinders changed, opened and shut, the flow set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.model.tables.materials import Gas
from weld_packets.processes.arc.cell.steps import by_item
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import BY_COUNT, Called, Draft, Task, as_task, counted_keys, step_key
from weld_packets.processes.view import Kit, View, cells_of


def gas_of(view: View) -> Gas:
    """Return the shielding gas."""
    return view.approved.gases[view.operation.gas]


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


def gas_lists(views: Sequence[View], kit: Kit) -> Iterator[Called]:
    """Yield the list of a cylinder change for each gas."""
    for name, using in by_item(views, "gas").items():
        locked = (cylinder_shut(), gas_locked(using[0], "the cell"))
        yield Called(
            f"gas-{name}", f"Change the gas cylinder ({name})", cells_of(using),
            f"{BY_COUNT}, or when the flow falls.",
            kit.changed(locked, (purged(), _FLOW_READ), "the cylinder change", kit.checks(using, "cylinder change")),
        )  # fmt: skip


_FLOW_READ = Draft(
    "Read the gas flow at both nozzles with a flow meter.",
    see="As in the settings of the cell. Extraction running.",
    topics=("gas",),
    acts=(acts.ENTER, acts.SUPPLY),
)


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
