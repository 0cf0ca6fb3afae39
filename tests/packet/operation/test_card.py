"""The setter's card holds every setting and reading of an operation, and of its remarks what fits."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.operation.card import COLUMNS, CardTable, card_remarks, card_tables, killer_items
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.settings import LinkedLimit, SettingGroup
from weld_packets.packet.records.values import Value
from weld_packets.units import Amount
from weld_packets.wording.card import linked_words, more_words, range_words, shortened


@pytest.fixture(scope="module")
def demo(demo_packets: dict[str, Packet]) -> tuple[Packet, ...]:
    return tuple(demo_packets.values())


@pytest.fixture(scope="module")
def operations(demo: tuple[Packet, ...]) -> list[OperationSheet]:
    return [operation for packet in demo for operation in packet.operations]


def test_the_tables_hold_exactly_what_a_set_up_must_record_with_the_same_numbers(
    operations: list[OperationSheet],
) -> None:
    for operation in operations:
        shown = [
            (each.key, each.value.amount.value, each.value.amount.unit, each.robots)
            for table in card_tables(operation)
            for line in table.lines
            for cell in line.cells
            for each in cell
            if each.value.amount
        ]
        required = [(each.key, each.setting, each.unit, each.robots) for each in set_up_form(operation).values]
        assert sorted(shown) == sorted(required), operation.name


def test_the_range_on_the_card_is_the_allowed_one(operations: list[OperationSheet]) -> None:
    for operation in operations:
        ranges = {each.key: (each.low, each.high, each.exact) for each in set_up_form(operation).values}
        for table in card_tables(operation):
            for each in (each for line in table.lines for cell in line.cells for each in cell if each.value.amount):
                low, high, exact = ranges[each.key]
                assert each.allowed == ("" if exact else range_words(low, high))


def test_a_card_holds_two_weld_schedules_and_further_ones_take_a_card_of_their_own(
    operations: list[OperationSheet],
) -> None:
    operation = operations[0]
    groups = tuple(
        operation.groups[0].model_copy(update={"key": f"g{number}", "weld_schedule": str(number)})
        for number in range(1, 6)
    )
    tables = card_tables(operation.model_copy(update={"groups": groups}))
    assert [[group.weld_schedule for group in table.columns] for table in tables] == [["1", "2"], ["3", "4"], ["5"]]
    assert all(len(cell) for table in tables for line in table.lines for cell in line.cells)
    assert COLUMNS == 2


def test_angles_share_a_line_and_a_reading_is_distinguished_from_a_setting(operations: list[OperationSheet]) -> None:
    (table,) = card_tables(operations[0])
    assert [(line.label, line.kind) for line in table.lines] == [
        ("Wire feed speed", "setting"),
        ("Arc voltage", "setting"),
        ("Travel speed", "setting"),
        ("Gas flow", "setting"),
        ("Contact tip to work distance", "setting"),
        ("Work angle / travel angle", "setting"),
        ("Welding current (displayed)", "reading"),
    ]


def test_each_column_says_what_its_coupons_must_show(operations: list[OperationSheet]) -> None:
    assert [text for table in card_tables(operations[0]) for text in table.acceptance] == [
        "throat at least 2.5\N{NO-BREAK SPACE}mm, leg at least 3.54\N{NO-BREAK SPACE}mm",
        "throat at least 2.6\N{NO-BREAK SPACE}mm, leg at least 3.68\N{NO-BREAK SPACE}mm",
    ]
    spots = next(operation for operation in operations if operation.process == "21")
    ((text,),) = (table.acceptance for table in card_tables(spots))
    assert text == "weld diameter at least 4.5\N{NO-BREAK SPACE}mm, target 5.0\N{NO-BREAK SPACE}mm"


def test_welds_without_a_measure_are_judged_by_eye(operations: list[OperationSheet]) -> None:
    group = operations[0].groups[0].model_copy(update={"derived": ()})
    (table,) = card_tables(operations[0].model_copy(update={"groups": (group,)}))
    assert table.acceptance == ("by eye: see Inspection",)


def test_clamps_stand_in_the_order_in_which_they_close_with_what_is_fitted_and_worn(
    operations: list[OperationSheet],
) -> None:
    card = operations[0].card
    assert card.clamps == (
        "K1 cross channels",
        "K2 front rail",
        "K3 back rail",
        "K4 foot plates",
        "K5 lifting tabs",
    )
    assert [(fact.name, fact.value, fact.note) for fact in card.fitted] == [
        ("Wire", "G3Si1-1.2, 1.2\N{NO-BREAK SPACE}mm", ""),
        ("Gas", "CO2, carbon dioxide", ""),
    ]
    assert "a welding mask" in card.worn
    assert card.shade == "filter shade: minimum 10, suggested 12"
    spots = next(operation for operation in operations if operation.process == "21").card
    assert [fact.name for fact in spots.fitted] == ["Electrode caps"]
    assert spots.shade == ""


def linked(low: str, high: str, *, travel: str = "8.8", power: int = 1) -> CardTable:
    """Return a table of one column with feed 4.0 and ``travel``, limited to ``low`` and ``high`` times it."""
    values = [
        Value(key=key, figure=key, label=key, symbol="v", anchor=key, amount=Amount(value=number, unit="x"))
        for key, number in (("wire_feed_speed", "4.0"), ("travel_speed", travel))
    ]
    limit = LinkedLimit(value="travel_speed", other="wire_feed_speed", power=power, minimum=low, maximum=high)
    group = SettingGroup(
        key="g", title="Fillet", name="", robots=("R1",), welds=("T1",), pass_count=1, weld_schedule="24",
        dialled=tuple(values), derived=(), checks=(), linked=(limit,),
    )  # fmt: skip
    return CardTable((group,), ())


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        ("", "2.3358", "Travel at most 2.33 × feed"),
        ("1.9321", "", "Travel at least 1.94 × feed"),
        ("1.9321", "2.3358", "Travel 1.94 to 2.33 × feed"),
        ("", "13267", "Travel at most 13267 × feed"),
    ],
)
def test_a_limit_between_two_settings_is_rounded_into_what_is_allowed(low: str, high: str, words: str) -> None:
    assert linked(low, high).together == words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [("", "2.2004", "Travel at most 2.20 × feed"), ("", "2.2049", "Travel at most 2.2049 × feed")],
)
def test_a_limit_so_near_that_rounding_would_leave_the_setting_is_given_as_it_is_judged(
    low: str, high: str, words: str
) -> None:
    travel = "8.8" if high == "2.2004" else "8.81"
    assert linked(low, high, travel=travel).together == words


def test_equal_limits_are_given_once_and_each_is_named_by_its_weld_schedules(operations: list[OperationSheet]) -> None:
    strips = operations[1]
    assert [table.together for table in card_tables(strips)] == ["21 and 22: travel at most 1.49 × feed"]
    spots = next(operation for operation in operations if operation.process == "21")
    (words,) = (table.together for table in card_tables(spots))
    assert words == "Time × current² 7560 to 13440\N{NO-BREAK SPACE}ms·kA²"


def test_a_card_never_allows_what_the_page_and_the_program_judge_outside(operations: list[OperationSheet]) -> None:
    judged = [(group, limit) for operation in operations for group in operation.groups for limit in group.linked]
    assert len(judged) > len(operations)
    for group, limit in judged:
        words = CardTable((group,), ()).together
        printed = [Decimal(number) for number in re.findall(r"\d+(?:\.\d+)?", words)]
        ends = [Decimal(end) for end in (limit.minimum, limit.maximum) if end]
        assert len(printed) == len(ends), words
        assert not limit.maximum or printed[-1] <= ends[-1]
        assert not limit.minimum or printed[0] >= ends[0]


def test_two_remarks_are_shown_the_operation_s_own_first_and_the_others_are_counted(
    operations: list[OperationSheet],
) -> None:
    operation = operations[0]
    assert card_remarks(operation) == (
        (operation.notes[0], operation.warnings[0].do),
        "2 more: Set up",
    )
    bare: dict[str, Any] = {"notes": (), "warnings": ()}
    assert card_remarks(operation.model_copy(update=bare)) == ((), "")


def test_a_remark_that_another_one_begins_with_is_not_shown_beside_it(operations: list[OperationSheet]) -> None:
    short, long = "Compare the current read.", "Compare the current read. Below it, raise the wire feed."
    bare: dict[str, Any] = {"notes": (short, long, short), "warnings": ()}
    assert card_remarks(operations[0].model_copy(update=bare)) == ((long,), "")


def test_a_long_remark_is_cut_after_a_whole_sentence_and_says_so() -> None:
    long = f"First. Second. {'x' * 120}."
    assert shortened(long) == "First. Second. …"
    assert shortened("First. Second.") == "First. Second."
    assert shortened("x" * 200) == "x" * 200, "one sentence is never cut"
    assert more_words(0, cut=True) == "in full: Set up"
    assert more_words(2, cut=False) == "2 more: Set up"
    assert more_words(0, cut=False) == ""


def test_five_checks_stand_before_anything_welds(operations: list[OperationSheet]) -> None:
    assert [(item.key, item.text) for item in killer_items(operations[0])] == [
        ("programs", "Programs P410A and P410B read back"),
        ("schedules", "Weld schedules 11 and 12 read back, A and B"),
        ("fitted", "Wire and gas as on this card"),
        ("home", "Both robots at home, zones free"),
        ("out", "Everybody out and counted"),
    ]
    plain = operations[0].model_copy(
        update={"groups": tuple(group.model_copy(update={"weld_schedule": ""}) for group in operations[0].groups)}
    )
    assert killer_items(plain)[1].text == "Settings read back, A and B"


def test_settings_of_a_robot_that_welds_nothing_are_not_among_the_checks(operations: list[OperationSheet]) -> None:
    _, second = operations[0].robots
    alone = operations[0].model_copy(
        update={"groups": tuple(group.model_copy(update={"robots": (second,)}) for group in operations[0].groups)}
    )
    assert killer_items(alone)[1].text == "Weld schedules 11 and 12 read back, B"


@pytest.mark.parametrize(
    ("units", "shown"),
    [(("cycles at 60 Hz", "kA"), "cycles·kA²"), (("ms", "kA"), "ms·kA²"), (("ms", "A"), "ms·A²")],
)
def test_a_limit_of_time_and_current_says_in_which_units_it_is(units: tuple[str, str], shown: str) -> None:
    words = linked_words(("weld_time", "weld_current", -2), "697", "853", units)
    assert words == f"time × current² 697 to 853\N{NO-BREAK SPACE}{shown}"
