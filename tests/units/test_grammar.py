"""Quantities as written in sources: what is read, and what is refused with which words."""

from __future__ import annotations

import re
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from weld_packets.errors import OutOfRangeError
from weld_packets.units import SPELLINGS, Kind, kinds, meant_unit, parse, parse_number, pattern_of, quantity


@pytest.mark.parametrize(
    ("text", "kind", "unit", "magnitude"),
    [
        ("3 mm", kinds.LENGTH, "millimeter", 3.0),
        ("0.118 in", kinds.LENGTH, "millimeter", 2.9972),
        ("8.4 kA", kinds.SPOT_CURRENT, "ampere", 8400.0),
        ("10 cycles@50Hz", kinds.TIME, "millisecond", 200.0),
        ("15 cycles@60Hz", kinds.TIME, "millisecond", 250.0),
        ("0 ms", kinds.TIME, "millisecond", 0.0),
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
        ("1/3 in", kinds.LENGTH, "not a fraction of an inch"),
        ("5/4 in", kinds.LENGTH, "not a fraction of an inch"),
        ("1/128 in", kinds.LENGTH, "not a fraction of an inch"),
        ("1/0 in", kinds.LENGTH, "not a fraction of an inch"),
        ("1/2 mm", kinds.LENGTH, "fractions are read of inches alone"),
        ("1-9/64 in", kinds.LENGTH, "not a fraction of an inch"),
        ("9…/64 in", kinds.LENGTH, "not a fraction of an inch"),
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


@pytest.mark.parametrize("text", ["1-9/64 in", "9…/64 in", "1/8. in"])
def test_what_looks_like_a_fraction_of_an_inch_is_answered_with_one(text: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        parse(text, kinds.LENGTH)
    assert caught.value.problems[0].remedy.startswith(
        "write it like '3/16 in', '1 1/4 in' with a blank behind the whole"
    )


@pytest.mark.parametrize("text", ["1/8", "1/8 mm"])
def test_a_fraction_without_inches_is_shown_with_them(text: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        parse(text, kinds.LENGTH)
    assert caught.value.problems[0].remedy.startswith("write it like '1/8 in' or '3 mm' (units: ")


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


@pytest.mark.parametrize(
    ("text", "inches"),
    [("3/16 in", 0.1875), ("1/64 in", 0.015625), ("12 1/2 in", 12.5), ("1 63/64 in", 1.984375), ("0 1/2 in", 0.5)],
)
def test_fractions_of_an_inch_are_exact(text: str, inches: float) -> None:
    assert parse(text, kinds.LENGTH) == quantity(inches, "in")
    assert re.match(pattern_of(kinds.LENGTH), text)


def test_units_of_us_shops_are_those_of_the_tables() -> None:
    assert parse("35 scfh", kinds.GAS_FLOW) == parse("35 cfh", kinds.GAS_FLOW)
    assert parse("1 cycle@60Hz", kinds.TIME) == quantity(1.0, "cycles@60Hz")
    assert parse("0.2836 lb/in³", kinds.DENSITY).m_as("g/cm**3") == pytest.approx(7.85, abs=0.001)


@pytest.mark.parametrize(
    ("unit", "kind", "meant"),
    [
        ("lb", kinds.FORCE, "'lbf'"),
        ("lbs", kinds.MASS, "'lb'"),
        ("kg", kinds.FORCE, "'kgf'"),
        ("MM", kinds.LENGTH, "'mm'"),
        ("KA", kinds.SPOT_CURRENT, "'kA'"),
        ("cycles", kinds.TIME, "'cycles@50Hz' or 'cycles@60Hz'"),
        ("gpm", kinds.WATER_FLOW, "'gal/min'"),
        ("furlong", kinds.LENGTH, ""),
        ("lb", kinds.LENGTH, ""),
    ],
)
def test_a_unit_of_the_shop_names_the_one_that_is_meant(unit: str, kind: Kind, meant: str) -> None:
    assert meant_unit(unit, kind) == meant


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        ("-0.1 in", kinds.THICKNESS, "thickness -0.1 in is outside 0.0000394 to 19.7 in"),
        ("99999 lbf", kinds.FORCE, "force 99999 lbf is outside 0 to 45000 lbf"),
        ("-1 mm", kinds.THICKNESS, "thickness -1 mm is outside 0.001 to 500 mm"),
        ("-1 cm", kinds.THICKNESS, "thickness -10 mm is outside 0.001 to 500 mm"),
        ("5000 °F", kinds.TEMPERATURE, "temperature 5000 °F is outside -148 to 3630 °F"),
    ],
)
def test_bounds_are_said_in_the_us_unit_that_was_written(text: str, kind: kinds.Kind, said: str) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        parse(text, kind)
    assert caught.value.problems[0].message == said


@pytest.mark.parametrize(
    ("text", "kind", "meant"),
    [
        ("0,15 in", kinds.LENGTH, "did you mean '0.15 in'? "),
        ("0,125 in", kinds.LENGTH, "did you mean '0.125 in'? "),
        ("1,5 mm", kinds.LENGTH, "did you mean '1.5 mm'? "),
        ("1,500 mm", kinds.LENGTH, ""),
        ("1,5 psi", kinds.LENGTH, ""),
        ("1,5,2 mm", kinds.LENGTH, ""),
    ],
)
def test_a_decimal_comma_is_read_back_with_a_point_and_thousands_are_not(
    text: str, kind: kinds.Kind, meant: str
) -> None:
    with pytest.raises(OutOfRangeError) as caught:
        parse(text, kind)
    assert caught.value.problems[0].remedy.partition("write it like")[0] == meant
