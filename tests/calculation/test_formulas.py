"""Every formula of the program: what its page prints is what is computed, and it says from what and whence."""

import ast
import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import weld_packets.processes
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from weld_packets.calculation.formula import Formula, Length, Source, Standing, compiled, formula
from weld_packets.errors import PacketError
from weld_packets.planning import formulas as of_planning
from weld_packets.units import Kind, Quantity, kinds, magnitude, quantity

RANGES = {kinds.TEMPERATURE: (5.0, 400.0), kinds.SHARE: (0.5, 99.0), kinds.ANGLE: (20.0, 160.0)}
MODULES = [
    *(
        importlib.import_module(found.name)
        for found in pkgutil.walk_packages(weld_packets.processes.__path__, "weld_packets.processes.")
    ),
    of_planning,
]
FORMULAS = {f"{value.name}: {value.expression}": value for module in MODULES for value in vars(module).values()
            if isinstance(value, Formula)}  # fmt: skip
every_formula = pytest.mark.parametrize("name", sorted(FORMULAS))


def heads() -> list[tuple[ast.FunctionDef, ast.Call | None]]:
    """Return all functions of the modules that hold formulas, each with its call of ``formula``, if it has one."""
    trees = (ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8")) for module in MODULES)
    functions = [node for tree in trees for node in _functions(tree)]
    return [(function, next(_calls(function), None)) for function in functions]


def _functions(node: ast.AST) -> Iterator[ast.FunctionDef]:
    """Yield the functions inside a node; abstract ones and those of a protocol never have a body."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.ClassDef) and any(ast.unparse(base).startswith("Protocol") for base in child.bases):
            continue
        if isinstance(child, ast.FunctionDef) and "abstractmethod" not in map(ast.unparse, child.decorator_list):
            yield child
        yield from _functions(child)


def _calls(function: ast.FunctionDef) -> Any:
    for decorator in function.decorator_list:
        if isinstance(decorator, ast.Call) and isinstance(decorator.func, ast.Name) and decorator.func.id == "formula":
            yield decorator


def test_a_function_has_no_body_where_it_is_the_head_of_a_formula_and_one_everywhere_else() -> None:
    for function, head in heads():
        has_body = len(function.body) > (ast.get_docstring(function) is not None)
        keeps = head is not None and any(word.arg == "body" for word in head.keywords)
        assert has_body is (head is None or keeps), function.name


def test_the_formulas_of_both_families_and_of_the_plan_are_found() -> None:
    heads_found = [function.name.replace("_", " ") for function, head in heads() if head]
    assert sorted(found.name for found in FORMULAS.values()) == sorted(heads_found)
    assert {"heat input", "joule integral", "operation run"} <= set(heads_found)


def _magnitudes(kind: Kind) -> st.SearchStrategy[float]:
    low, high = RANGES.get(kind, (0.05, 60.0))
    return st.floats(low, high).map(lambda value: round(value, 4))


@pytest.mark.parametrize("name", sorted(name for name in FORMULAS if "floor" not in name))
@settings(max_examples=15, suppress_health_check=[HealthCheck.filter_too_much], deadline=None)
@given(data=st.data())
def test_a_formula_gives_what_its_printed_form_gives_in_any_units(name: str, data: st.DataObject) -> None:
    """Also where a body computes: Python evaluates the printed form over the numbers in the printed units."""
    found = FORMULAS[name]
    numbers = {entry.name: data.draw(_magnitudes(entry.kind), label=entry.symbol) for entry in found.inputs}
    units = {entry.name: data.draw(st.sampled_from(entry.kind.spellings)) for entry in found.inputs}
    put_in: dict[str, Any] = {
        entry.name: _in(units[entry.name], quantity(numbers[entry.name], entry.kind.unit)) for entry in found.inputs
    }
    try:
        printed = compiled(found.expression, [entry.symbol for entry in found.inputs])(*numbers.values())
        computed = found(**put_in)
    except (PacketError, ValueError, ZeroDivisionError):
        assume(False)  # noqa: FBT003
    assert magnitude(computed, found.result.unit) == pytest.approx(printed, rel=1e-6, abs=1e-9)


def _in(unit: str, value: Quantity) -> Quantity:
    return quantity(magnitude(value, unit), unit)


def test_a_number_of_parts_is_rounded_down() -> None:
    used, taken = quantity(40.0, "%"), quantity(25.0, "%")
    assert of_planning.parts_before_due(used=used, taken_by_a_part=taken) == quantity(2, "1")


@every_formula
def test_every_symbol_is_named_once_and_every_formula_says_whence(name: str) -> None:
    found = FORMULAS[name]
    symbols = [entry.symbol for entry in found.inputs]
    assert len(set(symbols)) == len(symbols)
    assert all(len(entry.name) > 1 for entry in found.inputs)
    assert found.symbol
    assert found.source.document


def test_every_head_says_what_it_returns() -> None:
    assert all((ast.get_docstring(function) or "").startswith("Return ") for function, head in heads() if head)


@every_formula
def test_a_source_that_was_not_read_says_so_where_it_is_printed(name: str) -> None:
    source = FORMULAS[name].source
    unsure = source.standing in {Standing.FROM_MEMORY, Standing.COMMON_PRACTICE}
    assert (source.standing.value in str(source)) is unsure


def test_a_formula_is_named_after_its_head_and_keeps_what_was_put_in() -> None:
    found = next(found for found in FORMULAS.values() if found.name == "edge distance")
    (entry,) = found.inputs
    worked = found.work(**{entry.name: quantity(12, "mm")})
    assert (worked.given, worked.result) == ({entry.name: quantity(12, "mm")}, quantity(6, "mm"))


def half(*, whole: Length) -> Length:
    return whole / 2.0


def test_a_body_that_is_kept_computes() -> None:
    kept = formula("w / 2", symbol="h", source=Source("invented"), body="to try it", w="whole")(half)
    assert str(kept(whole=quantity(2, "in")).units) == "inch"


def test_a_formula_whose_symbols_do_not_cover_its_arguments_is_refused_when_written() -> None:
    with pytest.raises(ValueError, match="half: symbols and arguments differ"):
        formula("w / 2", symbol="h", source=Source("invented"), w="hole")(half)


def test_a_formula_whose_symbols_are_not_those_of_its_expression_is_refused_when_written() -> None:
    with pytest.raises(ValueError, match=r"v / 2: symbols differ: \['v', 'w'\]"):
        formula("v / 2", symbol="h", source=Source("invented"), w="whole")(half)
