"""JSON Schemas of orders and tables, made from the model, for an editor that completes and checks while one types.

An editor reads YAML by its own rules: ``131`` is a number to it and text to us, so that the schemas take both.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, get_args

from weld_packets.errors import PacketError
from weld_packets.files import write_whole
from weld_packets.model.fields import quantity_schema
from weld_packets.model.order import order_record
from weld_packets.model.processes import written
from weld_packets.model.table import Table
from weld_packets.model.tables.approved import ApprovedTables, kinds_of_table
from weld_packets.model.tables.charts import Chart
from weld_packets.sources.order_keys import ORDER_DESCRIPTIONS
from weld_packets.sources.orders.enclosures import WELDS
from weld_packets.sources.orders.repeats import DEFAULTS, REPEAT
from weld_packets.sources.reading.binding import keys_of, kind_of
from weld_packets.sources.table_keys import table_description
from weld_packets.sources.tables.rows import COUNTS, WORDS
from weld_packets.sources.tables.tables import Workspace, load_workspace
from weld_packets.units import kinds

Schema = dict[str, Any]
SCHEMA_FOLDER = Path(__file__).parent / "schema"
ORDER_SCHEMA = "order.schema.json"
TABLE_SCHEMA = "table.schema.json"
"""Of a table of any kind; each kind has one of its own beside it."""
EDITOR = ".editor"
"""The folder of a plant that holds the schema of its orders, with the names of its tables."""
_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_CELL = {"type": ["number", "string"]}
_ROW_FILES = (
    {"type": "string", "description": "plain name of a CSV file in tables/, whose header gives columns and units"},
    {
        "type": "object",
        "description": "range of a workbook in tables/, whose first row gives columns and units",
        "properties": {"workbook": {"type": "string"}, "sheet": {"type": "string"}, "range": {"type": "string"}},
        "required": ["workbook", "sheet", "range"],
        "additionalProperties": False,
    },
)
"""How a table names the file that its rows are in."""


def write_schemas(folder: Path = SCHEMA_FOLDER) -> tuple[Path, ...]:
    """Write every schema into ``folder`` and return the files written."""
    texts = schema_texts()
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        write_whole(folder / name, text.encode(), durable=True)
    return tuple(folder / name for name in texts)


def schema_texts() -> dict[str, str]:
    """Return the text of every schema by the name of its file."""
    made = {ORDER_SCHEMA: order_schema(), TABLE_SCHEMA: any_table_schema()}
    made |= {_file_of(kind): table_schema(kind) for kind in kinds_of_table()}
    return {name: _text(schema) for name, schema in made.items()}


def _text(schema: Schema) -> str:
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def any_table_schema() -> Schema:
    """Return the schema of a table of any kind, which sends an editor on to that of the kind that the table says."""
    kinds = [
        {"if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]}, "then": {"$ref": _file_of(kind)}}
        for kind in kinds_of_table()
    ]
    kind = {"enum": sorted(kinds_of_table()), "description": table_description("", "kind")}
    return {
        "$schema": _DIALECT,
        "title": "table",
        "type": "object",
        "properties": {"kind": kind},
        "required": ["kind"],
        "allOf": kinds,
    }


def _file_of(kind: str) -> str:
    return f"{kind.replace(' ', '-')}.schema.json"


def order_schema() -> Schema:
    """Return the schema of an order."""
    schema: Schema = _adapted(order_record().model_json_schema(by_alias=True))
    thickness = schema["$defs"]["Component"]["properties"]["thickness"]
    thickness["pattern"] = thickness["pattern"].removesuffix(")$") + "|ga|gauge|gage)$"
    for family in written():
        operation = schema["$defs"][family.operation.__name__]
        _offer_repeats(operation, family.welds_key, schema["$defs"])
        if family.sheet:
            _offer_sheet(operation, family.welds_key)
    component = schema["$defs"]["Component"]
    component.pop("required")
    _offer_copies(component)
    for record in (schema, *schema["$defs"].values()):
        _describe(record)
    return {"$schema": _DIALECT, "title": "order"} | schema


def _describe(record: Schema) -> None:
    """Say of each key of a record what it means, where its quantity does not say it."""
    for key, part in record.get("properties", {}).items():
        word = ORDER_DESCRIPTIONS.get(key)
        if word and "patternErrorMessage" not in part:
            record["properties"][key] = {"description": word} | part


def plant_order_schema(approved: ApprovedTables) -> Schema:
    """Return the schema of an order of a plant: names are those of its tables, which an editor completes and checks."""
    schema = order_schema()
    names: dict[str, Iterable[str]] = {
        "cell": approved.cells,
        "robots": approved.robots,
        "material": approved.materials,
        "wire": approved.wires,
        "gas": approved.gases,
        "electrode": approved.entries("tungsten electrodes"),
    }
    charts = sorted(name for name, table in approved.tables.items() if isinstance(table, Chart))
    for record in schema["$defs"].values():
        for key, part in record.get("properties", {}).items():
            offered = charts if key == "chart" else sorted(names.get(key, ()))
            if offered:
                record["properties"][key] = _one_of(part, offered)
    return schema


def _one_of(part: Schema, names: Sequence[str]) -> Schema:
    """Return a key of an order that leads to one of ``names``, or each of its values."""
    offered = {"enum": list(names)} | ({"description": part["description"]} if "description" in part else {})
    if "prefixItems" not in part:
        return offered
    return part | {"prefixItems": [{"enum": list(names)} for _ in part["prefixItems"]]}


def write_plant_schema(approved: ApprovedTables, folder: Path) -> Path:
    """Write the schema of the plant's orders into ``folder``, where it differs from what is there, and return it."""
    file = folder / ORDER_SCHEMA
    text = _text(plant_order_schema(approved))
    if not file.is_file() or file.read_bytes() != text.encode():
        folder.mkdir(exist_ok=True)
        write_whole(file, text.encode(), durable=True)
    return file


