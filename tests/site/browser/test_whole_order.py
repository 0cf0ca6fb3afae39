"""A whole order as a setter takes it: from the list of orders to filed records, on a tablet without a network."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.packet.records.order import Packet
from weld_packets.plant.drafts import draft
from weld_packets.plant.orders import open_workspace

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[3]
FIRST, SECOND = "lk-2041-service-module", "lk-2055-outdoor-column"
TABLET = {"width": 820, "height": 1180}
MORNING = datetime(2026, 12, 1, 6, 10, tzinfo=UTC)
EVENING = datetime(2026, 12, 1, 18, 0, tzinfo=UTC)
SAID = "step => `${step.querySelector('input').checked} ${step.querySelector('.step-said')?.textContent}`"
PARTS = 640
COUNTED = {
    1: {"Wire left, C1A": "9,5"},
    4: {"Welds since the last dressing, C6A": "0", "Dressings since the change, C6A": "20"},
}


@dataclass
class Works:
    """A plant's folder with the demo's released records, and its command on a day."""

    root: Path
    run: Callable[..., str]


@pytest.fixture(scope="module")
def works(tmp_path_factory: pytest.TempPathFactory) -> Works:
    root = tmp_path_factory.mktemp("works")
    for name in ("instructions", "tables", "site_overrides"):
        shutil.copytree(ROOT / name, root / name)
    shutil.copyfile(ROOT / "mkdocs.yml", root / "mkdocs.yml")

    def run(*words: str, at: datetime = MORNING) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("SOURCE_DATE_EPOCH", str(int(at.timestamp())))
            assert main(["--root", str(root), *words]) == 0, words

    run("build")
    return Works(root, run)


@dataclass
class Setter:
    """A person with a tablet: touches what is on the screen, and types where only typing helps."""

    page: Any
    base: str
    complaints: list[str] = field(default_factory=list)

    def tap(self, mark: str) -> None:
        self.page.locator(mark).first.tap()

    def follow(self, link: Any) -> None:
        """Touch a link, given by itself or its mark, and wait for the page that it leads to."""
        found = self.page.locator(link).first if isinstance(link, str) else link
        with self.page.expect_navigation(wait_until="load"):
            found.tap()

    def at(self, name: str) -> bool:
        return str(self.page.url).partition("#")[0].endswith(f"/{name}")

    def enter(self, mark: str, text: str, key: str) -> None:
        self.page.fill(f"{mark} input", text)
        self.tap(f"{mark} {key}")

    def step(self, of: str, at: int) -> Any:
        return self.page.locator(f'ol[data-list="{of}"] li[data-step]').nth(at)

    def tick(self, of: str, at: int) -> str:
        """Touch a step and return what it says then."""
        found = self.step(of, at)
        before = found.evaluate(SAID)
        found.locator(".step-do").tap()
        self.page.wait_for_function(
            f"([step, before]) => ({SAID})(step) !== before", arg=[found.element_handle(), before]
        )
        return str(found.locator(".step-said").inner_text())

    def go_through(self, of: str) -> Iterator[tuple[Any, str]]:
        """Touch each open step of a list in turn; yield those that are not done, with what they say of it."""
        for at in range(self.page.locator(f'ol[data-list="{of}"] li[data-step]').count()):
            found = self.step(of, at)
            if not found.locator("input").is_checked():
                said = self.tick(of, at)
                if not found.locator("input").is_checked():
                    yield found, said

    def read_back(self, *, by_pad: bool) -> None:
        """Enter every value as the page requires it: on the page's own keys where it has them, or with a scanner's."""
        page = self.page
        while page.locator("#read-back").is_visible():
            shown = page.inner_text(".rb-setting")
            if shown.startswith("required: "):
                page.keyboard.type(shown.removeprefix("required: "))
            elif not by_pad:
                page.keyboard.type(shown.split()[1])
            else:
                for digit in shown.split()[1]:
                    page.locator(f'[data-digit="{digit}"]').tap()
            page.locator(".rb-enter").tap()  # judged
            page.locator(".rb-verdict[data-verdict]").wait_for()
            assert page.locator("[data-rb=after]").is_hidden(), page.inner_text(".rb-verdict")
            page.locator(".rb-enter").tap()  # the verdict was read
        assert re.fullmatch(r"All \d+ are entered\.", page.inner_text("[data-rb-said]"))

    def enter_results(self, stage: str) -> None:
        """Enter every result of a stage at its limit, and accept what is judged by eye."""
        rows = self.page.locator(f'[data-result^="{stage}/"]')
        assert rows.count()
        for at in range(rows.count()):
            row = rows.nth(at)
            if not row.locator("[data-verdict-key]").count():
                limit = re.search(r"(?:at least|at most|:) ?([0-9.]+)", row.locator(".result-what").inner_text())
                assert limit is not None, row.inner_text()
                row.locator("input").fill(limit[1].replace(".", ","))
                row.locator("button").tap()
            else:
                row.locator('[data-verdict-key="accepted"]').tap()
            assert row.locator("[data-result-verdict]").inner_text().startswith("Accepted"), row.inner_text()

    def add(self, kind: str, what: str, said: str) -> None:
        form = self.page.locator(f'form[data-adds="{kind}"]')
        form.locator("input").first.fill(what)
        form.locator("input").last.fill(said)
        form.locator("button").tap()
        assert f"{what}: {said}" in self.page.inner_text(f'[data-kept="{kind}"]')

    def save(self, mark: str, folder: Path) -> Path:
        with self.page.expect_download() as waiting:
            self.page.locator(mark).first.tap()
        place = folder / str(waiting.value.suggested_filename)
        waiting.value.save_as(place)
        return place


@pytest.fixture
def setter(chromium: Any, works: Works) -> Iterator[Setter]:
    context = chromium.new_context(
        viewport=TABLET, has_touch=True, is_mobile=False, timezone_id="Asia/Tokyo", accept_downloads=True
    )
    context.set_offline(True)
    page = context.new_page()
    found = Setter(page, (works.root / "site").as_uri())
    page.on("pageerror", lambda error: found.complaints.append(str(error)))
    page.on("console", lambda said: said.type == "error" and found.complaints.append(said.text))
    page.on("request", lambda sent: sent.url.startswith(("file:", "blob:")) or found.complaints.append(sent.url))
    page.clock.install(time=MORNING)
    page.set_default_timeout(5000)
    yield found
    context.close()
    assert found.complaints == []


def set_up(setter: Setter, number: int, folder: Path) -> Path:
    """Take an operation from the order's page to its accepted first-off, and return the saved record."""
    page, by_pad = setter.page, number == 1
    setter.follow(f'.door[href="operation-{number}.html"]')
    assert page.locator(".card-one").first.is_visible()
    setter.follow("[data-bar=set-up]")
    if page.locator("form[data-person]").is_visible():
        setter.enter("form[data-person]", "J. Berg", "button")
    work_through(setter, number, "set-up", by_pad=by_pad)
    setter.follow("[data-bar=prove-out]")
    work_through(setter, number, "prove-out", by_pad=by_pad)
    setter.follow(f'#page a.key[href="operation-{number}-record.html"]')
    for what, count in COUNTED.get(number, {}).items():
        setter.add("counters", what, count)
    setter.add("lots", f"lot of operation {number}", f"L-{number}")
    return setter.save('[data-save="json"]', folder)


