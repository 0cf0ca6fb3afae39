"""Which schedule a stack is welded by."""

from __future__ import annotations

from generator.errors import refusal
from generator.model.charts import SpotSchedule
from generator.model.shop import Shop
from generator.process.spot.stack import Stack


def fits(schedule: SpotSchedule, stack: Stack) -> bool:
    """Return whether a schedule is for the stack's base metal and its most demanding coating."""
    return schedule.base == stack.base and stack.coating in schedule.coatings


def choose_schedule(stack: Stack, wanted: str | None, shop: Shop) -> SpotSchedule:
    """Return the schedule that the row names where it fits the stack, else the only one that fits.

    Raises OutOfRangeError with the candidates where none or several fit.
    """
    fitting = {mark: schedule for mark, schedule in shop.spot_schedules.items() if fits(schedule, stack)}
    if wanted in fitting:
        return fitting[wanted]
    if len(fitting) == 1:
        return next(iter(fitting.values()))
    told = f"{stack.base} with coating {stack.coating}" if stack.coating != "none" else f"uncoated {stack.base}"
    if fitting:
        raise refusal(
            f"{len(fitting)} schedules fit {told}: {', '.join(sorted(fitting))}",
            "name one of them as the row's 'schedule'",
        )
    raise refusal(
        f"no spot schedule fits {told}; the tables hold {', '.join(sorted(shop.spot_schedules)) or 'none'}",
        "add an approved schedule for it, or change the material",
    )
