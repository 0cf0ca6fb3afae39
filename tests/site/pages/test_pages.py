"""What a reader finds on the pages of a packet, and in which order."""

from __future__ import annotations

import html
import json
import re

import pytest
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.operation import CouponProgram
from weld_packets.packet.records.order import ConsumableLine, Control, FittedAtEnd, Packet, RunEvent, RunRule
from weld_packets.packet.records.settings import Check
from weld_packets.packet.records.steps import Procedure
from weld_packets.packet.records.values import Fact
from weld_packets.revisions.status.status import draft_control
from weld_packets.site.pages.device_data import form_data
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.site_plan import PageFragment, SitePlan
from weld_packets.units import Amount

OPERATION_PAGES = (
    "",
    "-read-back",
    "-set-up",
    "-prove-out",
    "-map",
    "-troubleshooting",
    "-details",
    "-calculations",
    "-qualification",
    "-wps",
    "-record",
)


@pytest.fixture
def plan(packet: Packet, control: Control) -> SitePlan:
    return plan_draft_site(packet, control)


def page(plan: SitePlan, path: str) -> PageFragment:
    return next(one for one in plan.pages if one.path == path)


def words(markup: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", markup)))


def test_pages_stand_in_the_order_of_the_work(plan: SitePlan) -> None:
    assert [one.path for one in plan.pages] == [
        "index.html",
        "changeover.html",
        "safety.html",
        *(f"operation-1{page}.html" for page in OPERATION_PAGES),
        *(f"operation-2{page}.html" for page in OPERATION_PAGES),
        "start.html",
        "run.html",
        "inspection.html",
        "run-calculations.html",
        "sources.html",
        "packet.html",
    ]


def test_an_operation_s_pages_are_one_group_that_its_card_leads(plan: SitePlan) -> None:
    group = [one for one in plan.pages if one.group == "Operation 1: Front panel"]
    assert [one.nav_title for one in group] == [
        "Setter's card",
        "Read-back",
        "Set up",
        "Prove-out",
        "Weld map",
        "Troubleshooting",
        "Programs and welding details",
        "Calculations",
        "Procedure and qualification",
        "Procedure specification (WPS)",
        "Set-up record",
    ]


def test_the_bar_of_an_operation_leads_to_what_is_used_at_the_cell_and_never_to_the_page_itself(plan: SitePlan) -> None:
    for name in OPERATION_PAGES:
        one = page(plan, f"operation-1{name}.html")
        led = [key.href for key in one.bar]
        assert one.path not in led
        assert len(led) == len(set(led)) == 4, "and one more to all orders"
        assert name == "" or "operation-1.html" in led, "the card is one tap away"


def test_the_bar_of_the_run_leads_to_start_and_to_what_is_due_next(plan: SitePlan) -> None:
    assert [key.href for key in page(plan, "run.html").bar] == ["start.html", "#run-next"]


def test_the_set_up_page_shows_what_to_confirm_before_anything_to_set_or_move(plan: SitePlan) -> None:
    ticked = re.findall(r'data-step="([^"]*)"', page(plan, "operation-1-set-up.html").html)
    assert ticked == ["plate", "fixture", "lock", "caps", "coolant", "program"]


def test_a_stage_says_mode_lock_gate_and_key_in_words(plan: SitePlan) -> None:
    shown = words(page(plan, "operation-1-set-up.html").html)
    assert "Stage 1 of 1 Inside, energy on Mode manual Lock off Gate open Key in switch" in shown


def test_a_setting_shows_value_range_and_second_unit_and_its_name_leads_to_its_calculation(plan: SitePlan) -> None:
    operation = page(plan, "operation-1.html").html
    force = operation[
        operation.index('operation-1-calculations.html#operation-1-force"') : operation.index("set-operation-1-time")
    ]
    assert words(force).split(">")[1].startswith("Electrode force 2.6 kN 585 lbf 2.4 to 2.9")


def test_a_safety_message_is_before_the_step_that_it_concerns(plan: SitePlan) -> None:
    operation = page(plan, "operation-1-set-up.html").html
    assert operation.index("The gun closes with 2.6 kN.", operation.index("operation-1-setup")) < operation.index(
        "Lock the gun&#39;s energy off."
    )


def test_a_figure_that_no_method_gives_says_so_instead(plan: SitePlan) -> None:
    assert "No value: outside the method: t below 3 mm" in words(page(plan, "operation-1-calculations.html").html)


def test_a_figure_shows_table_rows_formula_numbers_clause_and_standing(plan: SitePlan) -> None:
    figures = words(page(plan, "operation-1-calculations.html").html)
    assert "Table spot-lc , revision 4, column current, at 1.2 mm; rows 1.0 mm and 1.5 mm with 7.9 and 9.2" in figures
    assert "interpolated at 0.400 of the interval" in figures
    assert "ISO 14373:2015, 5.2 (from memory) . Valid: t 0.5 to 3 mm" in figures.replace(")", ") ").replace("  ", " ")


def test_what_stays_and_what_changes_are_distinguished_in_words(plan: SitePlan) -> None:
    lines = words(page(plan, "changeover.html").html)
    assert "Cell C1 Change Before After Program of R11 2001 2041 Welding current 7.6 kA 8.4 kA" in lines
    assert "Stays. Electrode caps: F-16 ." in lines
    assert "Nothing changes in this cell" not in lines


def test_a_cell_in_which_nothing_changes_says_so_first(packet: Packet, control: Control) -> None:
    assert packet.changeover is not None
    staying = tuple(line for line in packet.changeover.lines if line.stays)
    changeover = packet.changeover.model_copy(update={"lines": staying})
    plan = plan_draft_site(packet.model_copy(update={"changeover": changeover}), control)
    assert "Nothing changes in this cell. Stays. Electrode caps" in words(page(plan, "changeover.html").html)


def test_cells_that_come_into_use_or_go_out_of_it_share_one_table(demo_packets: dict[str, Packet]) -> None:
    packet = demo_packets["lk-2063-coastal-column"]
    lines = words(page(plan_draft_site(packet, draft_control(packet)), "changeover.html").html)
    assert "go out of use Cell Before After C1 Base frame not used C2 Foot strips not used C3 not used Anchor" in lines
    assert lines.count("Before After") == 1


def test_the_changeover_leads_to_every_cell_that_it_has_steps_for(demo_packets: dict[str, Packet]) -> None:
    """Cells that the order does not use have steps too: what they have of the order before is taken out."""
    for packet in demo_packets.values():
        if packet.changeover is None or not packet.changeover.stages:
            continue
        places = [stage.place for stage in packet.changeover.stages if stage.mode]
        plan = plan_draft_site(packet, draft_control(packet))
        found = re.findall(r'<a class="key" href="#([^"]+)">(C\d+)</a>', page(plan, "changeover.html").html)
        firsts = {next(stage.key for stage in packet.changeover.stages if stage.place == place) for place in places}
        assert firsts <= {anchor for anchor, _ in found}
        assert [cell for _, cell in found] == sorted({cell for _, cell in found})


def test_each_operation_s_checks_stand_together_and_are_led_to(plan: SitePlan, packet: Packet) -> None:
    markup = page(plan, "inspection.html").html
    assert packet.inspections
    for operation in packet.operations:
        [found] = re.findall(rf'<h2 id="checks-{operation.key}">(.*?)</tbody>', markup, re.DOTALL)
        own = [line.what for line in packet.inspections if line.operation == operation.key]
        assert re.findall(r'<th scope="row"><small>[^<]*</small> <b>([^<]*)</b>', found) == own
        assert f'href="#checks-{operation.key}">{operation.number}: {operation.name}</a>' in markup
        assert f'href="inspection.html#checks-{operation.key}"' in page(plan, f"operation-{operation.number}.html").html


def test_an_order_without_a_previous_one_says_to_take_all_as_new(packet: Packet, control: Control) -> None:
    plan = plan_draft_site(packet.model_copy(update={"changeover": None}), control)
    assert "Take every setting as new" in words(page(plan, "changeover.html").html)


def test_every_search_entry_leads_to_a_place_on_its_page(plan: SitePlan) -> None:
    for one in plan.pages:
        for entry in one.search:
            assert not entry.anchor or f'id="{entry.anchor}"' in one.html, (one.path, entry)


@pytest.mark.parametrize(
    ("control", "detail"),
    [
        (Control(revision="A", status="superseded", superseded_by="B", digest="0"), ("superseded by B",)),
        (
            Control(revision="B", status="in force", effective_from="2026-11-20", approver="Lead", digest="0"),
            ("from 2026-11-20", "approved by Lead"),
        ),
        (Control(revision="", status="draft", digest="0"), ()),
    ],
)
def test_the_stamp_shows_status_and_authority(packet: Packet, control: Control, detail: tuple[str, ...]) -> None:
    stamp = plan_draft_site(packet, control).stamp
    assert (stamp.revision, stamp.status, stamp.detail) == (control.revision, control.status, detail)


def test_every_cell_is_started_by_a_list_of_its_own(packet: Packet, control: Control) -> None:
    plan = plan_draft_site(packet, control)
    start = next(page.html for page in plan.pages if page.path == "start.html")
    cells = sorted({operation.cell for operation in packet.operations})
    assert [f"Cell {cell}:" in start for cell in cells] == [True] * len(cells)
    assert start.count("-list-tally") == 2 * len(cells)


def with_coupons(packet: Packet, *schedules: str) -> Packet:
    coupons = tuple(
        CouponProgram(robot="R11", weld_schedule=number, program=f"T{number or 1}", welds="Stack k1")
        for number in schedules
    )
    operation = packet.operations[0].model_copy(update={"coupon_programs": coupons})
    return packet.model_copy(update={"operations": (operation, *packet.operations[1:])})


def test_coupon_programs_are_listed_with_the_weld_schedule_that_each_calls(packet: Packet, control: Control) -> None:
    shown = words(page(plan_draft_site(with_coupons(packet, "7", "8"), control), "operation-1-details.html").html)
    assert "Coupon program On Weld schedule Proves T7 R11 7 Stack k1 T8 R11 8 Stack k1" in shown


def test_a_coupon_program_of_welds_without_a_number_says_so(packet: Packet, control: Control) -> None:
    shown = words(page(plan_draft_site(with_coupons(packet, ""), control), "operation-1-details.html").html)
    assert "T1 R11 without a number Stack k1" in shown


def test_coupon_programs_are_found_by_their_number(packet: Packet, control: Control) -> None:
    entries = page(plan_draft_site(with_coupons(packet, "7"), control), "operation-1-details.html").search
    assert any("R11 coupon program T7" in entry.text for entry in entries)


def test_the_card_of_an_order_keeps_what_its_programs_are_used_for(packet: Packet, control: Control) -> None:
    uses = plan_draft_site(with_coupons(packet, "7"), control).card.programs
    assert [(use.robot, use.program, use.coupon) for use in uses][:3] == [
        ("R11", "2041", False),
        ("R12", "2042", False),
        ("R11", "T7", True),
    ]


def with_run(packet: Packet, **changed: object) -> Packet:
    return packet.model_copy(update={"run": packet.run.model_copy(update=changed)})


def event(packet: Packet, **changed: object) -> RunEvent:
    return packet.run.events[0].model_copy(update=changed)


@pytest.fixture
def scheduled(packet: Packet) -> Packet:
    """The packet with a rule, and with changes before, during and after parts."""
    rule = RunRule(
        operation="operation-1",
        operation_name="Front panel",
        cell="C1",
        robots=("R11", "R12"),
        text="R11 and R12: dress both caps every 20 parts, the first time in the prove-out",
        basis="20 welds a part",
    )
    events = (
        event(packet, part_number=0, what="Change the wire spool"),
        event(packet, part_number=7, what="Change the contact tip", when="during"),
        event(packet, part_number=7, what="Change the gas cylinder"),
        event(packet, part_number=53, what="Change both caps", robot="R11 and R12", basis="20 welds a part"),
    )
    return with_run(packet, rules=(rule,), events=events, events_note="Calculated counts.")


def test_the_emergency_stop_has_conditions_of_its_own_before_those_of_a_cycle_stop(
    packet: Packet, control: Control
) -> None:
    stopping = packet.model_copy(update={"emergency_if": ("Anyone is inside.",), "stop_if": ("Water leaks.",)})
    run = words(page(plan_draft_site(stopping, control), "run.html").html)
    assert "Press the EMERGENCY STOP if: Anyone is inside. Then follow After an emergency stop or a collision" in run
    assert run.index("Anyone is inside.") < run.index("Stop the cell with cycle stop and call")
    earlier = words(page(plan_draft_site(packet.model_copy(update={"stop_if": ("All.",)}), control), "run.html").html)
    assert "EMERGENCY STOP if" not in earlier
    assert "cycle stop and call" not in earlier


def test_a_leak_and_a_power_failure_lead_from_run_and_troubleshooting_to_their_lists(
    packet: Packet, control: Control
) -> None:
    lists = tuple(Procedure(key=key, title=key, where="", when="", steps=()) for key in ("go-in", "failure", "power"))
    stopping = packet.model_copy(update={"stop_if": ("Water leaks.",), "procedures": lists})
    for path in ("run.html", "operation-1-troubleshooting.html"):
        found = page(plan_draft_site(stopping, control), path).html
        assert 'href="going-in.html#list-failure"' in found
        assert 'href="going-in.html#list-power"' in found
        earlier = page(plan_draft_site(packet.model_copy(update={"stop_if": ("Water leaks.",)}), control), path).html
        assert "list-failure" not in earlier


def test_the_run_says_what_becomes_of_it_where_its_revision_ends(packet: Packet, control: Control) -> None:
    found = page(plan_draft_site(packet, control), "run.html").html
    text = words(found)
    wanted = ["Stop each cell that runs by it with cycle stop", "Write down the part count", "Mark and set aside",
              f"Call {packet.head.call}", "End the run and save its record", "Go on only by the revision"]  # fmt: skip
    assert [text.index(each) for each in wanted] == sorted(text.index(each) for each in wanted)
    assert '<details class="procedure" id="run-ends" data-print-open>' in found
    whole = words(page(plan_draft_site(packet, control), "packet.html").html)
    assert "If this revision is withdrawn or superseded while it runs: Stop each cell" in whole


def test_the_run_record_on_paper_keeps_the_part_counts_of_operations_of_one_cell_apart(
    packet: Packet, control: Control
) -> None:
    first, second = packet.operations
    apart = packet.model_copy(update={"operations": (first, second.model_copy(update={"cell": "C9"}))})
    for of, counters in ((packet, ["C1, operation 1", "C1, operation 2"]), (apart, ["C1", "C9"])):
        text = words(page(plan_draft_site(of, control), "packet.html").html)
        assert re.findall(r"(\S+(?:, operation \d)?) part count date", text) == sorted(2 * counters)


def test_a_changed_setting_asks_for_a_coupon_before_the_next_part(packet: Packet, control: Control) -> None:
    text = words(page(plan_draft_site(packet, control), "operation-1-troubleshooting.html").html)
    assert "After any change of a setting, weld and test a coupon before you make the next part." in text


def test_who_seeks_a_fault_inside_the_fence_is_led_to_the_lists_first(packet: Packet, control: Control) -> None:
    lists = (Procedure(key="go-in", title="Go in and lock out", where="", when="", steps=()),)
    ruled = packet.model_copy(update={"procedures": lists})
    found = page(plan_draft_site(ruled, control), "operation-1-troubleshooting.html")
    text = words(found.html)
    assert text.index("Before you touch wire, torch, gun, caps or gas: Go in and lock out") < text.index("Within the")
    assert 'href="going-in.html#list-go-in"' in found.html
    earlier = page(plan_draft_site(packet, control), "operation-1-troubleshooting.html")
    assert "Inside the fence" not in words(earlier.html)


def test_changes_are_listed_by_part_count_under_the_rule_of_what_recurs(scheduled: Packet, control: Control) -> None:
    run = words(page(plan_draft_site(scheduled, control), "run.html").html)
    assert (
        "Change and dress schedule by part count Calculated counts. "
        "R11 and R12: dress both caps every 20 parts, the first time in the prove-out When What is due "
        "in the prove-out Front panel, R11: Change the wire spool "
        "while part 7 is welded Front panel, R11: Change the contact tip "
        "after 7 parts Front panel, R11: Change the gas cylinder "
        "after 53 parts Front panel, R11 and R12: Change both caps Why at this count"
    ) in run


def test_a_rule_and_the_changes_that_rest_on_the_same_are_explained_once(scheduled: Packet, control: Control) -> None:
    run = words(page(plan_draft_site(scheduled, control), "run.html").html)
    assert run.count("Front panel, R11 and R12: 20 welds a part") == 1


def test_a_rule_alone_needs_no_list(scheduled: Packet, control: Control) -> None:
    run = words(page(plan_draft_site(with_run(scheduled, events=()), control), "run.html").html)
    assert "every 20 parts, the first time in the prove-out Why at this count" in run


def test_the_first_page_names_rules_and_first_changes(scheduled: Packet, control: Control) -> None:
    glance = words(page(plan_draft_site(scheduled, control), "index.html").html)
    assert "First changes due: R11 and R12: dress both caps every 20 parts, the first time in the prove-out" in glance
    assert "in the prove-out : Front panel, R11: Change the wire spool" in glance


def test_a_consumable_says_what_is_fitted_before_the_first_part(packet: Packet, control: Control) -> None:
    line = ConsumableLine(
        operation="operation-1", operation_name="Front panel", cell="C1", robots=("R11",), what="Wire",
        per_part=Amount(value="0.02", unit="kg"), over_run=Amount(value="2", unit="kg"), due=(), anchor="use-wire",
        start="11.7 kg of 15 kg used at the end of W-9 revision D",
    )  # fmt: skip
    run = words(page(plan_draft_site(with_run(packet, consumables=(line,)), control), "run.html").html)
    assert "None in this order Before the first part: 11.7 kg of 15 kg used at the end of W-9 revision D" in run
    old = line.model_copy(update={"start": ""})
    assert (
        "Before the first part"
        not in page(plan_draft_site(with_run(packet, consumables=(old,)), control), "run.html").html
    )


def test_what_all_consumables_start_from_is_said_once(packet: Packet, control: Control) -> None:
    new = ConsumableLine(
        operation="operation-1", operation_name="Front panel", cell="C1", robots=("R11",), what="Wire",
        per_part=Amount(value="0.02", unit="kg"), over_run=Amount(value="2", unit="kg"), due=(), anchor="use-wire",
        start="new",
    )  # fmt: skip
    used = new.model_copy(update={"what": "Gas", "start": "7600 l left"})
    for lines, count in (((new, new), 1), ((new, used), 2), ((used,), 1)):
        shown = with_run(packet, consumables=lines)
        for name in ("run.html", "packet.html"):
            found = words(page(plan_draft_site(shown, control), name).html)
            assert found.count("Before the first part") == count, name


def test_the_calculations_of_the_run_end_with_what_it_leaves(packet: Packet, control: Control) -> None:
    left = (
        FittedAtEnd(
            place="R11", what="Electrode caps", item="cap-16", used="9/50", share="18 %", dressings=27, order="W-1"
        ),
        FittedAtEnd(
            place="C9", what="Gas", item="M21", used="1/2", share="50 %", dressings=0, order="W-0", revision="B"
        ),
    )
    run = words(page(plan_draft_site(with_run(packet, fitted_at_end=left), control), "run-calculations.html").html)
    assert "R11 Electrode caps cap-16 18 % 27 dressings W-1 C9 Gas M21 50 % W-0 revision B" in run
    assert "Fitted after the last part" not in page(plan_draft_site(packet, control), "run-calculations.html").html


def test_an_operation_s_page_hands_the_form_to_its_scripts(packet: Packet, control: Control, plan: SitePlan) -> None:
    for name in ("", "-set-up", "-prove-out", "-read-back", "-record"):
        assert '<script src="operation-1-form.js"></script>' in page(plan, f"operation-1{name}.html").html
    card = page(plan, "operation-1.html")
    assert card.data_path == "operation-1-form.js"
    data = json.loads(card.data.removeprefix("window.packetForm = "))
    operation = packet.operations[0]
    assert (data["slug"], data["operation"], data["cell"]) == (packet.head.slug, operation.number, operation.cell)
    assert (data["revision"], data["status"]) == (control.revision, control.status)
    assert {value["key"] for value in data["values"]} == {
        f"{group.key}/{value.key}" for group in operation.groups for value in group.dialled
    }
    assert SetUpForm.model_validate({name: data[name] for name in SetUpForm.model_fields}) == set_up_form(operation)


def test_a_text_of_the_order_cannot_end_the_script_of_data(packet: Packet, control: Control) -> None:
    nasty = "</script><script>alert(1)</script>"
    first = packet.operations[0].model_copy(update={"name": nasty})
    data = form_data(packet.model_copy(update={"operations": (first,)}), control, first, set_up_form(first))
    assert "</script" not in data
    assert json.loads(data.removeprefix("window.packetForm = "))["operation_name"] == nasty


def test_sources_print_a_formula_as_a_calculation_does_and_leave_a_limit_in_words(
    packet: Packet, control: Control
) -> None:
    formulas = (Fact(name="heat input", value="Q = k * U"), Fact(name="limit", value="spacing = as the table <says>"))
    found = page(plan_draft_site(packet.model_copy(update={"formulas": formulas}), control), "sources.html").html
    assert (
        '<dt>Heat input</dt><dd tabindex="0"><math display="block"><mi>Q</mi><mo>=</mo><mi>k</mi><mo>·</mo><mi>U</mi>'
        in found
    )
    assert '<dd tabindex="0">spacing = as the table &lt;says&gt; <small>' in found


def test_the_first_page_names_the_previous_order_by_its_number(packet: Packet, control: Control) -> None:
    assert packet.changeover is not None
    head = packet.head.model_copy(update={"previous_order": "name-of-the-folder"})
    found = page(plan_draft_site(packet.model_copy(update={"head": head}), control), "index.html")
    assert f"<dt>Previous order</dt><dd>{packet.changeover.previous_order}</dd>" in found.html
    assert "name-of-the-folder" not in found.html + "".join(entry.text for entry in found.search)


def test_what_to_do_about_a_check_follows_a_full_stop(packet: Packet, control: Control) -> None:
    operation = packet.operations[0]
    check = Check(subject="stack s1", text="two of three", outcome="not checked", source="chart", do="Peel it.")
    group = operation.groups[0].model_copy(update={"checks": (check,)})
    changed = operation.model_copy(update={"groups": (group,), "checks": (check,)})
    other = packet.model_copy(update={"operations": (changed, *packet.operations[1:])})
    sheets = " ".join(words(one.html) for one in plan_draft_site(other, control).pages)
    assert "two of three. Peel it." in sheets
    assert "two of three Peel it." not in sheets


def test_the_first_page_is_a_line_for_each_operation_with_its_state(plan: SitePlan) -> None:
    board = page(plan, "index.html").html
    lines = re.findall(r'<a class="door" href="([^"]+)"(.*?)</a>', board, re.DOTALL)
    assert [href for href, _ in lines] == ["operation-1.html", "operation-2.html"]
    assert [re.findall(r'data-operation-state="(\d)"', line) for _, line in lines] == [["1"], ["2"]]
    # nothing is said of a state before a script knows it; without scripts, why it is not known
    states = [re.search(r'data-operation-state="\d">(.*?)</span>', line) for _, line in lines]
    assert {state and state[1] for state in states} == {
        "<noscript>state not known: this browser runs no scripts</noscript>"
    }
    assert all("Set up ____________ Coupons ____________ First-off ____________" in line for _, line in lines)
    assert board.index('id="start-missing"') > board.index("</a>")
    assert board.index("start-missing") < board.index("<details") < board.index("Safety signs for this order")
    # each operation says its state once: what is missing is listed at the start
    assert "data-start-list" not in board
    assert page(plan, "start.html").html.count("data-start-list") == 1


def test_a_result_leads_with_what_is_judged_and_its_source_is_printed(
    demo_packets: dict[str, Packet], control: Control
) -> None:
    found = page(plan_draft_site(demo_packets["lk-2041-service-module"], control), "operation-1-record.html").html
    row = found[found.index('data-result="coupon/arc-macro/crack"') :]
    said, printed = row[: row.index("data-result-verdict")].split('<small class="paper-only">')
    assert "Crack or crater crack Macro section of a coupon" in words(said)
    assert "Level C: not permitted" in words(said)
    assert "5817" not in said
    assert printed.startswith("(ISO 5817")
    assert 'role="group" aria-label="Macro section of a coupon: crack or crater crack"' in found
    assert words(found).count(" (from memory)") > 0


def test_the_limits_of_imperfections_name_their_edition_and_what_another_one_changes(
    demo_packets: dict[str, Packet],
) -> None:
    def inspection(packet: Packet) -> str:
        found = plan_draft_site(packet, draft_control(packet)).pages
        return next(page.html for page in found if page.path == "inspection.html")

    packet = demo_packets["lk-2063-coastal-column"]
    page = inspection(packet)
    assert page.count("ISO 5817:2014 table 1, as far as public copies of it") == 1
    assert "The 2023 edition takes the measured throat, not the nominal one" in page
    unlimited = tuple(operation.model_copy(update={"limits": ()}) for operation in packet.operations)
    assert "The 2023 edition" not in inspection(packet.model_copy(update={"operations": unlimited}))


def test_the_sources_page_says_in_which_language_the_packet_is(plan: SitePlan) -> None:
    assert "<dt>Language</dt><dd>English" in page(plan, "sources.html").html


def test_a_preliminary_wps_says_the_verdict_and_not_more(demo_packets: dict[str, Packet], control: Control) -> None:
    """Where nothing can be decided, the welds are not outside: nobody knows it."""
    packet = demo_packets["lk-2063-coastal-column"]
    shown = words(page(plan_draft_site(packet, control), "operation-4-wps.html").html)
    found = packet.operations[3].qualification
    assert found is not None
    assert found.text.startswith("Cannot decide: ")
    assert f"Not every weld of this operation is inside a record. {found.text}" in shown
    assert "not qualified" not in shown


def test_paper_says_of_records_that_only_the_screen_shows_that_they_are_not_printed(
    demo_packets: dict[str, Packet], control: Control
) -> None:
    plan = plan_draft_site(demo_packets["lk-2063-coastal-column"], control)
    markup = page(plan, "operation-2-qualification.html").html
    assert re.search(r'class="paper-only"><small>\d+ more records looked at, not printed\.</small>', markup)