def work_through(setter: Setter, number: int, of: str, *, by_pad: bool) -> None:
    """Tick a list to its end; where something is to be entered first, follow the link that says so, and come back."""
    while held := next(setter.go_through(of), None):
        step, said = held
        assert "missing. First:" in said, said
        setter.follow(step.locator(".step-said a"))
        if setter.at(f"operation-{number}-read-back.html"):
            setter.read_back(by_pad=by_pad)
        else:
            setter.enter_results("coupon" if "#result-coupon" in setter.page.url else "first-off")
        setter.follow(f"[data-bar={of}]")


def start(setter: Setter) -> None:
    """Tick the lists that start the cells, each to its end."""
    page = setter.page
    assert page.inner_text("[data-start-said]").startswith("Every operation has an accepted first-off")
    for number in range(1, 5):
        for found, said in setter.go_through(f"start-{number}"):
            pytest.fail(f"{found.inner_text()}: {said}")
        place = page.locator(f'ol[data-list="start-{number}"] li[data-step]')
        assert place.evaluate_all("all => all.every(one => one.querySelector('input').checked)")


def count_parts(setter: Setter, count: int) -> None:
    for cell in setter.page.locator("[data-run-count] option").all_inner_texts():
        setter.page.select_option("[data-run-count] select", cell)
        setter.page.fill("[data-run-count] input", str(count))
        setter.page.locator("[data-run-count] form button").tap()
        assert f"Cell {cell}: part count {count} of {PARTS}" in setter.page.inner_text("[data-run-said]")


