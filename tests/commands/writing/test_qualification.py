"""Procedure, record and verdict of the demo's operations: on the card, on a page, in lists, and at a release."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.looking_up.wpqr import Report
from weld_packets.commands.shared.sites.all_orders import records_kept
from weld_packets.commands.writing.settings import settings_data
from weld_packets.errors import PacketError, SourceError
from weld_packets.packet.assembly import Earlier, build_packet, operation_views
from weld_packets.packet.operation.card import people_words
from weld_packets.packet.plain_text import settings_lines, warning_lines
from weld_packets.packet.records.operation import OperationSheet, People
from weld_packets.packet.records.order import Packet
from weld_packets.packet.records.qualification import Qualification, qualification_words
from weld_packets.planning.records import OrderPlan
from weld_packets.plant.assembled import Assembling
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import Computed, Orders, open_workspace
from weld_packets.revisions.differences.diff import diff
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.status.release_rules import (
    approval_problems,
    expired_lines,
    expired_records,
    qualification_problems,
    unqualified_people,
)
from weld_packets.revisions.status.status import draft_control
from weld_packets.revisions.store.files import open_archive
from weld_packets.site.pages.all_orders.qualification_page import KeptRecord, QualifiedOperations
from weld_packets.site.pages.all_orders.register_pages import register_pages
from weld_packets.site.pages.order_pages import card_of, plan_draft_site
from weld_packets.site.pages.revision_pages import plan_released_site
from weld_packets.site.pages.revisions.order_history import load_order_history
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import quantity
from weld_packets.wording.qualification import record_dates, record_end

ROOT = Path(__file__).parents[3]
ORDER = "lk-2063-coastal-column"
DAY = date(2026, 12, 1)


@pytest.fixture(scope="module")
def packet(demo_packets: dict[str, Packet]) -> Packet:
    return demo_packets[ORDER]


def spaced(text: str) -> str:
    """Return a text with plain spaces."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


@lru_cache
def planned(order: str) -> tuple[Computed, OrderPlan, Earlier | None]:
    """Return the settings and the plan of an order of the demo, and the order before it."""
    assembling = Assembling(open_workspace(ROOT))
    plan, computed = assembling.assembled(order).plan, assembling._orders.computed(order)
    previous = computed.order.previous_order
    return computed, plan, None if previous is None else assembling._earlier(previous)


def with_tables(workspace: Workspace, order: str = ORDER, **changed: Any) -> Packet:
    """Return the packet of an order by other tables, without pictures; what is changed here sets and plans nothing."""
    computed, plan, earlier = planned(order)
    approved = Orders(replace(workspace, approved=replace(workspace.approved, **changed))).approved
    return build_packet(order, operation_views(computed.order, computed.results, approved), plan, earlier)


def with_plant(workspace: Workspace, **changed: Any) -> Packet:
    return with_tables(workspace, plant=workspace.approved.plant.model_copy(update=changed))


def found_of(operation: OperationSheet) -> Qualification:
    assert operation.qualification is not None
    return Qualification.model_validate_json(spaced(operation.qualification.model_dump_json()))


def changed_record(workspace: Workspace, number: str, **changed: Any) -> Any:
    records = workspace.approved.records
    return tuple(each.model_copy(update=changed) if each.table == number else each for each in records)


@pytest.fixture(scope="module")
def pages(packet: Packet) -> dict[str, str]:
    """Return the pages of the draft."""
    return {page.path: spaced(page.html) for page in plan_draft_site(packet, draft_control(packet)).pages}


def test_other_records_and_people_change_neither_settings_nor_plan(demo_workspace: Workspace) -> None:
    changed = {"records": changed_record(demo_workspace, "WPQR-21-04", withdrawn=DAY), "people": None}
    plant = demo_workspace.approved.plant.model_copy(update={"qualification": "forbid release"})
    other = replace(demo_workspace, approved=replace(demo_workspace.approved, plant=plant, **changed))
    assert Assembling(other).assembled(ORDER).packet == with_tables(demo_workspace, plant=plant, **changed)


