"""Process families: nothing outside them asks which family an operation has, and a number is in one place."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from weld_packets.model.order import order_record
from weld_packets.model.processes import FAMILIES, PROCESSES, ArcProcess, numbers, process, written
from weld_packets.processes.family import families, family_of

SOURCE = Path(__file__).parent.parent / "generator" / "weld_packets"
TABLE = SOURCE / "model" / "processes.py"
HOME = SOURCE / "processes"
OF_A_FAMILY = {"wire", "gun", "cap", "torch", "stack", "spot", "seam", "electrode"}
"""What only operations of one family have: whoever asks whether it is there asks which family it is."""


def outside() -> list[Path]:
    return [path for path in sorted(SOURCE.rglob("*.py")) if HOME not in path.parents]


def _names(node: ast.expr) -> set[str]:
    return {each.attr if isinstance(each, ast.Attribute) else each.id for each in ast.walk(node)
            if isinstance(each, ast.Attribute | ast.Name)}  # fmt: skip


def _called(node: ast.expr) -> str:
    if isinstance(node, ast.Call):
        return _called(node.func)
    return node.attr if isinstance(node, ast.Attribute) else ""


def branches(text: str) -> Iterator[str]:
    """Yield what asks for a family in a source: its class, its number, or what only its operations have."""
    records = {each.operation.__name__ for each in written()}
    for node in ast.walk(ast.parse(text)):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in ("isinstance", "issubclass")
        ):
            yield from (f"isinstance {name}" for name in _names(node.args[1]) & records)
        if isinstance(node, ast.Compare) and any(isinstance(op, ast.Is | ast.IsNot) for op in node.ops):
            none = any(isinstance(each, ast.Constant) and each.value is None for each in node.comparators)
            if none and _called(node.left) in OF_A_FAMILY and "view" in _names(node.left):
                yield f"{ast.unparse(node)}"
        if isinstance(node, ast.Constant) and node.value in PROCESSES:
            yield f"number {node.value}"


def _texts(path: Path) -> Iterator[object]:
    tree = ast.parse(path.read_text("utf-8"))
    return (node.value for node in ast.walk(tree) if isinstance(node, ast.Constant))


def test_no_package_but_processes_asks_which_family_an_operation_has() -> None:
    questions = {path: list(branches(path.read_text("utf-8"))) for path in outside()}
    assert [path for path, found in questions.items() if found] == [TABLE]


def test_a_number_of_a_process_is_in_the_table_alone() -> None:
    held = [path for path in sorted(SOURCE.rglob("*.py")) if set(_texts(path)) & set(PROCESSES)]
    assert held == [TABLE]


@pytest.mark.parametrize(
    "line",
    ["isinstance(view.operation, ArcOperation)", "isinstance(row, (SpotOperation, ArcOperation))", "view.wire is None",
     "view.gun(robot) is not None", "operation.process == '21'", "KINDS = {'135'}"],
)  # fmt: skip
def test_the_rule_finds_every_form_of_a_question_for_the_family(line: str) -> None:
    assert list(branches(line))


@pytest.mark.parametrize("number", PROCESSES)
def test_every_process_of_the_table_has_a_family_that_can_read_it(number: str) -> None:
    family = family_of(number)
    assert process(number).number == number
    assert process(number).name
    assert process(number).family in FAMILIES
    assert process(number).consumables
    assert number in numbers(process(number).family)
    assert families([number]) == (family,)
    assert family.operation in [each.operation for each in written()]


@pytest.mark.parametrize("number", [each.number for each in PROCESSES.values() if isinstance(each, ArcProcess)])
def test_every_arc_process_states_its_thermal_efficiency_with_a_source(number: str) -> None:
    found = process(number)
    assert isinstance(found, ArcProcess)
    assert 0 < found.thermal_efficiency <= 1
    assert found.efficiency_source
    assert found.burns_arc


def test_an_order_is_read_by_the_processes_of_the_table() -> None:
    schema = order_record().model_json_schema(by_alias=True)
    offered = {
        number for record in schema["$defs"].values()
        for number in record.get("properties", {}).get("process", {}).get("enum", ())
    } | {record["properties"]["process"]["const"] for record in schema["$defs"].values()
         if "const" in record.get("properties", {}).get("process", {})}  # fmt: skip
    assert offered == set(PROCESSES)


def test_no_package_but_processes_imports_from_the_folder_of_a_family() -> None:
    imports = [
        (path, f"{node.module}.")
        for path in outside()
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ImportFrom)
    ]
    assert len(imports) > 1000
    homes = tuple(f"{home}." for home in FAMILIES.values())
    assert [(path, module) for path, module in imports if module.startswith(homes)] == []
