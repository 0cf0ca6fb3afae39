"""How fields of a record read their text: quantities by kind, names, counts, shares of a whole."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, PlainValidator, StringConstraints, WithJsonSchema
from pydantic_core import PydanticCustomError

from weld_packets.errors import PacketError
from weld_packets.letters import MARKS_AT_MOST, has_heaped_marks, shows_something
from weld_packets.units import Kind, Quantity, kinds, parse, parse_number, pattern_of
from weld_packets.units.zones import ZONE_PATTERN, zone_named

T = TypeVar("T")
_WELD_SCHEDULE = re.compile(r"0|[1-9][0-9]{0,8}")
"""As a key it has one spelling, so that no two keys of a source are one number."""
_FARTHEST = 100_000
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f]")
_DAY = re.compile(r"(19|20|21)[0-9]{2}-[0-9]{2}-[0-9]{2}")


class Record(BaseModel):
    """A frozen record whose keys are written with spaces in a source; unknown keys are refused."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=lambda name: name.replace("_", " "),
        populate_by_name=True,
        arbitrary_types_allowed=True,
        defer_build=True,
    )


def _reader(read: Callable[[str], T]) -> Callable[[Any], T]:
    """Return ``read`` with its refusal turned into pydantic's, with the remedy kept in the context."""

    def reader(value: Any) -> T:
        if not isinstance(value, str):
            raise PydanticCustomError(
                "text", "text is expected", {"remedy": "write one value here, not a list or keys"}
            )
        try:
            return read(value)
        except PacketError as error:
            problem = error.problems[0]
            raise PydanticCustomError(
                "quantity", "{fault}", {"fault": problem.message, "remedy": problem.remedy}
            ) from None

    return reader


def _of(kind: Kind) -> Any:
    return kind, PlainValidator(_reader(lambda text: parse(text, kind))), WithJsonSchema(quantity_schema(kind))


def quantity_schema(kind: Kind) -> dict[str, Any]:
    """Return the schema of a quantity of a kind; editors print ``patternErrorMessage`` in place of the pattern."""
    listed = ", ".join(kind.spellings)
    return {
        "type": "string",
        "pattern": pattern_of(kind),
        "patternErrorMessage": f"write a {kind.name} as a number, a space and a unit: {listed}",
        "description": f"{kind.name} in {listed}",
    }


def _whole(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,9}", text.strip()):
        raise PydanticCustomError("whole", "not a whole number", {"remedy": "write digits only, such as 120"})
    return int(text)


def _coordinate(text: str) -> Decimal:
    number = parse_number(text)
    if abs(number) > _FARTHEST:
        remedy = "check the number and its unit"
        raise PydanticCustomError(
            "coordinate", "a coordinate is from -{far} to {far}", {"far": f"{_FARTHEST}", "remedy": remedy}
        )
    return number


def _weld_schedule(text: str) -> int:
    if not _WELD_SCHEDULE.fullmatch(text.strip()):
        remedy = "write digits only and no zero before them, such as 11"
        raise PydanticCustomError("schedule", "not the number of a weld schedule", {"remedy": remedy})
    return int(text)


def _zone(text: str) -> str:
    return zone_named(text.strip()).key


def _day(text: Any) -> date:
    if isinstance(text, date):
        return text
    written = str(text).strip()
    if _DAY.fullmatch(written):
        with suppress(ValueError):
            return date.fromisoformat(written)
    remedy = "write year-month-day of a day that exists, such as 2026-12-04"
    raise PydanticCustomError("day", "not a calendar date of 1900 to 2199", {"remedy": remedy})


def _flag(text: Any) -> bool:
    if isinstance(text, bool):
        return text
    if text not in ("yes", "no"):
        raise PydanticCustomError("flag", "neither yes nor no", {"remedy": "write yes or no"})
    return bool(text == "yes")


def _clean(text: str) -> str:
    if _CONTROL.search(text):
        raise PydanticCustomError("text", "holds a control character", {"remedy": "remove it"})
    if not shows_something(text):
        raise PydanticCustomError("text", "the text holds spaces only", {"remedy": "write it"})
    if has_heaped_marks(text):
        fault = f"more than {MARKS_AT_MOST} marks are heaped on one letter"
        raise PydanticCustomError("text", "{fault}", {"fault": fault, "remedy": "write the letter with its own marks"})
    return text


