"""The demo orders on paper, as Chromium and Firefox print them: few sheets, each with its identity, and nothing lost.

A draft has the digest of its packet where a release has that of its record; the sites here are of a release.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pytest
from PIL import Image
from weld_packets.packet.forms import set_up_form
from weld_packets.packet.operation.card import card_tables, people_words
from weld_packets.packet.records.operation import OperationSheet
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
IN_FORCE = Control(revision="D", status="in force", approver="Welding coordinator", digest="9f8b1c2d3e4f5a6b")
DIGEST = "9f8b 1c2d 3e4f"
MOST_SHEETS, OF_OPERATIONS, MORE_EACH = 26, 4, 4
"""An order of four operations; each further one has sheets of its own."""
WAYS = [
    ("chromium", "A4"),
    ("chromium", "Letter"),
    ("firefox", "A4"),
    ("firefox", "Letter"),
    ("command line", "Letter"),
]
BAND_MM = 8
DOTS_PER_INCH = 50
MARGIN_MM = 6
SHEET_MM = 266

Order = tuple[Packet, Path]
Paper = Callable[..., list[str]]


@pytest.fixture(scope="module")
def orders(looks: SiteLooks, demo_packets: dict[str, Packet], tmp_path_factory: pytest.TempPathFactory) -> list[Order]:
    emitter = Emitter(looks, tmp_path_factory.mktemp("orders"))
    return [(packet, emitter.emit(plan_draft_site(packet, IN_FORCE))) for packet in demo_packets.values()]


@pytest.fixture(scope="module", params=WAYS, ids="-".join)
def printed_packets(
    request: pytest.FixtureRequest, orders: list[Order], paper: Paper, tmp_path_factory: pytest.TempPathFactory
) -> list[tuple[Packet, Path, list[str]]]:
    """Every order printed whole, with its PDF and the text of each sheet."""
    way, size = request.param
    folder = tmp_path_factory.mktemp("paper")
    printed = []
    for packet, site in orders:
        target = folder / f"{packet.head.number}.pdf"
        printed.append((packet, target, paper(way, (site / "packet.html").as_uri(), target, size)))
    return printed


def test_a_whole_order_takes_few_sheets(printed_packets: list[tuple[Packet, Path, list[str]]]) -> None:
    found = {packet.head.number: len(sheets) for packet, _, sheets in printed_packets}
    assert len(found) == 3
    most = {
        packet.head.number: MOST_SHEETS + MORE_EACH * max(0, len(packet.operations) - OF_OPERATIONS)
        for packet, _, _ in printed_packets
    }
    assert {number: count for number, count in found.items() if count > most[number]} == {}


def test_every_sheet_says_what_it_is_and_which_of_how_many(
    printed_packets: list[tuple[Packet, Path, list[str]]],
) -> None:
    for packet, _, sheets in printed_packets:
        names = {
            f"Operation {one.number} of {len(packet.operations)}: {one.name}, cell {one.cell}"
            for one in packet.operations
        }
        met = set()
        for number, sheet in enumerate(sheets, 1):
            head = sheet[:400]
            assert head.startswith(f"Order {packet.head.number} · Rev D · IN FORCE "), head
            assert f"record {DIGEST}" in head
            assert f"Page {number} of {len(sheets)}" in head
            assert "Uncontrolled copy. Valid only if the code reads IN FORCE today." in head
            met |= {name for name in (*names, "Whole order") if name in head}
        assert met == {*names, "Whole order"}


def test_no_frame_of_a_signal_word_or_hold_runs_through_the_line_below(orders: list[Order], chromium: Any) -> None:
    """Safety text that looks struck out is worse than none."""
    read = """all => all.map(word => {
      const [frame, text] = [word.getBoundingClientRect(), document.createRange()]
      text.selectNodeContents(word.parentElement)
      const below = [...text.getClientRects()].map(box => box.top).filter(top => top > frame.top + 4)
      return [word.parentElement.innerText.slice(0, 40), Math.min(...below, Infinity) - frame.bottom]
    })"""
    for _, site in orders:
        page = chromium.new_page()
        page.goto((site / "packet.html").as_uri())
        page.wait_for_selector(".whole.laid")
        frames = page.locator(".p-message-word, .hold-word").evaluate_all(read)
        page.close()
        assert len(frames) > 40
        assert [(text, gap) for text, gap in frames if gap < -1] == []


def test_no_sheet_is_half_empty(printed_packets: list[tuple[Packet, Path, list[str]]], tmp_path: Path) -> None:
    for packet, pdf, sheets in printed_packets:
        filled = [_filled(picture) for picture in _pictures(pdf, tmp_path / packet.head.number)]
        assert len(filled) == len(sheets)
        poor = {at: share for at, share in enumerate(filled[:-1], 1) if share < 0.5}
        assert poor == {}, packet.head.number


def _sheets_of(operation: OperationSheet, sheets: list[str]) -> str:
    """Return what the sheets with the name of an operation at their head say, without spaces."""
    return _tight("".join(sheet for sheet in sheets if f"Operation {operation.number} of " in sheet[:400]))


def test_nothing_that_a_set_up_keeps_lacks_a_place_on_paper(
    printed_packets: list[tuple[Packet, Path, list[str]]],
) -> None:
    for packet, _, sheets in printed_packets:
        for operation in packet.operations:
            own = _sheets_of(operation, sheets)
            _hold_values(operation, own)
            _hold_numbers(operation, own)
            _hold_results(operation, own)
            _hold_steps(operation, own)
            for counter in set_up_form(operation).counters:
                assert _tight(f"{counter.what}, {counter.unit} before at the end") in own
            assert operation.people is not None
            assert _tight(people_words(operation.people)) in own
            for kept in (
                "Qualification of the setter", "Lot of no.", "Instrument its number", "Part serials to",
                "Deviation reason", "Set by Date, time", "Setter Date, time Inspector Date, time",
            ):  # fmt: skip
                assert _tight(kept) in own, (operation.name, kept)


def test_the_sheets_of_all_cells_hold_every_message_start_change_and_list(
    printed_packets: list[tuple[Packet, Path, list[str]]],
) -> None:
    for packet, _, sheets in printed_packets:
        own = _tight("".join(sheet for sheet in sheets if "Whole order" in sheet[:400]))
        wanted = [
            *(text for call in packet.callouts for text in (call.hazard, call.consequence, call.avoid)),
            *(fact.text for call in packet.callouts for fact in call.facts),
            *(task.do for start in packet.starts for stage in start.stages for task in stage.tasks),
            *(text for start in packet.starts for stage in start.stages for task in stage.tasks
              for text in (task.value, task.see)),
            *(text for list_ in packet.procedures for step in list_.steps for text in (step.do, step.value, step.see)),
            *(text for list_ in packet.procedures for text in (list_.title, list_.where, list_.when)),
            *packet.stop_if, *packet.emergency_if,
            *(rule.text for rule in packet.run.rules), *(event.what for event in packet.run.events),
            *(text for line in packet.inspections if line.stage not in ("coupon", "first-off")
              for text in (line.what, line.how, line.accept, line.every, line.operation_name)),
        ]  # fmt: skip
        if packet.changeover:
            wanted += [text for line in packet.changeover.lines for text in (line.what, line.before, line.after)]
            tasks = [task for stage in packet.changeover.stages for task in stage.tasks]
            wanted += [text for task in tasks for text in (task.do, task.value, task.see, *task.notes)]
            wanted += [packet.changeover.basis, *(stage.title for stage in packet.changeover.stages)]
        missing = [text for text in dict.fromkeys(wanted) if _tight(text) not in own]
        assert missing == [], packet.head.number
        holds = sum(task.hold for start in packet.starts for stage in start.stages for task in stage.tasks)
        assert len(re.findall("[sS]ignedDate,time", own)) >= holds > 0


def test_an_order_is_taken_from_changeover_to_the_end_of_its_run_by_paper_alone(
    printed_packets: list[tuple[Packet, Path, list[str]]],
) -> None:
    """In the order in which a setter goes through it, with the place to write what is done at each point."""
    for packet, _, sheets in printed_packets:
        own = _tight("".join(sheet for sheet in sheets if "Whole order" in sheet[:400]))
        parts = ["Safety", *(["Changeoverfrom"] if packet.changeover else []), "Starteveryoneout", "Duringtherun"]
        places = [own.index(part) for part in [*parts, "Goinginduringtherun", "Runrecord"]]
        assert places == sorted(places), packet.head.number
        record = own[places[-1] :]
        for start in packet.starts:
            cell = next(one.cell for one in packet.operations if one.key == start.operation)
            assert f"{cell}started,everybodycountedout:date,timebydate,timeby" in record
            assert record.count(f"{cell}partcountdate,time,by") == 2
        for rule in packet.run.rules:
            assert "".join((_tight(rule.what), "afterpart", *(str(turn) for turn in rule.turns if turn))) in record
        assert "Runendedatpartcount" in record
        assert record.index("SetterDate,timeInspectorDate,time") > record.index("Runendedatpartcount")
        if packet.changeover:
            changeover = own[places[1] : places[2]]
            holds = [task for stage in packet.changeover.stages for task in stage.tasks if task.hold]
            assert len(re.findall("[sS]ignedDate,time", changeover)) >= len(holds) > 0
            for cell in {line.cell for line in packet.changeover.lines if line.cell}:
                assert f"Cell{cell}" in changeover


def test_a_head_of_a_changeover_says_what_holds_at_its_own_cells(orders: list[Order], chromium: Any) -> None:
    packet, site = orders[1]
    page = chromium.new_page()
    page.goto((site / "packet.html").as_uri())
    page.wait_for_selector(".whole.laid")
    said = page.locator(".sheet-body").all_inner_texts()
    page.close()
    steps = " ".join("".join(said).split()).partition("Cell C1: Base frame HOLD")[2].partition("Start everyone out")[0]
    assert [steps.count(f"{number}/3 ") for number in (1, 2, 3)] == [3, 3, 3]
    assert [steps.count(f"{number}/2 ") for number in (1, 2)] == [1, 1]
    of_cell = steps.partition("Cell C6: Carcass side")[2].partition("Cell C7: Back panel")[0]
    [gun] = [call for call in packet.callouts if call.hazard == "The gun closes with kilonewtons."]
    assert gun.hazard in of_cell
    own = next(operation.key for operation in packet.operations if operation.cell == "C6")
    force = [fact for fact in gun.facts if fact.who != "Every operation"]
    assert {own} < {key for fact in force for key in fact.operations}
    found = ["".join(fact.text.split()) in "".join(of_cell.split()) for fact in force]
    assert found == [own in fact.operations for fact in force]


def test_more_turns_than_a_sheet_can_list_are_written_down_on_a_line(
    looks: SiteLooks, orders: list[Order], chromium: Any, tmp_path: Path
) -> None:
    packet = orders[0][0]
    first, *others = packet.run.rules
    listed = sum(len(rule.turns) for rule in others)
    page = chromium.new_page()
    for count, ticks in ((240 - listed, len(packet.run.rules)), (241 - listed, 0)):
        long = first.model_copy(update={"turns": tuple(range(1, count + 1))})
        run = packet.run.model_copy(update={"rules": (long, *others)})
        site = Emitter(looks, tmp_path / str(count)).emit(
            plan_draft_site(packet.model_copy(update={"run": run}), IN_FORCE)
        )
        page.goto((site / "packet.html").as_uri())
        page.wait_for_selector(".whole.laid")
        assert page.locator(".p-form .p-ticks").count() == ticks
        lines = page.locator(".p-form p").filter(has_text="done at part count").count()
        assert lines == len(packet.run.rules) - ticks
    page.close()


def test_the_sheets_of_an_operation_hold_its_procedure_specification(
    printed_packets: list[tuple[Packet, Path, list[str]]],
) -> None:
    for packet, _, sheets in printed_packets:
        for operation in packet.operations:
            own = _sheets_of(operation, sheets)
            sheet = operation.procedure
            assert sheet is not None
            said = own[own.index("rocedurespecification(" + ("pWPS" if sheet.preliminary else "WPS")) :]
            assert "WeldingcoordinatorDate,time" in said
            for item in sheet.items:
                for text in (item.label, *(text for line in item.lines for text in (line.of, line.text))):
                    assert _tight(text) in said, (operation.name, item.label)
            for piece in sheet.test_pieces:
                assert all(_tight(text) in said for text in (piece.title, piece.tests)), operation.name


@pytest.mark.parametrize("way", ["chromium", "firefox"])
def test_a_sheet_printed_from_its_own_page_says_what_it_is(
    way: str, orders: list[Order], paper: Paper, tmp_path: Path
) -> None:
    packet, site = orders[0]
    for name in ("operation-1", "operation-1-set-up", "operation-1-record", "operation-3-map", "safety", "going-in"):
        sheets = paper(way, (site / f"{name}.html").as_uri(), tmp_path / "own.pdf")
        for sheet in sheets:
            assert f"Order {packet.head.number} · Rev D · IN FORCE " in sheet[:400], (name, sheet[:200])
            assert f"record {DIGEST}" in sheet[:400]
            operation = re.fullmatch(r"operation-(\d).*", name)
            assert not operation or f"peration {operation[1]} of 4: " in sheet[:400]


@pytest.mark.parametrize("way", ["chromium", "firefox"])
def test_lists_for_going_in_that_nobody_opened_are_printed_whole(
    way: str, orders: list[Order], paper: Paper, tmp_path: Path
) -> None:
    packet, site = orders[0]
    sheets = paper(way, (site / "going-in.html").as_uri(), tmp_path / "going-in.pdf")
    assert len(sheets) <= 9
    said = _tight(" ".join(sheets))
    for each in packet.procedures:
        assert _tight(each.title) in said
        assert all(_tight(step.do) in said for step in each.steps), each.title


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_tables_of_a_weld_map_fill_the_sheet_of_its_drawing(
    orders: list[Order], paper: Paper, tmp_path: Path, size: str
) -> None:
    _, site = orders[0]
    sheets = paper("chromium", f"{site.as_uri()}/operation-1-map.html", tmp_path / "map.pdf", size)
    assert len(sheets) == 2
    assert "Sizes and coordinates" in sheets[0]
    assert "Torch attitude" in sheets[1]


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_procedure_specification_takes_two_sheets_at_most(
    orders: list[Order], paper: Paper, tmp_path: Path, size: str
) -> None:
    long = {}
    for packet, site in orders:
        for operation in packet.operations:
            address = f"{site.as_uri()}/operation-{operation.number}-wps.html"
            sheets = paper("chromium", address, tmp_path / "wps.pdf", size)
            assert "Welding coordinator" in " ".join(sheets)
            if len(sheets) > 2:
                long[f"{packet.head.number} {operation.number}"] = len(sheets)
    assert long == {}


def test_the_smallest_type_of_the_packet_is_read_at_arm_s_length(orders: list[Order], chromium: Any) -> None:
    """16 minutes of arc at 400 mm are 1.86 mm of capital; a capital is at least 0.71 of the type size."""
    page = chromium.new_page()
    page.goto((orders[0][1] / "packet.html").as_uri())
    page.wait_for_selector(".whole.laid")
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('.sheet-body *')]
          .filter(e => !e.closest('svg') && [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()))
          .map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    drawn = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('.p-map svg text')].map(e =>
          parseFloat(getComputedStyle(e).fontSize) * e.ownerSVGElement.getBoundingClientRect().width
          / e.ownerSVGElement.viewBox.baseVal.width))"""
    )
    page.close()
    millimetre = 96 / 25.4
    assert smallest * 0.71 / millimetre >= 1.86
    assert drawn * 0.71 / millimetre >= 1.86