def test_the_demo_has_an_operation_inside_one_outside_by_one_variable_and_one_undecided(packet: Packet) -> None:
    assert [found_of(operation).outcome for operation in packet.operations] == [
        "cannot decide", "outside", "inside", "cannot decide"
    ]  # fmt: skip
    beams, carcass = (found_of(operation) for operation in packet.operations[:2])
    assert beams.text == "Cannot decide: 2 welds not decided and 14 welds inside."  # the boss is a tube
    outside = [line for welds in carcass.welds for line in welds.variables if line.outcome != "inside"]
    assert [(line.variable, line.missing) for line in outside] == [("weld current", "weld current 13 kA above 12.4 kA")]
    assert carcass.text == "Outside: 8 welds outside and 44 welds inside."


def test_each_variable_says_what_the_order_has_what_is_covered_and_by_which_rule(packet: Packet) -> None:
    lines = {line.variable: line for line in found_of(packet.operations[0]).welds[0].variables}
    interpass = lines["interpass temperature"]
    assert (interpass.has, interpass.proved) == ("482 °F (250 °C)", "410 °F (210 °C)")
    assert interpass.covers == "at most 500 °F (260 °C)"
    assert interpass.rule == "ISO 15614-1:2017+A1:2019, level 2, 8.4.9"
    assert interpass.certainty == "read in a source"
    assert (lines["throat"].rule, lines["throat"].certainty) == ("as tested", "")


def test_a_rule_that_is_from_memory_says_so_and_what_it_would_be(packet: Packet) -> None:
    lines = {line.variable: line for line in found_of(packet.operations[3]).welds[0].variables}
    assert lines["thickness"].outcome == "cannot decide"
    assert lines["thickness"].missing == "thickness would be covered by a rule that is from memory"
    assert found_of(packet.operations[3]).welds[0].text == (
        "Cannot decide. Nearest record WPQR-135-12: "
        "product tube: the record has plate + plate by a rule that is not read; "
        "thickness and throat would be covered by rules that are from memory."
    )
    assert lines["thickness"].covers == "0.056 in (1.4 mm) to 0.157 in (4 mm)"  # 0.0551 and 0.1575 in


def test_the_nearest_record_is_named_with_what_is_missing(packet: Packet) -> None:
    welds = next(each for each in found_of(packet.operations[1]).welds if each.outcome == "outside")
    assert welds.record == "WPQR-21-06"
    assert welds.text == "Outside. Nearest record WPQR-21-06: weld current 13 kA above 12.4 kA."
    assert welds.others[0].record == "WPQR-21-05"
    assert {other.record for other in welds.others} > {"WPQR-21-04", "WPQR-21-05", "WPQR-21-11"}


def test_a_record_of_a_hand_torch_never_covers_a_robot(demo_workspace: Workspace) -> None:
    records = changed_record(demo_workspace, "WPQR-135-12", mechanisation="partly mechanised")
    found = found_of(with_tables(demo_workspace, records=records).operations[3])
    assert "robot: the record is for a hand torch by a rule that is from memory" in found.welds[0].text


SLEEVES = "lk-2041-service-module"


def test_a_tube_is_compared_by_product_and_outside_diameter(demo_workspace: Workspace) -> None:
    found = found_of(with_tables(demo_workspace, SLEEVES).operations[1])
    lines = [{line.variable: line for line in welds.variables} for welds in found.welds]
    assert [(each["product"].has, each["product"].rule) for each in lines] == [
        ("plate + tube", "as tested"), ("plate + plate", "as tested"), ("plate + tube", "as tested")
    ]  # fmt: skip
    assert [each["outside diameter"].has for each in lines if "outside diameter" in each] == ["30 mm (1.181 in)"] * 2
    assert found.records[0].welded == ("T fillet, S235JRH 2 mm (tube 30 mm) + S235JR 2 mm, automatic")


def test_a_record_that_does_not_state_its_product_decides_nothing_of_a_tube(demo_workspace: Workspace) -> None:
    (record,) = (each for each in demo_workspace.approved.records if each.table == "WPQR-135-23")
    silent = tuple(sheet.model_copy(update={"product": None, "outside_diameter": None}) for sheet in record.sheets)
    records = (record.model_copy(update={"sheets": silent}),)
    welds = found_of(with_tables(demo_workspace, SLEEVES, records=records).operations[1]).welds[0]
    assert welds.text == (
        "Cannot decide. Nearest record WPQR-135-23: not stated by the record: product and outside diameter."
    )


