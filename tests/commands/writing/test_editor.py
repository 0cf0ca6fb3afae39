"""An editor learns the names of the plant and the units of each key from the schema that is written for it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from weld_packets.commands import main
from weld_packets.commands.writing.init import starter_files

ORDER = "instructions/sr-1-seed-tray-rack/order.yaml"
SCHEMA = Path(".editor") / "order.schema.json"


@pytest.fixture
def plant(tmp_path: Path, capsys: Any) -> Path:
    """A new plant with the schema for its editor."""
    for name, text in starter_files("US customary", "both", "60").items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert main(["--root", str(tmp_path), "schemas"]) == 0
    assert (tmp_path / SCHEMA).as_uri() in json.loads(capsys.readouterr().out)["yaml.schemas"]
    return tmp_path


def faults(plant: Path, old: str = "", new: str = "") -> list[Any]:
    schema = json.loads((plant / SCHEMA).read_text("utf-8"))
    order = yaml.safe_load((plant / ORDER).read_text("utf-8").replace(old, new, 1))
    return [leaf for error in Draft202012Validator(schema).iter_errors(order) for leaf in _leaves(error)]


def _leaves(error: Any) -> list[Any]:
    return [leaf for each in error.context for leaf in _leaves(each)] if error.context else [error]


def test_the_order_of_a_new_plant_is_good_for_its_editor(plant: Path) -> None:
    schema = json.loads((plant / SCHEMA).read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    order = json.loads(json.dumps(yaml.safe_load((plant / ORDER).read_text("utf-8")), default=str))
    assert [error.message for error in Draft202012Validator(schema).iter_errors(order)] == []


@pytest.mark.parametrize(
    ("old", "new", "offered"),
    [
        ("wire: ER70S-6-0.040", "wire: ER70S-3", "ER70S-6-0.040"),
        ("gas: CO2", "gas: C25", "M21"),
        ("material: A1008-CS", "material: A36", "A1008-CS"),
        ("cell: W1", "cell: W9", "W2"),
        ("robots: [W1A, W1B]", "robots: [W1A, W9B]", "W1B"),
        ("chart: spot-uncoated-points", "chart: spot", "arc-co2-fillet-1.0"),
    ],
)
def test_a_name_that_the_plant_lacks_is_shown_with_those_that_it_has(
    plant: Path, old: str, new: str, offered: str
) -> None:
    assert any(offered in str(error.message) for error in faults(plant, old, new) if error.validator == "enum")


def test_a_unit_of_another_kind_has_one_message_that_says_what_to_write(plant: Path) -> None:
    found = [error for error in faults(plant, "leg: 0.13 in", "leg: 0.13 kN") if error.validator == "pattern"]
    assert [error.schema["patternErrorMessage"] for error in found] == [
        "write a length as a number, a space and a unit: mm, cm, m, in, ft, µm, um"
    ]
    assert not [e for e in faults(plant, "thickness: 0.12 in", "thickness: 11 ga") if e.validator == "pattern"]


def test_a_check_keeps_the_schema_up_to_date_and_makes_none(plant: Path) -> None:
    wires = plant / "tables" / "wires.yaml"
    wires.write_text(wires.read_text("utf-8").replace("id: ER70S-6-0.040", "id: ER70S-6"), encoding="utf-8")
    main(["--root", str(plant), "check"])
    assert '"ER70S-6"' in (plant / SCHEMA).read_text("utf-8")
    (plant / SCHEMA).unlink()
    folder = (plant / SCHEMA).parent
    folder.rmdir()
    main(["--root", str(plant), "check"])
    assert not folder.exists()


def test_outside_a_plant_the_schema_of_the_program_is_named(tmp_path: Path, capsys: Any, monkeypatch: Any) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["schemas"]) == 0
    assert "sources/schema/order.schema.json" in capsys.readouterr().out
