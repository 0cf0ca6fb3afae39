"""Small pieces of English that several pages share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from weld_packets.model.tables import Supervisor
from weld_packets.packet.numbers import both
from weld_packets.packet.records import OperationWarning, Span, Value, WeldLimit
from weld_packets.units import with_unit

FEW = 4
"""Names that are told in full."""
STEP_WORDS = 20
"""A step is no longer than this."""


def capital(label: str) -> str:
    """Return a label with a capital letter first."""
    return label[:1].upper() + label[1:]


def inside(label: str) -> str:
    """Return a label as it stands inside a sentence; ``T fillet`` and abbreviations keep their capital."""
    first = label.partition(" ")[0]
    keeps = first[1:2].isupper() or (len(first) == 1 and first != "A")
    return label if keeps else label[:1].lower() + label[1:]


def listed(names: Iterable[str]) -> str:
    """Return ``a``, ``a and b``, or ``a, b and c``."""
    words = list(names)
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def counted(number: int, noun: str) -> str:
    """Return a number with its noun, in the plural where it needs one."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def at_count(parts: int, when: Literal["after", "during"]) -> str:
    """Return when something is due: after so many parts, before the first one, or while one of them is welded."""
    if when == "during":
        return f"while part {parts} is welded"
    return f"after {counted(parts, 'part')}" if parts else "before the first part"


def call_words(supervisor: Supervisor) -> str:
    """Return whom to call and how, such as ``the shift supervisor (extension 214)``."""
    return f"the {supervisor.role} ({supervisor.call})"


def amount_text(value: Value) -> str:
    """Return a value's amount in one line, or why there is none."""
    return value.outside if value.amount is None else both(value.amount)


def first_text(value: Value) -> str:
    """Return a value's first number with its unit; empty where there is none."""
    return "" if value.amount is None else with_unit(value.amount.value, value.amount.unit or "1")


def window_text(value: Value) -> str:
    """Return a value's window in one line, both systems; empty where there is none."""
    if value.window is None or value.amount is None:
        return ""
    first = span_text(value.window.low, value.window.high, value.amount.unit)
    second = span_text(value.window.second_low, value.window.second_high, value.amount.second_unit)
    return f"{first} ({second})" if first and second else first


def span_text(low: str, high: str, unit: str) -> str:
    """Return both ends, or the one that is closed."""
    unit = unit or "1"
    if low and high:
        return f"{low} to {with_unit(high, unit)}"
    return f"at least {with_unit(low, unit)}" if low else f"at most {with_unit(high, unit)}" if high else ""


def step_text(value: Value) -> str:
    """Return a value's machine step in the unit of its own dial; empty where it is not dialled."""
    return "" if value.step is None else both(value.step)


def edge_text(window: Span, value: Value, direction: str) -> str:
    """Return the end of a window in one direction, ``up`` or ``down``, in both systems; empty where it is open."""
    upward = direction == "up"
    end, second = (window.high, window.second_high) if upward else (window.low, window.second_low)
    if not end or value.amount is None:
        return ""
    head = with_unit(end, value.amount.unit or "1")
    return f"{head} ({with_unit(second, value.amount.second_unit or '1')})" if second else head


def some(names: Sequence[str]) -> str:
    """Return a few names in full, or the first ones and how many there are."""
    if len(names) <= FEW:
        return ", ".join(names)
    return f"{', '.join(names[: FEW - 1])} … {names[-1]} ({len(names)})"


def notes_of(value: Value) -> str:
    """Return the setter's notes on a value; warnings are read beside the figure, not in a step."""
    return joined(each.text for each in value.remarks if each.weight == "note" and each.reader == "setter")


def warning_about(warning: OperationWarning) -> str:
    """Return what a warning is about, and what is the matter."""
    return f"{capital(listed(inside(each) for each in warning.about))}: {warning.text.rstrip('.')}."


def warning_where(warning: OperationWarning) -> str:
    """Return the groups of settings that a warning concerns, with their welds; empty for the whole operation."""
    return f"{listed(warning.groups)}: {some(warning.welds)}" if warning.groups else ""


def warning_line(warning: OperationWarning) -> str:
    """Return a warning in one line, for a terminal."""
    where = warning_where(warning)
    return joined((warning_about(warning), f"({where})" if where else "", warning.do), " ")


def limit_line(limit: WeldLimit) -> str:
    """Return the limit of an imperfection in one line, with its quality level and the welds that it is for."""
    of = f" of {limit.of}" if limit.of else ""
    return f"level {limit.level}, {limit.name}{of}: {limit.text}"


def sentences(text: str) -> tuple[str, str]:
    """Return the first sentence of a text, and the rest."""
    head, _, rest = text.partition(". ")
    return (f"{head}." if rest else text), rest


def joined(parts: Iterable[str], separator: str = "; ") -> str:
    """Return the parts that are not empty, joined."""
    return separator.join(part for part in parts if part)
