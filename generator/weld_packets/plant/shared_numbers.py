"""Numbers that orders share: order numbers on the floor, and program numbers on a robot's controller.

Two orders of one number would send a setter to the wrong packet. A coupon that is welded with another order's weld
schedule is accepted and proves nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from weld_packets.errors import MessageAndRemedy, Problem, unplaced
from weld_packets.packet.program_use import ProgramClash, ProgramUse
from weld_packets.sources.folders import ORDER_FILE, order_path

Uses = tuple[str, Sequence[ProgramUse]]
"""The folder name of an order, and what it uses the programs of its robots for."""
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
            file = f"{order_path(slug)}/{ORDER_FILE}"
            problems.append(Problem(file, 0, "order", number, message, "give each order its own number"))
    return tuple(problems)


def clashing_programs(orders: Iterable[Uses], named: Callable[[str], str]) -> Iterator[ProgramClash]:
    """Yield each program of a robot that an earlier order uses otherwise; ``named`` says how an order is called.

    Of two orders that differ at a program in several revisions, the first that differ are named.
    """
    known = KnownPrograms(named)
    for slug, uses in orders:
        yield from first_of_each(known.clashes(slug, uses))


def first_of_each(clashes: Sequence[ProgramClash]) -> Iterator[ProgramClash]:
    """Return the first of an order's clashes for each of its keys and each other order."""
    return reversed({(clash.here.place, clash.other): clash for clash in reversed(clashes)}.values())


@dataclass
class KnownPrograms:
    """For each program of a robot the orders that weld with it, and what each uses it for.

    A robot's controller holds one program of a number: of two orders whose welds with it differ, one would get the
    other's. Uses that are never in force on one day do not meet: a program may be changed for all its orders from a
    day on.

    A coupon program may serve many orders as long as it calls the same weld schedule with the same settings, and none
    of them may weld the part with it. Within one order its own sources are checked for that.
    """

    named: Callable[[str], str] = order_path
    """How a message calls an order, given by its folder."""
    known: dict[_Key, list[tuple[str, ProgramUse]]] = field(default_factory=dict)

    def clashes(self, slug: str, uses: Sequence[ProgramUse]) -> list[ProgramClash]:
        """Return what an order's programs clash with, by key in the order; those without a clash are known then."""
        found = list(self.against(slug, uses))
        self.add(slug, [use for use in uses if not (_is_in(use, found) or self._is_known(use))])
        return found

    def add(self, slug: str, uses: Iterable[ProgramUse]) -> None:
        """Know from now on what an order uses programs for."""
        for use in uses:
            self.known.setdefault((use.robot, use.program), []).append((slug, use))

    def _is_known(self, use: ProgramUse) -> bool:
        """Return whether an order uses a program just so on the same days: thousands may share one."""
        return any(_content(use) == _content(each) for _, each in self.known.get((use.robot, use.program), ()))

    def against(self, slug: str, uses: Iterable[ProgramUse]) -> Iterator[ProgramClash]:
        """Yield what an order's programs clash with in other orders, the first that is known first."""
        for use in uses:
            for other, there in self.known.get((use.robot, use.program), ()):
                words = _words(self._called(other, there), there, use) if other != slug and use.meets(there) else None
                if words:
                    problem = unplaced(use.place, use.program, *words)
                    yield ProgramClash(slug, other, problem, use, there)

    def _called(self, slug: str, use: ProgramUse) -> str:
        return f"{self.named(slug)} revision {use.revision}" if use.revision else self.named(slug)


def has_equal_use(here: ProgramUse, others: Iterable[ProgramUse]) -> bool:
    """Return whether another order, whose uses are ``others``, has the program too, and for the same."""
    found = [each for each in others if (each.robot, each.program) == (here.robot, here.program)]
    return bool(found) and not any(_words("", each, here) for each in found)


def _is_in(use: ProgramUse, clashes: Iterable[ProgramClash]) -> bool:
    return any(use is clash.here for clash in clashes)


def _content(use: ProgramUse) -> ProgramUse:
    return replace(use, place="", revision="")


def _words(there: str, other: ProgramUse, use: ProgramUse) -> MessageAndRemedy | None:
    """Return what is wrong between two uses of a program, and what to do; ``there`` calls the order of the other."""
    found = _parted(there, other, use) or (_between_coupons(there, other, use) if use.coupon else None)
    if found is None or not use.revision:
        return found
    message, remedy = found
    return f"revision {use.revision}: {message}", remedy


def _parted(there: str, other: ProgramUse, use: ProgramUse) -> MessageAndRemedy | None:
    if use.coupon and not other.coupon:
        message = f"{there} welds the part on {use.robot} with this program"
        return message, "give the coupon program a number of its own"
    if other.coupon and not use.coupon:
        message = f"{there} welds coupons on {use.robot} with this program"
        return message, "give this program or that coupon program another number"
    if use.coupon or use.places == other.places:
        return None
    message = f"{there} makes other welds on {use.robot} with this program: {_counts(other, use)}"
    if not other.revision:
        return message, "give one of them a number of its own: of two that differ, the second to be released is refused"
    remedy = (
        "give it a number of its own; where it was changed for this order, that one must not be run any more: "
        f"withdraw its revision {other.revision}, or change its files too"
    )
    return message, remedy


def _between_coupons(there: str, other: ProgramUse, use: ProgramUse) -> MessageAndRemedy | None:
    if use.weld_schedule != other.weld_schedule:
        message = f"in {there} this coupon program of {use.robot} calls {_called(other)}, here {_called(use)}"
        return message, "give the coupon program of another weld schedule a number of its own"
    differing = _differing(other, use)
    if not differing:
        return None
    message = f"{_called(use)} of {use.robot} is set otherwise in {there}: {differing}"
    return message, "give a weld schedule that is set otherwise, and its coupon program, numbers of their own"


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
