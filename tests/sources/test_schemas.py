"""Schemas for editors: shipped as generated, valid, and at one with the strict reader about the demo."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from referencing import Registry, Resource
from weld_packets.model.order import Operation
from weld_packets.sources.order_keys import ORDER_DESCRIPTIONS
from weld_packets.sources.schemas import SCHEMA_FOLDER, schema_texts, write_schemas
from weld_packets.sources.table_keys import RECORD_DESCRIPTIONS, TABLE_DESCRIPTIONS

ROOT = Path(__file__).resolve().parents[2]
TEXTS = schema_texts()
SOURCES = sorted([*ROOT.glob("tables/*.yaml"), *ROOT.glob("instructions/*/order.yaml")])


class EditorLoader(yaml.SafeLoader):
    """Reads YAML as editors do, by the core schema of YAML 1.2: numbers, true, false and null; dates stay text."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}


for _tag, _pattern, _first in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789"),
    ("null", r"~|null|Null|NULL|", "~nN\0"),
):
    EditorLoader.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_pattern})$"), list(_first))


def schema_of(path: Path) -> tuple[Path, dict[str, Any]]:
    first = path.read_text(encoding="utf-8").split("\n", 1)[0]
    named = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
    assert named, f"{path} does not name its schema in its first line"
    schema = path.parent / named[1]
    return schema, json.loads(schema.read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_a_shipped_schema_is_what_the_model_says(name: str) -> None:
    shipped = (SCHEMA_FOLDER / name).read_text(encoding="utf-8")
    assert shipped == TEXTS[name], "run packets schemas --write"


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_a_schema_is_valid_by_its_own_dialect(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(json.loads(TEXTS[name]))


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_an_independent_validator_accepts_the_demo_as_an_editor_reads_it(path: Path) -> None:
    _, schema = schema_of(path)
    tree = yaml.load(path.read_text(encoding="utf-8"), Loader=EditorLoader)  # noqa: S506 - a SafeLoader
    jsonschema.Draft202012Validator(schema).validate(tree)


def order_tree() -> Any:
    return {
        "order": 4711,
        "title": "Side panel",
        "part": {"number": 12, "name": "Side panel"},
        "quantity": 10,
        "due": "2026-12-01",
        "revision intent": "first issue",
        "operations": [
            {
                "name": "Row 1",
                "cell": "C1",
                "robots": ["C1-A", "C1-B"],
                "process": 21,
                "programs": {"C1-A": 12, "C1-B": "13"},
                "datum": "corner",
                "fixture": "F1",
                "components": [{"id": 1, "name": "Sheet", "material": "DC01", "thickness": "1 mm"}],
                "stacks": [{"id": "S1", "sheets": [1, 1]}],
                "welds": "points.csv",
            }
        ],
    }


def faults(tree: Any) -> list[str]:
    schema = json.loads(TEXTS["order.schema.json"])
    return [error.message for error in jsonschema.Draft202012Validator(schema).iter_errors(tree)]


def test_numbers_where_an_editor_sees_numbers_are_accepted() -> None:
    assert faults(order_tree()) == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("thickness", 1),
        ("thickness", "1"),
        ("thickness", "1,5 mm"),
        ("material", "DC 01"),
        ("colour", "red"),
    ],
)
def test_a_faulty_value_is_seen_while_typing(key: str, value: Any) -> None:
    tree = order_tree()
    tree["operations"][0]["components"][0][key] = value
    assert faults(tree)


def test_welds_in_two_forms_are_seen_while_typing() -> None:
    tree = order_tree()
    tree["operations"][0]["spots"] = [{"id": "P1", "robot": "A", "stack": "S1", "x": "1 mm", "y": "1 mm", "z": "1 mm"}]
    assert faults(tree)


def test_a_column_with_a_unit_of_another_kind_is_seen_while_typing() -> None:
    schema = json.loads(TEXTS["spot-spacing.schema.json"])
    columns = schema["properties"]["columns"]
    validator = jsonschema.Draft202012Validator(columns)
    assert validator.is_valid({"thickness": "mm", "pitch": "in", "overlap": "in"})
    assert not validator.is_valid({"thickness": "kN"})
    assert not validator.is_valid({"thicknes": "mm"})


def table_faults(tree: Any) -> list[str]:
    """What an editor marks in a table by the one schema for all kinds."""
    resources = [
        (path.name, Resource.from_contents(json.loads(path.read_text("utf-8"))))
        for path in SCHEMA_FOLDER.glob("*.json")
    ]
    schema = json.loads(TEXTS["table.schema.json"])
    validator = jsonschema.Draft202012Validator(schema, registry=Registry().with_resources(resources))
    return [error.message for error in validator.iter_errors(tree)]


