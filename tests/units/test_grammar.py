"""Quantities as written in sources: what is read, and what is refused with which words."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.errors import OutOfRangeError
from weld_packets.units import SPELLINGS, Kind, kinds, parse, parse_number


@pytest.mark.parametrize(
    ("text", "kind", "unit", "magnitude"),
    [
        ("3 mm", kinds.LENGTH, "millimeter", 3.0),
        ("0.118 in", kinds.LENGTH, "millimeter", 2.9972),
        ("8.4 kA", kinds.SPOT_CURRENT, "ampere", 8400.0),
        ("10 cycles@50Hz", kinds.TIME, "millisecond", 200.0),
        ("15 cycles@60Hz", kinds.TIME, "millisecond", 250.0),
        ("412 lbf", kinds.FORCE, "kilonewton", 1.8327),
        ("68 °F", kinds.TEMPERATURE, "degree_Celsius", 20.0),
        ("1.5e1 l/min", kinds.GAS_FLOW, "liter/minute", 15.0),
        ("-45 °", kinds.ANGLE, "degree", -45.0),
        ("68.21000000000001 mm", kinds.LENGTH, "millimeter", 68.21),
    ],
)
def test_a_number_and_a_unit_are_read(text: str, kind: Kind, unit: str, magnitude: float) -> None:
    assert parse(text, kind).to(unit).magnitude == pytest.approx(magnitude, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("3", kinds.THICKNESS, "needs its unit"),
        ("0,9 kJ/mm", kinds.HEAT, "comma"),
        ("1,5 mm", kinds.LENGTH, "comma"),
        ("280 a", kinds.CURRENT, "'a' is not a unit of current"),
        ("5 kn", kinds.FORCE, "'kn' is not a unit of force"),
        ("2*3 mm", kinds.LENGTH, "not a length"),
        ("12 1/2 in", kinds.LENGTH, "not a length"),
        ("10±0.5 mm", kinds.LENGTH, "±"),
        ("nan mm", kinds.LENGTH, "not a length"),
        ("inf mm", kinds.LENGTH, "not a length"),
        ("9**9**9 mm", kinds.LENGTH, "not a length"),
        ("1e99 mm", kinds.LENGTH, "outside"),
        ("900 m", kinds.THICKNESS, "outside"),
        ("-3 mm", kinds.THICKNESS, "outside"),
        ("0 mm", kinds.SIZE, "outside"),
        ("0 Hz", kinds.FREQUENCY, "outside"),
        ("", kinds.LENGTH, "not a length"),
        ("3 mm; 4 mm", kinds.LENGTH, "not a length"),
    ],
)
def test_anything_else_is_refused_with_the_reason(text: str, kind: Kind, words: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        parse(text, kind)
    assert words in str(caught.value)
    assert caught.value.problems[0].remedy


@given(st.text(max_size=60))
def test_no_text_is_ever_evaluated(text: str) -> None:
    before = time.perf_counter()
    try:
        parse(text, kinds.LENGTH)
    except OutOfRangeError as error:
        assert error.problems[0].remedy  # noqa: PT017
    assert time.perf_counter() - before < 1.0


@pytest.mark.parametrize("text", ["0123x", "1:30", "0x1F", "1_000", "٣", "1e999"])
def test_numbers_of_other_notations_are_refused(text: str) -> None:
    with pytest.raises(OutOfRangeError):
        parse_number(text)


@pytest.mark.parametrize("kind", kinds.KINDS, ids=lambda kind: kind.name)
def test_every_unit_of_a_kind_measures_the_same_thing(kind: Kind) -> None:
    for spelling in (*kind.spellings, kind.metric, kind.customary):
        assert SPELLINGS[spelling].is_compatible_with(SPELLINGS[kind.unit])