def test_a_record_of_another_diameter_decides_nothing_from_memory(demo_workspace: Workspace) -> None:
    (record,) = (each for each in demo_workspace.approved.records if each.table == "WPQR-135-29")
    other = quantity(20, "mm")
    sheets = tuple(
        sheet.model_copy(update={"outside_diameter": other} if sheet.product == "tube" else {})
        for sheet in record.sheets
    )
    records = (record.model_copy(update={"sheets": sheets}),)
    welds = found_of(with_tables(demo_workspace, "lk-2055-outdoor-column", records=records).operations[1]).welds[1]
    line = {line.variable: line for line in welds.variables}["outside diameter"]
    assert (line.outcome, line.missing) == (
        "cannot decide", "outside diameter would be covered by a rule that is from memory"
    )  # fmt: skip
    assert line.covers == "10 mm (0.394 in) to 40 mm (1.574 in)"  # 0.3937 and 1.5748 in


def test_plates_that_are_tested_cover_no_tube_of_which_they_have_no_diameter(demo_workspace: Workspace) -> None:
    records = tuple(each for each in demo_workspace.approved.records if each.table == "WPQR-135-24")
    welds = found_of(with_tables(demo_workspace, SLEEVES, records=records).operations[1]).welds[0]
    assert welds.text == (
        "Cannot decide. Nearest record WPQR-135-24: "
        "product tube: the record has plate + plate by a rule that is not read."
    )


def test_a_withdrawn_record_covers_nothing(demo_workspace: Workspace) -> None:
    records = changed_record(demo_workspace, "WPQR-21-04", withdrawn=DAY)
    found = found_of(with_tables(demo_workspace, records=records).operations[2])
    assert (found.outcome, found.numbers) == ("outside", ())
    assert found.welds[0].text == "Outside: there is no record of process 21."


def test_a_plant_without_records_goes_on_and_its_pages_say_so(demo_workspace: Workspace) -> None:
    packet = with_tables(demo_workspace, "lk-2041-service-module", records=())
    assert {found_of(operation).outcome for operation in packet.operations} == {None}
    assert qualification_words(packet.operations[0].qualification) == (
        "WPS-135-11; no qualification record is kept here"
    )
    assert list(qualification_problems(packet, DAY)) == []
    assert not [line for line in warning_lines(packet) if "qualification" in line]


def test_the_plant_may_warn_forbid_or_leave_an_order_out(demo_workspace: Workspace, packet: Packet) -> None:
    assert list(qualification_problems(packet, DAY)) == []
    forbidden = with_plant(demo_workspace, qualification="forbid release")
    assert [problem.value for problem in qualification_problems(forbidden, DAY)] == [
        "cannot decide", "outside", "cannot decide"
    ]  # fmt: skip
    left_out = with_plant(demo_workspace, qualification="forbid release", qualification_not_used_for=("LK-2063",))
    assert list(qualification_problems(left_out, DAY)) == []
    assert qualification_words(left_out.operations[0].qualification) == (
        "WPS-135-21; the plant does not use qualification records for this order"
    )


def test_an_expired_record_is_reported_from_the_day_after_and_bars_where_the_plant_forbids(
    demo_workspace: Workspace, packet: Packet
) -> None:
    assert list(expired_records(packet, date(2029, 2, 18))) == []
    assert [problem.value for problem in expired_records(packet, date(2029, 2, 19))] == ["WPQR-135-12"]
    forbidden = with_plant(demo_workspace, qualification="forbid release")
    assert "WPQR-135-12" in [problem.value for problem in qualification_problems(forbidden, date(2029, 2, 19))]


def test_a_record_that_nobody_approved_bars_the_release(demo_workspace: Workspace, packet: Packet) -> None:
    assert list(approval_problems(packet, DAY)) == []
    records = changed_record(demo_workspace, "WPQR-135-12", approved=None)
    problems = approval_problems(with_tables(demo_workspace, records=records), DAY)
    assert [problem.value for problem in problems] == ["WPQR-135-12"]


def test_lists_and_json_carry_procedure_records_and_verdict(packet: Packet) -> None:
    line = "WPS-21-06, WPQR-21-05 and WPQR-21-06: outside"
    assert f"operation 2, Carcass side: qualification: {line}" in warning_lines(packet)
    assert f"  qualification: {line}" in settings_lines(packet)
    found = settings_data(ROOT, ORDER)["operations"][1]["qualification"]
    assert (found["wps"], found["outcome"]) == ("WPS-21-06", "outside")


