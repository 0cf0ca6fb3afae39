"""What a device keeps at the cell: ticks, hold points, read-back, results, the record, the start, in Chromium."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from itertools import pairwise
from pathlib import Path
from typing import Any, cast

import pytest
from weld_packets.errors import Problem
from weld_packets.packet.forms import changeover_tasks, set_up_form
from weld_packets.packet.records.forms import SetUpForm
from weld_packets.packet.records.order import Control, Packet
from weld_packets.revisions.register.register import Register
from weld_packets.revisions.set_ups.checks import set_up_problems
from weld_packets.revisions.set_ups.from_cell import Of
from weld_packets.revisions.set_ups.record import read_set_up
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import Cards
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
TABLET = {"width": 820, "height": 1180}
LYING = {"width": 1180, "height": 820}
KEY = 129.5  # px, 25 mm on a ten-inch tablet
GAP = 23  # px, 6 mm on a screen of 96 px to the inch
MORNING = "2026-12-01T06:10:00"
NEXT_MORNING = "2026-12-02T06:10:00"
SHOWN = "step => `${step.querySelector('input').checked} ${step.querySelector('.step-said')?.textContent}`"
DIGESTS = {"C": "c1" * 32, "D": "d4" * 32}
RECORD_1 = "packet/set-up/lk-2041-service-module/1"
SCAN = "keys => keys.forEach(key => document.body.dispatchEvent(new KeyboardEvent('keydown', {key, bubbles: true})))"
NO_STORAGE = "Object.defineProperty(window, 'localStorage', { get() { throw new Error('closed') } })"


def control(revision: str = "C", status: Any = "in force") -> Control:
    return Control(revision=revision, status=status, digest=DIGESTS[revision], packet_digest=DIGESTS[revision][::-1])


@pytest.fixture(scope="module")
def order(demo_packets: dict[str, Packet]) -> Packet:
    return demo_packets["lk-2041-service-module"]


@pytest.fixture(scope="module")
def form(order: Packet) -> SetUpForm:
    return set_up_form(order.operations[0])


@pytest.fixture(scope="module")
def site(looks: SiteLooks, order: Packet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Emitter(looks, tmp_path_factory.mktemp("device")).emit(plan_draft_site(order, control()))


@pytest.fixture(scope="module")
def one_cell(order: Packet) -> Packet:
    """Return the order with its second operation in the cell of the first."""
    first, second, *others = order.operations
    return order.model_copy(update={"operations": (first, second.model_copy(update={"cell": first.cell}), *others)})


@pytest.fixture(scope="module")
def one_cell_site(looks: SiteLooks, one_cell: Packet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Emitter(looks, tmp_path_factory.mktemp("one-cell")).emit(plan_draft_site(one_cell, control()))


@pytest.fixture(scope="module")
def next_revision(looks: SiteLooks, order: Packet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the site of a revision in which the second step of the set-up of operation 1 says something else."""
    operation = order.operations[0]
    first, second, *rest = operation.set_up
    changed = operation.model_copy(
        update={"set_up": (first, second.model_copy(update={"see": "Both drop out."}), *rest)}
    )
    packet = order.model_copy(update={"operations": (changed, *order.operations[1:])})
    plan = plan_draft_site(packet, control("D"))
    return Emitter(looks, tmp_path_factory.mktemp("later")).emit(plan)