def refresh_plant_schema(workspace: Workspace) -> None:
    """Write the schema of the plant's orders anew where `packets schemas` has put one."""
    if (workspace.root / EDITOR).is_dir():
        write_plant_schema(workspace.approved, workspace.root / EDITOR)


def refresh_from(root: Path) -> None:
    """Do the same from the plant's files; where its tables are wrong, the schema stays as it is."""
    if (root / EDITOR).is_dir():
        with suppress(PacketError):
            refresh_plant_schema(load_workspace(root))


def table_schema(kind: str) -> Schema:
    """Return the schema of the tables of ``kind``, a key of ``kinds_of_table``."""
    table = kinds_of_table()[kind]
    schema: Schema = _adapted(table.model_json_schema(by_alias=True))
    if "columns" in table.model_fields:
        _print_rows(schema, table)
    described: Schema = _described(schema, table.__name__)
    return {"$schema": _DIALECT, "title": f"table of kind {kind}"} | described


def _described(node: Any, record: str) -> Any:
    """Return a schema of a table in which each key says what it means, and after it the units of its quantity."""
    if isinstance(node, list):
        return [_described(part, record) for part in node]
    if not isinstance(node, dict):
        return node
    return {name: _described_part(name, part, record) for name, part in node.items()}


def _described_part(name: str, part: Any, record: str) -> Any:
    if name == "$defs":
        return {each: _described(inner, each) for each, inner in part.items()}
    if name == "properties":
        return {key: _described(inner, record) | _description(inner, record, key) for key, inner in part.items()}
    return part if name in {"if", "then"} else _described(part, record)


def _description(part: Schema, record: str, key: str) -> Schema:
    own = part.get("description", "")
    if own and "patternErrorMessage" not in part:
        return {}
    texts = [text for text in (table_description(record, key), own) if text]
    return {"description": "; ".join(texts)} if texts else {}


def _offer_sheet(row: Schema, welds: str) -> None:
    """Let a row name a CSV list in place of its welds."""
    description = f"plain name of a CSV file beside the order, in place of {welds!r}"
    row["properties"][WELDS] = {"type": "string", "description": description}
    row["required"].remove(welds)
    row["oneOf"] = [{"required": [welds]}, {"required": [WELDS]}]


def _offer_repeats(operation: Schema, welds: str, records: Schema) -> None:
    """Let an operation give defaults of its welds, and a weld be a copy: then neither has to say all by itself."""
    weld = records[operation["properties"][welds]["items"]["$ref"].rpartition("/")[2]]
    weld.pop("required", None)
    defaults = {key: part for key, part in weld["properties"].items() if key != "id"}
    operation["properties"][DEFAULTS] = {
        "type": "object",
        "description": "what each weld of the operation does not say itself",
        "properties": defaults,
        "additionalProperties": False,
    }
    _offer_copies(weld)


