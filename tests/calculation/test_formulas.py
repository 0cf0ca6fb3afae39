"""Every printed formula is evaluated against its function: what a page shows is what was computed."""

import ast
import importlib
import math
import operator
import pkgutil
from collections.abc import Callable
from typing import Any

import pytest
import weld_packets.processes
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.formula import Formula, Length, Source, Standing, formula
from weld_packets.errors import PacketError
from weld_packets.units import SPELLINGS, Kind, kinds, quantity

_OPERATORS: dict[type[ast.AST], Callable[..., float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.USub: operator.neg,
}
_CALLS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "tanh": math.tanh,
    "min": min,
    "max": max,
    "ceil": math.ceil,
}
_RANGES = {kinds.TEMPERATURE: (5.0, 400.0), kinds.SHARE: (0.5, 99.0), kinds.ANGLE: (20.0, 160.0)}


def _formulas() -> dict[str, Formula]:
    found = {}
    for module in pkgutil.walk_packages(weld_packets.processes.__path__, "weld_packets.processes."):
        for name, value in vars(importlib.import_module(module.name)).items():
            if isinstance(value, Formula) and value.function.__module__ == module.name:
                found[f"{module.name.removeprefix('weld_packets.processes.')}.{name}"] = value
    return found


FORMULAS = _formulas()
every_formula = pytest.mark.parametrize("name", sorted(FORMULAS))


def evaluated(expression: str, given_numbers: dict[str, float]) -> float:
    return _evaluated(ast.parse(expression, mode="eval").body, given_numbers | {"pi": math.pi})


def _evaluated(node: ast.AST, numbers: dict[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as value):
            return float(value)
        case ast.Name(id=name):
            return numbers[name]
        case ast.BinOp(left=left, op=op, right=right):
            return _OPERATORS[type(op)](_evaluated(left, numbers), _evaluated(right, numbers))
        case ast.UnaryOp(op=op, operand=operand):
            return _OPERATORS[type(op)](_evaluated(operand, numbers))
        case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]):
            return _CALLS[name](*(_evaluated(argument, numbers) for argument in arguments))
    raise AssertionError(f"not plain arithmetic: {ast.dump(node)}")


def _names(expression: str) -> set[str]:
    tree = ast.parse(expression, mode="eval")
    return {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)} - set(_CALLS) - {"pi"}


def _magnitudes(kind: Kind) -> st.SearchStrategy[float]:
    low, high = _RANGES.get(kind, (0.05, 60.0))
    return st.floats(low, high).map(lambda value: round(value, 4))


def test_formulas_are_found_in_both_processes() -> None:
    assert {name.partition(".")[0] for name in FORMULAS} >= {"spot", "arc"}


@every_formula
@settings(max_examples=40, suppress_health_check=[HealthCheck.filter_too_much], deadline=None)
@given(data=st.data())
def test_the_printed_form_gives_what_the_function_gives(name: str, data: st.DataObject) -> None:
    found = FORMULAS[name]
    numbers = {entry.name: data.draw(_magnitudes(entry.kind), label=entry.symbol) for entry in found.inputs}
    given_quantities: dict[str, Any] = {
        entry.name: quantity(numbers[entry.name], entry.kind.unit) for entry in found.inputs
    }
    try:
        computed = found(**given_quantities)
    except (PacketError, ValueError, ZeroDivisionError):
        assume(False)  # noqa: FBT003
    printed = evaluated(found.expression, {entry.symbol: numbers[entry.name] for entry in found.inputs})
    assert computed.m_as(SPELLINGS[found.result.unit]) == pytest.approx(printed, rel=1e-9, abs=1e-12)


@every_formula
def test_the_printed_form_uses_every_input_and_nothing_else(name: str) -> None:
    found = FORMULAS[name]
    assert _names(found.expression) == {entry.symbol for entry in found.inputs}


@every_formula
def test_every_symbol_is_named_once_and_every_formula_says_what_it_returns_and_whence(name: str) -> None:
    found = FORMULAS[name]
    symbols = [entry.symbol for entry in found.inputs]
    assert len(set(symbols)) == len(symbols)
    assert all(len(entry.name) > 1 for entry in found.inputs)
    assert found.symbol
    assert (found.function.__doc__ or "").startswith("Return ")
    assert found.source.document


@every_formula
def test_a_source_that_was_not_read_says_so_where_it_is_printed(name: str) -> None:
    source = FORMULAS[name].source
    unsure = source.standing in {Standing.FROM_MEMORY, Standing.COMMON_PRACTICE}
    assert (source.standing.value in str(source)) is unsure


def test_a_formula_is_named_after_its_function_and_keeps_what_was_put_in() -> None:
    found = FORMULAS["spot.formulas.edge_distance"]
    worked = found.work(minimum_overlap=quantity(12, "mm"))
    assert found.name == "edge distance"
    assert (worked.given, worked.result) == ({"minimum_overlap": quantity(12, "mm")}, quantity(6, "mm"))


def test_a_formula_whose_symbols_do_not_cover_its_arguments_is_refused_when_written() -> None:
    def half(*, whole: Length) -> Length:
        return whole / 2

    with pytest.raises(TypeError, match="half: symbols and arguments differ"):
        formula("w / 2", symbol="h", source=Source("invented"), w="hole")(half)


def test_the_evaluator_refuses_what_is_not_plain_arithmetic() -> None:
    with pytest.raises(AssertionError, match="not plain arithmetic"):
        evaluated("a if a else 1", {"a": 1.0})