def _tight(text: str) -> str:
    """Return a text without white space and ligatures: a line may end after each hyphen, and "fl" may be one sign."""
    return "".join(normalize("NFKC", text).split())


def _hold_values(operation: OperationSheet, own: str) -> None:
    """Hold every value with its range to its line, with a place for what each of its robots shows."""
    for table in card_tables(operation):
        for line in table.lines:
            parts = []
            for cell in line.cells:
                for each in cell:
                    if each.value.amount:
                        parts.append(re.escape(_tight(each.value.amount.value)))
                    parts.append(re.escape(_tight(each.allowed)))
                parts += [re.escape(robot) for robot in operation.robots if any(robot in each.robots for each in cell)]
            label = re.escape(_tight(line.label))
            for part in parts:
                assert re.search(rf"{label}.{{0,260}}?{part}", own), (operation.name, line.label, part)
    for value in set_up_form(operation).values:
        assert _tight(value.setting) in own


def _hold_numbers(operation: OperationSheet, own: str) -> None:
    for number in set_up_form(operation).numbers:
        assert re.search(rf"{number.robot}program.{{0,80}}{re.escape(number.number)}", own), number


def _hold_results(operation: OperationSheet, own: str) -> None:
    for result in set_up_form(operation).results:
        what = _tight(result.what.partition(": ")[2] or result.what)
        assert what.lower() in own.lower(), (operation.name, result.what)
        for limit in (result.minimum, result.maximum, *([] if result.unit else [_tight(result.accept)])):
            assert _tight(limit) in own, (operation.name, result)
        if result.robot:
            assert re.search(rf"{re.escape(what)}.{{0,260}}?{result.robot}", own), (operation.name, result)