def _offer_copies(item: Schema) -> None:
    """Let an item of a list be copies of items above it."""
    lengths = {axis: quantity_schema(kinds.LENGTH) | {"description": f"along {axis}"} for axis in "xyz"}
    along = {"type": "object", "properties": lengths, "additionalProperties": False, "minProperties": 1}
    names = {"type": ["string", "array"], "items": {"type": "string"}}
    about = {"enum": ["X", "Y", "Z"], "description": "axis of the datum"}
    angle = quantity_schema(kinds.ANGLE)
    item["properties"] |= {
        REPEAT: names | {"description": "what above in the list this item repeats"},
        "ids": {"type": "array", "items": {"type": "string"}, "description": "one for each copy"},
        "mirror": along
        | {"maxProperties": 1, "description": "plane at which the copies are mirrored, such as {y: 250 mm}"},
        "step": along | {"description": "how far the copies are moved; each further block as far again"},
        "turn": {
            "type": "object",
            "description": "turn of the copies about an axis; each further block as far again",
            "properties": {"about": about, "at": along, "by": angle},
            "required": ["about", "at", "by"],
            "additionalProperties": False,
        },
    }


def _print_rows(schema: Schema, table: type[Table]) -> None:
    """Describe rows as bare cells under columns that name their unit."""
    row = get_args(table.model_fields["rows"].annotation)[0]
    units = {key: kind_of(field) for key, field in keys_of(row).items()}
    columns = {key: {"enum": list(kind.spellings) if kind else [WORDS, COUNTS]} for key, kind in units.items()}
    schema["properties"] |= {
        "columns": {"type": "object", "properties": columns, "additionalProperties": False, "minProperties": 1},
        "rows": {"anyOf": [{"type": "array", "minItems": 1, "items": {"type": "array", "items": _CELL}}, *_ROW_FILES]},
    }
    schema["required"] = sorted({*schema["required"], "rows"} - {"columns"})
    schema["if"] = {"properties": {"rows": {"type": "array"}}}
    schema["then"] = {"required": ["columns"]}
    schema.get("$defs", {}).pop(row.__name__, None)


def _adapted(node: Any) -> Any:
    """Return a schema node as an editor's reading of YAML needs it."""
    if isinstance(node, list):
        return [_adapted(part) for part in node]
    if not isinstance(node, dict):
        return node
    adapted = {key: _adapted(part) for key, part in node.items() if not _is_noise(key, part)}
    if "patternProperties" in adapted:
        adapted["additionalProperties"] = False
    for change in (_without_null, _words_as_numbers, _text_as_number):
        adapted = change(adapted)
    return adapted


def _is_noise(key: str, part: Any) -> bool:
    """Say whether an editor has no use for a part: defaults, and titles that repeat the key."""
    return key in ("default", "discriminator") or (key == "title" and isinstance(part, str))


def _without_null(node: Schema) -> Schema:
    """Take away ``null``, which a source never says: a key without a value is refused."""
    if not isinstance(node.get("anyOf"), list):
        return node
    offered = [part for part in node["anyOf"] if part != {"type": "null"}]
    rest = {key: part for key, part in node.items() if key != "anyOf"}
    return rest | offered[0] if len(offered) == 1 else rest | {"anyOf": offered}


def _words_as_numbers(node: Schema) -> Schema:
    """Take a word such as ``131`` as a number too."""
    words = [node["const"]] if isinstance(node.get("const"), str) else node.get("enum")
    if not isinstance(words, list) or not any(isinstance(word, str) and word.isdigit() for word in words):
        return node
    rest = {key: part for key, part in node.items() if key not in ("const", "enum", "type")}
    return rest | {"enum": [*words, *(int(word) for word in words if isinstance(word, str) and word.isdigit())]}


def _text_as_number(node: Schema) -> Schema:
    """Take text that looks like a number; a quantity stays text, because its unit makes it so."""
    if (
        node.get("type") != "string"
        or "patternErrorMessage" in node
        or "format" in node
        or {"enum", "const"} & set(node)
    ):
        return node
    return node | {"type": ["string", "number"]}
