"""Numbers that orders share: order numbers on the floor, and program numbers on a robot's controller.

Two orders of one number would send a setter to the wrong packet. A coupon that is welded with another order's weld
schedule is accepted and proves nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from weld_packets.errors import Problem
from weld_packets.packet.program_use import ProgramClash, ProgramUse
from weld_packets.plant.folders import order_path

Uses = tuple[str, Sequence[ProgramUse]]
"""The folder name of an order, and what it uses the programs of its robots for."""
_Words = tuple[str, str, str]
"""The folder of the other order, what is wrong, and what to do."""
_Key = tuple[str, str]
"""A robot and the number of one of its programs: each robot's controller has numbers of its own."""


def repeated_numbers(numbered: Iterable[tuple[str, str]]) -> tuple[Problem, ...]:
    """Return a problem for each order, given as folder name and number, if an earlier one has its number."""
    first: dict[str, str] = {}
    problems = []
    for slug, number in numbered:
        known = first.setdefault(number.casefold(), slug)  # codes are read without regard to capitals
        if known != slug:
            message = f"{order_path(known)} has the same order number"
            file = f"{order_path(slug)}/order.yaml"
            problems.append(Problem(file, 0, "order", number, message, "give each order its own number"))
    return tuple(problems)


def clashing_programs(orders: Iterable[Uses], named: Callable[[str], str]) -> Iterator[ProgramClash]:
    """Yield each program of a robot that an earlier order uses otherwise; ``named`` says how an order is called."""
    known = KnownPrograms(named)
    for slug, uses in orders:
        yield from known.clashes(slug, uses)


@dataclass
class KnownPrograms:
    """For each program of a robot the first order that welds parts with it, and the first that welds coupons with it.

    A robot's controller holds one program of a number: of two orders whose welds with it differ, one would get the
    other's. An order whose revisions are all withdrawn is not asked, since nobody works by it any more.

    A coupon program may serve many orders as long as it calls the same weld schedule with the same settings, and none
    of them may weld the part with it. Within one order its own sources are checked for that.
    """

    named: Callable[[str], str] = order_path
    """How a message calls an order, given by its folder."""
    parts: dict[_Key, tuple[str, ProgramUse]] = field(default_factory=dict)
    coupons: dict[_Key, tuple[str, ProgramUse]] = field(default_factory=dict)

    def clashes(self, slug: str, uses: Sequence[ProgramUse]) -> list[ProgramClash]:
        """Return what an order's programs clash with, by key in the order; they are known from then on."""
        found = ((use, self._against_parts(use) or self._against_coupons(use)) for use in uses)
        clashes = [
            ProgramClash(slug, words[0], Problem("", 0, use.place, use.program, *words[1:]))
            for use, words in found
            if words
        ]
        for use in uses:
            if use.coupon:
                self.coupons.setdefault((use.robot, use.program), (slug, use))
            else:
                self.parts.setdefault((use.robot, use.program), (slug, use))
        return clashes

    def _against_parts(self, use: ProgramUse) -> _Words | None:
        if (use.robot, use.program) not in self.parts:
            return None
        slug, other = self.parts[use.robot, use.program]
        there = self.named(slug)
        if use.coupon:
            message = f"{there} welds the part on {use.robot} with this program"
            return slug, message, "give the coupon program a number of its own"
        if use.places == other.places:
            return None
        message = f"{there} makes other welds on {use.robot} with this program: {_counts(other, use)}"
        remedy = (
            "give it a number of its own; where it was changed for this order, that one must not be run any more: "
            "withdraw its revision"
        )
        return slug, message, remedy

    def _against_coupons(self, use: ProgramUse) -> _Words | None:
        if (use.robot, use.program) not in self.coupons:
            return None
        slug, other = self.coupons[use.robot, use.program]
        there = self.named(slug)
        if not use.coupon:
            message = f"{there} welds coupons on {use.robot} with this program"
            return slug, message, "give this program or that coupon program another number"
        if use.weld_schedule != other.weld_schedule:
            message = f"in {there} this coupon program of {use.robot} calls {_called(other)}, here {_called(use)}"
            return slug, message, "give the coupon program of another weld schedule a number of its own"
        differing = _differing(other, use)
        if not differing:
            return None
        message = f"{_called(use)} of {use.robot} is set otherwise in {there}: {differing}"
        return slug, message, "give a weld schedule that is set otherwise, and its coupon program, numbers of their own"


def _differing(there: ProgramUse, here: ProgramUse) -> str:
    """Return the first setting that differs, with both values; empty for none."""
    keys = (key for key in {**there.settings, **here.settings} if there.settings.get(key) != here.settings.get(key))
    key = next(keys, "")
    was, now = (use.settings.get(key, "not set") for use in (there, here))
    return f"{key.replace('_', ' ')} {was} there, {now} here" if key else ""


def _counts(there: ProgramUse, here: ProgramUse) -> str:
    """Return how many welds two orders make with a program, or that as many differ by their places."""
    if there.welds != here.welds:
        return f"{there.welds} there, {here.welds} here"
    return f"{here.welds} in both, at other places or in another sequence"


def _called(use: ProgramUse) -> str:
    return f"weld schedule {use.weld_schedule}" if use.weld_schedule else "a weld schedule without a number"
