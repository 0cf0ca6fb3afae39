"""Tables of safety messages and of filter shades."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from weld_packets.model.fields import Current, Flag, Force, Mark, Number, Record, Share, SoundLevel, Text, Whole
from weld_packets.model.processes import ArcNumber, ProcessNumber
from weld_packets.model.table import Table
from weld_packets.model.trade import BaseMetal, Coating, SignalWord


class Condition(Record):
    """When a hazard applies: every field that is given must hold; none given means always.

    ``coatings``, ``bases`` match any part of a row; currents and forces compare with the largest value that the
    settings of a row allow; ``chromium_from`` is the chromium share in per cent of any part or wire of a row.
    ``noise_from`` (included) and ``noise_below`` compare with the noise of the cell and do not hold where it has not
    been measured; ``carbon_dioxide_over`` holds too where the gas does not state its share.
    """

    processes: tuple[ProcessNumber, ...] = ()
    coatings: tuple[Coating, ...] = ()
    bases: tuple[BaseMetal, ...] = ()
    current_over: Current | None = None
    current_up_to: Current | None = None
    force_over: Force | None = None
    chromium_from: Number | None = None
    asphyxiant_gas: Flag | None = None
    shielding_gas: Flag | None = None
    carbon_dioxide_over: Share | None = None
    noise_from: SoundLevel | None = None
    noise_below: SoundLevel | None = None
    noise_measured: Flag | None = None


FactName = Literal[
    "filter shade",
    "noise",
    "magnetic field",
    "extraction",
    "electrode force",
    "reduced speed",
    "fire precautions",
    "oxygen alarm",
    "cooling water",
    "dressing",
    "supervisor",
]
"""What a message adds for each operation from the order, the cell, its machines and the plant."""


class Hazard(Record):
    """One safety message: what threatens, what follows, how to avoid it, when it applies, where it is shown.

    The safety page shows every message that applies; ``stages`` are the stages of work at which it is repeated, none
    for what holds at all times. ``facts`` are the operation's own figures that it adds. ``at_head`` is for what may
    kill or maim: it is a box at the head of its stage, every other message as a sentence of the task that it is about.
    """

    id: Mark
    word: SignalWord
    signs: tuple[Mark, ...] = ()
    hazard: Text
    consequence: Text
    avoid: Text
    when: Condition = Condition()
    stages: tuple[Literal["confirm", "set up", "prove", "start", "run", "changeover"], ...]
    facts: tuple[FactName, ...] = ()
    at_head: Flag = False
    source: Text


class Hazards(Table):
    """Table of safety messages."""

    kind: Literal["hazards"]
    entries: Annotated[tuple[Hazard, ...], Field(min_length=1)]


class ShadeRow(Record):
    """Filter shade for a range of current; a shared end belongs to the darker row."""

    process: ArcNumber
    over: Current
    up_to: Current
    minimum_shade: Whole
    suggested_shade: Whole | None = None


class Shades(Table):
    """Chart of filter shades by process and current."""

    kind: Literal["shades"]
    columns: dict[str, str] = {}
    rows: Annotated[tuple[ShadeRow, ...], Field(min_length=1)]
