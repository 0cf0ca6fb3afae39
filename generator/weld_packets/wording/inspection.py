"""Sentences on what is inspected: sizes of a part with their tolerances, and which parts of an order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from weld_packets.calculation.general_tolerances import Tolerance
from weld_packets.model.tolerances import SizeKind
from weld_packets.wording.english import capital, counted, joined, listed

NO_TOLERANCE = "the order names no class for it, or the standard gives no value at this size"
_IN_FULL = 6
"""Part numbers that a line has room for; of more the first three and the last are named."""
_FIRST = 3


def nominal_words(kind: SizeKind, size: str, angle: str) -> str:
    """Return what the nominal is: a length, a form over its longer side, an angle with its shorter leg."""
    if kind == "linear":
        return size
    if kind == "angle":
        return f"{angle}, shorter leg {size}"
    return f"{kind} over {size}"


def tolerance_words(found: Tolerance, deviation: str) -> str:
    """Return the deviation with its class: plus and minus of a length or an angle, a maximum of a form."""
    return (
        f"at most {deviation} (class {found.letter})" if found.low is None else f"± {deviation} (class {found.letter})"
    )


def tolerance_source(found: Tolerance) -> str:
    """Return standard and editions, and whether the value was not read."""
    memory = "; this value is from memory" if found.memory else ""
    return f"{found.table.standard}:{'/'.join(found.table.editions)}, class {found.letter}{memory}"


def imperfection_words(inspection: str, name: str) -> str:
    """Return an imperfection that an inspection looks for, as the result of it is called."""
    return f"{inspection}: {name}"


def inspection_and_what(result: str) -> tuple[str, str]:
    """Return the inspection that a result belongs to, empty for none, and what is judged; a record has one text."""
    inspection, separator, what = result.partition(": ")  # that records of any age hold
    return (inspection, what) if separator else ("", result)


_BETWEEN, _HOLDS = "; ", ": "


def welds_of_limits(welds: Iterable[str]) -> str:
    """Return the welds that a result is for, those of each limit apart."""
    return joined(welds, _BETWEEN)


def limit_words(welds: str, limit: str) -> str:
    """Return a limit with the welds that it holds for; of all welds without them."""
    return joined((welds, limit), _HOLDS)


def required_words(welds: str, accept: str) -> str:
    """Return what a result must show, with its welds; they are named once where the limits name them too.

    Both are texts of a record, of any age.
    """
    first, several, _ = welds.partition(_BETWEEN)  # that records of any age hold
    if not welds or (several and first in accept):
        return capital(accept)
    return f"{capital(welds)}. {capital(accept.replace(f'{welds}{_HOLDS}', ''))}"


_FROM_MEMORY = "from memory"


def limit_source(source: str, numbers: Sequence[str], *, is_from_memory: bool) -> str:
    """Return where the limit of an imperfection is from, with its numbers in ISO 6520-1."""
    return f"{source}: {listed(numbers)}{f' ({_FROM_MEMORY})' if is_from_memory else ''}"


def is_from_memory(source: str) -> bool:
    """Return whether a source says that it was not read; a record holds the words alone."""
    return _FROM_MEMORY in source


def accepted_words(nominal: str, tolerance: str) -> str:
    """Return nominal and tolerance in a line."""
    return f"{nominal}, {tolerance}"


# ---------------------------------------------------------------- how many parts are inspected


def sample_words(turns: Sequence[int], of: int, table: str) -> str:
    """Return how many parts of an order are inspected, after which, and by which row of which table."""
    by = f" ({table})" if table else ""
    if not turns:
        return f"none of {counted(of, 'part')}{by}"
    if len(turns) == of:
        return f"every one of {counted(of, 'part')}{by}"
    return f"{len(turns)} of {counted(of, 'part')}, {_after(turns)}{by}"


def _after(turns: Sequence[int]) -> str:
    noun = "part" if len(turns) == 1 else "parts"
    if len(turns) <= _IN_FULL:
        return f"after {noun} {listed(map(str, turns))}"
    return f"after parts {', '.join(map(str, turns[:_FIRST]))} and so on to {turns[-1]}"
