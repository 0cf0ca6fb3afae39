"""Formulas read as they are computed."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from weld_packets.site.pages.mathml import formula_markup, numbers_markup, symbol_markup, symbol_text


def flat(markup: str) -> str:
    """Return the formula's text, fractions as (a)/(b), powers as ^(b), roots as sqrt(a)."""
    return _flat(ET.fromstring(markup))  # noqa: S314 - our own markup


def _flat(node: ET.Element) -> str:
    inside = [_flat(child) for child in node]
    match node.tag:
        case "mfrac":
            return f"({inside[0]})/({inside[1]})"
        case "msup":
            return f"{inside[0]}^({inside[1]})"
        case "msub":
            return f"{inside[0]}_{inside[1]}"
        case "msqrt":
            return f"sqrt({''.join(inside)})"
        case _:
            return (node.text or "") + "".join(inside)


@pytest.mark.parametrize(
    ("expression", "read"),
    [
        ("k * U * I / v", "y=(k·U·I)/(v)"),
        ("a - (b - c)", "y=a−(b−c)"),
        ("a - b - c", "y=a−b−c"),
        ("(a + b) * c", "y=(a+b)·c"),
        ("a * (b / c)", "y=a·(b)/(c)"),
        ("(a / b) ** 2", "y=((a)/(b))^(2)"),
        ("-a ** 2", "y=−a^(2)"),
        ("(-a) ** 2", "y=(−a)^(2)"),
        ("-(a + b)", "y=−(a+b)"),
        ("-a + b", "y=−a+b"),
        ("a + (b - c)", "y=a+b−c"),
        ("a + -b", "y=a+(−b)"),
        ("a + (-b + c)", "y=a+(−b+c)"),
        ("5 * sqrt(t_1)", "y=5·sqrt(t_1)"),
        ("max(a, b + 1)", "y=max(a;b+1)"),
        ("ceil(n / m)", "y=⌈(n)/(m)⌉"),
        ("floor(n / m)", "y=⌊(n)/(m)⌋"),
        ("pi * d", "y=π·d"),
        ("1e5 * L", "y=100000·L"),
        ("5e-05 * L", "y=5·10^(−5)·L"),
        ("5e-05 ** 2", "y=(5·10^(−5))^(2)"),
    ],
)
def test_precedence_survives(expression: str, read: str) -> None:
    assert flat(formula_markup("y", expression)) == read


def test_numbers_stand_in_the_places_of_their_symbols() -> None:
    shown = flat(numbers_markup("Q", "k * U / v", {"k": ("0.8", ""), "U": ("24", "V"), "v": ("10", "mm/s")}))
    assert shown == "Q=(0.8·24\u00a0V)/(10\u00a0mm/s)"


def test_a_power_takes_the_number_with_its_unit() -> None:
    assert flat(numbers_markup("A", "r * a ** 2", {"r": ("1.1", ""), "a": ("2.2", "mm")})) == (
        "A=1.1·(2.2\u00a0mm)^(2)"
    )
    assert flat(numbers_markup("T", "b - a * n ** 2", {"a": ("-1", "K"), "b": ("5", "K"), "n": ("3", "")})) == (
        "T=5\u00a0K−(-1\u00a0K)·3^(2)"
    )


def test_a_double_index_reads_as_a_fraction() -> None:
    assert flat(symbol_markup("t_8_5")) == "t_8/5"
    assert symbol_text("t_8_5") == "<i>t<sub>8/5</sub></i>"
    assert symbol_text("<b>_<i>") == "<i>&lt;b&gt;<sub>&lt;i&gt;</sub></i>"


def test_what_is_not_arithmetic_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot hold"):
        formula_markup("y", "a if b else c")


def test_a_hostile_unit_is_escaped() -> None:
    assert "<script>" not in numbers_markup("y", "a", {"a": ("1", "<script>")})


def test_a_negative_value_after_a_sign_is_in_brackets() -> None:
    assert flat(numbers_markup("", "a + s", {"a": ("1", ""), "s": ("-0.05", "")})) == "1+(-0.05)"
    assert flat(numbers_markup("", "s + a", {"a": ("1", ""), "s": ("-0.05", "")})) == "-0.05+1"
