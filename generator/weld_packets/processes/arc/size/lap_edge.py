"""The edge along which a lap is welded: how long a leg it carries.

Cross-sections are those of equal legs, the minimum for a throat. Along an edge that is lower than the leg the
throat comes out smaller, and a gauge finds the leg on the other component alone: an order that requires it is refused.
From 6 mm on, a leg within 2 mm of the edge leaves nothing of it to measure from: that warns.
"""

from __future__ import annotations

from weld_packets.calculation.formula import Source
from weld_packets.calculation.sentences import at_most, lengths, refused
from weld_packets.model.order import Component
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.size.formulas import throat_from_leg
from weld_packets.processes.arc.size.unequal import are_equal
from weld_packets.units import Quantity, as_written, exceeds, in_mm, quantity
from weld_packets.units.digits import HUNDREDTH

LAP = "lap fillet"
LAP_EDGE = Source("ANSI/AISC 360", "J2.2b as copied, largest leg along an edge")
LAP_THICK, LAP_LESS = 6.0, 2.0


def melted_edge(group: SeamGroup) -> tuple[Component, bool]:
    """Return the component of a lap whose edge is melted, and whether that is known.

    Where the order does not say it of unequal components, the thinner one is taken, which never allows more.
    """
    named = next((component for component in group.components if component.id == group.seam.edge), None)
    if named is not None:
        return named, True
    thin = min(group.components, key=lambda component: in_mm(component.thickness))
    return thin, are_equal(group)


def edge_carries(thickness: Quantity) -> Quantity:
    """Return the longest leg along an edge: its thickness, from 6 mm on 2 mm less."""
    edge = in_mm(thickness)
    return quantity(edge if exceeds(LAP_THICK, edge) else edge - LAP_LESS, "mm")


def longest_leg(group: SeamGroup) -> tuple[Component, Quantity] | None:
    """Return along which edge of a lap an equal leg runs, and the longest that can be made there; None of other joints.

    Where the order does not say whose edge that is, it is the thicker component's: neither of both carries more.
    """
    if group.seam.joint != LAP:
        return None
    edge, known = melted_edge(group)
    if not known:
        edge = max(group.components, key=lambda component: in_mm(component.thickness))
    return edge, edge.thickness


def check_leg(group: SeamGroup, leg: Quantity) -> None:
    """Raise OutOfRangeError for a lap whose required leg is longer than the edge along which it is welded."""
    found = longest_leg(group)
    if found is None or not exceeds(in_mm(leg), in_mm(found[1])):
        return
    edge, longest = found
    by_leg = group.seam.leg is not None
    word, most = ("leg", longest) if by_leg else ("throat", throat_from_leg(leg=longest))
    required = group.seam.leg if by_leg else group.seam.throat
    made, high = lengths(in_mm(leg), in_mm(longest), HUNDREDTH)
    other = "" if are_equal(group) else ", or weld along the edge of the thicker component"
    raise refused(
        ("its leg of ", made, f" is longer than the edge of {edge.name}, ", high, f": it cannot be made ({LAP_EDGE})"),
        (f"write a {word} of at most ", at_most(most, HUNDREDTH), other),
        key=word,
        value=as_written(required or longest),
    )
