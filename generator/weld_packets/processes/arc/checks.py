"""Checks of an arc joint that do not make its settings: components, torch, fit-up, and the upper side of its size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.calculation.trace import Figure, Verdict
from weld_packets.errors import Gathering, OutOfRangeError
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.model.charts import ArcChart
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.fit_up import Fillet, gap_figures, tack_check
from weld_packets.processes.arc.size.sizes import LEG, OBTAINED, THROAT
from weld_packets.processes.arc.size.unequal import unequal_thickness
from weld_packets.processes.arc.size.upper_sizes import AllNominal, upper_sizes
from weld_packets.processes.arc.torch import torch_duty
from weld_packets.units import Quantity


def joint_checks(group: SeamGroup, table: ArcChart, approved: ApprovedTables, current: Quantity) -> tuple[Verdict, ...]:
    """Return the checks of unequal components, of the torch at a current, and of the tacks.

    Raises OutOfRangeError with every one of them that is not passed and refuses.
    """
    gathering = Gathering()
    found: list[Verdict] = []
    for checks in (
        unequal_thickness(group, table, approved.plant),
        torch_duty(group, current, approved.plant),
        tack_check(group),
    ):
        with gathering.step():
            found += checks
    gathering.finish(OutOfRangeError)
    return tuple(found)


def upper_checks(group: SeamGroup, nominal: AllNominal, passes: int, approved: ApprovedTables) -> tuple[Verdict, ...]:
    """Return the checks of the upper side of a weld's size; see ``upper_sizes``, which raises OutOfRangeError."""
    return tuple(upper_sizes(group, nominal, passes, approved))


def fit_up_figures(
    group: SeamGroup, figures: Iterable[Figure], passes: int, approved: ApprovedTables
) -> Iterator[Figure]:
    """Yield the root gap of a fillet and what it costs; ``figures`` hold its leg and throats, of a butt none."""
    sizes = {figure.key: figure.value for figure in figures}
    leg, throat, expected = (sizes.get(name.key) for name in (LEG, THROAT, OBTAINED))
    if leg is not None and throat is not None and expected is not None:
        yield from gap_figures(group, Fillet(leg, throat, expected), passes, approved)