@pytest.fixture(scope="module")
def draft_order(looks: SiteLooks, order: Packet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    plan = plan_draft_site(order, Control(revision="", status="draft", digest="feed" * 6))
    return Emitter(looks, tmp_path_factory.mktemp("draft")).emit(plan)


@pytest.fixture(scope="module")
def changeover(looks: SiteLooks, module_packet: Packet, tmp_path_factory: pytest.TempPathFactory) -> Path:
    plan = plan_draft_site(module_packet, control())
    return Emitter(looks, tmp_path_factory.mktemp("changeover")).emit(plan)


@dataclass
class Cell:
    """A tablet at the cell: one browser with its storage, and a page of the order."""

    context: Any
    base: str
    page: Any = None
    complaints: list[str] = field(default_factory=list)

    def open(self, name: str, base: str = "") -> Any:
        if self.page is None:
            self.page = self.tab()
        self.page.goto(f"{base or self.base}/{name}")
        return self.page

    def tab(self) -> Any:
        page = self.context.new_page()
        page.on("pageerror", lambda error: self._complain(str(error)))
        page.on("console", lambda said: said.type == "error" and self._complain(said.text))
        page.on(
            "request",
            lambda sent: sent.url.startswith((self.base[:12], "file:", "blob:")) or self.complaints.append(sent.url),
        )
        return page

    def _complain(self, said: str) -> None:
        """Keep what the page complains of, but for a timer of the theme that the test's clock fires after its end."""
        if "executing a cancelled action" not in said:
            self.complaints.append(said)

    def name(self, name: str) -> None:
        self.page.fill("form[data-person] input", name)
        self.page.click("form[data-person] button")

    def step(self, at: int, of: str = "set-up") -> Any:
        return self.page.locator(f'ol[data-list="{of}"] li[data-step]').nth(at)

    def tick(self, at: int, of: str = "set-up") -> Any:
        """Touch a step and wait until it says what came of it."""
        found = self.step(at, of)
        before = found.evaluate(SHOWN)
        found.locator(".step-do").click()
        self.page.wait_for_function(
            f"([step, before]) => ({SHOWN})(step) !== before", arg=[found.element_handle(), before]
        )
        return found

    def kept(self, key: str) -> Any:
        return json.loads(self.page.evaluate("key => localStorage.getItem(key)", key) or "null")

    def record(self, operation: int = 1) -> Any:
        return self.kept(f"packet/set-up/lk-2041-service-module/{operation}")


@pytest.fixture(scope="module")
def served(site: Path, serve: Callable[[Path], str]) -> str:
    return serve(site)


@pytest.fixture(params=["file", "http"])
def cell(request: pytest.FixtureRequest, chromium: Any, site: Path, served: str) -> Iterator[Cell]:
    yield from _cell(chromium, served if request.param == "http" else site.as_uri())


@pytest.fixture
def tablet(chromium: Any, site: Path) -> Iterator[Cell]:
    yield from _cell(chromium, site.as_uri())


def _cell(chromium: Any, base: str, screen: dict[str, int] = TABLET) -> Iterator[Cell]:
    context = chromium.new_context(viewport=screen, has_touch=True, timezone_id="Europe/Berlin", accept_downloads=True)
    found = Cell(context, base)
    yield found
    context.close()
    assert found.complaints == []


def is_ticked(step: Any) -> bool:
    return bool(step.locator("input").is_checked())


def test_a_tick_outlasts_reload_second_tab_and_another_page(cell: Cell) -> None:
    page = cell.open("operation-1-set-up.html")
    cell.name("J. Berg")
    cell.tick(0)
    page.reload()
    assert is_ticked(cell.step(0))
    assert not is_ticked(cell.step(1))
    cell.open("operation-1-prove-out.html")
    cell.open("operation-1-set-up.html")
    assert is_ticked(cell.step(0))
    assert page.inner_text("#set-up-1-tally").startswith("1 of ")
    first, cell.page = cell.page, cell.tab()
    cell.open("operation-1-set-up.html")
    assert is_ticked(cell.step(0))
    cell.tick(1)
    cell.page = first
    page.wait_for_function("() => document.querySelectorAll('li[data-step] input:checked').length === 2")


def test_a_tick_carries_time_and_name(tablet: Cell, form: SetUpForm) -> None:
    tablet.context.clock.install(time=MORNING)
    tablet.open("operation-1-set-up.html")
    tablet.name("J. Berg")
    step = tablet.tick(0)
    assert step.locator(".step-said").inner_text().startswith("Done 0")
    assert step.locator(".step-said").inner_text().endswith(", J. Berg")
    record = tablet.record()
    assert record["setter"] == "J. Berg"
    [done] = record["steps"]
    assert {key: done[key] for key in ("list", "key", "digest", "by")} == {
        "list": "set-up",
        "key": form.steps[0].key,
        "digest": form.steps[0].digest,
        "by": "J. Berg",
    }
    assert re.fullmatch(r"2026-12-01T\d\d:\d\d:\d\d\+00:00", done["done"])  # by the plant's clock


def test_a_name_that_is_given_later_is_not_said_to_have_begun_the_set_up(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    tablet.name("A. Miller")
    tablet.tick(1)
    said = page.inner_text("[data-set-up-state]")
    assert re.fullmatch(r"Set-up begun \d\d:\d\d, set by A\. Miller: being set\.", said)
    assert [one["by"] for one in tablet.record()["steps"]] == ["", "A. Miller"]


def test_the_first_tick_without_a_name_asks_for_it_once_and_counts_at_once(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    first = tablet.tick(0)
    asking = page.locator(".name-form")
    assert is_ticked(first)
    assert asking.count() == first.locator("xpath=following-sibling::li[1][contains(@class, 'name-form')]").count() == 1
    boxes = [one.bounding_box() for one in asking.locator("button").all()]
    assert min(min(box["width"], box["height"]) for box in boxes) >= 104  # px, 20 mm on a ten-inch tablet
    asking.locator("input").fill(" A. Miller ")
    asking.locator("[type=submit]").click()
    assert first.locator(".step-said").inner_text().endswith(", A. Miller")
    tablet.tick(1)
    assert asking.count() == 0
    record = tablet.record()
    assert (record["setter"], [one["by"] for one in record["steps"]]) == ("A. Miller", ["A. Miller"] * 2)


def test_who_gives_no_name_is_not_asked_again_in_this_set_up(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    page.click(".name-form .key-quiet")
    assert is_ticked(tablet.tick(1))
    page.reload()
    assert is_ticked(tablet.tick(2))
    assert page.locator(".name-form").count() == 0
    page = tablet.open("operation-2-set-up.html")
    tablet.tick(0)
    assert page.locator(".name-form").count() == 1


def test_ticks_outlast_a_closed_browser(chromium: Any, site: Path, tmp_path: Path) -> None:
    arguments = ["--no-sandbox", "--disable-gpu"]
    executable = chromium.browser_type.executable_path
    for visit in range(2):
        context = chromium.browser_type.launch_persistent_context(
            tmp_path, executable_path=_executable() or executable, args=arguments, viewport=TABLET
        )
        found = Cell(context, site.as_uri())
        found.open("operation-1-set-up.html")
        if not visit:
            found.tick(0)
        assert is_ticked(found.step(0))
        context.close()


def _executable() -> str:
    import shutil  # noqa: PLC0415

    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), "")


def test_a_tick_goes_at_the_second_touch_alone(tablet: Cell) -> None:
    tablet.context.clock.install()
    page = tablet.open("operation-1-set-up.html")
    step = tablet.tick(0)
    step.locator(".step-do").click()
    page.clock.run_for(50)
    assert step.locator(".step-said").inner_text() == "Touch again to take the tick away"
    assert is_ticked(step)
    page.clock.run_for(5000)
    assert is_ticked(step)
    assert "Touch again" not in step.locator(".step-said").inner_text()
    for _ in range(2):
        step.locator(".step-do").click()
        page.clock.run_for(50)
    assert not is_ticked(step)
    assert tablet.record()["steps"] == []


def test_a_new_set_up_begins_empty_and_the_former_is_set_aside(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    former = tablet.record()["id"]
    page.click(".device [data-set-up-new]")
    page.click("[data-new-sure-no]")
    assert is_ticked(tablet.step(0))
    page.click(".device [data-set-up-new]")
    page.click("[data-new-sure-yes]")
    assert not is_ticked(tablet.step(0))
    assert tablet.record() is None
    assert [one["id"] for one in tablet.kept("packet/set-ups")] == [former]
    tablet.tick(0)
    assert tablet.record()["id"] != former
    tablet.open("operation-1-record.html")
    assert page.locator("[data-aside] li").count() == 1


def test_a_set_up_older_than_a_shift_is_confirmed_or_begun_anew(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    page.clock.set_fixed_time("2026-12-01T06:10:00")
    tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    page.clock.set_fixed_time("2026-12-01T14:00:00")
    tablet.open("operation-1-set-up.html")
    assert not page.locator("[data-hindrance=old]").is_visible()
    page.clock.set_fixed_time("2026-12-01T14:15:00")
    tablet.open("operation-1-set-up.html")
    assert page.locator("[data-hindrance=old]").is_visible()
    tablet.tick(1)
    assert not is_ticked(tablet.step(1))
    page.click("[data-confirm-old]")
    assert not page.locator("[data-hindrance=old]").is_visible()
    tablet.tick(1)
    assert is_ticked(tablet.step(1))
    assert tablet.record()["deviations"][0]["reason"] == "confirmed on the machine"


def test_a_step_that_a_revision_changed_is_ticked_again(tablet: Cell, next_revision: Path) -> None:
    page = tablet.open("operation-1-set-up.html")
    for at in range(3):
        tablet.tick(at)
    tablet.open("operation-1-set-up.html", next_revision.as_uri())
    assert [is_ticked(tablet.step(at)) for at in range(3)] == [True, False, True]
    assert tablet.step(1).locator(".step-said").inner_text().startswith("Changed since your tick of ")
    assert page.locator("[data-hindrance=revision]").is_visible()
    tablet.tick(3)
    assert not is_ticked(tablet.step(3))
    page.fill("form[data-take-over] input", "same fixture, same wire")
    page.click("form[data-take-over] button")
    tablet.tick(3)
    assert [is_ticked(tablet.step(at)) for at in range(4)] == [True, False, True, True]
    assert (tablet.record()["revision"], tablet.record()["status_reason"]) == ("D", "")
    assert tablet.record()["deviations"][0]["what"].startswith("begun with revision C")


def test_no_step_is_done_past_an_open_hold_point(tablet: Cell, form: SetUpForm) -> None:
    tablet.open("operation-1-set-up.html")
    steps = [step for step in form.steps if step.list == "set-up"]
    assert [steps[0].hold, steps[1].hold] == [True, False]
    found = tablet.tick(1)
    assert not is_ticked(found)
    assert found.locator(".step-said").inner_text().startswith("Not done: the hold point above comes first: Compare ")
    tablet.tick(0)
    assert is_ticked(tablet.tick(1))


def test_a_hold_point_names_what_is_missing_and_leads_there(tablet: Cell, form: SetUpForm) -> None:
    page = tablet.open("operation-1-set-up.html")
    steps = [step for step in form.steps if step.list == "set-up"]
    hold = next(at for at, step in enumerate(steps) if step.enter == "settings")
    found = tablet.tick(hold)
    assert not is_ticked(found)
    said = found.locator(".step-said").inner_text()
    assert said.startswith(f"Hold point: {hold} steps above are not done. First: Compare status, order, cell, ")
    found.locator(".step-said button").click()
    assert page.evaluate("document.activeElement.closest('li').dataset.step") == steps[0].key
    for at in range(hold):
        tablet.tick(at)
    tablet.tick(hold)
    assert not is_ticked(found)
    assert found.locator(".step-said").inner_text().startswith("Hold point: 34 missing. First: program P410A, C1A.")
    found.locator(".step-said a").click()
    page.locator(".rb-setting", has_text="required: P410A").wait_for()


def test_a_browser_that_keeps_nothing_says_so_and_still_ticks(tablet: Cell) -> None:
    tablet.context.add_init_script(NO_STORAGE)
    page = tablet.open("operation-1-set-up.html")
    assert page.locator("[data-device-none]").is_visible()
    assert is_ticked(tablet.tick(0))
    page.reload()
    assert not is_ticked(tablet.step(0))


def test_a_scanner_that_types_leads_nowhere(tablet: Cell) -> None:
    for name in ("operation-1-set-up.html", "operation-1.html", "start.html"):
        page = tablet.open(name)
        page.keyboard.type("https://cells.example/lk-2041/p,n.f/s#order=LK-2041")
        page.keyboard.press("Enter")
        page.wait_for_timeout(100)
        assert page.url == f"{tablet.base}/{name}"
        assert not page.evaluate("document.querySelector('[data-md-toggle=search]').checked")


def enter(page: Any, text: str) -> str:
    """Type an entry and return what the page says of it."""
    page.keyboard.type(text)
    page.keyboard.press("Enter")
    return str(page.inner_text(".rb-verdict"))


def read_value(tablet: Cell, value: str, robot: str = "C1A") -> Any:
    page = tablet.open(f"operation-1-read-back.html#value={value}&robot={robot}")
    page.reload()
    return page


def test_an_entry_is_judged_in_words_and_shape_and_shown_on_the_card(tablet: Cell) -> None:
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    assert page.inner_text(".rb-setting") == "set 3.3 m/min, allowed 3.1 to 4.6 m/min"
    assert enter(page, "3,2").startswith("In range: 3.2 m/min. Allowed: 3.1 to 4.6 m/min.")
    page = read_value(tablet, "c1a-t1/wire_feed_speed", "C1B")
    assert enter(page, " 3.3 ").startswith("Equal: 3.3 m/min.")
    assert shape(page) == '"="'
    page = read_value(tablet, "c1a-t1/travel_speed")
    low = enter(page, "7.5")
    assert "Too low" in low
    assert "0.2 mm/s below the allowed range, 7.7 to 8.5 mm/s. Set it to 8.0 mm/s." in low
    assert shape(page) == '"▼"'
    assert page.locator("[data-rb=again]").is_visible()
    page = read_value(tablet, "c1a-t1/travel_speed", "C1B")
    assert enter(page, "19").startswith(
        "Not a plausible unit: 19 mm/s. Probably read in in/min. Enter the value in mm/s."
    )
    page = read_value(tablet, "c1a-t1/arc_voltage")
    assert enter(page, "20 V").startswith("Not a number.")
    readings = {(one["value"], one["robot"]): (one["number"], one["verdict"]) for one in tablet.record()["readings"]}
    assert readings == {
        ("c1a-t1/wire_feed_speed", "C1A"): ("3.2", "in range"),
        ("c1a-t1/wire_feed_speed", "C1B"): ("3.3", "equal"),
        ("c1a-t1/travel_speed", "C1A"): ("7.5", "low"),
        ("c1a-t1/travel_speed", "C1B"): ("19", "implausible"),
    }


def shape(page: Any) -> str:
    return str(page.evaluate("getComputedStyle(document.querySelector('.rb-verdict'), '::before').content"))


def test_the_next_value_comes_by_itself_robot_by_robot(tablet: Cell) -> None:
    tablet.context.clock.install()
    page = tablet.open("operation-1-read-back.html")
    assert page.inner_text(".rb-what") == "Program"
    assert enter(page, "P410A").startswith("Match: P410A.")
    page.clock.run_for(1500)
    assert page.inner_text(".rb-what") == "Weld schedule"
    assert "Does not match" in enter(page, "12")
    page.clock.run_for(5000)
    assert page.inner_text(".rb-what") == "Weld schedule"
    page.click("[data-rb=again]")
    page.click('[data-digit="1"]')
    page.click('[data-digit="1"]')
    page.click(".rb-enter")
    page.click(".rb-enter")
    assert page.inner_text(".rb-what") == "Wire feed speed"
    assert "C1A" in page.inner_text(".rb-head")
    for key in ("3", ".", "4"):
        page.click(f'[data-digit="{key}"]')
    page.click("[data-erase]")
    page.click('[data-digit="3"]')
    page.click(".rb-enter")
    assert page.inner_text(".rb-verdict").startswith("Equal: 3.3 m/min.")
    page.clock.run_for(1500)
    assert page.inner_text(".rb-what") == "Arc voltage"


def test_a_weld_schedule_is_called_up_once_its_number_before_what_it_shows(tablet: Cell, form: SetUpForm) -> None:
    page = tablet.open("operation-1-read-back.html")
    page.click("[data-rb=list]")
    lines = [line.split("\n")[1] for line in page.locator(".rb-line").all_inner_texts()]
    expected = ["Program P410A"]
    for schedule in ("11", "12"):
        under = [one for one in form.values if (one.kind, one.weld_schedule) == ("setting", schedule)]
        expected += [f"Weld schedule {schedule}", *(f"{one.label}, weld schedule {schedule}" for one in under)]
    expected += ["Coupon program T111A", "Coupon program T112A", "Program P410B"]
    assert lines[: len(expected)] == expected
    assert len(lines) == 42


def test_a_setting_can_be_hidden_and_repeated_by_another_person(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.name("J. Berg")
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    page.click("[data-rb=hide]")
    assert not page.locator(".rb-setting").is_visible()
    enter(page, "3.3")
    page.click("[data-rb=list]")
    page.click("[data-rb-second]")
    page.fill("form[data-rb-person] input", "j bérg")
    page.click("form[data-rb-person] button")
    assert page.inner_text("[data-rb-person-said]").startswith("That person made the first entries.")
    page.fill("form[data-rb-person] input", "A. Roth")
    page.click("form[data-rb-person] button")
    assert not page.locator(".rb-setting").is_visible()
    assert "The first entry was 3.3 m/min: look again, both of you." in enter(page, "3.4")
    first, second = tablet.record()["readings"]
    assert (first["by"], first["hidden"], first["repeat"]) == ("J. Berg", True, 0)
    assert (second["by"], second["hidden"], second["repeat"]) == ("A. Roth", True, 1)


def test_results_of_one_name_are_listed_with_their_welds(tablet: Cell, form: SetUpForm) -> None:
    page = tablet.open("operation-1-record.html")
    words = page.evaluate("() => window.packetProof.missingFor('coupons').map(one => one.words)")
    throats = [one for one in form.results if (one.stage, one.what, one.robot) == ("coupon", "Throat", "C1A")]
    assert len(throats) > 1
    assert [each for each in words if each.startswith("Throat, C1A")] == [
        f"Throat, C1A, {one.welds}" for one in throats
    ]
    assert len(set(words)) == len(words)


def test_a_number_of_the_same_robot_is_called_another_of_its_own(tablet: Cell, form: SetUpForm) -> None:
    page = tablet.open("operation-1-read-back.html")
    first, second = [one for one in form.numbers if (one.robot, one.what) == ("C1A", "weld schedule")][:2]
    said = page.evaluate(
        "([entry, number, all]) => window.packetJudgement.judgeNumber(entry, number, all)",
        [second.number, first.model_dump(), [one.model_dump() for one in form.numbers]],
    )
    assert said == {
        "verdict": "mismatch",
        "hint": f"That is another weld schedule of C1A, for {second.of}. C1A needs weld schedule {first.number} here.",
    }


def test_a_scanned_program_is_compared_and_its_robot_named(tablet: Cell) -> None:
    page = tablet.open("operation-1-read-back.html")
    page.evaluate("document.activeElement.blur()")
    page.evaluate(SCAN, ["P", "4", "1", "0", "B", "Enter"])
    said = page.inner_text(".rb-verdict")
    assert "Does not match: P410B. That is the program of C1B. C1A needs program P410A here." in said
    [number] = tablet.record()["numbers"]
    assert (number["by_scan"], number["verdict"], number["robot"]) == (True, "mismatch", "C1A")


@pytest.mark.parametrize("screen", [TABLET, LYING], ids=["upright", "lying"])
def test_the_pad_is_as_large_as_a_gloved_finger_and_needs_no_scrolling(
    chromium: Any, site: Path, screen: dict[str, int]
) -> None:
    for found in _cell(chromium, site.as_uri(), screen):
        page = read_value(found, "c1a-t1/wire_feed_speed")
        boxes = [one.bounding_box() for one in page.locator(".rb-pad button").all()]
        assert len(boxes) == 13
        assert min(min(box["width"], box["height"]) for box in boxes) >= KEY
        keys = [one.bounding_box() for one in page.locator(".rb-keys button").all()]
        assert min(min(box["width"], box["height"]) for box in keys) >= 96
        assert apart([*boxes, *keys]) >= 16
        assert apart(boxes) >= GAP
        bar = page.locator(".bar").bounding_box()
        assert max(box["y"] + box["height"] for box in (*boxes, *keys)) <= bar["y"]


def apart(boxes: list[Any]) -> float:
    """Return the smallest distance between two of some boxes that are beside or under each other."""
    gaps = []
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            across = max(one["x"], other["x"]) - min(one["x"] + one["width"], other["x"] + other["width"])
            down = max(one["y"], other["y"]) - min(one["y"] + one["height"], other["y"] + other["height"])
            gaps.append(max(across, down))
    return min(gaps)


def test_nothing_is_noted_from_a_draft_before_a_reason_is_given(chromium: Any, draft_order: Path) -> None:
    for found in _cell(chromium, draft_order.as_uri()):
        page = found.open("operation-1-set-up.html")
        assert not page.locator("[data-hindrance=status]").is_visible()
        assert not is_ticked(found.tick(0))
        assert page.locator("[data-hindrance=status]").is_visible()
        page.fill("form[data-begin] input", "trial of the fixture")
        page.click("form[data-begin] button")
        assert is_ticked(found.tick(0))
        record = found.record()
        assert (record["status"], record["status_reason"], record["record_digest"]) == (
            "draft",
            "trial of the fixture",
            "",
        )


def test_borders_and_marks_stand_in_forced_colours(tablet: Cell) -> None:
    page = read_value(tablet, "c1a-t1/travel_speed")
    page.emulate_media(forced_colors="active")
    enter(page, "7.5")
    widths = page.evaluate(
        "['.rb-keys button', '.rb-verdict', '.rb-after .key'].map(mark => document.querySelector(mark))"
        ".map(one => parseFloat(getComputedStyle(one).borderTopWidth))"
    )
    assert min(widths) >= 2


def seed(page: Any, order: Packet, operation: int = 1) -> None:
    """Keep an accepted set-up of an operation, as if it had been made by hand."""
    page.evaluate(
        """([key, record]) => localStorage.setItem(key, JSON.stringify(record))""",
        [f"packet/set-up/{order.head.slug}/{operation}", accepted_record(order, operation)],
    )


def accepted_record(order: Packet, operation: int) -> dict[str, Any]:
    sheet, held = order.operations[operation - 1], control()
    at = "2026-12-01T08:00:00+01:00"
    accepted = [{"what": what, "at": at, "by": "A. Roth"} for what in ("coupons", "first-off")]
    return {
        "form": "set-up record", "version": 1, "id": f"{operation:016x}", "order": order.head.number,
        "slug": order.head.slug, "revision": held.revision, "status": held.status, "status_reason": "",
        "record_digest": held.digest, "packet_digest": held.packet_digest, "operation": operation,
        "operation_name": sheet.name, "cell": sheet.cell, "begun": at, "finished": at, "setter": "J. Berg",
        "steps": [], "readings": [], "numbers": [], "results": [], "accepted": accepted, "lots": [], "counters": [],
        "instruments": [], "serials": {"from": "", "to": ""}, "deviations": [],
    }  # fmt: skip


def test_a_list_for_going_in_is_opened_with_a_gloved_finger(tablet: Cell, order: Packet) -> None:
    page = tablet.open("going-in.html")
    keys = page.locator(".procedure > summary")
    boxes = [one.bounding_box() for one in keys.all()]
    assert len(boxes) == len(order.procedures)
    assert min(min(box["width"], box["height"]) for box in boxes) >= 104
    assert all(low["y"] - high["y"] - high["height"] >= 15.5 for high, low in pairwise(boxes))
    assert page.locator(".procedure[open]").count() == 0
    keys.nth(1).click()
    assert page.locator(".procedure[open] h2").all_inner_texts() == [order.procedures[1].title]


def test_a_link_to_a_list_for_going_in_opens_it_also_the_second_time(tablet: Cell, order: Packet) -> None:
    key = next(one.key for one in order.procedures if one.key.startswith("spool"))
    page = tablet.open(f"going-in.html#list-{key}")
    opened = page.locator(".procedure[open]")
    assert opened.evaluate_all("all => all.map(one => one.id)") == [f"list-{key}"]
    leads = opened.locator("a[href$='#list-go-in']").first
    leads.click()
    assert page.locator("#list-go-in[open]").count() == 1
    page.locator("#list-go-in > summary").click()
    assert page.locator("#list-go-in[open]").count() == 0
    leads.click()
    page.wait_for_selector("#list-go-in[open]")


def test_the_order_page_shows_how_far_each_operation_is(tablet: Cell, order: Packet) -> None:
    tablet.context.clock.set_fixed_time(NEXT_MORNING)
    page = tablet.open("operation-2-set-up.html")
    tablet.name("J. Berg")
    tablet.tick(0)
    seed(page, order)
    page = tablet.open("index.html")
    states = page.locator("[data-operation-state]").all_inner_texts()
    assert states[0] == "first-off accepted, 2026-12-01 08:00 by A. Roth"
    assert re.fullmatch(r"being set, \d\d:\d\d by J\. Berg", states[1])
    assert states[2:] == ["not begun"] * (len(order.operations) - 2)


def test_the_start_opens_when_every_operation_is_accepted(tablet: Cell, order: Packet) -> None:
    page = tablet.open("start.html")
    assert page.inner_text("[data-start-said]").startswith("Not to be started: 4 of 4 operations")
    assert page.locator("[data-start-list] a").count() == 4
    assert not is_ticked(tablet.tick(0, "start-1"))
    for number in range(1, 5):
        seed(page, order, number)
    page = tablet.open("start.html")
    assert page.inner_text("[data-start-said]").startswith("Every operation has an accepted first-off")
    assert is_ticked(tablet.tick(0, "start-1"))


def test_the_run_is_held_like_the_start_and_leads_to_what_is_missing(tablet: Cell, order: Packet) -> None:
    page = tablet.open("run.html")
    assert page.inner_text("[data-start-said]").startswith("Not to be started: 4 of 4 operations")
    assert page.locator("[data-start-leads] a").get_attribute("href") == "start.html"
    assert not is_ticked(tablet.tick(0, "run-steps"))
    for number in range(1, 5):
        seed(page, order, number)
    page = tablet.open("run.html")
    assert page.locator("[data-start-leads]").is_hidden()
    assert is_ticked(tablet.tick(0, "run-steps"))


def test_a_look_at_the_run_keeps_a_start_that_is_half_ticked(tablet: Cell, order: Packet) -> None:
    page = tablet.open("start.html")
    for number in range(1, 5):
        seed(page, order, number)
    tablet.open("start.html")
    tablet.tick(0, "start-1")
    tablet.open("run.html")
    tablet.tick(0, "run-steps")
    tablet.open("start.html")
    assert is_ticked(tablet.step(0, "start-1"))
    assert tablet.kept(f"packet/run/{order.head.slug}")["starts"] == []


def test_a_start_list_lasts_no_longer_than_its_start(tablet: Cell, order: Packet) -> None:
    page = tablet.open("start.html")
    page.clock.set_fixed_time("2026-12-01T09:00:00+01:00")
    for number in range(1, 5):
        seed(page, order, number)
    page = tablet.open("start.html")
    tablet.tick(0, "start-1")
    tablet.tick(1, "start-1")
    page = tablet.open("start.html")
    assert is_ticked(tablet.step(1, "start-1"))
    page.clock.set_fixed_time("2026-12-01T09:11:00+01:00")
    page = tablet.open("start.html")
    assert not is_ticked(tablet.step(0, "start-1"))
    steps = page.locator('ol[data-list="start-1"] li[data-step]').count()
    for at in range(steps):
        tablet.tick(at, "start-1")
    assert all(is_ticked(tablet.step(at, "start-1")) for at in range(steps))
    page = tablet.open("start.html")
    assert not any(is_ticked(tablet.step(at, "start-1")) for at in range(steps))
    assert page.inner_text('[data-last-start="start-1"]').startswith("Last start ")


def test_a_part_count_says_what_is_due_next_and_in_how_many_parts(tablet: Cell, order: Packet) -> None:
    page = tablet.open("run.html")
    counts = page.locator("[data-run-count]")
    counts.locator("input").fill("12,5")
    counts.locator("form button").click()
    assert counts.locator("[data-run-complaint]").inner_text().startswith("Enter whole parts")
    rule = order.run.rules[0]
    turn = next(turn for turn in rule.turns if turn)
    enter_count(page, turn - 1, rule.cell)
    lines = counts.locator("[data-run-due] li")
    due = lines.filter(has_text=rule.what).first
    assert due.inner_text().startswith(f"Cell {rule.cell}: in 1 part, after part {turn}, every")
    assert f"every {rule.every} parts" in due.inner_text()
    enter_count(page, turn, rule.cell)
    assert due.inner_text().startswith(f"Cell {rule.cell}: due now, ")
    due.locator("button").click()
    assert (
        lines.filter(has_text=rule.what)
        .first.inner_text()
        .startswith(f"Cell {rule.cell}: in {rule.turns[1] - turn} parts,")
    )
    done = tablet.kept("packet/run/lk-2041-service-module")["events"]
    assert [(one["due"], one["at_count"], one["passed_over"]) for one in done if rule.what in one["what"]] == [
        (turn, str(turn), False)
    ]


def test_what_is_not_yet_due_is_done_at_a_second_touch(tablet: Cell, order: Packet) -> None:
    tablet.context.clock.install()
    page = tablet.open("run.html")
    event = next(event for event in order.run.events if event.part_number > 2)
    key = page.locator("[data-run-due] li").filter(has_text=event.what).first.locator("button")
    key.click()
    assert key.inner_text() == "No part count: touch again"
    page.clock.run_for(9000)
    assert key.inner_text() == "Done"
    enter_count(page, event.part_number - 2, event.cell)
    key.click()
    assert key.inner_text() == "2 parts early: touch again"
    assert tablet.kept("packet/run/lk-2041-service-module")["events"] == []
    key.click()
    done = tablet.kept("packet/run/lk-2041-service-module")["events"]
    assert [(one["due"], one["at_count"]) for one in done] == [(event.part_number, str(event.part_number - 2))]


def test_each_cell_has_a_part_count_of_its_own(tablet: Cell, order: Packet) -> None:
    page = tablet.open("run.html")
    rule = next(rule for rule in order.run.rules if rule.cell != "C1")
    turn = next(turn for turn in rule.turns if turn)
    line = page.locator("[data-run-due] li").filter(has_text=rule.what).first
    enter_count(page, turn + 1, "C1")
    assert line.inner_text().startswith(f"Cell {rule.cell}: in {turn} parts,")
    enter_count(page, turn, rule.cell)
    assert line.inner_text().startswith(f"Cell {rule.cell}: due now, ")
    said = page.inner_text("[data-run-said]")
    assert f"Cell C1: part count {turn + 1} of {order.head.quantity}, " in said
    assert f"Cell {rule.cell}: part count {turn} of {order.head.quantity}, " in said
    page.reload()
    assert page.locator("[data-run-count] select").input_value() == rule.cell
    enter_count(page, turn, "C1")
    assert page.inner_text("[data-run-complaint]").startswith(f"Less than the last count of cell C1, {turn + 1}.")
    enter_count(page, turn - 1, rule.cell)
    assert page.inner_text("[data-run-complaint]").startswith(f"Less than the last count of cell {rule.cell}, {turn}.")
    enter_count(page, turn - 1, rule.cell)
    assert page.inner_text("[data-run-complaint]") == ""
    saved = json.loads(save_run(page, "json"))
    assert [(one["cell"], one["count"]) for one in saved["counts"]] == [
        ("C1", str(turn + 1)), (rule.cell, str(turn)), (rule.cell, str(turn - 1))
    ]  # fmt: skip
    assert f"last part count C1 {turn + 1}, {rule.cell} {turn - 1}," in page.inner_text("[data-run-kept]")


def test_in_a_cell_that_has_not_started_nothing_is_overdue(tablet: Cell, order: Packet) -> None:
    page = tablet.open("run.html")
    run = {
        "id": "ab" * 8, "begun": f"{MORNING}Z", "slug": order.head.slug, "start": None, "ticks": [], "events": [],
        "starts": [{"list": "start-1", "cell": "C1", "at": f"{MORNING}Z", "by": ""}],
        "counts": [{"count": "150", "at": f"{MORNING}Z", "by": ""}],
    }  # fmt: skip
    page.evaluate(
        "([key, run]) => localStorage.setItem(key, JSON.stringify(run))", [f"packet/run/{order.head.slug}", run]
    )
    page = tablet.open("run.html")
    lines = page.locator("[data-run-due] li")
    said = [(lines.nth(at).inner_text(), lines.nth(at).get_attribute("data-due")) for at in range(lines.count())]
    cells = {rule.what: rule.cell for rule in order.run.rules} | {event.what: event.cell for event in order.run.events}
    assert {cell for cell in cells.values() if cell != "C1"}
    waiting = [due for text, due in said if "not started" in text]
    assert waiting
    assert set(waiting) == {"later"}
    for operation in order.operations:
        own = [text for text, _ in said if operation.name in text]
        assert all(text.startswith(f"Cell {operation.cell} not started") != (operation.cell == "C1") for text in own)
    overdue = [one["cell"] for one in page.evaluate("() => window.packetStart.overdue(window.packetStart.run())")]
    assert set(overdue) <= {"C1"}
    assert f", {len(overdue)} overdue." in page.inner_text("[data-run-kept]")


def test_a_turn_that_is_done_covers_those_before_it_and_a_new_run_sets_this_one_aside(
    tablet: Cell, order: Packet
) -> None:
    page = tablet.open("run.html")
    rule = order.run.rules[0]
    first, second = [turn for turn in rule.turns if turn][:2]
    enter_count(page, second, rule.cell)
    page.locator("[data-run-due] li").filter(has_text=rule.what).first.locator("button").click()
    done = tablet.kept("packet/run/lk-2041-service-module")["events"]
    assert [(one["due"], one["passed_over"]) for one in done] == [(first, True), (second, False)]
    saved = json.loads(save_run(page, "json"))
    assert [one["due"] for one in saved["events"]] == [first, second]
    run = tablet.kept("packet/run/lk-2041-service-module")["id"]
    assert (saved["saved_during"], saved["id"] == run, "ended" in saved) == (run, False, False)
    assert page.inner_text("[data-run-saved]").startswith("Saved during the run: save it again once the run has ended.")
    assert (saved["counts"][0]["count"], saved["begun"] <= saved["counts"][0]["at"]) == (str(second), True)
    lines = list(csv.DictReader(io.StringIO(save_run(page, "csv"), newline="")))
    kinds = [line["kind"] for line in lines]
    assert [kind for kind in kinds if kind != "overdue"][-3:] == ["part count", "passed over", "done"]
    assert kinds.count("overdue") == len(page.evaluate("() => window.packetStart.overdue(window.packetStart.run())"))
    assert rule.what not in [line["what"] for line in lines if line["kind"] == "overdue"]
    page.click("[data-new-run]")
    assert tablet.kept("packet/run/lk-2041-service-module")["id"] == run
    page.click("[data-new-run]")
    assert tablet.kept("packet/run/lk-2041-service-module") is None
    assert [one["saved_during"] for one in tablet.kept("packet/runs")] == [run]
    assert page.locator("[data-runs-aside] li").inner_text().startswith("Begun ")


def test_a_run_in_which_nothing_is_due_is_counted_ended_and_saved(
    chromium: Any, looks: SiteLooks, order: Packet, tmp_path: Path
) -> None:
    """A small order may end before a first dressing or change: its cells are counted none the less."""
    small = order.model_copy(update={"run": order.run.model_copy(update={"rules": (), "events": ()})})
    site = Emitter(looks, tmp_path / "site").emit(plan_draft_site(small, control()))
    for found in _cell(chromium, site.as_uri()):
        page = found.open("run.html")
        assert [page.inner_text("#run-next"), page.inner_text(".bar a[href$='#run-next']")] == ["Part count"] * 2
        enter_count(page, order.head.quantity, "C1")
        assert page.locator("[data-run-due] li").count() == 0
        page.click("[data-end-run]")
        page.click("[data-end-run]")
        saved = json.loads(save_run(page, "json"))
        assert [(one["cell"], one["count"]) for one in saved["counts"]] == [("C1", str(order.head.quantity))]
        assert "ended" in saved


def test_a_run_ends_at_the_second_touch_and_goes_on_with_the_next_count(tablet: Cell) -> None:
    page = tablet.open("run.html")
    assert page.locator("[data-end-run]").is_hidden()
    enter_count(page, 5)
    page.click("[data-end-run]")
    assert "ended" not in json.loads(save_run(page, "json"))
    page.click("[data-end-run]")
    assert page.locator("[data-end-run]").is_hidden()
    page.reload()
    assert re.search(r"Ended \d\d:\d\d", page.inner_text("[data-run-kept]"))
    saved = json.loads(save_run(page, "json"))
    run = tablet.kept("packet/run/lk-2041-service-module")
    assert (saved["id"], saved["ended"], "saved_during" in saved) == (run["id"], run["ended"], False)
    assert saved["ended"]["at"] >= saved["counts"][0]["at"]
    enter_count(page, 6)
    assert page.inner_text("[data-run-kept]").endswith("Not ended.")
    assert page.locator("[data-end-run]").is_visible()


def enter_count(page: Any, count: int, cell: str = "C1") -> None:
    page.locator("[data-run-count] select").select_option(cell)
    page.locator("[data-run-count] input").fill(str(count))
    page.locator("[data-run-count] form button").click()


def save_run(page: Any, kind: str) -> str:
    with page.expect_download() as waiting:
        page.click(f"[data-save-run={kind}]")
    return Path(waiting.value.path()).read_text(encoding="utf-8")


def read_back_as_required(tablet: Cell) -> None:
    """Enter what the page asks for, as a machine that is set right would show it."""
    page = tablet.open("operation-1-read-back.html")
    for _ in range(42):
        robot, what = page.inner_text("[data-rb=robot]"), page.inner_text(".rb-what")
        shown = page.inner_text(".rb-setting")
        assert robot, what
        text = shown.removeprefix("required: ") if shown.startswith("required") else shown.split()[1].replace(".", ",")
        enter(page, text)
        page.keyboard.press("Enter")
    assert not page.locator("#read-back").is_visible(), "what was entered is asked again"
    assert page.inner_text("[data-rb-said]") == "All 42 are entered."


def enter_results(tablet: Cell, form: SetUpForm) -> None:
    """Enter results at their limits, and a lot and an instrument."""
    page = tablet.open("operation-1-record.html")
    page.click("[data-later] > summary")
    for result in form.results:
        row = page.locator(f'[data-result="{result.key}"]')
        if result.unit:
            row.locator("input").fill((result.minimum or result.maximum).replace(".", ","))
            row.locator("form button").click()
        else:
            row.locator('[data-verdict-key="accepted"]').click()
        assert row.locator("[data-result-verdict]").inner_text().startswith("Accepted")
    page.fill('form[data-adds="lots"] [name="what"]', "wire C1A")
    page.fill('form[data-adds="lots"] [name="lot"]', "W-88 113")
    page.click('form[data-adds="lots"] button')
    page.fill('form[data-adds="instruments"] [name="what"]', "throat gauge")
    page.fill('form[data-adds="instruments"] [name="number"]', "G-17")
    page.click('form[data-adds="instruments"] button')


def test_a_setter_takes_an_operation_to_a_saved_record(
    tablet: Cell, site: Path, order: Packet, form: SetUpForm
) -> None:
    write_lists(site.parent, gathered(Cards(site.parent)), Register(), date(2026, 12, 1))
    page = tablet.open("../index.html")
    page.click(".order a")
    page.click(".door")
    page.wait_for_url("**/operation-1.html")
    page.click("[data-bar=set-up]")
    tablet.name("J. Berg")
    lists = {name: [step for step in form.steps if step.list == name] for name in ("set-up", "prove-out")}
    hold = next(at for at, step in enumerate(lists["set-up"]) if step.hold)
    for at in range(hold):
        tablet.tick(at)

    read_back_as_required(tablet)

    tablet.open("operation-1-set-up.html")
    for at in range(hold, len(lists["set-up"])):
        assert is_ticked(tablet.tick(at))

    tablet.open("operation-1-prove-out.html")
    accepting = next(at for at, step in enumerate(lists["prove-out"]) if step.accepts == "coupons")
    for at in range(accepting):
        assert is_ticked(tablet.tick(at, "prove-out"))
    held = tablet.tick(accepting, "prove-out")
    assert not is_ticked(held)
    assert "missing. First: Throat, C1A, " in held.locator(".step-said").inner_text()

    enter_results(tablet, form)

    tablet.open("operation-1-prove-out.html")
    for at in range(accepting, len(lists["prove-out"])):
        assert is_ticked(tablet.tick(at, "prove-out")), lists["prove-out"][at].key
    page = tablet.open("index.html")
    assert page.locator("[data-operation-state]").first.inner_text().startswith("first-off accepted")

    page = tablet.open("operation-1-record.html")
    saved = json.loads(save(page, "json"))
    assert saved == tablet.record()
    assert program_problems(saved, order) == []
    assert [one["what"] for one in saved["accepted"]] == ["coupons", "first-off"]
    assert len(saved["steps"]) == len(form.steps)
    assert len(saved["readings"]) == 32
    assert {one["verdict"] for one in saved["readings"]} == {"equal"}
    assert saved["finished"] == saved["accepted"][1]["at"]
    lines = list(csv.DictReader(io.StringIO(save(page, "csv"), newline="")))
    assert len([line for line in lines if line["kind"] == "reading"]) == 32
    assert {"kind": "lot", "what": "wire C1A", "entered": "W-88 113"}.items() <= next(
        line for line in lines if line["kind"] == "lot"
    ).items()


def test_results_accepted_before_are_behind_a_tap_and_those_judged_now_stay_in_place(
    tablet: Cell, form: SetUpForm
) -> None:
    page = tablet.open("operation-1-record.html")
    tablet.name("J. Berg")
    folds = page.locator("[data-accepted]")
    assert not folds.first.is_visible()
    coupons = [result for result in form.results if result.stage == "coupon"]
    rows = [page.locator(f'[data-result="{result.key}"]') for result in coupons]
    judged = [at for at, result in enumerate(coupons) if not result.unit]
    place = "one => one.getBoundingClientRect().top + scrollY"
    places = [row.evaluate(place) for row in rows]
    for at, key in ((judged[0], "accepted"), (judged[1], "not accepted")):
        rows[at].locator(f'[data-verdict-key="{key}"]').click()
    assert [row.evaluate(place) for row in rows] == places

    page.reload()
    assert [row.is_visible() for row in rows] == [at != judged[0] for at in range(len(rows))]
    assert folds.first.locator("summary").inner_text() == f"Accepted before: 1 of {len(coupons)} results"
    assert not folds.nth(1).is_visible()
    folds.first.locator("summary").click()
    assert rows[judged[0]].locator('[data-verdict-key="not accepted"]').is_visible()

    tablet.open("index.html")
    page = tablet.open(f"operation-1-record.html#result-{coupons[judged[0]].key.replace('/', '%2F')}")
    assert rows[judged[0]].is_visible()


def test_the_first_off_is_folded_until_the_coupons_are_accepted(tablet: Cell, order: Packet, form: SetUpForm) -> None:
    """A link to one of its results opens it; so does a result that was entered early."""
    page = tablet.open("operation-1-record.html")
    height = page.evaluate("document.documentElement.scrollHeight")
    result = next(one for one in form.results if one.stage == "first-off" and not one.unit)
    row = page.locator(f'[data-result="{result.key}"]')
    assert not row.is_visible()
    assert height < 8000  # px at 820 px: the rows of both stages open were 12,500
    number = len([one for one in form.results if one.stage == "first-off"])
    folded = page.locator("[data-later] > summary")
    assert folded.inner_text() == f"{number} results and the acceptance, after the coupons are accepted"
    assert min(folded.bounding_box()[side] for side in ("width", "height")) >= 104

    tablet.open("index.html")
    page = tablet.open(f"operation-1-record.html#result-{result.key.replace('/', '%2F')}")
    assert row.is_visible()
    tablet.name("J. Berg")
    row.locator('[data-verdict-key="accepted"]').click()
    tablet.open("index.html")
    page = tablet.open("operation-1-record.html")
    assert page.locator("[data-later]").evaluate("one => one.open")

    record = accepted_record(order, 1)
    page.evaluate("([key, record]) => localStorage.setItem(key, JSON.stringify(record))", [RECORD_1, record])
    page.reload()
    assert page.locator("[data-later]").evaluate("one => one.open")


def test_one_look_judges_all_that_a_check_names_and_leaves_what_was_entered(tablet: Cell, form: SetUpForm) -> None:
    """Each keeps its own result in the record; a crack that was found stays not accepted."""
    page = tablet.open("operation-1-record.html")
    tablet.name("J. Berg")
    check = next(one for one in form.results if any(two.key.startswith(f"{one.key}/") for two in form.results))
    under = [one for one in form.results if one.key == check.key or one.key.startswith(f"{check.key}/")]
    by_eye = [one for one in under if not one.unit and not one.choices]
    found = by_eye[-1]
    page.locator(f'[data-result="{found.key}"] [data-verdict-key="not accepted"]').click()
    key = page.locator(f'[data-result="{found.key}"] [data-accept-all]')
    assert key.inner_text() == f"All {len(by_eye)} of this check are within their limits"
    key.click()
    for one in form.results:
        said = page.locator(f'[data-result="{one.key}"] [data-result-verdict]').text_content()
        wanted = "Not accepted" if one is found else "Accepted" if one in by_eye else "not entered"
        assert said.startswith(wanted), one.key


def test_the_results_of_two_robots_are_beside_each_other_and_a_size_is_entered_beside_the_verdict(
    tablet: Cell, form: SetUpForm
) -> None:
    page = tablet.open("operation-1-record.html")
    tablet.name("J. Berg")

    def boxes(what: str) -> list[dict[str, float]]:
        return [found.bounding_box() for found in page.locator(what).all()]

    rows = {one.key: boxes(f'[data-result="{one.key}"]')[0] for one in form.results}
    measured = [one.key for one in form.results if one.unit and one.robot and one.stage == "coupon"]
    assert measured
    for of_a, of_b in zip(measured[::2], measured[1::2], strict=True):
        assert rows[of_a]["y"] == rows[of_b]["y"]
        assert rows[of_a]["x"] + rows[of_a]["width"] + 31 < rows[of_b]["x"]
    sized = next(one for one in form.results if one.found_unit)
    accepted, refused, third = boxes(f'[data-result="{sized.key}"] .result-keys .key')
    assert accepted["y"] == refused["y"] == third["y"]
    assert accepted["x"] < refused["x"] - accepted["width"] - 31
    assert refused["x"] < third["x"] - refused["width"] - 31
    row = page.locator(f'[data-result="{sized.key}"]')
    assert not row.locator("input").is_visible()
    row.locator("[data-measure]").click()
    row.locator("input").press_sequentially(sized.found_maximum)
    row.locator("form .key").click()
    assert row.locator("[data-result-verdict]").inner_text().startswith(f"Accepted: {sized.found_maximum} ")

    # an entry does not move what is below it
    place = "one => one.getBoundingClientRect().top + scrollY"
    last = page.locator(f'[data-result="{[one for one in form.results if one.stage == "coupon"][-1].key}"]')
    before = last.evaluate(place)
    row = page.locator(f'[data-result="{measured[0]}"]')
    row.locator("input").fill(next(one.minimum for one in form.results if one.key == measured[0]))
    row.locator("button").click()
    assert row.locator("[data-result-verdict]").inner_text().startswith("Accepted: ")
    assert last.evaluate(place) == before


def test_a_printed_record_shows_what_is_folded_and_who_accepted(tablet: Cell, order: Packet) -> None:
    tablet.context.clock.set_fixed_time(NEXT_MORNING)
    page = tablet.open("index.html")
    record = accepted_record(order, 1)
    result = order.operations[0].results[0]
    at = record["begun"]
    record["results"] = [
        {
            "result": result.key,
            "entered": result.minimum,
            "number": result.minimum,
            "verdict": "accepted",
            "at": at,
            "by": "J. Berg",
        }
    ]
    page.evaluate("([key, record]) => localStorage.setItem(key, JSON.stringify(record))", [RECORD_1, record])
    page = tablet.open("operation-1-record.html")
    row = page.locator(f'[data-result="{result.key}"]')
    read = page.locator('[data-kept="numbers"]')
    assert not row.is_visible()
    assert page.inner_text("[data-read-back-said]").startswith("0 of 42 read back")
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert row.is_visible()
    assert read.evaluate("one => one.closest('details').open")
    assert page.locator('[data-missing-for="coupons"] [data-missing-said]').is_visible()
    accepted = page.inner_text('[data-missing-for="coupons"] [data-missing-said]')
    assert accepted == "Accepted 2026-12-01 08:00, A. Roth."
    assert not page.locator('[data-missing-for="coupons"] [data-hold]').is_visible()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert not row.is_visible()


def test_what_failed_and_was_entered_again_stays_in_the_record(tablet: Cell, order: Packet, form: SetUpForm) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.name("A. Miller")
    page = read_value(tablet, "c1a-t1/travel_speed")
    for text in ("7.5", "8.0"):
        enter(page, text)
        page.reload()
    page = tablet.open("operation-1-read-back.html#number=P410A&robot=C1A")
    page.reload()
    for text in ("P410B", "P410A"):
        enter(page, text)
        page.reload()
    throat = next(result for result in form.results if result.unit and result.stage == "coupon")
    same = [one for one in form.results if (one.stage, one.what, one.robot) == ("coupon", throat.what, throat.robot)]
    assert len(same) > 1  # so that a name without its welds would leave open which it was
    page = tablet.open("operation-1-record.html")
    row = page.locator(f'[data-result="{throat.key}"]')
    for text in ("0.5", throat.minimum):
        row.locator("input").fill(text)
        row.locator("form button").click()
    failed = page.locator("[data-kept=replaced] li")
    texts = sorted(failed.all_inner_texts())
    assert len(texts) == 3
    assert texts[0].startswith(f"{throat.what}, {throat.robot}, {throat.welds}: 0.5 Not accepted (")
    speed = r"Travel speed, weld schedule 11, C1A: 7\.5 mm/s Too low \(\d\d:\d\d, A\. Miller\)"
    assert re.fullmatch(speed, texts[1])
    assert texts[2].startswith("program P410A, C1A: P410B Does not match (")
    page.emulate_media(media="print")
    assert failed.first.is_visible()
    page.emulate_media(media="screen")
    saved = json.loads(save(page, "json"))
    assert [len(saved["replaced"][kind]) for kind in ("readings", "numbers", "results")] == [1, 1, 1]
    assert program_problems(saved, order) == []
    lines = list(csv.DictReader(io.StringIO(save(page, "csv"), newline="")))
    assert [line["verdict"] for line in lines if line["note"].endswith("replaced")] == [
        "mismatch",
        "low",
        "not accepted",
    ]


def test_what_somebody_typed_is_no_formula_in_a_saved_list(tablet: Cell) -> None:
    page = tablet.open("operation-1-record.html")
    cells = ["=1+1", "+1-2", "-2+3", "@now", "\tx", "-5", "+3.2", "8.4", 'a "b" = c', ""]
    saved = page.evaluate("cells => packetFiles.csv([cells])", cells)
    (read,) = csv.reader(io.StringIO(saved, newline=""))
    assert read == ["'=1+1", "'+1-2", "'-2+3", "'@now", "'\tx", *cells[5:]]


def test_a_failure_of_the_former_revision_stays_in_words_where_this_one_cannot_judge_it(
    tablet: Cell, next_revision: Path
) -> None:
    page = tablet.open("operation-1-record.html")
    page.locator('[data-verdict-key="not accepted"]').first.click()
    page.locator('[data-verdict-key="accepted"]').first.click()
    key = tablet.record()["results"][0]["result"]
    page = tablet.open("operation-1-set-up.html", next_revision.as_uri())
    page.fill("form[data-take-over] input", "same fixture, same wire")
    page.click("form[data-take-over] button")
    record = tablet.record()
    [said] = [one for one in record["deviations"] if one["what"].startswith(f"{key}: not accepted not accepted, ")]
    assert said["reason"] == "judged by revision C"
    assert record["replaced"] == {"readings": [], "numbers": [], "results": []}


def program_problems(saved: dict[str, Any], order: Packet) -> list[Problem]:
    """Return what the program finds in a saved record, apart from whether its revision was in force."""
    set_up = read_set_up(json.dumps({**saved, "status_reason": "a test"}).encode(), "saved.json")
    sheet = order.operations[set_up.operation - 1]
    of = Of((), cast("Any", None), order, sheet, set_up_form(sheet))
    return set_up_problems(set_up, of, datetime.now(UTC))


def test_what_is_taken_back_after_an_acceptance_takes_the_acceptance_along(
    tablet: Cell, order: Packet, form: SetUpForm
) -> None:
    page = tablet.open("operation-1-set-up.html")
    record = accepted_record(order, 1)
    at = record["begun"]
    record["steps"] = [
        {"list": each.list, "key": each.key, "digest": each.digest, "done": at, "by": ""} for each in form.steps
    ]
    page.evaluate("([key, record]) => localStorage.setItem(key, JSON.stringify(record))", [RECORD_1, record])
    page.reload()
    step = tablet.tick(0)
    assert "coupons and first-off are then to be accepted again" in step.locator(".step-said").inner_text()
    tablet.tick(0)
    kept = tablet.record()
    assert (kept["accepted"], kept["finished"]) == ([], "")
    proved = [step for step in form.steps if step.list == "prove-out"]
    assert len(kept["steps"]) == len(proved) - 2  # the first step makes the state of every stage of the set-up


def save(page: Any, kind: str) -> str:
    with page.expect_download() as waiting:
        page.click(f"[data-save={kind}]")
    return Path(waiting.value.path()).read_text(encoding="utf-8")


def test_the_keyboard_alone_ticks_takes_back_and_enters(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    box = tablet.step(0).locator("input")
    box.focus()
    page.keyboard.press("Space")
    page.wait_for_function("() => document.querySelectorAll('li[data-step] input:checked').length === 1")
    page.keyboard.press("Space")
    tablet.step(0).locator(".step-said", has_text="Touch again").wait_for()
    page.keyboard.press("Space")
    page.wait_for_function("() => document.querySelectorAll('li[data-step] input:checked').length === 0")
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    page.keyboard.type("2.5")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == "Enter it again"
    page.keyboard.press("Enter")
    page.keyboard.type("3.3")
    page.keyboard.press("Enter")
    assert page.inner_text(".rb-verdict").startswith("Equal: 3.3 m/min.")


def test_what_was_entered_is_on_the_card_and_opens_its_pad(tablet: Cell) -> None:
    page = read_value(tablet, "c1a-t1/travel_speed")
    enter(page, "7,5")
    page = tablet.open("operation-1.html")
    cell = page.locator('[data-outcome-value="c1a-t1/travel_speed"][data-outcome-robot="C1A"]').first
    assert cell.inner_text() == "7.5 low"
    cell.locator("a").click()
    page.locator(".rb-what", has_text="Travel speed").wait_for()


def test_the_list_of_a_changeover_is_kept_and_emptied_at_the_second_touch(chromium: Any, changeover: Path) -> None:
    for found in _cell(chromium, changeover.as_uri()):
        page = found.open("changeover.html")
        found.tick(0, "changeover")
        page.reload()
        assert is_ticked(found.step(0, "changeover"))
        key = page.locator("[data-empty]")
        key.click()
        assert key.inner_text() == "Touch again: every tick goes"
        assert is_ticked(found.step(0, "changeover"))
        key.click()
        assert not is_ticked(found.step(0, "changeover"))


def test_a_killer_item_is_kept_with_its_set_up(tablet: Cell) -> None:
    page = tablet.open("operation-1.html")
    items = page.locator("[data-killer]")
    for item in (items.nth(3), items.last):
        item.locator("xpath=..").click()
        item.locator("xpath=..").locator(".step-said").wait_for()
    assert items.last.get_attribute("data-killer") == "out"
    page.reload()  # a count of people is not kept
    assert not any(box.is_checked() for box in items.all())
    for robot, program in (("C1A", "P410A"), ("C1B", "P410B")):
        read_number(tablet, program, robot, program)
    page = tablet.open("operation-1.html")
    items.first.locator("xpath=..").click()
    items.first.locator("xpath=..").locator(".step-said").wait_for()
    page.reload()
    assert [box.is_checked() for box in items.all()] == [True, *[False] * (items.count() - 1)]
    page = tablet.open("operation-1-set-up.html")
    page.click(".device [data-set-up-new]")
    page.click("[data-new-sure-yes]")
    page = tablet.open("operation-1.html")
    assert not any(box.is_checked() for box in items.all())


def test_a_killer_item_says_how_far_the_tasks_are_that_it_looks_at(tablet: Cell, form: SetUpForm) -> None:
    page = tablet.open("operation-1.html")
    states = page.locator("[data-killer-state]")
    fitting = [step.key for step in form.steps if step.key in ("lock-out", "fixture", "wire", "gas")]
    assert len(fitting) == 4
    settings = sum(len(value.robots) for value in form.values if value.kind == "setting")
    schedules = sum(number.what == "weld schedule" for number in form.numbers)
    whole = settings + schedules
    tasks = states.nth(2).get_attribute("data-tasks").split()
    assert set(fitting) <= set(tasks)
    assert states.all_inner_texts() == ["0 of 2 read", f"0 of {whole} read", f"0 of {len(tasks)} done", "", ""]
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    enter(page, "3,2")
    page = read_value(tablet, "c1a-t1/travel_speed")
    enter(page, "7.5")
    tablet.open("operation-1-set-up.html")
    for at in range(4):
        tablet.tick(at)
    page = tablet.open("operation-1.html")
    assert states.all_inner_texts() == ["0 of 2 read", f"1 of {whole} read", f"1 of {len(tasks)} done", "", ""]


def read_number(tablet: Cell, number: str, robot: str, entered: str) -> None:
    page = tablet.open(f"operation-1-read-back.html#number={number}&robot={robot}")
    page.reload()
    enter(page, entered)


def test_a_check_of_the_card_is_not_ticked_against_its_own_evidence(tablet: Cell) -> None:
    read_number(tablet, "P410A", "C1A", "P410B")
    read_number(tablet, "P410B", "C1B", "P410B")
    page = tablet.open("operation-1.html")
    boxes, said = page.locator("[data-killer]"), page.locator(".killers-said")
    for at, words in enumerate(
        (
            "Not done: 1 missing. First: program P410A, C1A: P410B does not match.",
            "Not done: 32 missing. First: weld schedule 11, C1A.",
            "Not done: 5 missing. First: a step of the set-up.",
        )
    ):
        boxes.nth(at).locator("xpath=..").tap()
        page.wait_for_function(
            "words => document.querySelector('.killers-said')?.innerText.startsWith(words)", arg=words
        )
        assert not boxes.nth(at).is_checked()
    bar, shown = page.locator(".bar").bounding_box(), said.bounding_box()
    assert shown["y"] + shown["height"] <= bar["y"]
    assert said.locator("a").bounding_box()["height"] >= KEY
    boxes.nth(3).locator("xpath=..").tap()
    boxes.nth(3).locator("xpath=..").locator(".step-said").wait_for()
    assert not said.is_visible()
    read_number(tablet, "P410A", "C1A", "P410A")
    page = tablet.open("operation-1.html")
    boxes.first.locator("xpath=..").tap()
    page.wait_for_function("() => document.querySelector('[data-killer]').checked")
    read_number(tablet, "P410A", "C1A", "P410B")  # what was true at the tick is so no more
    page = tablet.open("operation-1.html")
    assert not boxes.first.is_checked()
    assert boxes.first.locator("xpath=..").locator(".step-said").inner_text() == "open again"


def test_ticks_of_the_five_checks_stay_above_the_keys_at_the_foot(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.name("A. Miller")
    for at in range(9):
        tablet.tick(at)
    read_back_as_required(tablet)
    page = tablet.open("operation-1.html")
    for box in page.locator("[data-killer]").all():
        box.locator("xpath=..").tap()
        box.locator("xpath=..").locator(".step-said").wait_for()
    said = page.locator(".killer .step-said")
    assert [re.fullmatch(r"\d\d:\d\d, A\. Miller", text) is not None for text in said.all_inner_texts()] == [True] * 5
    bar = page.locator(".bar").bounding_box()["y"]
    assert max(one.bounding_box()["y"] + one.bounding_box()["height"] for one in said.all()) <= bar
    assert page.evaluate("scrollY") == 0


def index_of(form: SetUpForm, name: str, key: str) -> int:
    return [step.key for step in form.steps if step.list == name].index(key)


def test_what_makes_the_state_of_a_stage_holds_the_other_steps_of_it(tablet: Cell, form: SetUpForm) -> None:
    tablet.open("operation-1-set-up.html")
    place = {
        key: index_of(form, "set-up", key) for key in ("lock-out", "wire", "take-lock-off", "thread-wire-c1a-and-c1b")
    }
    for at in range(place["lock-out"]):
        tablet.tick(at)
    held = tablet.tick(place["wire"])
    assert not is_ticked(held)
    assert held.locator(".step-said").inner_text().startswith("Not done: this comes first: Lock out cell C1 ")
    said, key = held.locator(".step-said").bounding_box(), held.locator(".step-said .key").bounding_box()
    assert said["height"] <= key["height"] + 20  # the sentence is beside its key, not around it
    tablet.tick(place["lock-out"])
    assert is_ticked(tablet.tick(place["wire"]))
    held = tablet.tick(place["thread-wire-c1a-and-c1b"])
    assert "this comes first: Leave the cell, take off your lock" in held.locator(".step-said").inner_text()
    tablet.tick(place["take-lock-off"])
    assert is_ticked(tablet.tick(place["thread-wire-c1a-and-c1b"]))


def test_a_lock_out_that_is_taken_back_takes_what_was_done_under_it_along(tablet: Cell, form: SetUpForm) -> None:
    tablet.open("operation-1-set-up.html")
    under = ("wire", "take-lock-off", "thread-wire-c1a-and-c1b")
    lock_out = index_of(form, "set-up", "lock-out")
    for at in (*range(lock_out + 1), *(index_of(form, "set-up", key) for key in under)):
        assert is_ticked(tablet.tick(at))
    alone = tablet.tick(index_of(form, "set-up", "wire"))
    assert alone.locator(".step-said").inner_text() == "Touch again to take the tick away"
    asking = tablet.tick(lock_out)
    said = asking.locator(".step-said").inner_text()
    assert said == "Touch again to take the tick away, and 3 ticks that rest on it"
    assert len(tablet.record()["steps"]) == lock_out + 4
    tablet.tick(lock_out)
    kept = [step["key"] for step in tablet.record()["steps"]]
    assert kept == [step.key for step in form.steps[:lock_out]]
    assert not is_ticked(tablet.step(index_of(form, "set-up", "wire")))


def test_prove_out_waits_for_the_last_hold_point_of_the_set_up_and_for_its_own_stages(
    tablet: Cell, form: SetUpForm
) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    tablet.open("operation-1-prove-out.html")
    held = tablet.tick(0, "prove-out")
    assert not is_ticked(held)
    assert held.locator(".step-said").inner_text().startswith("Not done: 1 missing. First: a hold point of the set-up.")
    record = tablet.record()
    hold = next(step for step in form.steps if step.list == "set-up" and step.enter == "settings")
    record["steps"].append(
        {"list": "set-up", "key": hold.key, "digest": hold.digest, "done": record["begun"], "by": ""}
    )
    page.evaluate("([key, record]) => localStorage.setItem(key, JSON.stringify(record))", [RECORD_1, record])
    page.reload()
    held = tablet.tick(1, "prove-out")
    assert held.locator(".step-said").inner_text().startswith("Not done: this comes first: Go in alone, ")
    assert is_ticked(tablet.tick(0, "prove-out"))
    assert is_ticked(tablet.tick(1, "prove-out"))
    held = tablet.tick(index_of(form, "prove-out", "coupons/weld-coupons"), "prove-out")
    assert not is_ticked(held)


@pytest.fixture(scope="module")
def column(looks: SiteLooks, demo_packets: dict[str, Packet], tmp_path_factory: pytest.TempPathFactory) -> Path:
    plan = plan_draft_site(demo_packets["lk-2055-outdoor-column"], control())
    return Emitter(looks, tmp_path_factory.mktemp("column")).emit(plan)


def test_changeover_and_start_lead_to_the_steps_of_each_cell(
    chromium: Any, column: Path, demo_packets: dict[str, Packet]
) -> None:
    cells = [operation.cell for operation in demo_packets["lk-2055-outdoor-column"].operations]
    for found in _cell(chromium, column.as_uri()):
        for name in ("changeover.html", "start.html"):
            page = found.open(name)
            keys = page.locator('nav.keys[aria-label$="by cell"] a')
            assert keys.all_inner_texts() == cells
            keys.filter(has_text="C6").tap()
            target = page.locator(":target")
            assert target.evaluate("found => found.dataset.place ?? found.innerText") == "Cell C6: Carcass side"
            place = target.bounding_box()
            assert place is not None
            assert 0 <= place["y"] < 400


def test_the_changeover_comes_before_set_up_and_start(
    chromium: Any, column: Path, demo_packets: dict[str, Packet]
) -> None:
    packet = demo_packets["lk-2055-outdoor-column"]
    for found in _cell(chromium, column.as_uri()):
        page = found.open("changeover.html")
        keys = page.locator('ol[data-list="changeover"] li[data-step]').evaluate_all(
            "all => all.map(one => one.dataset.step)"
        )
        held = found.tick(keys.index("C1/stop-and-test"), "changeover")
        assert "the hold point above comes first: Check that order LK-2041 is complete at cell C1" in held.inner_text()
        page = found.open("index.html")
        assert page.locator('a.key[href="changeover.html"]').first.inner_text() == "First: changeover from LK-2041"
        for number in range(1, 6):
            seed(page, packet, number)
        page = found.open("start.html")
        assert page.inner_text("[data-start-said]").startswith("Not to be started: 4 of 5 operations ")
        assert "changeover of cell C1: 9 of 9 steps open" in page.inner_text("[data-start-list]")
        page.evaluate("localStorage.removeItem('packet/set-up/lk-2055-outdoor-column/1')")
        page = found.open("operation-1-set-up.html")
        assert page.locator(".changeover-first a.key").get_attribute("href") == "changeover.html#C1-before"
        assert "the changeover takes the place of this set-up" in found.tick(0).inner_text()
        page.click("[data-from-nothing] summary")
        page.fill("[data-from-nothing] input", "the cell was cleared")
        page.click("[data-from-nothing] form button")
        assert is_ticked(found.tick(0))
        [said] = found.kept("packet/set-up/lk-2055-outdoor-column/1")["deviations"]
        assert (said["what"], said["reason"]) == ("set up from nothing, not by the changeover", "the cell was cleared")
        page = found.open("start.html")
        assert "changeover of cell C1" not in page.inner_text("[data-start-list]")
        page = found.open("changeover.html")
        cell = [at for at, key in enumerate(keys) if key.startswith(("C5-before/", "C5/"))]
        assert all(is_ticked(found.tick(at, "changeover")) for at in cell)
        page = found.open("start.html")
        assert "changeover of cell C5" not in page.inner_text("[data-start-list]")
        assert "changeover of cell C6" in page.inner_text("[data-start-list]")


def test_what_a_further_operation_of_a_cell_needs_waits_until_it_has_started(
    chromium: Any, one_cell_site: Path
) -> None:
    """It is counted from the last part of the one before: before any start is noted it is not due in so many parts."""
    for found in _cell(chromium, one_cell_site.as_uri()):
        page = found.open("run.html")
        assert page.locator("[data-run-count] option").all_inner_texts()[:2] == ["C1, operation 1", "C1, operation 2"]
        lines = page.locator(".run-due li").all_inner_texts()
        assert any(line.startswith("Cell C1, operation 1: in ") for line in lines)
        assert not any(line.startswith("Cell C1, operation 2: in ") for line in lines)


def test_a_further_operation_of_a_cell_holds_up_no_start_and_is_not_started_before_it_is_accepted(
    chromium: Any, one_cell: Packet, one_cell_site: Path
) -> None:
    for found in _cell(chromium, one_cell_site.as_uri()):
        page = found.open("start.html")
        said = page.locator("[data-start-said]").first
        assert said.inner_text().startswith(
            "Not to be started: 3 of 3 operations that come first in their cells have no "
        )
        for number in (1, 3, 4):
            seed(page, one_cell, number)
        page.reload()
        assert said.inner_text().startswith(
            "The first operation of each cell has an accepted first-off on this device. "
        )
        assert (
            "Operation 2 follows operation 1 in cell C1: set it up after the last part of that one."
            in said.inner_text()
        )
        assert is_ticked(found.tick(0, "start-1"))
        assert not is_ticked(found.tick(0, "start-2"))
        seed(page, one_cell, 2)
        page.reload()
        assert said.inner_text() == "Every operation has an accepted first-off on this device."
        assert is_ticked(found.tick(0, "start-2"))


def test_the_changeover_of_the_cell_goes_into_the_record_of_its_set_up(
    chromium: Any, column: Path, demo_packets: dict[str, Packet]
) -> None:
    packet = demo_packets["lk-2055-outdoor-column"]
    tasks = [(task.key, task.digest) for task in changeover_tasks(packet, 3)]
    for found in _cell(chromium, column.as_uri()):
        found.open("operation-3-set-up.html")
        found.name("J. Berg")
        page = found.open("changeover.html")
        keys = page.locator('ol[data-list="changeover"] li[data-step]').evaluate_all(
            "all => all.map(one => one.dataset.step)"
        )
        for at in (at for at, key in enumerate(keys) if key.startswith(("C5-before/", "C5/"))):
            assert is_ticked(found.tick(at, "changeover"))
        page = found.open("operation-3-record.html")
        assert "changeover" not in page.inner_text('[data-kept="steps"]')
        page.fill('form[data-adds="lots"] [name="what"]', "caps")
        page.fill('form[data-adds="lots"] [name="lot"]', "L-1")
        page.click('form[data-adds="lots"] button')
        steps = page.inner_text('[data-kept="steps"]')
        assert f"{len(tasks)} of {len(tasks)} steps of the changeover of cell C5 are done." in steps
        assert "No step of the prove-out is done." in steps
        saved = json.loads(save(page, "json"))
        assert [(one["key"], one["digest"], one["by"]) for one in saved["changeover"]] == [
            (*task, "J. Berg") for task in tasks
        ]
        lines = list(csv.DictReader(io.StringIO(save(page, "csv"), newline="")))
        assert [line["what"] for line in lines if line["kind"] == "step"] == [f"changeover: {key}" for key, _ in tasks]
        # A step that is taken back is gone from the record with the next thing noted.
        page = found.open("changeover.html")
        last = max(at for at, key in enumerate(keys) if key.startswith("C5/"))
        found.tick(last, "changeover")
        assert not is_ticked(found.tick(last, "changeover"))
        page = found.open("operation-3-prove-out.html")
        found.tick(0, "prove-out")
        page = found.open("operation-3-record.html")
        page.locator('[data-kept="lots"] button').click()
        page.locator('[data-kept="lots"] button').click()
        kept = found.kept("packet/set-up/lk-2055-outdoor-column/3")
        assert [one["key"] for one in kept["changeover"]] == [key for key, _ in tasks[:-1]]


def test_what_a_browser_cannot_read_or_hold_is_never_lost_in_silence(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    page.evaluate("key => localStorage.setItem(key, '{torn')", RECORD_1)
    page.reload()
    assert not is_ticked(tablet.step(0))
    assert page.evaluate("key => localStorage.getItem(`${key}/unreadable`)", RECORD_1) == "{torn"
    tablet.tick(0)
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full') } }")
    assert is_ticked(tablet.tick(1))
    assert is_ticked(tablet.step(0))
    assert page.locator("[data-device-none]").is_visible()


@pytest.mark.parametrize(
    "value", ["null", "[]", "{}", "1", '"x"', '{"ticks": null}', '{"begun": 7, "steps": [1]}', "[{}]"]
)
def test_what_pages_of_another_form_have_kept_is_put_beside_and_stops_no_script(tablet: Cell, value: str) -> None:
    """All files of a device share one storage: another program's, and that of pages to come."""
    slug = RECORD_1.split("/")[-2]
    names = [f"packet/{name}" for name in ("person", "name-form", "set-ups", "runs", f"run/{slug}")]
    names += [RECORD_1, *(f"packet/ticks/{slug}/{page}" for page in ("1", "changeover.html"))]
    page = tablet.open("index.html")
    for name in ("index", "operation-1", "operation-1-set-up", "operation-1-record", "changeover", "start", "run"):
        page.evaluate("([names, value]) => names.forEach((name) => localStorage.setItem(name, value))", [names, value])
        page = tablet.open(f"{name}.html")
    assert tablet.complaints == []


def test_a_reading_outside_is_left_with_a_reason(tablet: Cell) -> None:
    page = read_value(tablet, "c1a-t1/travel_speed")
    enter(page, "7.6")
    assert page.locator("[data-rb=reason]").bounding_box()["height"] >= 60
    page.click("[data-rb=note]")
    assert tablet.record()["deviations"] == []
    page.fill("[data-rb=reason]", "agreed with the welding engineer")
    page.click("[data-rb=note]")
    [noted] = tablet.record()["deviations"]
    assert noted["what"] == "Travel speed, weld schedule 11, C1A"
    missing = page.evaluate("() => window.packetProof.missingToRead().map(one => one.words)")
    assert noted["what"] not in missing
    assert "Travel speed, weld schedule 11, C1B" in missing


def test_two_values_inside_their_ranges_that_make_too_small_a_weld_are_named(tablet: Cell) -> None:
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    assert enter(page, "3.1").startswith("In range: 3.1 m/min.")
    page = read_value(tablet, "c1a-t1/travel_speed")
    said = enter(page, "8.5")
    words = "Travel speed too high for this wire feed speed: at most 8.07 mm/s at 3.1 m/min."
    assert said.startswith(f"Not together: 8.5 mm/s. {words} Allowed: 7.7 to 8.5 mm/s.")
    assert shape(page) == '"▲"'
    kept = tablet.record()["together"]
    pair = {"value": "c1a-t1/travel_speed", "other": "c1a-t1/wire_feed_speed", "robot": "C1A"}
    assert kept == [{**pair, "verdict": "high"}]
    missing = "() => window.packetProof.missingToRead().map(one => one.words)"
    assert f"Travel speed, weld schedule 11, C1A: {words.removesuffix('.')}" in page.evaluate(missing)
    page.fill("[data-rb=reason]", "agreed with the welding engineer")
    page.click("[data-rb=note]")
    [noted] = tablet.record()["deviations"]
    assert noted["what"] == "Travel speed, weld schedule 11, C1A, beside wire feed speed"
    assert not any("too high" in words for words in page.evaluate(missing))
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    assert enter(page, "3.4").startswith("In range: 3.4 m/min.")
    assert tablet.record()["together"] == [{**pair, "verdict": "in range"}]
    page = read_value(tablet, "c1a-t1/wire_feed_speed")
    assert enter(page, "3.2").startswith("Not together: 3.2 m/min. Travel speed too high")
    page = tablet.open("operation-1.html")
    shown = page.locator('[data-outcome-value="c1a-t1/travel_speed"][data-outcome-robot="C1A"]')
    assert shown.inner_text() == "8.5 not together"


def test_a_revision_that_goes_out_of_force_in_a_set_up_asks_for_a_reason(tablet: Cell) -> None:
    page = tablet.open("operation-1-set-up.html")
    tablet.tick(0)
    page.evaluate("() => { document.querySelector('.stamp').dataset.status = 'superseded' }")
    assert not is_ticked(tablet.tick(1))
    page.fill("form[data-begin] input", "last part of the lot")
    page.click("form[data-begin] button")
    assert is_ticked(tablet.tick(1))
    record = tablet.record()
    assert (record["status"], record["status_reason"]) == ("superseded", "last part of the lot")
    assert len(record["steps"]) == 2
