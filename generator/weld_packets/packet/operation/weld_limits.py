"""Limits of imperfections for the welds of an operation, by their own quality level and thickness, as printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weld_packets.calculation.imperfections import Measures, limit_at, size_allowed
from weld_packets.grouping import grouped
from weld_packets.model.tables.inspection import Imperfection, ImperfectionLimit, Imperfections
from weld_packets.model.trade import QualityLevel
from weld_packets.packet.records.settings import WeldLimit
from weld_packets.processes.answers import Judged
from weld_packets.units import (
    Amount,
    Quantity,
    SystemOfUnits,
    as_written,
    plain,
)
from weld_packets.units.scales import limit_amount, minimum_amount, sheet_amount
from weld_packets.wording.titles import name_of

_Size = tuple[Amount | None, SystemOfUnits]
"""The size that is allowed, where it is known, and which system of units comes first."""
_COUNTED_FROM: Mapping[str, str] = {"5213": "from", "5214": "over"}
"""ISO 6520-1 numbers of a throat too small and too large: they are counted from the throat required."""
NO_LIMIT = "no source gives a limit at this thickness"


def weld_limits(
    welds: Sequence[Judged], level: QualityLevel, table: Imperfections, first: SystemOfUnits
) -> tuple[WeldLimit, ...]:
    """Return the limit of every imperfection for the welds of an operation, equal ones once."""
    return tuple(limit for entry in table.entries for limit in _of(entry, welds, level, table, first))


def _of(
    entry: Imperfection, welds: Sequence[Judged], level: QualityLevel, table: Imperfections, first: SystemOfUnits
) -> Iterator[WeldLimit]:
    judged = (weld for weld in welds if not entry.joints or weld.joint in entry.joints)
    by_limit = grouped((_limit(entry, weld.measures, level, table, first), weld.settings) for weld in judged)
    for limit, same in by_limit.items():
        of = "" if len(same) == len(welds) else name_of(each.kind for each in same)
        yield limit.model_copy(update={"of": of, "welds": tuple(weld for each in same for weld in each.welds)})


def _limit(
    entry: Imperfection, measures: Measures, level: QualityLevel, table: Imperfections, first: SystemOfUnits
) -> WeldLimit:
    limit = limit_at(entry, level, measures)
    size = None if limit is None else size_allowed(limit, measures.of(entry.share_of))
    amount = None if size is None else limit_amount(size, first)
    text = NO_LIMIT if limit is None else _text(entry, limit, measures, (amount, first))
    short = limit is not None and limit.short
    return WeldLimit(
        key=entry.id,
        numbers=entry.numbers,
        name=entry.name,
        level=level,
        text=f"{text}; only over a short length ({table.short_length})" if short else text,
        size=amount,
        short=short,
        source=entry.source,
        standing="from memory" if limit is not None and limit.from_memory else "read",
    )


def _text(entry: Imperfection, limit: ImperfectionLimit, measures: Measures, size: _Size) -> str:
    amount, first = size
    if limit.permitted is not None:
        return "permitted" if limit.permitted else "not permitted"
    if limit.area is not None:
        return f"{entry.measure} at most {as_written(limit.area)}"
    if limit.angle is not None:
        return f"{entry.measure} at least {as_written(limit.angle)}"
    basis, measured = _basis(entry, limit, measures, first), _counted(entry, measures, first)
    if amount is None:
        return f"{measured} at most {basis}"
    how = f", that is {basis}" if limit.share is not None else ""
    return f"{measured} at most {amount.text}{how}"


def _counted(entry: Imperfection, measures: Measures, first: SystemOfUnits) -> str:
    """Return what is measured and, of a throat, from what it is counted."""
    counted = next((_COUNTED_FROM[number] for number in entry.numbers if number in _COUNTED_FROM), "")
    if not counted or measures.throat is None:
        return entry.measure
    return f"{entry.measure} {counted} the required throat {_required(measures.throat, first)}"


def _basis(entry: Imperfection, limit: ImperfectionLimit, measures: Measures, first: SystemOfUnits) -> str:
    """Return how a size comes about: ``0.3 mm + 0.1 of the throat 2.5 mm, at most 1 mm``.

    Where inches come first, the standard's own unit follows in brackets.
    """
    plus = "" if limit.plus is None else _size(limit.plus, first)
    maximum = "" if limit.at_most is None else f", at most {_size(limit.at_most, first)}"
    if limit.share is None:
        return f"{plus}{maximum}"
    base = _base(entry, measures, first)
    share = base if limit.share == 1 else f"{plain(limit.share)} of {base}"
    return f"{' + '.join(text for text in (plus, share) if text)}{maximum}"


def _size(size: Quantity, first: SystemOfUnits) -> str:
    return as_written(size) if first == "metric" else limit_amount(size, first).text


def _base(entry: Imperfection, measures: Measures, first: SystemOfUnits) -> str:
    measured = measures.of(entry.share_of)
    what = entry.share_of
    if what == "weld thickness":
        what = "thickness" if measures.throat is None else "throat"
    if measured is None:
        return f"the measured {what}"
    nominal = _text_of(sheet_amount(measured, first), first)
    return f"the {what} {_required(measured, first) if what == 'throat' else nominal}"


def _required(throat: Quantity, first: SystemOfUnits) -> str:
    return _text_of(minimum_amount(throat, first), first)


def _text_of(amount: Amount, first: SystemOfUnits) -> str:
    return amount.first_text if first == "metric" else amount.text
