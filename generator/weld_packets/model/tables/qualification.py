"""Qualification records of welding procedures, and what standards say of their ranges."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from weld_packets.model.fields import (
    CoatingMass,
    Current,
    Day,
    Flag,
    Force,
    Heat,
    Mark,
    Name,
    Number,
    Record,
    Share,
    Size,
    SpotCurrent,
    Temperature,
    Text,
    Thickness,
    Time,
    TravelSpeed,
    Voltage,
    Whole,
    WireFeed,
)
from weld_packets.model.processes import ProcessNumber, numbers
from weld_packets.model.table import Table
from weld_packets.model.trade import Coating, Joint, Polarity, Position, TransferMode

Variable = Literal[
    "process",
    "mechanisation",
    "weld type",
    "material",
    "material group",
    "material subgroup",
    "coating",
    "product",
    "outside diameter",
    "thickness",
    "throat",
    "passes",
    "position",
    "filler",
    "filler diameter",
    "gas",
    "carbon dioxide",
    "polarity",
    "transfer mode",
    "current",
    "voltage",
    "travel speed",
    "wire feed speed",
    "heat input",
    "preheat",
    "interpass temperature",
    "sheets",
    "sheet thickness",
    "cap",
    "cap face",
    "current type",
    "electrode force",
    "weld time",
    "weld current",
    "pulses",
    "required tests",
]
"""What a qualification record and an order are compared by."""
WeldType = Literal["fillet", "butt", "T butt", "flare", "spot"]
Mechanisation = Literal["manual", "partly mechanised", "fully mechanised", "automatic"]
"""Degrees of mechanisation; a robot that runs its program is automatic, a hand torch partly mechanised."""
Certainty = Literal["read", "plant", "strict", "from memory", "in dispute", "unread"]
"""How far a rule is known: read in a source; the plant's own; strict where the text was not read, so that any change
is outside; the others cannot decide."""
Level = Literal["1", "2"]
Product = Literal["plate", "tube", "hollow section"]
"""What a component is made from; a tube is round, and a hollow section square or rectangular."""
Required = Literal["impact", "hardness"]
"""Tests that an order may require of its welds."""


class TestedSheet(Record):
    """One component of a test piece; ``group`` is that of ISO/TR 15608 where the record states it.

    ``outside_diameter`` is that of a tube; of a hollow section it is its smaller side.
    """

    material: Name
    group: Mark | None = None
    thickness: Thickness
    product: Product | None = None
    outside_diameter: Size | None = None
    coating: Coating = "none"
    coating_mass: CoatingMass | None = None


class TestResult(Record):
    """One test of a test piece: what was tested, what was found, and the document that holds it."""

    test: Name
    found: Text
    document: Name


def _of_one_process(value: Any) -> Any:
    """Refuse a test that was welded with several processes, such as root 141 and fill 135; leave all else to the type.

    Each process of such a test has its own throat, filler, current and heat input, and what it proves of one process
    alone is a rule of its own that was not read. A record that named one of them would claim the whole joint for it.
    """
    words = value if isinstance(value, list) else re.findall(r"\d+", value) if isinstance(value, str) else []
    if len({word for word in words if word in numbers()}) > 1:
        remedy = "leave the record out and compare it by hand; a record is of one test with one process"
        raise PydanticCustomError(
            "several processes", "a test with several processes is not covered", {"remedy": remedy}
        )
    return value


class QualificationRecord(Table):
    """The qualification record of a welding procedure (WPQR): one test, what was welded, what was found.

    ``table`` is its number. What it leaves out is not stated, and nothing is concluded from it. ``throat`` is that of a
    fillet; ``from`` and ``to`` are what was measured on the test pieces, equal for one reading. ``examiner`` is the
    examiner or examining body by its role. ``last_used`` is the day on which something was last welded by it;
    ``withdrawn`` that from which nothing rests on it.
    """

    kind: Literal["qualification record"]
    standard: Name
    edition: Name
    level: Level | None = None
    examiner: Name
    date: Day
    last_used: Day | None = None
    valid_until: Day | None = None
    withdrawn: Day | None = None
    process: Annotated[ProcessNumber, BeforeValidator(_of_one_process)]
    mechanisation: Mechanisation | None = None
    weld_type: WeldType
    joint: Joint | None = None
    sheets: Annotated[tuple[TestedSheet, ...], Field(min_length=2, max_length=3)]
    throat: Size | None = None
    passes: Literal["one", "several"] | None = None
    positions: tuple[Position, ...] = ()
    filler: Name | None = None
    filler_make: Name | None = None
    filler_diameter: Size | None = None
    gas: Name | None = None
    carbon_dioxide: Share | None = None
    polarity: Polarity | None = None
    transfer_mode: TransferMode | None = None
    current_from: Current | None = None
    current_to: Current | None = None
    voltage_from: Voltage | None = None
    voltage_to: Voltage | None = None
    travel_speed_from: TravelSpeed | None = None
    travel_speed_to: TravelSpeed | None = None
    wire_feed_from: WireFeed | None = None
    wire_feed_to: WireFeed | None = None
    thermal_efficiency: Number | None = None
    heat_input_from: Heat | None = None
    heat_input_to: Heat | None = None
    preheat: Temperature | None = None
    interpass: Temperature | None = None
    cap: Name | None = None
    cap_face: Size | None = None
    machine: Name | None = None
    current_type: Literal["AC", "MFDC"] | None = None
    electrode_force_from: Force | None = None
    electrode_force_to: Force | None = None
    weld_time_from: Time | None = None
    weld_time_to: Time | None = None
    weld_current_from: SpotCurrent | None = None
    weld_current_to: SpotCurrent | None = None
    pulses: Whole | None = None
    impact_tested: Flag = False
    hardness_tested: Flag = False
    results: Annotated[tuple[TestResult, ...], Field(min_length=1)]


class Rule(Record):
    """How far one variable may differ from what was tested.

    ``form`` says what is covered. "as tested": no change. "free": any change. "factor": from ``low`` to ``high`` times
    what was tested, not below ``at_least``; an end that is left out is open. "difference": from ``down`` below to
    ``up`` above it, in the unit of the variable. "covers": for each word that was tested, the words that it covers;
    ``any`` is every word.

    The other keys say for which tests the line is: editions of the standard, all where it names none, weld types,
    number of passes, thickness of the test piece over one and up to and including another, groups of its material, and
    what the order requires to be tested, where "none" is for an order that requires neither. ``positions`` and
    ``outside_diameter_over`` are of the order: every tube is larger. Of several lines for a variable the first that
    holds is taken. Each component's thickness has the line of its own band, every other variable that of the thinnest
    component; the bands of an outside diameter are of outside diameters.
    """

    id: Mark
    variable: Variable
    form: Literal["as tested", "free", "factor", "difference", "covers"]
    low: Number | None = None
    high: Number | None = None
    at_least: Size | None = None
    down: Number | None = None
    up: Number | None = None
    covers: dict[Name, tuple[Name, ...]] = {}
    editions: tuple[Name, ...] = ()
    weld_types: tuple[WeldType, ...] = ()
    passes: Literal["one", "several"] | None = None
    over: Size | None = None
    up_to: Size | None = None
    groups: tuple[Mark, ...] = ()
    positions: tuple[Position, ...] = ()
    outside_diameter_over: Size | None = None
    required: tuple[Literal["none", "impact", "hardness"], ...] = ()
    clause: Name
    certainty: Certainty
    source: Text


class QualificationRules(Table):
    """The ranges of one standard, its editions and level; ``level`` is left out where the standard has none.

    The program brings such tables. A table of the plant replaces a line of theirs by one of the same identifier, and
    adds lines.
    """

    kind: Literal["qualification rules"]
    standard: Name
    editions: Annotated[tuple[Name, ...], Field(min_length=1)]
    level: Level | None = None
    entries: Annotated[tuple[Rule, ...], Field(min_length=1)]


class Grade(Record):
    """The group and subgroup after ISO/TR 15608 of some materials, by their identifiers or the grades in them."""

    id: Mark
    grades: Annotated[tuple[Mark, ...], Field(min_length=1)]
    group: Mark
    certainty: Certainty
    source: Text


class MaterialGroups(Table):
    """Groups of parent materials after ISO/TR 15608; a plant's table goes before that of the program."""

    kind: Literal["material groups"]
    entries: Annotated[tuple[Grade, ...], Field(min_length=1)]