def test_the_card_leads_to_the_page_with_the_reason(pages: dict[str, str]) -> None:
    assert (
        '<a href="operation-2-qualification.html">WPS-21-06, WPQR-21-05 and WPQR-21-06: outside</a>'
        in (pages["operation-2.html"])
    )
    assert "Weld current 13 kA above 12.4 kA" in pages["operation-2-qualification.html"]


def test_a_release_from_before_is_shown_as_not_recorded_and_gives_no_difference(packet: Packet) -> None:
    before = packet.operations[0].model_copy(update={"qualification": None})
    old = packet.model_copy(update={"operations": (before, *packet.operations[1:])})
    assert diff(old, packet) == ()
    pages = {page.path: spaced(page.html) for page in plan_draft_site(old, draft_control(old)).pages}
    words = "not recorded: this revision was released before qualification was recorded"
    assert words in pages["operation-1.html"]
    assert words[1:] in pages["operation-1-qualification.html"]


def test_a_verdict_that_changes_is_a_difference(demo_workspace: Workspace, packet: Packet) -> None:
    narrower = with_tables(demo_workspace, records=changed_record(demo_workspace, "WPQR-135-07", interpass=None))
    lines = [str(change) for change in diff(packet, narrower)]
    assert any("interpass temperature" in line and "inside -> cannot decide" in line for line in lines), lines


def test_a_record_that_an_order_names_and_nobody_keeps_is_refused_with_its_place(tmp_path: Path) -> None:
    order = copied(tmp_path) / "instructions" / ORDER / "order.yaml"
    text = order.read_text("utf-8").replace("wpqr: [WPQR-21-04]", "wpqr: [WPQR-21-40]")
    order.write_text(text, "utf-8")
    with pytest.raises(SourceError) as caught:
        draft(open_workspace(tmp_path), ORDER)
    problem = caught.value.problems[0]
    assert (problem.key, problem.value) == ("operations[2].wpqr[0]", "WPQR-21-40")
    assert "WPQR-21-04" in problem.remedy


