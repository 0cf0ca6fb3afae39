"""Revisions in Chromium, from a folder without a server: answers for the reader's own day, on glass and on paper."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from weld_packets.revisions.status.status import as_of
from weld_packets.site.build.all_orders import gathered, write_lists
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import Cards
from weld_packets.site.pages.all_orders.instrument_page import KeptInstrument, KeptInstruments, KeptMachine
from weld_packets.site.pages.qr_codes import code_text
from weld_packets.site.pages.revision_pages import plan_released_site

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
TABLET = {"width": 820, "height": 1180}


@pytest.fixture(scope="module")
def plant(module_plant: Any) -> Any:
    """Return the plant with a fourth revision that is due on 30 October."""
    packet = module_plant.history(20).newest.packet
    module_plant.release(packet.model_copy(update={"cautions": ("New caution.",)}), 21, "caution", "2026-10-30")
    return module_plant


@pytest.fixture(scope="module")
def site(looks: SiteLooks, plant: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Emitter(looks, tmp_path_factory.mktemp("revisions")).emit(plan_released_site(plant.history(22)))


@pytest.fixture(scope="module")
def empty_site(looks: SiteLooks, plant: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Emitter(looks, tmp_path_factory.mktemp("nothing")).emit(plan_released_site(plant.history(15)))


@pytest.fixture
def on(chromium: Any, site: Path) -> Iterator[Callable[..., Any]]:
    """Return a function that opens a page of the site on a day; it must complain of nothing and ask nobody."""
    contexts, complaints = [], []

    def visit(name: str, day: str = "2026-10-22", place: Path = site, screen: dict[str, int] = TABLET) -> Any:
        context = chromium.new_context(viewport=screen)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("request", lambda request: request.url.startswith("file:") or complaints.append(request.url))
        page.clock.set_fixed_time(f"{day}T09:00:00Z")
        page.goto(f"{place.as_uri()}/{name}")
        return page

    yield visit
    for context in contexts:
        context.close()
    assert complaints == []


def digest(plant: Any, mark: str) -> str:
    view = next(one for one in plant.history(22).views if one.name == mark)
    return str(view.control.digest)


def answer(page: Any) -> str:
    return str(page.inner_text("#check-answer")).lower()


def test_every_page_of_every_revision_is_quiet_and_fits_a_phone(on: Any, site: Path) -> None:
    wide = {}
    for path in sorted(site.rglob("*.html")):
        name = path.relative_to(site).as_posix()
        page = on(name, screen=PHONE)
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > PHONE["width"]:
            wide[name] = width
        page.context.close()
    assert wide == {}


def test_a_page_left_standing_stops_calling_itself_in_force_when_its_successor_is_due(on: Any) -> None:
    before = on("operation-1.html", "2026-10-29")
    assert before.inner_text(".stamp-status").lower() == "in force"
    assert before.locator(".banner").count() == 0
    after = on("operation-1.html", "2026-10-30")
    assert after.inner_text(".stamp-status").lower() == "superseded"
    assert "superseded by d" in after.inner_text(".banner").lower()
    assert after.locator(".watermark").is_visible()
    after.click(".banner a")
    assert after.url.endswith("rev-d/index.html")


def test_pages_stop_saying_in_force_when_they_are_older_than_the_plant_allows(on: Any, plant: Any) -> None:
    """Built on 22 October, good for 31 days; revision D is due before that and in force when they end."""
    good = on("rev-d/operation-1.html", "2026-11-22")
    assert "in force by date" in good.inner_text(".banner").lower()
    good.context.close()
    old = on("check.html", "2026-11-23")
    old.fill("#check-code", f"ORDER PL-2041 REV D RECORD {digest(plant, 'D')[:12]} SHEET OPERATION-1")
    old.click("#check-form button")
    assert answer(old).startswith("not confirmed since 2026-10-22")
    assert "ask for today's pages" in answer(old)


def test_a_page_of_a_plant_that_allows_five_days_says_so_on_screen_and_paper(
    chromium: Any, tmp_path: Path, looks: Any, plant: Any
) -> None:
    history = plant.history(22)
    head = history.main.packet.head.model_copy(update={"copy_days": "5"})
    main = replace(history.main, packet=history.main.packet.model_copy(update={"head": head}))
    site = Emitter(looks, tmp_path / "site").emit(plan_released_site(replace(history, main=main)))
    for day, said, sheet in (
        ("2026-10-27", "in force", "IN FORCE"),
        ("2026-10-28", "not confirmed", "NOT CONFIRMED SINCE 2026-10-22"),
    ):
        page = chromium.new_page()
        page.clock.set_fixed_time(f"{day}T09:00:00Z")
        page.goto((site / "operation-1.html").as_uri())
        assert page.inner_text(".stamp-status").lower() == said
        assert "records known to 2026-10-22" in page.inner_text(".stamp-detail")
        assert page.text_content(".sheet-status") == sheet
        assert page.locator(".banner").count() == (said == "not confirmed")
        page.close()


def test_a_run_by_a_revision_that_ended_says_what_becomes_of_it_on_every_page_of_the_run(on: Any) -> None:
    def is_open(page: Any) -> bool:
        return bool(page.evaluate("document.getElementById('run-ends').open"))

    assert is_open(on("rev-b/run.html"))
    assert not is_open(on("run.html", "2026-10-29"))
    assert is_open(on("run.html", "2026-10-30"))
    page = on("run.html")
    assert not is_open(page)
    start = "{list: 'start-1', cell: 'C1', operation: 'operation-1', revision: '%s', at: '2026-10-12T09:00:00Z'}"
    note = f"(run) => window.packetStart.change((kept) => ({{...kept, starts: [{start}]}}))"
    for revision, said in (("C", ""), ("A", "superseded"), ("B", "withdrawn")):
        page.evaluate(note % revision)
        page.reload()
        assert is_open(page) is bool(said)
        assert page.locator("[data-run-by]").is_visible() is bool(said)
        if said:
            assert page.inner_text("[data-run-by]").endswith(f"revision {revision}, which is {said}. End it.")
    page.evaluate("() => window.packetStart.end()")
    page.reload()
    assert not is_open(page)


def test_a_clock_set_back_does_not_bring_a_revision_back(on: Any) -> None:
    assert on("rev-b/operation-1.html", "2026-10-12").inner_text(".stamp-status").lower() == "withdrawn"
    page = on("check.html", "2026-10-12")
    page.fill("#check-code", "ORDER PL-2041 REV C DIGEST 000000000000 SHEET OPERATION-1")
    page.click("#check-form button")
    assert "answered for 2026-10-22" in page.inner_text("#check-basis").lower()


def test_a_page_that_is_not_in_force_leads_to_the_one_that_is(on: Any) -> None:
    page = on("rev-a/operation-2.html")
    assert page.locator(".watermark").is_visible()
    page.click(".banner a")
    assert page.url.endswith("/operation-2.html")
    assert "rev-" not in page.url
    assert page.inner_text(".stamp-revision").endswith("C")


def test_the_selector_leads_to_the_same_page_of_another_revision(on: Any) -> None:
    page = on("operation-1.html")
    page.click(".choices summary")
    page.click(".choices a:has-text('Rev B')")
    assert page.url.endswith("rev-b/operation-1.html")
    assert page.inner_text(".stamp-status").lower() == "withdrawn"


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-10-04", "no revision in force"),
        ("2026-10-05", "revision A in force since 2026-10-05, approved by quality lead"),
        ("2026-10-13", "revision B in force since 2026-10-12"),
        ("2026-10-14", "For a part of that day: revision B"),
        ("2026-10-16", "no revision in force"),
        ("2026-10-22", "revision C in force since 2026-10-19"),
        ("2026-11-05", "As far as was recorded on 2026-10-22"),
    ],
)
def test_the_history_answers_for_a_date(on: Any, day: str, said: str) -> None:
    page = on("history.html")
    page.fill("#as-of", day)
    assert said in page.inner_text("#as-of-answer")


@pytest.mark.parametrize(
    ("mark", "day", "verdict"),
    [
        ("C", "2026-10-22", "in force"),
        ("C", "2026-10-30", "superseded by d"),
        ("B", "2026-10-22", "withdrawn"),
        ("A", "2026-10-22", "superseded by b"),
        ("D", "2026-10-22", "not yet in force"),
        ("D", "2026-10-30", "in force"),
    ],
)
def test_a_scanned_address_answers_for_this_very_sheet(on: Any, plant: Any, mark: str, day: str, verdict: str) -> None:
    code = f"order=PL-2041&rev={mark}&digest={digest(plant, mark)[:12]}&sheet=operation-1"
    page = on(f"check.html#{code}", day)
    assert page.inner_text("#check-answer .verdict").lower() == verdict
    good = page.get_attribute("#check-answer", "data-verdict") == "good"
    assert good == (verdict == "in force")


def test_the_words_of_the_printed_code_are_answered_when_typed(on: Any, plant: Any) -> None:
    stamp = plan_released_site(plant.history(22)).stamp
    page = on("check.html")
    page.fill("#check-code", code_text(stamp, "operation-2"))
    page.keyboard.press("Enter")
    assert "in force" in answer(page)
    assert "sheet operation-2 of order pl-2041, revision c" in answer(page)


def test_a_sheet_of_an_operation_s_page_that_is_no_more_is_judged_and_leads_to_the_card(on: Any, plant: Any) -> None:
    stamp = plan_released_site(plant.history(22)).stamp
    page = on("check.html")
    page.fill("#check-code", code_text(stamp, "operation-2-programs-of-old"))
    page.keyboard.press("Enter")
    assert "in force" in answer(page)
    page.fill("#check-code", f"ORDER PL-2041 REV B DIGEST {digest(plant, 'B')[:12]} SHEET OPERATION-2-PROGRAMS-OF-OLD")
    page.keyboard.press("Enter")
    assert page.get_attribute("#check-answer a", "href").endswith("operation-2.html")


@pytest.mark.parametrize(
    "typed",
    [
        "ORDER PL-2041 REV C RECORD {C:.12}",
        "order pl-2041 rev c record {C:.4} {C:.12}",
        "Order PL-2041 · Rev C · IN FORCE from 2026-10-19, approved by quality lead · record {C:.12}",
        "PL-2041 C {C:.4} {C:.12}",
        "  pl-2041,  c,  {C:.12} ",
    ],
)
def test_what_a_person_reads_at_the_foot_is_answered_when_typed(on: Any, plant: Any, typed: str) -> None:
    page = on("check.html")
    whole = digest(plant, "C")
    page.fill("#check-code", typed.replace("{C:.4} {C:.12}", f"{whole[:4]} {whole[4:8]} {whole[8:12]}").format(C=whole))
    page.keyboard.press("Enter")
    assert page.inner_text("#check-answer .verdict").lower() == "in force"
    assert "any sheet of order pl-2041, revision c" in answer(page)


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ("ORDER PL-2041 REV C DIGEST 000000000000 SHEET OPERATION-1", "not that revision"),
        ("ORDER PL-2041 REV C DIGEST {C:.6} SHEET OPERATION-1", "not that revision"),
        ("ORDER PL-2041 REV C DIGEST {C:.12} SHEET ROW-9", "no such sheet"),
        ("ORDER PL-2041 REV H DIGEST {C:.12} SHEET OPERATION-1", "unknown revision"),
        ("ORDER PL-2042 REV C DIGEST {C:.12} SHEET OPERATION-1", "another order"),
        ("ORDER PL-2041 DRAFT DIGEST {C:.12} SHEET OPERATION-1", "draft"),
        ("Order PL-2041 · DRAFT packet {C:.12}", "draft"),
        ("ORDER PL-2041 REV C RECORD 000000000000", "not that revision"),
        ("ORDER PL-2041 REV C", "not readable"),
        ("<b>PL-2041</b>", "not readable"),
        ("", "not readable"),
    ],
)
def test_a_code_that_is_not_of_a_sheet_in_force_is_refused_with_the_reason(
    on: Any, plant: Any, typed: str, verdict: str
) -> None:
    page = on("check.html")
    page.fill("#check-code", typed.format(C=digest(plant, "C")))
    page.click("#check-form button")
    assert page.inner_text("#check-answer .verdict").lower() == verdict
    assert page.get_attribute("#check-answer", "data-verdict") == "bad"
    assert page.locator("#check-answer b").count() == 0


@pytest.mark.parametrize(
    "typed",
    [
        f"ORDER{' A REV X RECORD 0' * 20_000} !",
        f"ORDER{' ' * 130}REV{' ' * 130}X RECORD{' ' * 120}!",
        f"ORDER A REV B{' RECORD 0' * 40}!",
        f"ORDER{' ·' * 190} REV !",
        "A" * 1_000_000,
    ],
    ids=["longer than any code", "three runs of blanks", "many records", "many points", "a million letters"],
)
def test_a_text_of_any_length_and_of_any_blanks_is_answered_at_once(on: Any, typed: str) -> None:
    page = on("check.html")
    page.evaluate("typed => { document.getElementById('check-code').value = typed }", typed)
    began = time.monotonic()
    page.evaluate("document.querySelector('#check-form button').click()")
    assert page.inner_text("#check-answer .verdict").lower() == "not readable"
    assert time.monotonic() - began < 2


def test_an_address_that_cannot_be_decoded_is_answered_as_it_is(on: Any) -> None:
    page = on("check.html#said=%")
    assert page.inner_text("#check-answer .verdict").lower() == "not readable"


def test_the_operators_search_finds_only_what_is_in_force(on: Any) -> None:
    page = on("index.html")
    page.click(".bar [data-press=search]")
    page.keyboard.type("welding current")
    page.wait_for_selector(".md-search-result__item")
    links = page.eval_on_selector_all(".md-search-result__link", "all => all.map(one => one.href)")
    assert links
    assert not [link for link in links if "/rev-" in link]


def test_every_printed_sheet_that_must_not_be_used_is_marked_across_its_face(
    printed: Any, site: Path, tmp_path: Path
) -> None:
    """The letters across the sheet are turned, so each is alone in the text."""
    for name, word in (("rev-a/operation-1.html", "SUPERSEDED"), ("rev-b/operation-1.html", "WITHDRAWN")):
        sheets = printed(f"{site.as_uri()}/{name}", tmp_path / "marked.pdf", layout=False, day="2026-10-22")
        for sheet in sheets:
            assert all(letter in sheet.splitlines() for letter in word)
    for sheet in printed(f"{site.as_uri()}/operation-1.html", tmp_path / "plain.pdf", layout=False, day="2026-10-22"):
        assert not any(letter in sheet.splitlines() for letter in "SUPERSEDED")


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_head_of_every_sheet_names_the_document_and_what_it_is_worth(
    printed: Any, site: Path, tmp_path: Path, size: str
) -> None:
    for folder, said in (("", "Rev C · IN FORCE"), ("rev-a/", "Rev A · SUPERSEDED")):
        sheets = printed(f"{site.as_uri()}/{folder}packet.html", tmp_path / "foot.pdf", size, day="2026-10-22")
        for number, sheet in enumerate(sheets, 1):
            assert f"Order PL-2041 · {said}" in sheet
            assert "approved by quality lead" in sheet
            assert "Uncontrolled copy. Valid only if the code reads IN FORCE today." in sheet
            assert f"Page {number} of {len(sheets)}" in sheet


def test_paper_printed_after_the_day_says_that_it_is_no_longer_in_force(
    printed: Any, site: Path, tmp_path: Path
) -> None:
    pages = ("operation-1.html", "packet.html")
    for sheet in (
        sheet
        for page in pages
        for sheet in printed(f"{site.as_uri()}/{page}", tmp_path / "late.pdf", day="2026-10-30", layout=False)
    ):
        assert "NO LONGER IN FORCE" in sheet
        assert "Do not work from this sheet." in sheet
        assert "IN FORCE" not in sheet.replace("NO LONGER IN FORCE", "")


def test_with_nothing_in_force_the_first_page_says_so_and_nothing_is_found(on: Any, empty_site: Path) -> None:
    page = on("index.html", "2026-10-15", empty_site)
    assert "do not weld" in page.inner_text(".banner").lower()
    assert page.locator(".settings").count() == 0
    due = on("index.html", "2026-10-19", empty_site)
    assert "revision C" in due.inner_text(".banner.late")


def test_the_pages_over_all_orders_say_when_a_status_is_overdue(on: Any, plant: Any, site: Path) -> None:
    write_lists(site.parent, gathered(Cards(site.parent)), plant.archive().register, date(2026, 10, 22))
    for name in ("index.html", "register.html", "tables.html"):
        assert on(name, "2026-10-29", site.parent).locator(".late").count() == 0
        late = on(name, "2026-10-30", site.parent)
        assert "What is in force may have changed after" in late.inner_text(".late")


def test_the_register_shows_what_was_in_force_on_a_day_over_all_orders(on: Any, plant: Any, site: Path) -> None:
    register = plant.archive().register
    write_lists(site.parent, gathered(Cards(site.parent)), register, date(2026, 10, 22))
    page = on("register.html", place=site.parent)
    every = page.locator(".order:visible").count()
    for day in (date(2026, 10, 4), date(2026, 10, 5), date(2026, 10, 14), date(2026, 10, 21), date(2026, 11, 30)):
        page.fill("#day", str(day))
        expected = [each.revision for each in as_of(register.of("pl-2041"), day).in_force]
        shown = [row.split()[1] for row in page.locator(".order:visible td:nth-child(3)").all_inner_texts()]
        assert shown == expected, day
        assert page.inner_text("#found") == f"{len(expected)} of {every}"
    page.fill("#day", "")
    assert page.locator(".order:visible").count() == every


def test_the_instruments_are_narrowed_by_what_is_typed(on: Any, plant: Any, site: Path) -> None:
    days = ("2026-06-15", "2027-06-14", "")
    gauges = [KeptInstrument("FG-02", "force gauge", *days), KeptInstrument("CL-07", "vernier calliper", *days)]
    kept = KeptInstruments(table="instruments", instruments=gauges, machines=[KeptMachine("C1", "C1A", "PS-C1A")])
    cards, day = gathered(Cards(site.parent)), date(2026, 10, 22)
    write_lists(site.parent, cards, plant.archive().register, day, instruments=kept)
    page = on("instruments.html", place=site.parent)
    every = page.locator(".order:visible").count()
    assert page.inner_text("#found") == f"{every} of {every}"
    page.fill("#filter", "force fg")
    assert page.locator(".order:visible td:first-child").all_inner_texts() == ["FG-02"]
    assert page.inner_text("#found") == f"1 of {every}"


def test_the_releases_that_used_one_revision_of_a_table_are_shown_alone(on: Any, plant: Any, site: Path) -> None:
    write_lists(site.parent, gathered(Cards(site.parent)), plant.archive().register, date(2026, 10, 22))
    page = on("tables.html", place=site.parent)
    assert page.locator(".use:visible").count() == 2
    assert page.locator(".use[open]").count() == 0
    page.select_option("#choose", label="spot-lc revision 4")
    assert page.locator(".use:visible").count() == page.locator(".use[open]").count() == 1
    page.click(".use:visible a[href*='sources.html']")
    assert page.url.endswith("pl-2041/rev-a/sources.html#table-spot-lc")
    assert on("tables.html#spot-lc-5", place=site.parent).locator(".use:visible").count() == 1


def test_a_code_scanned_into_the_list_of_orders_is_answered_by_its_order(on: Any, plant: Any, site: Path) -> None:
    write_lists(site.parent, gathered(Cards(site.parent)), plant.archive().register, date(2026, 10, 22))
    page = on("index.html", place=site.parent)
    page.fill("#filter", f"ORDER PL-2041 REV A DIGEST {digest(plant, 'A')[:12].upper()} SHEET OPERATION-1")
    page.keyboard.press("Enter")
    page.wait_for_selector("#check-answer .verdict")
    assert page.inner_text("#check-answer .verdict").lower() == "superseded by b"
    assert page.input_value("#check-code").startswith("ORDER PL-2041")


@pytest.mark.parametrize("at", [("2026-10-22T05:59:00Z", "2026-10-21"), ("2026-10-22T06:01:00Z", "2026-10-22")])
def test_the_day_of_a_page_is_the_plants_and_not_the_devices(
    chromium: Any, plant: Any, looks: SiteLooks, tmp_path: Path, at: tuple[str, str]
) -> None:
    """The device is set to Tokyo, the plant is in Denver, six hours behind UTC in October."""
    history = replace(plant.history(16), zone="America/Denver")
    site = Emitter(looks, tmp_path).emit(plan_released_site(history))
    context = chromium.new_context(viewport=TABLET, timezone_id="Asia/Tokyo")
    page = context.new_page()
    page.clock.set_fixed_time(at[0])
    page.goto(f"{site.as_uri()}/history.html")
    assert page.input_value("#as-of") == at[1]
    assert "Days and times are those of America/Denver." in page.inner_text("#page")
    context.close()


def test_the_long_lists_of_a_history_are_printed_where_somebody_opened_them(
    on: Any, text_of_pdf: Callable[..., list[str]], tmp_path: Path
) -> None:
    page = on("history.html")
    tables = page.locator("#rev-c-tables")
    within = " ".join(tables.locator("p").text_content().split())[:20]

    def printed_words() -> str:
        page.pdf(path=str(tmp_path / "history.pdf"))
        return " ".join(" ".join(text_of_pdf(tmp_path / "history.pdf", "-raw")).split())

    closed = printed_words()
    assert "Not printed: open it on the page first." in closed
    assert within not in closed
    tables.locator("summary").click()
    opened = printed_words()
    assert within in opened[opened.index("Revision C") : opened.index("Revision B")]
    tables.locator("summary").click()
    assert printed_words() == closed
