"""Safety figures of tables against the law and standards that bound them: a slip of a digit is refused with its source.

Every bound is here once, with the document it is from. The tables of charts have theirs in the table of limits.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any

from weld_packets.calculation.table_checks.figures import (
    Bounds,
    Figures,
    OwnRules,
    outside,
    own_problems,
    table_problem,
    written,
)
from weld_packets.errors import PacketError, Problem
from weld_packets.grouping import grouped
from weld_packets.model.processes import Process, bounded_kinds, numbers, process
from weld_packets.model.table import Table
from weld_packets.model.tables.charts import Limits
from weld_packets.model.tables.inspection import Inspections
from weld_packets.model.tables.machines import Machines
from weld_packets.model.tables.materials import Caps, Gases, Material, Materials, Wires
from weld_packets.model.tables.plant import Plant
from weld_packets.model.tables.safety import Condition, Hazards, ShadeRow, Shades
from weld_packets.units import as_written, exceeds, magnitude, parse, plain, quantity, with_unit

_COMMON = "common practice, no source"
_FORCE = Bounds(
    None, 15, "kN", "the largest force of a published spot chart that was read is 14.7 kN (3300 lbf, stainless)"
)
_NOISE = Bounds(50, 130, "dB(A)", f"HSE gives 75 to 115 dB(A) for welding and allied work; a wider range is {_COMMON}")
_SHADE = Bounds(
    7, 16, "1", "29 CFR 1910.133(a)(5): 7 is the lightest for gas metal arcs; EN 169 ends at 16 (from memory)"
)
_PERCENT = Bounds(0, 100, "%", "a share of the whole")
_STOP = Bounds(2, 7200, "s", f"a dresser takes some seconds, no change two hours ({_COMMON})")
_CHROMIUM = Bounds(0, 35, "%", f"the richest stainless grades and wires hold about 30 % ({_COMMON})")
_STAINLESS = Bounds(
    10.5, 30, "%", "EN 10088-1: stainless from 10.5 % chromium; richest austenitic about 26 % (from memory)"
)
_PLAIN_STEEL = Bounds(
    None, 1, "%", "EN 10025-5: weathering steels at most 0.80 % chromium (from memory); ISO/TR 15608 group 1: 0.3 %"
)
_STAINLESS_WIRE = Bounds(10.5, None, "%", "EN 10088-1: stainless from 10.5 % chromium (from memory)")

FIGURES: Figures = {
    Plant: {
        "": {
            "reduced_speed": Bounds(
                10,
                250,
                "mm/s",
                "OSHA Technical Manual section IV chapter 4; ISO 10218-1:2011 5.6.2 (from memory); "
                f"lower end {_COMMON}",
            ),
            "fire_watch": Bounds(
                30, 240, "min", "29 CFR 1910.252(a)(2)(iii): half an hour; NFPA 51B-2019 5.6: 1 h and up to 3 h more"
            ),
            "fire_distance": Bounds(35, 330, "ft", f"29 CFR 1910.252(a)(2)(iii): 35 ft; upper end {_COMMON}"),
            "wire_change_time": _STOP,
            "contact_tip_change_time": _STOP,
            "cylinder_change_time": _STOP,
            "oxygen_alarm": Bounds(
                19.5, 20.9, "%", "29 CFR 1910.146: oxygen-deficient below 19.5 %; air holds 20.9 % (from memory)"
            ),
        }
    },
    Machines: {
        "cells": {"noise": _NOISE, "margin": Bounds(1, 300, "mm", f"play and spatter to a gap for a hand ({_COMMON})")},
        "robots": {"keep_out_radius": Bounds(20, 600, "mm", f"a slim torch to a large gun body ({_COMMON})")},
        "guns": {
            "dressing_time": _STOP,
            "cap_change_time": _STOP,
            "force_to": _FORCE,
            "cooling_flow": Bounds(
                2, 30, "l/min", f"RWMA as published: never under 0.5 US gal/min (2 l/min); upper end {_COMMON}"
            ),
        },
    },
    Caps: {"entries": {"maximum_force": _FORCE}},
    Inspections: {"entries": {"stops_cell_for": _STOP}},
    Gases: {"entries": {"carbon_dioxide": _PERCENT}},
    Wires: {"entries": {"chromium": _CHROMIUM}},
    Shades: {"rows": {"minimum_shade": _SHADE, "suggested_shade": _SHADE}},
    Hazards: {
        "entries.when": {
            "force_over": _FORCE,
            "noise_from": _NOISE,
            "noise_below": _NOISE,
            "carbon_dioxide_over": _PERCENT,
            "chromium_from": _CHROMIUM,
        }
    },
}


def safety_problems(table: Table) -> Iterator[Problem]:
    """Yield every safety figure of a table that its source does not allow; keys are paths within the table."""
    yield from (_refused(*found) for found in outside(table, FIGURES))
    yield from own_problems(table, _OWN_RULES)


def _outside(value: Any, bounds: Bounds, key: str) -> Iterator[Problem]:
    if not bounds.hold(value):
        yield _refused(key, value, bounds)


def _refused(key: str, value: Any, bounds: Bounds) -> Problem:
    name = key.rpartition(".")[2].replace("_", " ")
    return table_problem(key, written(value), f"{name} must be {_words(bounds)} ({bounds.source})")


def _words(bounds: Bounds) -> str:
    """Return both ends in words."""
    ends = (("at least", bounds.lowest), ("at most", bounds.highest))
    shown = ((word, with_unit(f"{end:g}", bounds.unit)) for word, end in ends if end is not None)
    return " and ".join(f"{word} {end}" for word, end in shown).replace("\N{NO-BREAK SPACE}", " ")


def _shades(table: Shades) -> Iterator[Problem]:
    """Yield ranges that end below their beginning, shades out of order, and lighter shades for more current."""
    for index, row in enumerate(table.rows):
        if row.up_to <= row.over:
            message = f"the range ends at its beginning {as_written(row.over)} or below"
            yield table_problem(
                f"rows[{index}].up to", written(row.up_to), message, "give a range of current that rises"
            )
        yield from _outside(row.up_to, _largest_current(process(row.process)), f"rows[{index}].up to")
        minimum, suggested = _shade_of(row, "minimum_shade"), _shade_of(row, "suggested_shade")
        if minimum is not None and suggested is not None and suggested < minimum:
            message = f"the suggested shade is lighter than the minimum of its row, {minimum}"
            yield table_problem(f"rows[{index}].suggested shade", str(suggested), message, "check both shades")
    for rows in grouped((row.process, index) for index, row in enumerate(table.rows)).values():
        rising = sorted(rows, key=lambda index: table.rows[index].over)
        yield from _lighter(table, rising)
        yield from _overlapping(table, rising)


def _lighter(table: Shades, rows: Sequence[int]) -> Iterator[Problem]:
    """Yield each shade that is lighter than the one for less current; ``rows`` of one process by rising current."""
    for field in ("minimum_shade", "suggested_shade"):
        given = [(index, shade) for index in rows if (shade := _shade_of(table.rows[index], field)) is not None]
        for (_, before), (index, shade) in pairwise(given):
            if shade < before:
                message = f"a larger current needs no lighter shade: the row for less current gives {before}"
                yield table_problem(f"rows[{index}].{field}", str(shade), message, "check the shades of both rows")


def _overlapping(table: Shades, rows: Sequence[int]) -> Iterator[Problem]:
    """Yield each range that runs into the next one: two shades would hold there; ``rows`` by rising current."""
    for before, index in pairwise(rows):
        end, begin = table.rows[before].up_to, table.rows[index].over
        if table.rows[before].over < begin and exceeds(magnitude(end, "A"), magnitude(begin, "A")):
            message = f"the range of the next row begins at {as_written(begin)} already"
            yield table_problem(
                f"rows[{before}].up to", written(end), message, "let each range end where the next begins"
            )


def _shade_of(row: ShadeRow, field: str) -> int | None:
    """Return a shade to compare with others; None for one that is not given or is refused already."""
    shade: int | None = getattr(row, field)
    return shade if shade is not None and _SHADE.admit(shade) else None


def _materials(table: Materials) -> Iterator[Problem]:
    for index, material in enumerate(table.entries):
        yield from _composition(material, f"entries[{index}].composition")


def _composition(material: Material, key: str) -> Iterator[Problem]:
    """Yield shares outside 0 to 100 %, shares that are more than the whole, and chromium that the metal cannot hold."""
    shares = material.composition
    odd = [element for element, share in shares.items() if not _PERCENT.admit(float(share))]
    for element in odd:
        yield from _outside(shares[element], _PERCENT, f"{key}.{element}")
    whole = sum(shares.values(), Decimal(0))
    if not odd and whole > 100:  # noqa: PLR2004 - per cent
        message = f"the elements add up to {plain(whole)} %, more than the whole"
        yield table_problem(key, "", message, "check every share; they are in per cent of the mass")
    elif "Cr" not in odd:
        yield from _chromium(material, f"{key}.Cr")


def _chromium(material: Material, key: str) -> Iterator[Problem]:
    share = material.composition.get("Cr")
    if material.base != "austenitic stainless":
        yield from _outside(share, _PLAIN_STEEL, key)
    elif share is None:
        yield _no_chromium(key)
    else:
        yield from _outside(share, _STAINLESS, key)


def _no_chromium(key: str) -> Problem:
    message = "a stainless steel states its chromium: the message about chromium(VI) goes by it"
    return table_problem(key, "", message, "add the share of chromium in per cent of the mass, from the certificate")


def _wires(table: Wires) -> Iterator[Problem]:
    """Yield wires for stainless steel whose chromium is missing or cannot be so."""
    for index, wire in enumerate(table.entries):
        key = f"entries[{index}].chromium"
        if "austenitic stainless" not in wire.bases:
            continue
        if wire.chromium is None:
            yield _no_chromium(key)
        elif _CHROMIUM.admit(float(wire.chromium)):
            yield from _outside(wire.chromium, _STAINLESS_WIRE, key)


def _hazards(table: Hazards) -> Iterator[Problem]:
    """Yield currents of conditions that no process reaches, and messages that ask for a helmet without its shade."""
    for index, hazard in enumerate(table.entries):
        bounds = _current_of(hazard.when)
        for field in ("current_over", "current_up_to"):
            yield from _outside(getattr(hazard.when, field), bounds, f"entries[{index}].when.{field}")
        if _HELMET in hazard.signs and "filter shade" not in hazard.facts:
            message = f"this message shows sign {_HELMET}, welding helmet, and gives no filter shade"
            yield table_problem(f"entries[{index}].facts", "", message, "add 'facts: [filter shade]'")


_HELMET = "M019"


def _current_of(when: Condition) -> Bounds:
    """Return up to which current a condition can mean one of its processes, or of all where it names none."""
    known = [_largest_current(process(number)) for number in when.processes or numbers()]
    return max(known, key=lambda bounds: magnitude(quantity(bounds.highest or 0.0, bounds.unit), "A"))


def _largest_current(of: Process) -> Bounds:
    largest = of.maximum_current
    return Bounds(None, largest.number, largest.unit, largest.source)


def _limits(table: Limits) -> Iterator[Problem]:
    """Yield forces that the table of limits would admit and no gun may reach; bounds that cannot be read are left."""
    for index, limit in enumerate(table.entries):
        if limit.quantity != "electrode_force":
            continue
        try:
            highest = parse(limit.highest, bounded_kinds()[limit.quantity])
        except PacketError:
            continue
        yield from _outside(highest, _FORCE, f"entries[{index}].highest")


_OWN_RULES: OwnRules = {
    Shades: _shades,
    Materials: _materials,
    Wires: _wires,
    Hazards: _hazards,
    Limits: _limits,
}