def end_run(setter: Setter, folder: Path) -> Path:
    """Say that the run has ended, and save its record."""
    setter.tap("[data-end-run]")
    setter.tap("[data-end-run]")
    assert re.search(r"Ended \d\d:\d\d, J\. Berg\.$", setter.page.inner_text("[data-run-kept]"))
    return setter.save('[data-save-run="json"]', folder)


def test_a_setter_takes_an_order_to_filed_records_and_the_next_order_starts_from_them(
    setter: Setter, works: Works, tmp_path: Path
) -> None:
    page = setter.page
    planned = draft(open_workspace(works.root), SECOND)
    page.goto(f"{setter.base}/index.html")
    setter.follow(f'a[href="{FIRST}/index.html"]')
    records = []
    for number in range(1, 5):
        records.append(set_up(setter, number, tmp_path))
        setter.follow(".strip a.stamp-order")
        state = page.inner_text(f'[data-operation-state="{number}"]')
        assert re.fullmatch(r"first-off accepted, \d\d:\d\d by J\. Berg", state)

    setter.follow('#page a.key[href="start.html"]')
    start(setter)
    setter.follow('.bar a[href="run.html"]')
    count_parts(setter, 21)
    due = page.locator("[data-run-due] li[data-due=now]")
    assert "dress both caps" in due.first.inner_text()
    while due.count():
        due.first.locator("button").tap()
    assert re.match(r"Cell C\d: in \d+ parts?, ", page.locator("[data-run-due] li").first.inner_text())
    during = setter.save('[data-save-run="json"]', tmp_path)
    run = end_run(setter, tmp_path)
    assert during.name != run.name

    works.run("records", "add", *map(str, (*records, during)), at=EVENING)
    held = draft(open_workspace(works.root), SECOND)
    # The run has not ended: C1A has the 9.5 kg of its set-up, and both the planned run of 640 parts.
    assert changes(held, "wire", "C1") == {"C1A": 254, "C1B": 46}
    works.run("records", "add", str(run), at=EVENING)
    works.run("build", at=EVENING)
    works.run("verify", at=EVENING)
    page.goto(f"{setter.base}/{FIRST}/history.html")
    hidden = "all => all.map(table => table.parentElement.scrollWidth - table.parentElement.clientWidth)"
    assert page.locator(".filed").evaluate_all(hidden) == [0, 0]  # nothing of a record is out of sight to the right
    *set_ups, filed_before = page.locator("#set-ups + * tbody tr").all_inner_texts()
    assert "setter W-031" in filed_before  # the demo's own
    assert [row.split("\t")[1][0] for row in set_ups] == ["4", "3", "2", "1"]
    assert all("first-off accepted" in row and "J. Berg" in row for row in set_ups)
    assert "Wire left, C1A: 9,5" in set_ups[3]
    kept, earlier = sorted(page.locator("#runs + * tbody tr").all_inner_texts(), key=len)
    assert "C6: 21 saved during the run" in earlier
    cells = kept.split("\t")
    assert "Rev F" in cells[0]
    assert cells[1] == "C1: 21; C2: 21; C5: 21; C6: 21"
    assert re.findall(r"C\d+: 2026-12-01 \d\d:\d\d, J\. Berg", cells[2]) == cells[2].split("; ")
    assert "late Carcass side, C6A and C6B: dress both caps: 21 due 11, J. Berg" in cells[3]

    counted = draft(open_workspace(works.root), SECOND)
    assert changes(planned, "caps", "C6") == {"C6A and C6B": 51}
    # After 21 parts: C6A has 20 dressings of the set-up and 1 of the run, C6B 1. With 14 parts to a dressing that is
    # enough for 140 and 420 parts, of which the next order's first-off is one.
    assert changes(counted, "caps", "C6") == {"C6A": 139, "C6B": 419}
    before, after = (changes(packet, "wire", "C1") for packet in (planned, counted))
    assert before == {"C1A": 38, "C1B": 46}
    # C1A: 9.5 kg at the set-up, less the first-off and 21 parts of 0.0441 kg, at 0.0439 kg a part: 194, the first-off
    # one of them. C1B: 15 kg less the same, at 0.0363 kg: 386.
    assert after == {"C1A": 193, "C1B": 385}


def changes(packet: Packet, what: str, cell: str) -> dict[str, int]:
    """Return the part number at which each robot of a cell has something changed first."""
    found = [event for event in packet.run.events if event.cell == cell and what in event.what]
    return {event.robot: event.part_number for event in reversed(found)}
