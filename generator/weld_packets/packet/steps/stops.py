"""How a run is interrupted for coupons, and what its families say where it stops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weld_packets.packet.operation.view import OperationView
from weld_packets.packet.steps.coupons import coupon_drafts
from weld_packets.packet.steps.entry import stop_and_open
from weld_packets.packet.steps.going_in import out_last, whole_list
from weld_packets.processes.answers import FamilyWords
from weld_packets.processes.cell import acts
from weld_packets.processes.cell.drafts import COUPONS_BEGIN, LOADED, Draft
from weld_packets.processes.family import families


def words_of(views: Sequence[OperationView]) -> list[FamilyWords]:
    """Return the words of the families of an order, each once, in the order of the families."""
    every = families(view.operation.process for view in views)
    return list(dict.fromkeys(view.words for family in every for view in views if view.family is family))


def coupons(views: Sequence[OperationView]) -> Iterator[Draft]:
    """Yield the steps that weld and test coupons in the middle of a run."""
    yield from stop_and_open(views[0].call)
    yield cleared_for_coupons()
    yield Draft(
        f"Weld and test coupons: prove-out from “{COUPONS_BEGIN}” to the coupons' hold point.",
        see="Accepted and signed.",
        hold=True,
        acts=(whole_list("coupons", coupon_drafts(views[0])),),
    )
    yield Draft(
        "Open the gate and load the fixture.",
        see=LOADED,
        topics=("clamps", "parts"),
        acts=(acts.OPEN_GATE, acts.ENTER, acts.LOAD_PART),
    )
    yield from out_last("the change of the setting")


def cleared_for_coupons() -> Draft:
    """Return the step that makes room for coupons; the clamps need their air to open."""
    return Draft(
        "Take the part out of the fixture.",
        see="The coupons need its place.",
        topics=("hot",),
        acts=(acts.ENTER, acts.UNLOAD),
    )
