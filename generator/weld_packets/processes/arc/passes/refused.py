"""Why no number of passes makes a weld, in words, and which sizes each number makes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from weld_packets.calculation.sentences import lengths, span_within
from weld_packets.calculation.trace import InBoth, Measured, Words
from weld_packets.grouping import grouped
from weld_packets.processes.arc.passes.dials import Dial, Dials, Sections, throat_of_pass
from weld_packets.processes.arc.passes.passes import sized_passes
from weld_packets.processes.arc.size.formulas import leg_from_throat
from weld_packets.units import in_mm, plain, quantity, with_unit
from weld_packets.units.digits import HUNDREDTH


class SizeMeasure(NamedTuple):
    """By which size the order gives a fillet, and how many times its throat that is."""

    word: str
    per_throat: float


THROAT_SIZE = SizeMeasure("throat", 1.0)
LEG_SIZE = SizeMeasure("leg", in_mm(leg_from_throat(throat=quantity(1.0, "mm"))))


def unmade_sizes(dials: Dials, sections: Sections, size: SizeMeasure) -> Words:
    """Return for each number of passes of the chart why it does not make a weld, and for which there is no plan."""
    words: list[str | Measured | InBoth] = []
    for count in dials.counts:
        words += [f"{passes_words(count)}: ", *_fault(dials, sections, count, size), "; "]
    if dials.counts[-1] == 1:
        return (*words, "more passes: the chart has no plan for them")
    return tuple(words[:-1])


def _fault(dials: Dials, sections: Sections, count: int, size: SizeMeasure) -> Words:
    if not dials.carries(sections, count) and dials.throats is not None:
        throat = in_mm(throat_of_pass(sections.required, count))
        low, high = (in_mm(end) for end in (dials.throats.low, dials.throats.high) if end is not None)
        end, side = (low, "below") if throat < low else (high, "above")
        made = lengths(throat * size.per_throat, end * size.per_throat, HUNDREDTH)[0]
        inside = span_within(low * size.per_throat, high * size.per_throat, HUNDREDTH)[0 if end is low else 1]
        return f"a pass of {size.word} ", made, f" is {side} the chart's ", inside
    return (f"no {_span(dials.feed)} of wire feed with {_span(dials.speed)} of travel speed makes it",)


def _span(dial: Dial) -> str:
    steps = dial.target_steps
    return with_unit(f"{plain(dial.number(steps.low))} to {plain(dial.number(steps.high))}", dial.setting.unit)


def sizes_made(dials: Dials, wanted: Iterator[tuple[float, Sections]], size: SizeMeasure) -> Words:
    """Return the smallest and the largest of some rising throats that each number of passes makes; empty for none."""
    made_by = ((sized_passes(dials, sections, ()), throat) for throat, sections in wanted)
    found = grouped((passes.count, throat) for passes, throat in made_by if passes is not None)
    words: list[str | Measured | InBoth] = []
    for count, made in found.items():
        low, high = span_within(made[0] * size.per_throat, made[-1] * size.per_throat, HUNDREDTH)
        words += [low, " to ", high, f" in {passes_words(count)}", ", "]
    return tuple(words[:-1])


def passes_words(count: int) -> str:
    """Return a number of passes in words."""
    return "1 pass" if count == 1 else f"{count} passes"
