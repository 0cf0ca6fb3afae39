"""What somebody kept of a set-up at a cell, as the pages save it: one file for one set-up of one operation.

Strict: unknown keys, other types and texts without a bound are refused. All numbers are decimal text with a point.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Iterator
from datetime import datetime
from typing import Annotated, Any, Literal, TypeVar

from pydantic import AfterValidator, Field, StringConstraints, ValidationError
from pydantic_core import ErrorDetails

from weld_packets.calculation.judgement import LinkedVerdict, ReadingVerdict
from weld_packets.errors import PacketError, Problem
from weld_packets.packet.records.forms import Acceptance, NumberWhat, StepList
from weld_packets.revisions.records.canonical import canonical
from weld_packets.revisions.records.record import Digest, OrderSlug, RevisionLetter, SetUpId
from weld_packets.units import Plain

LARGEST_FILE = 2_000_000
"""Bytes; the whole record of the demo's largest operation has less than a twentieth of it."""

Line = Annotated[str, StringConstraints(max_length=300)]
Name = Annotated[str, StringConstraints(max_length=120)]
Key = Annotated[str, StringConstraints(min_length=1, max_length=300)]
Reason = Annotated[str, StringConstraints(max_length=1000)]
Number = Annotated[str, StringConstraints(pattern=r"^[0-9]{1,9}(\.[0-9]{1,9})?$")]
OperationNumber = Annotated[int, Field(ge=1, le=999)]
"""An operation of an order: three digits, which no order ever needs all."""
StepDigest = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{12}$")]
At = Annotated[
    str,
    StringConstraints(
        pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?(Z|[+-][0-9]{2}:[0-9]{2})$"
    ),
    AfterValidator(lambda text: datetime.fromisoformat(text) and text),
]
"""A moment with its offset, as the clock of the device had it."""
_Item = TypeVar("_Item")
_Form = TypeVar("_Form", bound=Plain)
Many = Annotated[tuple[_Item, ...], Field(max_length=2000)]


class StepDone(Plain):
    """A step that was ticked: the digest is that of what it said."""

    list: StepList
    key: Key
    digest: StepDigest
    done: At
    by: Name


class ChangeoverDone(Plain):
    """A step of the cell's changeover that was ticked, with the digest of what it said."""

    key: Key
    digest: StepDigest
    done: At
    by: Name


class ReadingEntry(Plain):
    """What a machine showed of a setting or reading; ``repeat`` is 1 where a second person read it again."""

    value: Key
    robot: Name
    entered: Line
    number: Number
    unit: Name
    verdict: ReadingVerdict
    hidden: bool
    at: At
    by: Name
    repeat: Literal[0, 1]


class TogetherEntry(Plain):
    """What the last reading of one value is beside that of the other which limits it, on one robot."""

    value: Key
    other: Key
    robot: Name
    verdict: LinkedVerdict


class NumberEntry(Plain):
    """A program or weld schedule as the control showed it; ``asked`` is the one required."""

    robot: Name
    what: NumberWhat
    asked: Key
    entered: Line
    verdict: Literal["match", "mismatch"]
    by_scan: bool
    at: At
    by: Name


class ResultEntry(Plain):
    """What a coupon or the first part showed; ``number`` is empty where it was judged by eye."""

    result: Key
    entered: Line
    number: Number | Literal[""]
    verdict: Literal["accepted", "not accepted"]
    at: At
    by: Name


class Accepted(Plain):
    """What was accepted, by whom and when."""

    what: Acceptance
    at: At
    by: Name


class Lot(Plain):
    """The lot of a material or a consumable."""

    what: Line
    lot: Line


class Counter(Plain):
    """A count or an amount that was read at the cell."""

    what: Line
    count: Line


class Instrument(Plain):
    """An instrument that was used, with its own number."""

    what: Line
    number: Line


class Serials(Plain):
    """The serials of the parts, from and to; empty where the plant counts none."""

    first: Name = Field(alias="from")
    last: Name = Field(alias="to")


class Deviation(Plain):
    """What was otherwise than the packet says, and why."""

    what: Line
    reason: Reason
    at: At
    by: Name