def _one_line(text: str) -> str:
    if "\n" in text.strip("\n"):
        raise PydanticCustomError("text", "holds a line break", {"remedy": "write it on one line"})
    return text


Length = Annotated[Quantity, *_of(kinds.LENGTH)]
Size = Annotated[Quantity, *_of(kinds.SIZE)]
"""A length that something has, and so above zero; a coordinate is a ``Length``."""
Distance = Annotated[Quantity, *_of(kinds.DISTANCE)]
Thickness = Annotated[Quantity, *_of(kinds.THICKNESS)]
Time = Annotated[Quantity, *_of(kinds.TIME)]
Duration = Annotated[Quantity, *_of(kinds.DURATION)]
Current = Annotated[Quantity, *_of(kinds.CURRENT)]
SpotCurrent = Annotated[Quantity, *_of(kinds.SPOT_CURRENT)]
Voltage = Annotated[Quantity, *_of(kinds.VOLTAGE)]
Force = Annotated[Quantity, *_of(kinds.FORCE)]
Heat = Annotated[Quantity, *_of(kinds.HEAT)]
TravelSpeed = Annotated[Quantity, *_of(kinds.TRAVEL_SPEED)]
WireFeed = Annotated[Quantity, *_of(kinds.WIRE_FEED)]
GasFlow = Annotated[Quantity, *_of(kinds.GAS_FLOW)]
WaterFlow = Annotated[Quantity, *_of(kinds.WATER_FLOW)]
Volume = Annotated[Quantity, *_of(kinds.VOLUME)]
Mass = Annotated[Quantity, *_of(kinds.MASS)]
CoatingMass = Annotated[Quantity, *_of(kinds.COATING_MASS)]
Density = Annotated[Quantity, *_of(kinds.DENSITY)]
Temperature = Annotated[Quantity, *_of(kinds.TEMPERATURE)]
Stress = Annotated[Quantity, *_of(kinds.STRESS)]
Hydrogen = Annotated[Quantity, *_of(kinds.HYDROGEN)]
Angle = Annotated[Quantity, *_of(kinds.ANGLE)]
Share = Annotated[Quantity, *_of(kinds.SHARE)]
SoundLevel = Annotated[Quantity, *_of(kinds.SOUND_LEVEL)]
Frequency = Annotated[Quantity, *_of(kinds.FREQUENCY)]

_NUMERIC = {"type": ["number", "string"]}
Number = Annotated[Decimal, PlainValidator(_reader(parse_number)), WithJsonSchema(_NUMERIC)]
Coordinate = Annotated[Decimal, PlainValidator(_reader(_coordinate)), WithJsonSchema(_NUMERIC)]
"""A coordinate as a bare number; its unit is beside it, and whoever reads it with that holds it to 100 m."""
Whole = Annotated[int, PlainValidator(_reader(_whole)), WithJsonSchema({"type": ["integer", "string"]})]
WeldScheduleNumber = Annotated[
    int, PlainValidator(_reader(_weld_schedule)), WithJsonSchema({"type": ["integer", "string"]})
]
"""The number of a weld schedule where it is a key."""
TimeZone = Annotated[str, PlainValidator(_reader(_zone)), WithJsonSchema({"type": "string", "pattern": ZONE_PATTERN})]
Day = Annotated[date, PlainValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]
Flag = Annotated[bool, PlainValidator(_flag), WithJsonSchema({"enum": ["yes", "no", True, False]})]
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000), AfterValidator(_clean)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=80), AfterValidator(_clean), AfterValidator(_one_line)]
Slug = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]([a-z0-9-]{0,62}[a-z0-9])?$")]
"""A name that becomes a path or an address: lower-case letters, digits and inner hyphens."""
Mark = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9._+/-]{0,39}$")]
"""A short identifier on a drawing or machine: letters, digits, and . _ + / - inside."""
