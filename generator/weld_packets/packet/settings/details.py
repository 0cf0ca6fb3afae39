"""What a welder must know of the welds of an operation besides their settings, as printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from weld_packets.calculation.results import WeldSettings
from weld_packets.calculation.trace import Detail, Figure, Said
from weld_packets.grouping import grouped
from weld_packets.packet.records.settings import WeldDetail
from weld_packets.packet.settings.values import Showing, amount_of
from weld_packets.units import Amount, exact, kinds, rounded, spelling
from weld_packets.units.scales import known_scale, sheet_amount, stated_amount
from weld_packets.wording.titles import name_of


def weld_details(settings: Sequence[WeldSettings], showing: Showing) -> tuple[WeldDetail, ...]:
    """Return the details of all settings of an operation, once for all welds of which they read the same."""
    return tuple(line for key in _keys(settings) for line in _of(key, settings, showing))


def _keys(settings: Sequence[WeldSettings]) -> list[str]:
    """Return the keys of all details, each once, in the order of the work: a new one after the one before it."""
    keys: list[str] = []
    for each in settings:
        place = 0
        for detail in each.details:
            if detail.key in keys:
                place = max(place, keys.index(detail.key) + 1)
            else:
                keys.insert(place, detail.key)
                place += 1
    return keys


def _of(key: str, settings: Sequence[WeldSettings], showing: Showing) -> Iterator[WeldDetail]:
    """Yield a detail of all settings, once for those of which it reads the same, with every source that says it."""
    details = ((each, detail) for each in settings for detail in each.details if detail.key == key)
    lines = ((each, _line(detail, showing)) for each, detail in details)
    by_line = grouped((line.model_copy(update={"source": ""}), (each, line.source)) for each, line in lines)
    for line, said in by_line.items():
        same = [each for each, _ in said]
        yield line.model_copy(
            update={
                "of": "" if len(same) == len(settings) else name_of(each.kind for each in same),
                "welds": tuple(weld for each in same for weld in each.welds),
                "source": "; ".join(dict.fromkeys(source for _, source in said if source)),
            }
        )


def _line(detail: Detail, showing: Showing) -> WeldDetail:
    return WeldDetail(
        key=detail.key,
        label=detail.label,
        text="".join(word if isinstance(word, str) else _said(word, showing) for word in detail.words),
        source=detail.source,
        stated=detail.stated,
    )


def _said(said: Said | Figure, showing: Showing) -> str:
    """Return a figure as it reads everywhere, or a quantity in both systems; a size is nominal."""
    if isinstance(said, Figure):
        amount = amount_of(said, showing)
        return "" if amount is None else amount.text
    if said.kind in (kinds.SIZE, kinds.THICKNESS):
        return sheet_amount(said.value, showing.first).text
    if said.kind is kinds.TEMPERATURE:
        return _degrees(said, showing).text
    return stated_amount(said.value, said.kind, showing.first, showing.mains).text


def _degrees(said: Said, showing: Showing) -> Amount:
    """Return a temperature to whole degrees of both scales, as a thermometer is read, each rounded once."""
    unit = spelling(said.value)
    number = exact(said.value, unit)
    scale = known_scale(said.kind, unit, Decimal(1), number, showing.first, showing.mains)
    both = (rounded(each, Decimal(1), said.rounding) for each in (number, exact(said.value, scale.other)))
    return scale.amount(*both)