class SetterQualified(Plain):
    """The qualification of the person who set up: its number, and its last day as the page showed it."""

    number: Annotated[str, StringConstraints(min_length=1, max_length=120)]
    valid_until: Annotated[str, StringConstraints(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]
    at: At
    by: Name


class ReplacedEntries(Plain):
    """Every entry that a later one of the same took the place of, oldest first, each as it was judged."""

    readings: Many[ReadingEntry]
    numbers: Many[NumberEntry]
    results: Many[ResultEntry]


class SetUp(Plain):
    """The set-up of one operation: to which record of which order it belongs, and all that was kept of it.

    ``replaced`` is None in a record from before such entries were kept. ``changeover`` is what was done before it was
    begun to bring the cell from the order before; it is empty where there was none, and in a record from before it was
    kept.
    """

    form: Literal["set-up record"]
    version: Literal[1]
    id: SetUpId
    order: Name
    slug: OrderSlug
    revision: RevisionLetter | Literal[""]
    status: Name
    status_reason: Reason
    record_digest: Digest | Literal[""]
    packet_digest: Digest
    operation: OperationNumber
    operation_name: Line
    cell: Name
    begun: At
    finished: At | Literal[""]
    setter: Name
    steps: Many[StepDone]
    readings: Many[ReadingEntry]
    numbers: Many[NumberEntry]
    results: Many[ResultEntry]
    accepted: Annotated[tuple[Accepted, ...], Field(max_length=2)]
    lots: Many[Lot]
    counters: Many[Counter]
    instruments: Many[Instrument]
    serials: Serials
    deviations: Many[Deviation]
    qualification: SetterQualified | None = None
    replaced: ReplacedEntries | None = None
    together: Many[TogetherEntry] = ()
    changeover: Many[ChangeoverDone] = ()


def last_readings(entries: Iterable[ReadingEntry]) -> dict[tuple[str, str], ReadingEntry]:
    """Return the last reading of each value on each robot: what was read again counts."""
    return {(entry.value, entry.robot): entry for entry in entries}


def moment(at: str) -> datetime:
    """Return the moment that a text of a record means."""
    return datetime.fromisoformat(at)


def moments(set_up: SetUp) -> Iterator[tuple[str, datetime]]:
    """Yield every moment at which something was done, with its key; not begin and end."""
    for index, step in enumerate(set_up.steps):
        yield f"steps[{index}].done", moment(step.done)
    for name in ("readings", "numbers", "results", "accepted", "deviations"):
        for index, entry in enumerate(getattr(set_up, name)):
            yield f"{name}[{index}].at", moment(entry.at)
    for name in ("readings", "numbers", "results") if set_up.replaced is not None else ():
        for index, entry in enumerate(getattr(set_up.replaced, name)):
            yield f"replaced.{name}[{index}].at", moment(entry.at)
    if set_up.qualification is not None:
        yield "qualification.at", moment(set_up.qualification.at)


def set_up_bytes(set_up: SetUp) -> bytes:
    """Return the record in its file: canonical JSON without a line end."""
    return canonical(set_up_data(set_up))


def set_up_data(set_up: SetUp) -> dict[str, Any]:
    """Return the record as its file has it: without what it holds nothing of, as before there was such a thing."""
    left_out = {name for name in ("qualification", "replaced") if getattr(set_up, name) is None}
    left_out |= {name for name in ("together", "changeover") if not getattr(set_up, name)}
    return set_up.model_dump(mode="json", by_alias=True, exclude=left_out)


def read_set_up(data: bytes, shown: str) -> SetUp:
    """Return the set-up in ``data``; ``shown`` names the file in messages.

    Raises PacketError with everything that is wrong with its form.
    """
    return read_form(SetUp, data, shown)


def read_form(model: type[_Form], data: bytes, shown: str) -> _Form:
    """Return the record of a kind in ``data``; raise PacketError with everything that is wrong with its form."""
    try:
        return model.model_validate_json(json.dumps(json_of(data, shown)), strict=True)
    except ValidationError as error:
        raise PacketError(_problem(detail, shown) for detail in error.errors()) from None


def json_of(data: bytes, shown: str) -> object:
    """Return what the JSON says; raise PacketError for a key that is there twice, and for a number that is none."""
    if len(data) > LARGEST_FILE:
        message = f"has {len(data)} bytes; a record from a cell has at most {LARGEST_FILE}"
        raise PacketError([Problem(shown, 0, "", "", message, "give the JSON file that the page saved")])
    try:
        return json.loads(data, object_pairs_hook=_once, parse_constant=_no_number, parse_float=_finite)
    except (ValueError, RecursionError) as error:
        message = f"is not JSON: {error}" if isinstance(error, ValueError) else "is nested too deep"
        remedy = "give the JSON file that the page saved, unchanged"
        raise PacketError([Problem(shown, 0, "", "", message, remedy)]) from None


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the key {twice!r} is there twice")
    return found


def _no_number(text: str) -> object:
    raise ValueError(f"{text} is not a number")


def _finite(text: str) -> float:
    if not math.isfinite(number := float(text)):
        raise ValueError(f"{text} is too large")
    return number


def _problem(detail: ErrorDetails, shown: str) -> Problem:
    key = _key(detail["loc"])
    value = "" if isinstance(detail["input"], dict | list) else str(detail["input"])
    if detail["type"] == "extra_forbidden":
        return Problem(
            shown, 0, key, value, "a record from a cell has no such key", "take it out, or use a later program"
        )
    if detail["type"] == "missing":
        return Problem(shown, 0, key, "", "is missing", "save the record anew from its page")
    if detail["loc"] == ("version",):
        remedy = "use the program of the pages that wrote it, or a later one"
        return Problem(shown, 0, key, value, "this program does not know this version of a record from a cell", remedy)
    remedy = "correct the entry on its page and save it anew"
    return Problem(shown, 0, key, value, f"cannot be in a record from a cell: {detail['msg']}", remedy)


def _key(parts: tuple[int | str, ...]) -> str:
    """Return the path to a value as messages write it, such as ``readings[0].verdict``."""
    text = ""
    for part in parts:
        text += f"[{part}]" if isinstance(part, int) else f"{'.' if text else ''}{part}"
    return text
