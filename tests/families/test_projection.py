"""A family that the program does not know: one folder and one entry give a whole packet and site."""

from __future__ import annotations

import importlib
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.errors import SourceError
from weld_packets.model import processes
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.order import Packet
from weld_packets.plant.drafts import draft
from weld_packets.sources.schemas import schema_texts
from weld_packets.sources.tables.tables import load_workspace

Make = Callable[..., Path]
OTHERS = re.compile(
    r"\b(spots?|guns?|caps?|electrodes?|stacks?|torch|torches|wires?|seams?|contact tips?|rolls?|gas|arc)\b",
    re.IGNORECASE,
)
"""Words of other processes."""


@pytest.fixture(autouse=True)
def entry(monkeypatch: pytest.MonkeyPatch) -> None:
    """Makes the one entry; the module is the one folder."""
    name = f"{__name__.rpartition('.')[0]}.projection".lstrip(".")
    module = importlib.import_module(name)
    monkeypatch.setitem(processes.FAMILIES, "projection", name)
    monkeypatch.setitem(processes.PROCESSES, "23", module.ENTRY)


def packet_of(root: Path) -> Packet:
    return draft(load_workspace(root), "o-1")


def test_three_projections_take_three_times_the_force_and_current_of_one(plant_of: Make) -> None:
    packet = packet_of(plant_of("projection"))
    first = packet.operations[0].groups[0]
    found = {value.key: value.amount.value for value in first.dialled if value.amount is not None}
    assert float(found["die_force"]) == pytest.approx(3.0)
    assert float(found["weld_current"]) == pytest.approx(16.5)
    assert float(found["weld_time"]) == pytest.approx(100)


def test_its_packet_has_its_consumables_and_steps(plant_of: Make) -> None:
    packet = packet_of(plant_of("projection"))
    assert {line.what for line in packet.run.consumables} == {"Dies"}
    assert any(step.do.startswith("Fit both dies") for step in packet.operations[0].set_up)


def test_its_steps_have_no_word_of_another_process(plant_of: Make) -> None:
    packet = packet_of(plant_of("projection"))
    (operation,) = packet.operations
    said = [f"{step.do} {step.see} {step.value}" for each in (operation.confirm, operation.set_up, operation.prove)
            for step in each]  # fmt: skip
    curtains = "No light of the arc or spark leaves the cell."  # the same sentence at every cell
    assert [each for each in said if OTHERS.search(each.replace(curtains, ""))] == []


def test_a_fault_a_limit_and_a_safety_message_go_by_the_force_that_it_sets(plant_of: Make) -> None:
    packet = packet_of(plant_of("projection"))
    (fault,) = (each for each in packet.operations[0].faults if each.sign == "Metal is expelled")
    assert fault.remedies[1].replace("\N{NO-BREAK SPACE}", " ") == (
        "Raise the force: force on the dies at most 3.30 kN (741 lbf) for 3 projections; "
        "at most 4.40 kN (989 lbf) for 4 projections."
    )
    (message,) = (each for each in packet.callouts if each.hazard == "The dies close with force.")
    assert "Largest allowed die force 4.40 kN" in message.why.replace("\N{NO-BREAK SPACE}", " ")
    (fact,) = message.facts
    assert fact.text.startswith("Largest allowed die force: ")


def test_its_weld_map_has_no_word_of_another_process(plant_of: Make) -> None:
    (operation,) = packet_of(plant_of("projection")).operations
    (drawn,) = operation.pictures
    said = [drawn.title, drawn.description, drawn.caption, *(entry.text for entry in drawn.legend)]
    assert said[0] == "Projection weld map"
    assert [each for each in said if OTHERS.search(each)] == []


def test_the_schemas_describe_every_key_that_it_brings() -> None:
    texts = schema_texts()
    records = json.loads(texts["order.schema.json"])["$defs"] | json.loads(texts["rams.schema.json"])["$defs"]
    for name in ("Projected", "ProjectionOperation", "Ram"):
        properties = records[name]["properties"]
        assert properties
        assert [key for key, part in properties.items() if not part.get("description")] == []


def test_what_no_ram_reaches_is_refused(plant_of: Make) -> None:
    def many(order: dict[str, Any]) -> None:
        order["operations"][0]["presses"][0]["projections"] = "12"

    with pytest.raises(SourceError) as refused:
        packet_of(plant_of("projection", many))
    assert "60 kA" in " ".join(each.message for each in refused.value.problems).replace("\N{NO-BREAK SPACE}", " ")


def test_its_whole_site_is_built(plant_of: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    root = plant_of("projection")
    monkeypatch.chdir(root)
    assert main(["build"]) == 0
    assert list(root.rglob("*.html"))


def test_its_steps_values_and_numbers_can_be_recorded(plant_of: Make) -> None:
    (operation,) = packet_of(plant_of("projection")).operations
    form = set_up_form(operation)
    for name in ("set-up", "prove-out"):
        keys = [step.key for step in form.steps if step.list == name]
        assert len(set(keys)) == len(keys)
        assert all(keys)
    assert {value.kind for value in form.values} == {"setting"}
    assert [step.accepts for step in form.steps if step.accepts] == ["coupons", "first-off"]
