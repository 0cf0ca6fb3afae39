"""Components of unequal thickness: up to which ratio they are set, and the step that they leave in a butt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from weld_packets.calculation.countermeasures import FUSION_OF_THICKER, MEASURE_STEP
from weld_packets.calculation.formula import Length, Number, Source, Standing, formula
from weld_packets.calculation.sentences import length
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import refusal
from weld_packets.model.tables.charts import ArcChart
from weld_packets.model.tables.plant import Plant
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.units import Quantity, as_written, exceeds, in_mm, magnitude, quantity, same, shown
from weld_packets.units.digits import HUNDREDTH

BY_RATIO = Source("ratio of two thicknesses", standing=Standing.GEOMETRY)
_STEP = "difference of two thicknesses, geometry; ISO 5817 limits another thing, the misalignment 507"
_LIES = {
    "face": "the faces lie in one plane, the step is at the root",
    "root": "the roots lie in one plane, the step is at the face",
    "neither": "it is shared by face and root",
}


@formula("d_2 / d_1", symbol="x", source=BY_RATIO, d_2="thicker", d_1="thinner")
def thickness_ratio(*, thicker: Length, thinner: Length) -> Number:
    """Return how many times the thinner component the thicker one is."""


def thicknesses(group: SeamGroup) -> tuple[Quantity, Quantity]:
    """Return the thickness of the thinner and of the thicker component."""
    thin, thick = sorted((component.thickness for component in group.components), key=in_mm)
    return thin, thick


def ratio(group: SeamGroup) -> float:
    """Return how many times the thinner component the thicker one is; 1 for equal ones."""
    thin, thick = thicknesses(group)
    return magnitude(thickness_ratio(thicker=thick, thinner=thin), "1")


def are_equal(group: SeamGroup) -> bool:
    """Return whether both components have the same thickness."""
    thin, thick = thicknesses(group)
    return same(in_mm(thin), in_mm(thick))


def unequal_thickness(group: SeamGroup, table: ArcChart, plant: Plant) -> Iterator[Verdict]:
    """Yield whether unequal components are within the plant's ratio, and the step of a butt; nothing for equal ones.

    Modes of transfer that the plant's rule does not name have no ratio here. Settings are those of the thinner
    component, and the arc must still fuse the thicker one. Raises OutOfRangeError beyond the ratio where the plant
    refuses it.
    """
    if are_equal(group):
        return
    if plant.unequal_thickness is None or table.transfer in plant.unequal_thickness.transfers:
        yield _within_ratio(group, table, plant)
    yield from butt_step(group)


def _within_ratio(group: SeamGroup, table: ArcChart, plant: Plant) -> Verdict:
    thin, thick = thicknesses(group)
    found = shown(quantity(ratio(group), "1"), "1", 2)
    text = f"{as_written(thick)} is {found} times {as_written(thin)}, set in {table.transfer} for the thinner"
    rule = plant.unequal_thickness
    verdict = Verdict("unequal_thickness", "unequal thickness", text, passed=None, source="table of the plant")
    if rule is None:
        return replace(verdict, said=f"{text}; the plant states no maximum ratio", countermeasure=FUSION_OF_THICKER)
    verdict = replace(verdict, source=rule.source)
    maximum = float(rule.ratio)
    if not exceeds(ratio(group), maximum):
        return replace(verdict, said=f"{text}; at most {rule.ratio} times is planned", passed=True)
    text = f"{text}, and at most {rule.ratio} times is planned: lack of fusion (401) on the thicker side"
    if rule.beyond == "refuse":
        raise refusal(
            f"{text} ({rule.source})",
            "use spray transfer or thinner material, or let the table of the plant warn beyond its ratio",
            key="components",
            value=f"{as_written(thick)} on {as_written(thin)}",
        )
    return replace(verdict, said=text, warns=True, countermeasure=FUSION_OF_THICKER)


def butt_step(group: SeamGroup) -> Iterator[Verdict]:
    """Yield the step that unequal components leave in a butt; nothing of equal ones and of other joints."""
    if group.is_butt and not are_equal(group):
        yield _step(group)


def _step(group: SeamGroup) -> Verdict:
    thin, thick = thicknesses(group)
    step = length(in_mm(thick) - in_mm(thin), HUNDREDTH)
    said = (f"{as_written(thick)} against {as_written(thin)} leaves a step of ", step)
    verdict = Verdict("butt_step", "step of the butt", said, passed=True, source=_STEP)
    if group.seam.flush is None:
        unsaid = "; the order does not say at which side: write 'flush' of the seam (face, root or neither)"
        return replace(verdict, said=(*said, unsaid), passed=None, warns=True, countermeasure=MEASURE_STEP)
    return replace(verdict, said=(*said, f": {_LIES[group.seam.flush]}; misalignment (507) is measured besides"))
