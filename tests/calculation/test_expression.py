"""What an expression may hold, and that it is computed as it is written."""

import math

import pytest
from weld_packets.calculation.formula import compiled


@pytest.mark.parametrize(
    ("expression", "numbers", "expected"),
    [
        ("a - b - 1", {"a": 5.0, "b": 3.0}, 1.0),
        ("a / b / 2", {"a": 12.0, "b": 3.0}, 2.0),
        ("-a**2", {"a": 3.0}, -9.0),
        ("2**a**2", {"a": 3.0}, 512.0),
        ("max(min(a, b), 1) + floor(b) + ceil(a)", {"a": 0.5, "b": 2.7}, 4.0),
        ("sqrt(a) + tanh(b)", {"a": 16.0, "b": 0.5}, 4 + math.tanh(0.5)),
        ("pi * η_1", {"η_1": 2.0}, 2 * math.pi),
        ("1e5 * a", {"a": 2.0}, 2e5),
    ],
)
def test_an_expression_is_computed_as_it_is_written(
    expression: str, numbers: dict[str, float], expected: float
) -> None:
    assert compiled(expression, list(numbers))(*numbers.values()) == expected


@pytest.mark.parametrize(
    "expression",
    ["a if a else 1", "a.real", "a[0]", "[a]", "a < 1", "a % 2", "a // 2", "~a", "'a'", "True + a", "lambda: a",
     "a and 1", "open(a)", "a(1)", "max(a, key=a)", "__import__('os')", "(a := 1)", "1j * a"],
)  # fmt: skip
def test_what_is_more_than_plain_arithmetic_is_refused(expression: str) -> None:
    with pytest.raises(ValueError, match="is not plain arithmetic"):
        compiled(expression, ["a"])


@pytest.mark.parametrize(("expression", "symbols"), [("a + b", ["a"]), ("a", ["a", "b"]), ("pi * a", ["a", "pi"])])
def test_the_symbols_are_those_of_the_expression(expression: str, symbols: list[str]) -> None:
    with pytest.raises(ValueError, match="symbols differ"):
        compiled(expression, symbols)
