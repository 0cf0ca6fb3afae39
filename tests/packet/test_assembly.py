from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from weld_packets.calculation.readings import MINIMUM, rounded_result
from weld_packets.calculation.trace import Name
from weld_packets.errors import OutOfRangeError
from weld_packets.packet.assembly import Earlier
from weld_packets.packet.records.order import Packet
from weld_packets.units import kinds, quantity

LONG_NUMBER = re.compile(r"\d\.0*[1-9]\d{5,}|\d(?:\.\d+)?e[+-]\d+", re.IGNORECASE)


@pytest.fixture
def packet(make: Any) -> Packet:
    return make.packet(make.arc_operation(notes=("Check <the> $gap$ | 3*4*5",)), make.spot_operation("DX51"))


def _texts(value: Any) -> Any:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, each in value.items():
            if key not in ("svg", "description"):
                yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def test_packet_survives_json_unchanged(packet: Packet) -> None:
    assert Packet.model_validate_json(packet.model_dump_json()) == packet


def test_packet_is_the_same_when_assembled_again(packet: Packet, make: Any) -> None:
    again = make.packet(make.arc_operation(notes=("Check <the> $gap$ | 3*4*5",)), make.spot_operation("DX51"))
    assert again.model_dump_json() == packet.model_dump_json()


def test_no_text_shows_the_digits_of_a_float(packet: Packet) -> None:
    assert [text for text in _texts(packet.model_dump(mode="json")) if LONG_NUMBER.search(text)] == []


def test_texts_of_the_user_pass_unchanged(packet: Packet) -> None:
    assert packet.head.title == "Locker <frame>"
    assert packet.operations[0].notes == ("Check <the> $gap$ | 3*4*5",)


def test_head_names_order_part_quantity_and_plant(packet: Packet) -> None:
    head = packet.head
    assert (head.slug, head.number, head.part_number, head.quantity, head.due, head.plant) == (
        "wo-1", "WO-1", "PL-1", 240, "2026-12-04", "Works"
    )  # fmt: skip


def test_operations_are_numbered_and_name_pair_process_and_programs(packet: Packet) -> None:
    first, second = packet.operations
    assert (first.key, first.number, first.robots, first.process, first.process_name) == (
        "operation-1", 1, ("C1A", "C1B"), "135", "MAG welding with solid wire"
    )  # fmt: skip
    assert [(each.robot, each.side, each.number, each.code) for each in second.programs] == [
        ("C5A", "A", "1203", "1203"), ("C5B", "B", "1204", "1204")
    ]  # fmt: skip


def test_every_message_that_a_step_or_operation_names_is_in_the_packet(packet: Packet) -> None:
    known = {callout.key for callout in packet.callouts}
    steps = [*packet.start, *packet.run_steps]
    for operation in packet.operations:
        assert set(operation.callouts) <= known
        steps += [*operation.confirm, *operation.set_up, *operation.prove]
    assert {key for step in steps for key in step.callouts} <= known


def test_anchors_of_an_operation_are_unique(packet: Packet) -> None:
    for operation in packet.operations:
        anchors = [value.anchor for group in operation.groups for value in (*group.dialled, *group.derived)]
        anchors += [value.anchor for value in operation.times]
        assert len(anchors) == len(set(anchors))


def test_places_of_welds_are_decimal_millimetres_whatever_the_source_writes(packet: Packet) -> None:
    arc, spot = packet.operations
    assert [each.pieces for each in arc.geometry] == [
        (("10", "20", "0"), ("110", "20", "0")),
        (("0", "0", "0"), ("25.4", "25.4", "0", "50.8", "0", "0")),
    ]
    assert [(each.label, each.pieces) for each in spot.geometry][:2] == [
        ("A1", (("30", "50.8", "0"),)), ("A2", (("60", "50.8", "0"),))
    ]  # fmt: skip


def test_table_of_welds_has_a_cell_for_every_column(packet: Packet) -> None:
    for operation in packet.operations:
        assert all(len(line.cells) == len(operation.weld_columns) for line in operation.welds)
    assert packet.operations[0].welds[0].cells == (
        "sA", "C1A", "T fillet", "a 3\N{NO-BREAK SPACE}mm (0.119\N{NO-BREAK SPACE}in)", "PB", "2", "p1 + p2",
        "10.0, 20.0, 0.0", "110.0, 20.0, 0.0", "100.0",
    )  # fmt: skip


def test_every_operation_has_a_picture(packet: Packet) -> None:
    assert all(operation.pictures for operation in packet.operations)