@pytest.mark.parametrize("path", sorted(ROOT.glob("tables/*.yaml")), ids=lambda path: path.stem)
def test_one_schema_accepts_the_demos_tables_of_every_kind(path: Path) -> None:
    assert table_faults(yaml.load(path.read_text("utf-8"), Loader=EditorLoader)) == []  # noqa: S506 - a SafeLoader


def test_one_schema_sees_the_faults_of_the_kind_that_a_table_says() -> None:
    gases = yaml.load((ROOT / "tables" / "gases.yaml").read_text("utf-8"), Loader=EditorLoader)  # noqa: S506
    assert any("colour" in fault for fault in table_faults(gases | {"colour": "red"}))
    assert table_faults(gases | {"kind": "wires"})
    assert table_faults(gases | {"kind": "gas"})
    assert table_faults({key: value for key, value in gases.items() if key != "kind"})


def test_schemas_are_written_as_they_are_shipped(tmp_path: Path) -> None:
    written = write_schemas(tmp_path / "schema")
    assert {path.name: path.read_text("utf-8") for path in written} == TEXTS
    assert {path.name for path in written} == {path.name for path in SCHEMA_FOLDER.iterdir()}


def test_every_key_of_an_order_is_described_in_its_schema() -> None:
    schema = json.loads(TEXTS["order.schema.json"])
    records = {"order": schema} | schema["$defs"]
    bare = [
        f"{name}.{key}"
        for name, record in records.items()
        for key, part in record.get("properties", {}).items()
        if "description" not in part
    ]
    assert bare == []


def _keys(node: Any, record: str) -> Iterator[tuple[str, str, str]]:
    """Yield record, key and description of each key in a schema, whatever it is inside."""
    if isinstance(node, list):
        for part in node:
            yield from _keys(part, record)
    elif isinstance(node, dict):
        for key, part in node.get("properties", {}).items():
            yield record, key, part.get("description", "")
        for name, part in node.items():
            if name == "$defs":
                for each, inner in part.items():
                    yield from _keys(inner, each)
            elif name not in {"if", "then"}:
                yield from _keys(list(part.values()) if name == "properties" else part, record)


def test_every_key_of_every_table_is_described_in_its_schema() -> None:
    tables = {name: json.loads(text) for name, text in schema_texts().items() if name != "order.schema.json"}
    found = [(name, *key) for name, schema in tables.items() for key in _keys(schema, "table")]
    assert len(found) > 700
    assert [key for key in found if not key[3]] == []


def test_a_quantity_of_a_table_says_what_it_means_and_then_its_units() -> None:
    plant = json.loads(schema_texts()["plant.schema.json"])["properties"]
    assert plant["fire watch"]["description"] == (
        "how long somebody keeps watch after the last weld; duration in s, ms, min, h"
    )
    chart = json.loads(schema_texts()["arc-chart.schema.json"])["properties"]["columns"]["properties"]
    assert chart["leg from"]["description"] == "smallest value allowed: leg of a fillet"


def test_no_word_is_kept_for_a_key_that_no_table_has() -> None:
    tables = [json.loads(text) for name, text in schema_texts().items() if name != "order.schema.json"]
    keys = {(record, key) for schema in tables for record, key, _ in _keys(schema, "table")}
    words = {key for _, key in keys} | {key.removesuffix(" from").removesuffix(" to") for _, key in keys}
    assert sorted(set(TABLE_DESCRIPTIONS) - words) == []
    assert sorted(set(RECORD_DESCRIPTIONS) - keys) == []


def test_no_word_is_kept_for_a_key_that_no_order_has() -> None:
    schema = json.loads(TEXTS["order.schema.json"])
    keys = {key for record in (schema, *schema["$defs"].values()) for key in record.get("properties", {})}
    assert sorted(set(ORDER_DESCRIPTIONS) - keys) == []


def test_what_an_operation_of_any_process_may_say_is_described_beside_the_key_and_nowhere_else() -> None:
    optional = {
        key.replace("_", " "): field for key, field in Operation.model_fields.items() if not field.is_required()
    }
    assert {key: field.description for key, field in optional.items() if not field.description} == {}
    assert sorted(set(optional) & set(ORDER_DESCRIPTIONS)) == []
    shown = json.loads(TEXTS["order.schema.json"])["$defs"]["SpotOperation"]["properties"]
    assert {key: shown[key]["description"] for key in optional} == {
        key: field.description for key, field in optional.items()
    }