def _hold_steps(operation: OperationSheet, own: str) -> None:
    tasks = [task for stage in (*operation.set_up_stages, *operation.prove_stages) for task in stage.tasks]
    assert {task.key for task in tasks} == {step.key for step in set_up_form(operation).steps}
    for task in tasks:
        for text in (task.do, task.value, task.see, *task.notes):
            assert _tight(text) in own, (operation.name, text)
        if task.hold:
            end = re.escape(_tight(task.notes[-1] if task.notes else task.see or task.value or task.do))
            assert re.search(rf"HOLD{re.escape(_tight(task.do))}.{{0,400}}?{end}SignedDate,time", own), task.do


def _pictures(pdf: Path, target: Path) -> Iterator[Image.Image]:
    target.mkdir()
    command = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", "-png", str(pdf), str(target / "sheet")]
    subprocess.run(command, check=True)
    for path in sorted(target.glob("*.png")):
        with Image.open(path) as picture:
            yield picture.convert("L")


def _filled(picture: Image.Image) -> float:
    """Return which share of a sheet's bands, each as high as a line to write on, has ink."""
    per_mm = DOTS_PER_INCH / 25.4
    edges = [int((MARGIN_MM + at) * per_mm) for at in range(0, SHEET_MM, BAND_MM)]
    bands = [picture.crop((0, top, picture.width, top + int(BAND_MM * per_mm))) for top in edges]
    return sum(min(band.tobytes()) < 128 for band in bands) / len(bands)


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_no_sheet_holds_the_foot_of_its_page_alone(
    size: str, orders: list[Order], printed: Paper, tmp_path: Path
) -> None:
    """What every sheet says of itself ends with its worth; something has to stand between that and the foot."""
    bare = []
    for _, site in orders:
        for path in (
            *sorted(site.glob("operation-*-record.html")),
            *sorted(site.glob("operation-*-qualification.html")),
        ):
            last = " ".join(printed(path.as_uri(), tmp_path / "page.pdf", size)[-1].split())
            above, _, _ = last.partition("These pages assist trained people")
            assert above != last
            if above.endswith("reads IN FORCE today. "):
                bare.append(path.name)
    assert bare == []