def test_times_checks_and_events_of_the_plan_are_in_the_packet(packet: Packet) -> None:
    operation = packet.operations[0]
    assert [(value.label, value.amount.value) for value in operation.times if value.amount] == [
        ("Robot time, C1A", "41.2"), ("Robot time, C1B", "41.2"), ("Operation time", "71.2")
    ]  # fmt: skip
    assert operation.checks[-1].subject == "C1B"
    assert [(event.operation, event.robot, event.what) for event in packet.run.events] == [
        ("operation-1", "C1A and C1B", "Dress both caps"),
        ("operation-2", "C5A and C5B", "Dress both caps"),
    ]
    values = {value.label: value.amount for value in packet.run.values}
    assert (values["Over run, C1A"].second, values["Over run, C1A"].second_unit) == ("413", "ft³")


def test_sources_name_every_table_with_the_operations_that_were_read(packet: Packet) -> None:
    read = {use.table: use for use in packet.tables}
    assert read["materials"].rows == ("DC01", "DX51")
    assert read["caps"].rows == ("cap-16",)
    assert read["shades"].rows == ("135, 60\N{NO-BREAK SPACE}A to 160\N{NO-BREAK SPACE}A",)
    assert (read["wires"].revision, read["wires"].approved_by, read["wires"].approved_on) == (
        "B", "engineer", "2026-01-02"
    )  # fmt: skip
    assert "crush" in read["hazards"].rows
    assert "strong" not in read["hazards"].rows


def test_inspections_of_a_coupon_carry_the_figures_of_the_operation(packet: Packet) -> None:
    peel = next(line for line in packet.inspections if line.what == "Weld diameter")
    assert peel.operation == "operation-2"
    assert "set up weld diameter 4.93\N{NO-BREAK SPACE}mm" in peel.accept
    assert [line.what for line in packet.inspections if line.operation == "operation-1"] == [
        "Macro section",
        "All welds",
    ]


def test_changeover_is_there_only_after_another_order(make: Any, packet: Packet) -> None:
    assert packet.changeover is None
    operation = make.spot_operation()
    before = Earlier(make.order(operation, order="WO-0", title="Before"), (make.result(operation),))
    after = make.packet(make.spot_operation(fixture="F-9"), previous=before)
    assert after.changeover is not None
    assert after.changeover.previous_order == "WO-0"
    assert [line.what for line in after.changeover.lines if not line.stays] == ["Fixture"]


def test_a_limit_that_is_rounded_up_in_each_unit_is_no_change_of_a_changeover(make: Any) -> None:
    """4.6 √1.2141 = 5.069 mm is 5.1 mm and 0.200 in; 5.1 mm would be 0.201 in."""
    operation, name = make.spot_operation(), Name("target_weld_diameter", "Target weld diameter", "d", kinds.LENGTH)
    target = rounded_result(name, quantity(5.069, "mm"), MINIMUM, ())
    result = make.result(operation)
    result = replace(result, settings=tuple(replace(each, derived=(target,)) for each in result.settings))
    order = make.order(operation, show_first="US customary")
    before = Earlier(order.model_copy(update={"order": "WO-0"}), (result,))
    packet = make.drawn_packet(order, (result,), make.plan((result,)), make.approved, before)
    assert packet.changeover is not None
    (limit,) = (line for line in packet.changeover.lines if line.what.startswith("Coupon limit"))
    expected = "target weld diameter 0.200\N{NO-BREAK SPACE}in (5.1\N{NO-BREAK SPACE}mm)"
    assert (limit.before, limit.after, limit.stays) == (expected, expected, True)


def test_currents_without_a_shade_are_stated_for_all_operations_at_once(make: Any) -> None:
    operations = (make.arc_operation(), make.arc_operation(name="Second"))
    order = make.order(*operations)
    results = tuple(make.result(operation, current="300") for operation in operations)
    with pytest.raises(OutOfRangeError) as refused:
        make.drawn_packet(order, results, make.plan(results), make.approved, None)
    assert [problem.key for problem in refused.value.problems] == ["operations[0]", "operations[1]"]


def test_us_order_prints_us_units_first_except_what_a_machine_is_set_to_in_its_own(make: Any) -> None:
    (operation,) = make.packet(make.spot_operation(), show_first="US customary").operations
    force = operation.groups[0].dialled[0]
    assert force.amount is not None
    assert force.window is not None
    assert (force.amount.unit, force.amount.second_unit) == ("kN", "lbf")
    assert (force.window.low, force.window.second_low) == ("2.4", "540")
    assert operation.components[0].thickness.unit == "in"
    step = next(each for each in operation.set_up if each.do.startswith("Set electrode force"))
    assert step.value == "2.6\N{NO-BREAK SPACE}kN (580\N{NO-BREAK SPACE}lbf)"