@pytest.fixture(scope="module")
def report() -> Report:
    """Return what there was to say on 29 November 2026, the last day with orders in force that name no record."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("weld_packets.plant.archive.behind_problems", lambda _register, _now: [])  # later ones are here
        patch.setenv("SOURCE_DATE_EPOCH", "1795953600")
        return Report.of(ROOT)


def test_each_record_is_listed_with_its_dates_and_what_rests_on_it(report: Report) -> None:
    lines = [spaced(line) for line in report.record_lines("WPQR-135-12")]
    dates = "tested on 2026-02-18, last used on 2026-10-12, valid until 2029-02-18"
    assert lines == [f"WPQR-135-12 (ISO 15614-1:2017+A1:2019, level 2): {dates}", "  no order rests on it"]
    assert list(report.record_lines("WPQR-21-04"))[1:] == ["  LK-2063 draft, operation 3, Drip tray, due 2027-02-26"]


def test_an_order_that_is_due_after_a_record_ends_is_named_with_it(report: Report) -> None:
    def lines(end: date) -> list[str]:
        record = next(each for each in report.approved.records if each.table == "WPQR-21-04")
        ending = record.model_copy(update={"valid_until": end})
        approved = replace(report.approved, records=(ending,))
        return list(replace(report, approved=approved).record_lines("WPQR-21-04"))[1:]

    place = "  LK-2063 draft, operation 3, Drip tray, due 2027-02-26"
    assert lines(date(2027, 2, 26)) == [place]
    assert lines(date(2027, 2, 25)) == [f"{place}, after the record ends"]


def test_a_record_ends_with_its_withdrawal_or_its_last_day_whichever_is_first(demo_workspace: Workspace) -> None:
    record = next(each for each in demo_workspace.approved.records if each.table == "WPQR-135-12")
    assert record_end(record) == "2029-02-18"
    assert record_end(record.model_copy(update={"withdrawn": DAY})) == "2026-12-01"
    assert record_end(record.model_copy(update={"valid_until": None})) == ""


def test_dates_of_a_record_say_what_they_are_on_the_day(demo_workspace: Workspace) -> None:
    record = next(each for each in demo_workspace.approved.records if each.table == "WPQR-135-12")
    assert "valid until 2029-02-18" in record_dates(record, date(2029, 2, 18))
    assert "expired on 2029-02-18" in record_dates(record, date(2029, 2, 19))
    assert record_dates(record.model_copy(update={"withdrawn": DAY}), DAY).endswith("withdrawn on 2026-12-01")
    assert record_dates(record.model_copy(update={"valid_until": None, "last_used": None}), DAY) == (
        "tested on 2026-02-18, last use not stated, no end of validity stated"
    )


@pytest.mark.parametrize(
    ("day", "required"),
    [
        (date(2027, 10, 12), ""),
        (
            date(2027, 10, 13),
            ", not used for more than 1 year: where EN 1090-2 applies, 7.4.1 asks for a production test",
        ),
        (date(2029, 10, 12), ", not used for more than 1 year: "),
        (
            date(2029, 10, 13),
            ", not used for more than 3 years: where EN 1090-2 applies, 7.4.1 asks for a macro section",
        ),
    ],
)
def test_a_record_that_was_not_used_for_long_says_what_en_1090_2_of_2008_requires(
    demo_workspace: Workspace, day: date, required: str
) -> None:
    """EN 1090-2:2008, 7.4.1, read in an extract: unused for 1 to 3 years, and for more."""
    record = next(each for each in demo_workspace.approved.records if each.table == "WPQR-135-12")
    open_ended = record.model_copy(update={"valid_until": None})
    found = record_dates(open_ended, day).partition("no end of validity stated")[2]
    assert found.startswith(required)
    assert bool(found) == bool(required)
    unused = record_dates(open_ended.model_copy(update={"last_used": None}), date(2027, 2, 19))
    assert "not used for more than 1 year" in unused  # tested on 2026-02-18 and never used since


def test_orders_in_force_from_before_are_listed_as_not_recorded(report: Report) -> None:
    lines = [spaced(line) for line in report.lines()]
    assert any("operation 1, Base frame: not recorded" in line for line in lines)
    assert any("LK-2063 draft, operation 2, Carcass side: Outside" in line for line in lines)


def test_a_draft_that_says_what_a_release_says_is_not_listed_beside_it(report: Report) -> None:
    listed = {(each.order, each.state) for each in report.used}
    assert ("LK-2041", "G, effective from 2026-12-02") in listed
    assert {order for order, state in listed if state == "draft"} == {"LK-2063"}


def test_the_test_piece_that_would_bring_the_most_welds_inside_is_named(report: Report) -> None:
    spots = next(piece for piece in report.pieces if piece.of.case.weld_type == "spot")
    assert [each.name for each in spots.covers] == ["LK-2055, operation 5: A01, A02, A03 … B14 (28)"]
    last = [spaced(line) for line in report.lines()][-4]
    assert last.startswith(
        "test piece that would bring welds of the most drafts inside, 28 welds of 1 order: process 21; "
    )


def test_a_record_that_nobody_keeps_is_refused(report: Report) -> None:
    with pytest.raises(PacketError) as caught:
        list(report.record_lines("WPQR-1"))
    assert "WPQR-135-07" in caught.value.problems[0].remedy


def qualified(slug: str, card: dict[str, Any]) -> QualifiedOperations:
    operations = QualifiedOperations()
    operations.add(slug, card)
    return operations


def test_the_list_of_all_orders_has_a_page_by_record(packet: Packet) -> None:
    card = card_of(packet)
    shown = {
        "order": "LK-2063",
        "revision": "",
        "status": "draft",
        "qualified": [vars(each) for each in card.qualified],
    }
    page = register_pages(Register(()), {}, DAY, qualified("lk-2063", shown))["qualification.html"]
    assert '<details class="use" id="WPQR-21-04">' in page
    assert '<a href="lk-2063/operation-3-qualification.html">3, Drip tray</a>' in page
    uncovered = page[page.index('id="uncovered"') :]
    assert "2, Carcass side" in uncovered
    assert "3, Drip tray" not in uncovered
    pieces = re.findall(r'href="lk-2063/(operation-\d-wps.html)[^"]*">its test pieces</a>', page)
    assert pieces == [f"operation-{number}-wps.html" for number in (1, 2, 4)]


def test_the_card_of_a_site_that_an_earlier_program_built_is_listed(packet: Packet) -> None:
    later = {"wps_page", "due"}
    lines = [{key: of for key, of in vars(each).items() if key not in later} for each in card_of(packet).qualified]
    card = {"order": "LK-2063", "revision": "", "status": "draft", "qualified": lines}
    page = register_pages(Register(()), {}, DAY, qualified("lk-2063", card))["qualification.html"]
    assert 'href="lk-2063/operation-3-qualification.html"' in page


def test_a_revision_to_come_is_listed_beside_the_one_in_force_and_a_superseded_one_is_not() -> None:
    history = load_order_history(open_archive(ROOT / "instructions"), "lk-2041-service-module", date(2026, 11, 29))
    assert history is not None
    plan = plan_released_site(history)
    states = {(each.state, each.page.partition("/")[0]) for each in plan.card.qualified if each.operation[0] == "1"}
    assert states == {
        ("", "operation-1-qualification.html"),
        ("Rev E, not yet in force, from 2026-11-30", "rev-e"),
        ("Rev F, not yet in force, from 2026-12-01", "rev-f"),
        ("Rev G, not yet in force, from 2026-12-02", "rev-g"),
    }
    assert {page.path for page in plan.pages} >= {each.page for each in plan.card.qualified}
    card = {"order": "LK-2041", "revision": "D", "status": "in force"}
    card["qualified"] = [vars(each) for each in plan.card.qualified]  # type: ignore[assignment]
    page = register_pages(Register(()), {}, DAY, qualified("lk-2041", card))["qualification.html"]
    section = page[page.index('id="WPQR-135-21"') :]
    line = section[: section.index("</details>")]
    assert "<td>Rev E, not yet in force, from 2026-11-30</td>" in line
    assert 'href="lk-2041/rev-e/operation-1-qualification.html"' in line
    assert "<td>Rev D, in force</td>" in page[page.index('id="uncovered"') :]  # D names no record
    assert "its test pieces" not in page  # what was not recorded has none


def test_the_page_lists_records_that_no_order_uses_and_orders_due_after_the_end_of_one(packet: Packet) -> None:
    shown = {
        "order": "LK-2063",
        "revision": "",
        "status": "draft",
        "qualified": [vars(each) for each in card_of(packet).qualified],
    }
    kept = (
        KeptRecord("WPQR-21-04", "ISO 15614-12:2014", "tested on 2026-03-04", "2027-02-25"),
        KeptRecord("WPQR-99", "ISO 15614-1:2017", "tested on 2026-03-04", ""),
        KeptRecord("WPQR-135-12", "ISO 15614-1:2017", "tested on 2026-02-18", "2029-02-18"),
    )

    def page(records: tuple[KeptRecord, ...] | None) -> str:
        return register_pages(Register(()), {}, DAY, qualified("lk-2063", shown), records)["qualification.html"]

    unused = page(kept)[page(kept).index('id="WPQR-99"') :]
    assert unused.index("No operation rests on it</span>") < unused.index("</details>")
    assert "Compared with" not in unused
    nearest = page(kept)[page(kept).index('id="WPQR-135-12"') :].partition("</details>")[0]
    assert "No operation rests on it <small>valid until 2029-02-18</small></span>" in nearest
    assert "Compared with these operations, and not known to cover a weld of theirs: <a href=" in nearest
    assert "LK-2063, draft, operation 4, " in nearest
    assert "2027-02-26 <b>after the record ends</b>" in page(kept)
    assert page(kept).count("<b>An order is due after that</b>") == 1
    later = (KeptRecord("WPQR-21-04", "ISO 15614-12:2014", "tested on 2026-03-04", "2027-02-26"),)
    assert "An order is due after that" not in page(later)
    assert "cannot be read" not in page(kept)
    unread = page(None)
    assert "cannot be read" in unread
    assert 'id="WPQR-21-04"' in unread
    assert "WPQR-99" not in unread


def test_the_records_of_a_plant_are_read_without_its_other_tables(tmp_path: Path) -> None:
    for name in ("wpqr_21_04.yaml", "wpqr_135_12.yaml"):
        (tmp_path / "tables").mkdir(exist_ok=True)
        shutil.copy(ROOT / "tables" / name, tmp_path / "tables" / name)
    (tmp_path / "tables" / "other.yaml").write_text("kind: nonsense\n", "utf-8")
    found = records_kept(tmp_path, DAY)
    assert found is not None
    assert [(each.number, each.end) for each in found] == [("WPQR-135-12", "2029-02-18"), ("WPQR-21-04", "")]
    (tmp_path / "tables" / "bad.yaml").write_text("kind: qualification record\n", "utf-8")
    assert records_kept(tmp_path, DAY) is None


def people_of(operation: OperationSheet) -> People:
    assert operation.people is not None
    return operation.people


def test_the_work_names_the_qualification_that_it_needs_and_who_holds_it(packet: Packet) -> None:
    beams, carcass, _, spout = (people_of(operation) for operation in packet.operations)
    assert beams.needs == "ISO 14732:2013, process 135, several passes"
    assert [holder.number for holder in beams.holders] == ["W-014"]  # tested on one pass, W-022 may not
    assert [holder.number for holder in spout.holders] == ["W-014", "W-022"]
    assert people_words(carcass) == "ISO 14732:2013, process 21: W-031 and W-033"


def test_a_qualification_ends_with_its_last_day(packet: Packet) -> None:
    beams = people_of(packet.operations[0])
    assert [holder.number for holder in beams.valid_on("2027-03-10", "setter")] == ["W-014"]
    assert beams.valid_on("2027-03-11", "setter") == ()
    assert list(unqualified_people(packet, date(2027, 3, 10))) == []
    late = [problem.message for problem in unqualified_people(packet, date(2027, 3, 11))]
    assert late == [
        "operation 1, Anchor beams: no setter holds ISO 14732:2013, process 135, several passes on 2027-03-11",
        "operation 1, Anchor beams: no operator holds ISO 14732:2013, process 135, several passes on 2027-03-11",
        "operation 4, Spout plate: no setter holds ISO 14732:2013, process 135 on 2027-03-11",
    ]


def test_a_qualification_of_another_cell_does_not_count(demo_workspace: Workspace) -> None:
    table = demo_workspace.approved.people
    assert table is not None
    elsewhere = tuple(entry.model_copy(update={"cells": ("C1",)}) for entry in table.entries)
    packet = with_tables(demo_workspace, people=table.model_copy(update={"entries": elsewhere}))
    assert [len(people_of(operation).holders) for operation in packet.operations] == [0, 0, 0, 0]


def test_a_plant_that_keeps_no_people_says_what_is_needed_and_nothing_is_reported(demo_workspace: Workspace) -> None:
    packet = with_tables(demo_workspace, people=None)
    assert people_words(packet.operations[0].people) == "ISO 14732, process 135, several passes"
    assert list(unqualified_people(packet, DAY)) == []
    assert people_words(None) == ""


def test_card_and_page_show_the_people_with_the_day_that_a_script_compares(pages: dict[str, str]) -> None:
    assert "ISO 14732:2013, process 135, several passes: W-014" in pages["operation-1.html"]
    assert (
        '<td data-name="Valid until" data-valid-until="2027-03-10">2027-03-10</td>'
        in pages["operation-1-qualification.html"]
    )
    assert '<b hidden data-expired-after="2027-03-10">W-014 EXPIRED.</b>' in pages["operation-1.html"]


def test_the_setter_names_a_qualification_where_the_set_up_is_noted(
    pages: dict[str, str], demo_workspace: Workspace
) -> None:
    named = '<option value="W-031" data-until="2027-10-13">W-031, valid until 2027-10-13</option>'
    for page in ("operation-2-set-up.html", "operation-2-record.html"):
        assert named in pages[page]
        assert "W-033" not in pages[page]  # an operator
    table = demo_workspace.approved.people
    assert table is not None
    nobody = with_tables(demo_workspace, people=table.model_copy(update={"entries": table.entries[-1:]}))
    without = {page.path: spaced(page.html) for page in plan_draft_site(nobody, draft_control(nobody)).pages}
    assert "<b>No setter is listed with it:</b> call " in without["operation-2-set-up.html"]


def test_what_has_expired_is_said_before_a_release_in_lines(packet: Packet) -> None:
    assert list(expired_lines(packet, date(2027, 3, 10))) == []
    (line, *_) = expired_lines(packet, date(2027, 3, 11))
    assert line.startswith("people: operation 1, Anchor beams: no setter holds")


def test_the_report_lists_everybody_with_the_last_day(report: Report) -> None:
    assert "W-033 (operator, process 21): valid until 2027-02-07" in list(report.lines())


SAMPLES = """table: samples
kind: sample sizes
title: Sample sizes
source: plant rule QR-9
revision: A
entries: [{id: any, checks: [spot-teardown], parts: 2}]
"""


def copied(to: Path) -> Path:
    """Copy the sources of the demo without its records."""
    for name in ("instructions", "tables"):
        shutil.copytree(ROOT / name, to / name, ignore=shutil.ignore_patterns("released", "set-ups", "register*"))
    return to


def test_the_plan_counts_the_parts_of_a_sample_and_they_fall_due_in_the_run(tmp_path: Path) -> None:
    (copied(tmp_path) / "tables" / "samples.yaml").write_text(SAMPLES, "utf-8")
    packet = draft(open_workspace(tmp_path), ORDER)
    quantity = packet.head.quantity
    of_spots = [line.sample for line in packet.inspections if line.what == "Teardown of one part"]
    half = (quantity + 1) // 2
    assert of_spots == [f"2 of {quantity} parts, after parts {half} and {quantity} (table samples, row any)"] * 2
    due = [event.part_number for event in packet.run.events if event.what == "Inspect: teardown of one part"]
    assert due == [half, half, quantity, quantity]
    assert [event.part_number for event in packet.run.events] == sorted(e.part_number for e in packet.run.events)
    assert [use.rows for use in packet.tables if use.table == "samples"] == [("any",)]
    pages = {page.path: page.html for page in plan_draft_site(packet, draft_control(packet)).pages}
    assert f"<b>2 of {quantity} parts" in pages["inspection.html"]


def test_a_sample_of_a_check_that_nobody_makes_in_a_run_is_refused_with_its_place(tmp_path: Path) -> None:
    text = SAMPLES.replace("spot-teardown", "spot-peel")
    (copied(tmp_path) / "tables" / "samples.yaml").write_text(text, "utf-8")
    with pytest.raises(SourceError) as caught:
        open_workspace(tmp_path)
    (problem,) = caught.value.problems
    assert (problem.file, problem.line, problem.value) == ("tables/samples.yaml", 6, "spot-peel")


def test_a_second_table_of_people_is_refused_and_a_second_record_is_not(tmp_path: Path) -> None:
    people = copied(tmp_path) / "tables" / "people.yaml"
    more = people.read_text("utf-8").replace("table: people", "table: more-people")
    people.with_name("people_more.yaml").write_text(more, "utf-8")
    with pytest.raises(SourceError) as caught:
        open_workspace(tmp_path)
    (problem,) = caught.value.problems
    assert problem.message == "tables/people.yaml is already the table of this kind"


def test_the_order_leads_to_procedure_record_and_verdict_of_each_operation_and_to_its_sources(packet: Packet) -> None:
    (page,) = (each for each in plan_draft_site(packet, draft_control(packet)).pages if each.path == "index.html")
    html = spaced(page.html)
    for number, said in (
        (1, "Anchor beams</a>: WPS-135-21, WPQR-135-07 and 2 more: cannot decide"),
        (2, "Carcass side</a>: WPS-21-06, WPQR-21-05 and WPQR-21-06: outside"),
        (3, "Drip tray</a>: WPS-21-04, WPQR-21-04: inside"),
    ):
        assert f'<a href="operation-{number}-qualification.html">{number}, {said}' in html
    assert '<a class="key" href="sources.html">Sources</a>' in html


def test_the_changeover_leads_to_the_steps_of_each_cell(packet: Packet) -> None:
    """Cells that were not used before have one stage; those that are left begin with what the order before leaves."""
    (page,) = (each for each in plan_draft_site(packet, draft_control(packet)).pages if each.path == "changeover.html")
    keys = re.findall(r'<a class="key" href="#([^"]+)">', page.html)
    own = {operation.cell for operation in packet.operations}
    assert {key for key in keys if "-" not in key} == own
    assert {key for key in keys if "-" in key} == {f"C{number}-before" for number in (1, 2, 5, 6, 7)}
    assert [key for key in keys if f'id="{key}"' not in page.html] == []
