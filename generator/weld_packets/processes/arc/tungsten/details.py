"""What a welder must know of seams from a tungsten electrode besides their settings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from weld_packets.calculation.details import Detail, Said
from weld_packets.calculation.trace import Figure
from weld_packets.model.approved_tables import ApprovedTables
from weld_packets.processes.arc import details as common
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.tungsten.records import Electrode, TungstenChart, TungstenSource
from weld_packets.units import kinds

_POLES = {
    "DC-": "electrode on the negative pole, work lead on the positive",
    "DC+": "electrode on the positive pole, work lead on the negative",
    "AC": "alternating current",
}
_IGNITION = {
    "high frequency": "high frequency, without touching the work",
    "lift": "the electrode touches the work and is lifted",
}


def details_of(
    group: SeamGroup, electrode: Electrode, chart: TungstenChart, figures: Iterable[Figure], approved: ApprovedTables
) -> tuple[Detail, ...]:
    """Return the details of seams that are set the same, in the order of the work; ``figures`` are all of theirs."""
    found = {figure.key: figure for figure in figures}
    return tuple(
        detail
        for part in (
            _electrode(group, electrode),
            common.temperatures_details(group, found, 1),
            common.tacks_details(group),
            common.start_and_stop_details(group, chart, approved),
            common.torch_details(group),
            [common.BURN_THROUGH_DETAIL],
        )
        for detail in part
    )


def _electrode(group: SeamGroup, electrode: Electrode) -> Iterator[Detail]:
    words = (f"{electrode.designation}, {electrode.standard}, diameter ", Said(electrode.diameter, kinds.SIZE))
    yield Detail("electrode", "Tungsten electrode", words, "table of tungsten electrodes")
    yield Detail("electrode_tip", "Electrode tip", (electrode.tip,), electrode.life_source)
    poles = f"{electrode.polarity}: {_POLES[electrode.polarity]}"
    yield Detail("polarity", "Polarity", (poles,), electrode.current_source)
    if isinstance(group.machine, TungstenSource):
        yield Detail("ignition", "Ignition", (_IGNITION[group.machine.ignition],), "table of tungsten sources")
    if group.filler is None:
        yield Detail("filler", "Filler", ("none",), "order")
