"""Sentences of the setter's card: short enough for a field that a glove touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from weld_packets.units import with_unit
from weld_packets.wording.english import capital, first_sentence, inside, joined, listed

ACCEPTANCE_WORDS: Mapping[str, str] = {
    "throat": "throat at least",
    "leg": "leg at least",
    "set_up_weld_diameter": "weld diameter at least",
    "target_weld_diameter": "target",
}
"""What a coupon must show, by figure, in the order in which it is measured."""

_LONGEST = 120
"""Letters of a remark in about two lines of a card."""

BY_EYE = "by eye: see Inspection"
AS_SET = "no range: as set"
RANGES_TOGETHER = "Ranges limit each other. Before you change a setting, see"
_SHORT: Mapping[str, str] = {
    "travel_speed": "travel",
    "wire_feed_speed": "feed",
    "weld_time": "time",
    "weld_current": "current",
}
"""What the settings that limit each other are called where there is no room."""


def range_words(low: str, high: str) -> str:
    """Return an allowed range beside its value, whose unit it has; an open end is empty."""
    if low and high:
        return f"{low} to {high}"
    if low:
        return f"at least {low}"
    return f"at most {high}" if high else AS_SET


def linked_words(limit: tuple[str, str, int], low: str, high: str, units: tuple[str, str]) -> str:
    """Return how far one setting may go beside another, as ``travel at most 2.33 × feed``; an open end is empty.

    Of a product it is ``time × current² 8 to 9 cycles·kA²``. ``limit`` is two keys of figures, each with its unit in
    ``units``, and the power of the second.
    """
    value, other, power = limit
    of, beside = _SHORT.get(value, value), _SHORT.get(other, other)
    if power == 1:
        return f"{of} {range_words(low, high)} × {beside}"
    # The frequency of "cycles at 60 Hz" is beside the weld time above, and would read as that of the product here.
    time = units[0].split(" at ")[0]
    return f"{of} × {beside}² {with_unit(range_words(low, high), f'{time}·{units[1]}²')}"


def worn_words(worn: Sequence[str], shade: str) -> str:
    """Return what must be worn at the cell; empty where no message of the operation asks for anything."""
    return joined((f"Wear {listed(worn)}" if worn else "", capital(shade)), ". ") + ("." if worn or shade else "")


def shortened(text: str) -> str:
    """Return as many whole sentences of a remark as a card holds, at least the first, with a sign where more follow."""
    shown, rest = first_sentence(text)
    while rest:
        further, later = first_sentence(rest)
        if len(shown) + len(further) >= _LONGEST:
            return f"{shown} …"
        shown, rest = f"{shown} {further}", later
    return shown


def more_words(remarks: int, *, cut: bool) -> str:
    """Return where the rest of the remarks is: ``remarks`` whole ones, and what was ``cut`` off; empty for none."""
    left = f"{remarks} more" if remarks else "in full" if cut else ""
    return f"{left}: Set up" if left else ""


def programs_checked(numbers: Sequence[str]) -> str:
    """Return the check that both robots show their programs."""
    return f"Programs {listed(numbers)} read back"


def schedules_checked(numbers: Sequence[str], robots: Sequence[str]) -> str:
    """Return the check that the welding controls show these weld schedules, or settings where they have no number.

    ``robots`` are the letters of those that weld.
    """
    what = f"Weld schedule{'s' if len(numbers) > 1 else ''} {listed(numbers)}" if numbers else "Settings"
    return f"{what} read back, {listed(robots)}"


def fitted_checked(names: Sequence[str]) -> str:
    """Return the check of what is fitted."""
    return f"{capital(listed(inside(name) for name in names) or 'fixture')} as on this card"


AT_HOME = "Both robots at home, zones free"
ALL_OUT = "Everybody out and counted"


NOT_RECORDED = "not recorded: this revision was released before qualification was recorded"
_ON_CARD = 2
"""Numbers of records that a card has room for."""


def card_words(wps: str, records: Sequence[str], outcome: str | None, text: str) -> str:
    """Return procedure, records and verdict as a card shows them, in a line."""
    procedure = wps or "WPS not stated"
    if outcome is None:
        return f"{procedure}; {text}"
    return f"{procedure}, {_few(records)}: {outcome}"


def _few(records: Sequence[str]) -> str:
    """Return one record or two in full, of more the first with how many there are."""
    if len(records) <= _ON_CARD:
        return listed(records) or "no record"
    return f"{records[0]} and {len(records) - 1} more"
