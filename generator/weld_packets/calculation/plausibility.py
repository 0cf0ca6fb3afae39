"""Physical bounds: a figure that no published chart of its process and material comes near is refused."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from functools import lru_cache

from weld_packets.calculation.sentences import refused, stated, stated_range
from weld_packets.calculation.trace import InBoth, Verdict
from weld_packets.errors import OutOfRangeError, PacketError, Problem, located, refusal
from weld_packets.model.processes import bounded_kinds
from weld_packets.model.processes import process as process_of
from weld_packets.model.tables.charts import Limit, Limits
from weld_packets.units import (
    Kind,
    Quantity,
    as_written,
    distinguished,
    exact,
    is_between,
    magnitude,
    parse,
    plain,
    significant,
    spelling,
    with_unit,
)

_STATED = 4
"""Digits up to which a number is one that somebody set or wrote."""


def check_plausible(  # noqa: PLR0917 - one question, asked by both processes
    figure_key: str,
    value: Quantity,
    process: str,
    base: str,
    coatings: Iterable[str],
    limits: Sequence[Limit],
    shown: InBoth | None = None,
) -> Verdict:
    """Return the verdict on a value against the table of limits; one fitting bound that admits it is enough.

    ``shown`` is the value as it is shown, where its digits are known; else they are those of the value itself.

    A limit fits when it names the quantity, the process, the base metal, and, where it names coatings, one of
    ``coatings``. Without any fitting limit the verdict says that nothing was checked.

    Raises OutOfRangeError with every fitting bound and its source when none admits the value.
    """
    admitting = admitting_limit(figure_key, value, process, base, coatings, limits)
    name = figure_key.replace("_", " ")
    if admitting is None:
        text = f"no limit for {name} on {base} is in the table of limits"
        return Verdict(f"plausible_{figure_key}", name, text, passed=None, source="table of limits")
    words = (shown or _beside(value, admitting), " lies within ", _reach(admitting))
    return Verdict(f"plausible_{figure_key}", name, words, passed=True, source=admitting.source)


def admitting_limit(  # noqa: PLR0917 - the same question
    figure_key: str, value: Quantity, process: str, base: str, coatings: Iterable[str], limits: Sequence[Limit]
) -> Limit | None:
    """Return the first fitting bound that admits a value, None where none fits; words are not made, which takes long.

    Raises OutOfRangeError as ``check_plausible`` does.
    """
    present = set(coatings)
    fitting = [limit for limit in limits if _fits(limit, figure_key, process, base, present)]
    admitting = next((limit for limit in fitting if _admits(limit, value)), None)
    if fitting and admitting is None:
        raise _implausible(figure_key.replace("_", " "), value, process, base, fitting)
    return admitting


def _beside(value: Quantity, limit: Limit) -> InBoth:
    """Return the value as written, and in brackets in the unit of the limit where that is another."""
    kind = bounded_kinds()[limit.quantity]
    unit, bound = spelling(value), _unit(limit.lowest, kind)
    written = _digits(value, unit)
    metric = written if unit == bound else f"{written} ({_digits(value, bound)})"
    return InBoth(metric, stated(value, kind).customary if kind.metric != kind.customary else metric)


def _reach(limit: Limit) -> InBoth:
    """Return both ends of a limit as the table has them, and with US customary units first."""
    return _from_to(limit.lowest, limit.highest, bounded_kinds()[limit.quantity])


@lru_cache(maxsize=1024)
def _from_to(lowest: str, highest: str, kind: Kind) -> InBoth:
    words = f"{lowest} to {highest}"
    if kind.metric == kind.customary:  # nothing to convert; times go by the mains, which a limit does not know
        return InBoth(words, words)
    return stated_range(parse(lowest, kind), parse(highest, kind), kind, words)


def _digits(value: Quantity, unit: str) -> str:
    return with_unit(plain(significant(exact(value, unit), _STATED).normalize()), unit)


def _fits(limit: Limit, key: str, process: str, base: str, coatings: set[str]) -> bool:
    if limit.quantity != key or process not in limit.processes or base not in limit.bases:
        return False
    return not limit.coatings or not coatings.isdisjoint(limit.coatings)


@lru_cache(maxsize=1024)
def _bound(text: str, kind: Kind) -> float:
    return magnitude(parse(text, kind), kind.unit)


@lru_cache(maxsize=1024)
def _unit(text: str, kind: Kind) -> str:
    return spelling(parse(text, kind))


def _admits(limit: Limit, value: Quantity) -> bool:
    kind = bounded_kinds()[limit.quantity]
    lowest, highest, found = _bound(limit.lowest, kind), _bound(limit.highest, kind), magnitude(value, kind.unit)
    return is_between(lowest, found, highest)


def _implausible(name: str, value: Quantity, process: str, base: str, fitting: Sequence[Limit]) -> OutOfRangeError:
    bounds = [part for limit in fitting for part in ("; ", _reach(limit), f" ({limit.source})")][1:]
    found, kind = _outside(value, fitting), bounded_kinds()[fitting[0].quantity]
    shown = InBoth(found, found if kind.metric == kind.customary else stated(value, kind).customary)
    return refused(
        (f"{name} ", shown, f" is not plausible for {process_of(process).name} of {base}: ", *bounds),
        "check the number, its unit and the chart that it came from",
        value=found,
    )


def _outside(value: Quantity, fitting: Sequence[Limit]) -> str:
    """Return a refused value, with as many digits as it takes to lie outside every bound in print too."""
    unit, kind = spelling(value), bounded_kinds()[fitting[0].quantity]
    number = exact(value, unit)
    if len(number.as_tuple().digits) <= _STATED:
        return as_written(value)
    ends = [exact(parse(end, kind), unit) for limit in fitting for end in (limit.lowest, limit.highest)]
    nearest = min(ends, key=lambda end: abs(end - number))
    return with_unit(plain(distinguished(number, nearest, Decimal(1).scaleb(number.adjusted() - 1))[0]), unit)


def limit_problems(table: Limits) -> tuple[Problem, ...]:
    """Return every bound of the table of limits that cannot be read, or that ends below its beginning."""
    found: list[Problem] = []
    for index, limit in enumerate(table.entries):
        try:
            with located(key=f"entries[{index}]"):
                _readable(limit)
        except PacketError as error:
            found.extend(error.problems)
    return tuple(found)


def _readable(limit: Limit) -> None:
    kind = bounded_kinds()[limit.quantity]
    ends = []
    for key, text in (("lowest", limit.lowest), ("highest", limit.highest)):
        with located(key=key):
            ends.append(_bound(text, kind))
    if ends[0] > ends[1]:
        raise refusal(
            "the bound ends below its beginning", "swap 'lowest' and 'highest'", key="highest", value=limit.highest
        )
