"""What a table states beside its values (sources, issues, makes) reaches the pages of an order."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import pytest
from pydantic import BaseModel
from weld_packets.model.order import order_record
from weld_packets.model.table import SourceDocument
from weld_packets.model.tables.approved import ApprovedTables, kinds_of_table
from weld_packets.model.tables.qualification import QualificationRecord
from weld_packets.packet.citations import table_use
from weld_packets.packet.operation.sheet import machine_lines
from weld_packets.packet.records.order import Packet
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import quantity

ROOT = Path(__file__).parent.parent.parent
SOURCE = ROOT / "generator" / "weld_packets"
NOT_OF_AN_ORDER = {
    ("ResponsiblePerson", "role"): "shown where the plant's people are, in the table of the register",
    ("Instrument", "what"): "shown by the commands that check instruments",
    ("Instrument", "document"): "shown by the commands that check instruments",
}
"""Keys of tables that no order reads."""


@pytest.fixture(scope="module")
def packet(demo_packets: dict[str, Packet]) -> Packet:
    return demo_packets["lk-2063-coastal-column"]


@pytest.fixture(scope="module")
def shipped(demo_workspace: Workspace) -> ApprovedTables:
    return demo_workspace.approved


def test_a_table_says_the_issue_of_its_source_where_a_copy_is_and_how_far_it_is_known(shipped: ApprovedTables) -> None:
    table = shipped.owner("caps")
    issue = SourceDocument.model_validate({"issue": "3rd edition", "date": "2015", "copy": "shelf 4"})
    whole = table.model_copy(update={"document": issue, "reliability": "from memory"})
    use = table_use(whole, ())
    assert (use.document, use.reliability) == ("issue 3rd edition, of 2015, copy: shelf 4", "from memory")
    bare = table_use(table, ())
    assert (bare.document, bare.reliability) == ("", "")


def test_what_keeps_two_robots_apart_says_who_stated_it(packet: Packet) -> None:
    (check,) = [check for check in packet.operations[0].checks if check.text.startswith("the tool centre points")]
    assert re.findall(r"plant's estimate[^;)]*", check.source) == [
        "plant's estimate for path repeatability and spatter, to be measured",
        "plant's estimate for the water-cooled torch with its cable, to be measured",
        "plant's estimate, clear of fixture and clamps, to be taught and read back",
    ]


def test_a_gun_is_named_with_its_form_and_opening_and_its_cooling_with_the_source(packet: Packet) -> None:
    lines = {line.name: line for line in packet.operations[2].machines}
    assert [value.replace("\N{NO-BREAK SPACE}", " ") for value in lines["Gun"].values] == [
        "C gun of robot C9A, form C, opens 4.724 in (120 mm)", "C gun of robot C9B, form C, opens 4.724 in (120 mm)"
    ]  # fmt: skip
    assert lines["Cooling water"].source.startswith("RWMA figure as quoted on a resistance-welding web page")
    sheet = packet.operations[2].procedure
    assert sheet is not None
    (item,) = [item for item in sheet.items if item.label.startswith("Machine, current type")]
    assert lines["Cooling water"].source in item.lines[-1].text


def test_a_cooling_that_is_not_stated_has_no_source(make: Any) -> None:
    (view,) = make.views(make.spot_operation())
    (line,) = [line for line in machine_lines(view) if line.name == "Cooling water"]
    assert (line.values, line.source) == (("not stated", "not stated"), "")
    said = {"cooling_flow": quantity(6.0, "l/min"), "cooling_source": "the gun's manual"}
    guns = view.approved.guns | {"E-C5A": view.approved.guns["E-C5A"].model_copy(update=said)}
    (line,) = [
        line
        for line in machine_lines(replace(view, approved=replace(view.approved, guns=guns)))
        if line.name == "Cooling water"
    ]
    assert (line.values[1], line.source) == ("not stated", "the gun's manual")


def test_the_number_of_dressings_before_a_change_says_what_it_rests_on(packet: Packet) -> None:
    traces = [point for value in packet.run.values if value.figure == "changes" for point in value.trace]
    stated = {point.origin for point in traces if point.label == "Electrode caps: dressings before a change"}
    assert stated == {"dressings per cap (20 to 40) from memory"}


def test_a_record_says_the_make_of_its_filler_and_the_machine_of_its_test(
    packet: Packet, shipped: ApprovedTables
) -> None:
    stated: dict[str, QualificationRecord] = {record.table: record for record in shipped.records}
    heads = [
        head for operation in packet.operations if operation.qualification for head in operation.qualification.records
    ]
    assert {head.filler_make for head in heads} >= {"any, the product is classified"}
    for head in heads:
        assert head.filler_make == (stated[head.record].filler_make or "")
        assert head.machine == (stated[head.record].machine or "")


def test_somebody_s_test_says_its_passes_and_whether_a_sensor_was_used(packet: Packet) -> None:
    people = [operation.people for operation in packet.operations if operation.people]
    assert {holder.welded for one in people for holder in one.holders} <= {
        f"{passes}, {sensor} sensor" for passes in ("one pass", "several passes") for sensor in ("no", "with a")
    }
    assert any(one.holders for one in people)


def _records() -> set[type[BaseModel]]:
    found: set[type[BaseModel]] = set()
    waiting: list[Any] = [*kinds_of_table().values(), order_record()]
    while waiting:
        kind = waiting.pop()
        waiting += get_args(kind)
        if isinstance(kind, type) and issubclass(kind, BaseModel) and kind not in found:
            found.add(kind)
            waiting += [field.annotation for field in kind.model_fields.values()]
    return found


def test_every_key_of_a_source_is_read_by_more_than_its_checks() -> None:
    texts = "\n".join(
        path.read_text("utf-8")
        for path in (*SOURCE.rglob("*.py"), *SOURCE.rglob("*.html"))
        if not {"model", "table_checks"} & set(path.relative_to(SOURCE).parts)
        and path.name not in ("order_keys.py", "table_keys.py")
    )
    words = set(re.findall(r"\w+", texts)) | set(re.findall(r'"([a-z][a-z ]+)"', texts))
    unread = {
        (record.__name__, name)
        for record in _records()
        for name in record.model_fields
        if not {name, name.replace("_", " ")} & words
        and not ({end, end.replace("_", " ")} & words if (end := re.sub(r"_(from|to)$", "", name)) != name else False)
    }
    assert {each for each in unread if len(each[1]) > 1} - set(NOT_OF_AN_ORDER) == set()
