"""Keys, words and columns out of use: each is refused with its new name, and the source is read on under it."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from weld_packets.errors import SourceError
from weld_packets.model.order import Order
from weld_packets.model.processes import written
from weld_packets.model.tables.approved import TABLE_KINDS
from weld_packets.sources.orders.enclosures import SEAM_COLUMNS, SPOT_COLUMNS
from weld_packets.sources.orders.orders import SourcedOrder
from weld_packets.sources.reading.binding import keys_at
from weld_packets.sources.reading.out_of_use import COLUMNS, EACH, ORDER_KEYS, TABLE_KEYS, Renamed, renewed
from weld_packets.sources.reading.strict_yaml import read_yaml
from weld_packets.sources.tables.tables import load_workspace

ROOT = Path(__file__).resolve().parents[2]
Load = Callable[[], SourcedOrder]
Refused = Callable[[Callable[[], object]], str]


def named(one: Renamed) -> str:
    return f"{'.'.join(one.within)}: {one.old}"


def allowed(record: type, one: Renamed) -> set[str]:
    """Return the keys that the model allows where a key out of use would be."""
    steps = [0 if step == EACH else step.split("|")[-1] for step in one.within]
    if steps[:2] == ["operations", 0]:
        return {key for family in written() for key in keys_at(family.operation, steps[2:])}
    return set(keys_at(record, ["rows", 0] if steps == ["columns"] else steps))


@pytest.mark.parametrize("one", ORDER_KEYS, ids=named)
def test_a_key_of_an_order_is_out_of_use_where_the_model_has_its_new_name_alone(one: Renamed) -> None:
    keys = allowed(Order, one)
    assert one.new in keys
    assert one.key not in keys


@pytest.mark.parametrize("one", [one for one in TABLE_KEYS if one.value is None], ids=named)
def test_a_key_of_a_table_is_out_of_use_where_the_model_has_its_new_name_alone(one: Renamed) -> None:
    kinds = [allowed(record, one) for record in TABLE_KINDS.values()]
    assert any(one.new in keys for keys in kinds)
    assert not any(one.key in keys for keys in kinds)


@pytest.mark.parametrize("one", [one for one in TABLE_KEYS if one.value is not None], ids=named)
def test_a_word_of_a_table_is_out_of_use_where_the_model_has_its_new_word_alone(one: Renamed) -> None:
    words = {str(record.model_fields[one.key.replace(" ", "_")].annotation) for record in TABLE_KINDS.values()
             if one.key.replace(" ", "_") in record.model_fields}  # fmt: skip
    assert any(f"'{one.new}'" in text for text in words)
    assert not any(f"'{one.value}'" in text for text in words)


@pytest.mark.parametrize(("old", "new"), COLUMNS.items())
def test_a_column_is_out_of_use_where_a_list_has_its_new_name_alone(old: str, new: str) -> None:
    columns = {column.name for column in (*SPOT_COLUMNS, *SEAM_COLUMNS)}
    assert new in columns
    assert old not in columns


def old_order(folder: Path) -> list[tuple[int, str, str]]:
    """Write the good order with its keys out of use; return line, old and new key of each."""
    path, changed = folder / "order.yaml", []
    lines = path.read_text("utf-8").split("\n")
    names = {"operations": "rows", "robots": "arms", "components": "parts", "robot": "arm"}
    for number, line in enumerate(lines):
        match = re.match(r"^ *(?:- )?(operations|robots|components|robot): *", line)
        if match:
            lines[number] = line.replace(f"{match[1]}:", f"{names[match[1]]}:", 1)
            changed.append((number + 1, names[match[1]], match[1]))
    path.write_text("\n".join(lines), "utf-8")
    return changed


def test_every_key_out_of_use_of_an_order_is_refused_in_one_run_with_its_line(load: Load, folder: Path) -> None:
    changed = old_order(folder)
    with pytest.raises(SourceError) as refused:
        load()
    problems = refused.value.problems
    assert [(p.line, p.message, p.remedy) for p in problems] == [
        (line, f"'{old}' is out of use", f"write '{new}'") for line, old, new in changed
    ]
    assert problems[0].key == "rows"
    assert problems[1].key == "rows[0].arms"


def test_what_else_is_wrong_is_found_in_the_same_run_on_its_own_line(
    load: Load, folder: Path, refused: Refused
) -> None:
    old_order(folder)
    path = folder / "order.yaml"
    path.write_text(path.read_text("utf-8").replace("throat: 3 mm", "throat: 0 mm"), "utf-8")
    text = refused(load)
    assert "'arms' is out of use" in text
    assert "order.yaml:34: operations[0].seams[0].throat = '0 mm'" in text


def test_an_order_with_new_keys_is_returned_as_it_is(folder: Path) -> None:
    document = read_yaml((folder / "order.yaml").read_text("utf-8"), "order.yaml")
    assert renewed(document, ORDER_KEYS) == (document, [])


def test_of_an_old_key_beside_its_new_one_only_the_old_one_is_refused() -> None:
    document = read_yaml("robots: [A, B]\narms: [C, D]\n", "machines.yaml")
    found, problems = renewed(document, TABLE_KEYS)
    assert found.tree == {"robots": ["A", "B"]}
    assert [(problem.line, problem.key) for problem in problems] == [(2, "arms")]


def test_a_key_is_out_of_use_only_at_its_own_place() -> None:
    document = read_yaml("title: t\nnotes: [a]\nplan: {arms: [A, B], rows: [1]}\n", "order.yaml")
    assert renewed(document, ORDER_KEYS) == (document, [])


def test_an_old_column_of_a_weld_list_is_refused_with_the_new_one(load: Load, folder: Path, refused: Refused) -> None:
    path = folder / "points.csv"
    path.write_text(path.read_text("utf-8").replace("robot", "arm", 1), "utf-8")
    text = refused(load)
    assert "'arm' is out of use" in text
    assert "write 'robot'" in text
    assert "is missing" not in text


TABLE_CASES = [
    ("spot_hot_dip", "kind: spot chart", "kind: spot schedule", "'spot schedule' is out of use"),
    ("spot_hot_dip", "form: bands", "chart: bands", "'chart' is out of use"),
    ("spot_hot_dip", "  target: 5", "  aimed: 5", "'aimed' is out of use"),
    ("spot_stainless", "cap face is: maximum", "cap face is: greatest", "'greatest' is out of use"),
    ("shades", "minimum shade: number", "least shade: number", "'least shade' is out of use"),
    ("gases", "    cylinder: 16000 l", "    container: 16000 l", "'container' is out of use"),
    ("plant", "stop when:\n  - A good", "stop and call:\n  - A good", "'stop and call' is out of use"),
    ("plant", "cap change after:", "tip change after:", "'tip change after' is out of use"),
]


@pytest.mark.parametrize(("name", "new", "old", "message"), TABLE_CASES)
def test_an_old_key_of_a_table_is_the_one_thing_refused(
    name: str, new: str, old: str, message: str, tmp_path: Path
) -> None:
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    path = tmp_path / "tables" / f"{name}.yaml"
    text = path.read_text("utf-8")
    assert text.count(new) == 1
    path.write_text(text.replace(new, old), "utf-8")
    line = text[: text.index(new)].count("\n") + 1
    with pytest.raises(SourceError) as refused:
        load_workspace(tmp_path)
    assert [(p.file, p.line, p.message) for p in refused.value.problems] == [(f"tables/{name}.yaml", line, message)]


def test_a_word_out_of_use_is_replaced_at_its_key_alone() -> None:
    document = read_yaml("kind: arc schedule\ntitle: arc schedule\n", "t.yaml")
    found, problems = renewed(document, TABLE_KEYS)
    assert found.tree == {"kind": "arc chart", "title": "arc schedule"}
    assert [str(problem) for problem in problems] == [
        "t.yaml:1: kind = 'arc schedule'\n    'arc schedule' is out of use\n    -> write 'arc chart'"
    ]
