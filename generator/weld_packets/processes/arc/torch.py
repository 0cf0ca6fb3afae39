"""Rating of the torch of a robot: the share of ten minutes at the current of a weld, under its gas."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from weld_packets.calculation.acts import TORCH_DUTY
from weld_packets.calculation.formula import Source, Standing
from weld_packets.calculation.spread import beside
from weld_packets.calculation.trace import Verdict
from weld_packets.errors import refusal
from weld_packets.model.machines import Torch, TorchRating
from weld_packets.model.tables import Plant
from weld_packets.processes.arc.machine import maximum, rating_above
from weld_packets.processes.arc.seam_groups import SeamGroup
from weld_packets.processes.arc.wire.use import allowed_duty
from weld_packets.units import Quantity, as_written, magnitude, plain, shown, with_unit

HEATING = Source("IEC 60974-7", "heating of a torch with the square of the current", Standing.FROM_MEMORY)


def torch_duty(group: SeamGroup, current: Quantity, plant: Plant) -> Iterator[Verdict]:
    """Yield whether the torch is rated for a current for the share of ten minutes that the plant plans.

    The rating for the gas of the operation that is next above the current decides; nothing is checked of a torch that
    the table does not describe, or not for this gas. Raises OutOfRangeError above the highest rated current. A share
    between two ratings follows from a rule that is from memory: it warns and refuses nothing.
    """
    torch = group.machine.torch
    if torch is None:
        return
    ratings = [rating for rating in torch.ratings if group.gas.id in rating.gases]
    if not ratings:
        text = f"the table of machines states no rating of this torch under {group.gas.id}"
        yield Verdict("torch_duty", torch.name, text, passed=None, source=torch.source, act=TORCH_DUTY)
        return
    yield _verdict(torch, _next_above(torch, ratings, current, group.gas.id), current, plant)


def _next_above(torch: Torch, ratings: list[TorchRating], current: Quantity, gas: str) -> TorchRating:
    rating = rating_above(ratings, current)
    if rating is None:
        raise refusal(
            f"{torch.name} is rated to {as_written(maximum(ratings))} under {gas}, "
            f"the chart needs {shown(current, 'A')}",
            "use a robot with a torch of a higher rating, or a thinner weld",
            value=shown(current, "A"),
        )
    return rating


def _verdict(torch: Torch, rating: TorchRating, current: Quantity, plant: Plant) -> Verdict:
    planned = plant.duty_planning_share
    rated = f"rated {as_written(rating.current)} at {as_written(rating.share)}"
    if magnitude(rating.share, "%") >= magnitude(planned, "%"):
        text = f"{shown(current, 'A')} for {as_written(planned)} of ten minutes; {rated}"
        return Verdict("torch_duty", torch.name, text, passed=True, source=torch.source)
    share = allowed_duty(rated_share=rating.share, rated_current=rating.current, welding_current=current)
    allowed = with_unit(plain(beside(share, planned, "%", Decimal(1))[0]), "%")
    text = f"{allowed} of ten minutes at {shown(current, 'A')}, {as_written(planned)} planned; {rated}"
    verdict = Verdict("torch_duty", torch.name, text, passed=True, source=str(HEATING))
    if magnitude(share, "%") >= magnitude(planned, "%"):
        return verdict
    return replace(verdict, passed=None, warns=True, act=TORCH_DUTY)
