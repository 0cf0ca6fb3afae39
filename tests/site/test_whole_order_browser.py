"""A whole order as a setter takes it: from the list of orders to filed records, on a tablet without a network."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands import main
from weld_packets.commands.shared.drafts import draft
from weld_packets.commands.shared.orders import open_workspace

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2]
FIRST, SECOND = "lk-2041-service-module", "lk-2055-outdoor-column"
TABLET = {"width": 820, "height": 1180}
MORNING = datetime(2026, 12, 1, 6, 10, tzinfo=UTC)
EVENING = datetime(2026, 12, 1, 18, 0, tzinfo=UTC)
SAID = "step => `${step.querySelector('input').checked} ${step.querySelector('.step-said')?.textContent}`"
PARTS = 640
COUNTED = {
    2: {"Contact tip used, C2A": "7,2"},
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
        """Enter every value as the page asks it: on the page's own keys where it has them, or with a scanner's."""
        page = self.page
        while page.locator("#read-back").is_visible():
            shown = page.inner_text(".rb-setting")
            if shown.startswith("asked: "):
                page.keyboard.type(shown.removeprefix("asked: "))
            elif not by_pad:
                page.keyboard.type(shown.split()[1])
            else:
                for digit in shown.split()[1].replace(".", ","):
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
            if row.locator("input").count():
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
    context.set_offline(True)  # noqa: FBT003
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
    for held, said in setter.go_through("set-up"):
        assert "missing. First:" in said, said
        setter.follow(held.locator(".task-entry a"))
        setter.read_back(by_pad=by_pad)
        setter.follow("[data-bar=set-up]")
    for found, said in setter.go_through("set-up"):
        pytest.fail(f"{found.inner_text()}: {said}")

    setter.follow("[data-bar=prove-out]")
    while held := next(setter.go_through("prove-out"), None):
        assert "missing. First:" in held[1], held[1]
        setter.follow(held[0].locator(".step-said a"))
        if setter.at(f"operation-{number}-read-back.html"):
            setter.read_back(by_pad=by_pad)
        else:
            setter.enter_results("coupon" if "#result-coupon" in page.url else "first-off")
        setter.follow("[data-bar=prove-out]")
    setter.follow(f'#page a.key[href="operation-{number}-record.html"]')
    for what, count in COUNTED.get(number, {}).items():
        setter.add("counters", what, count)
    setter.add("lots", f"lot of operation {number}", f"L-{number}")
    return setter.save('[data-save="json"]', folder)


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
    setter.page.fill("[data-run-count] input", str(count))
    setter.page.locator("[data-run-count] form button").tap()
    assert setter.page.inner_text("[data-run-said]").startswith(f"Part count {count} of {PARTS}")


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
    count_parts(setter, 21)
    due = page.locator("[data-run-due] li[data-due=now]")
    assert "dress both caps" in due.first.inner_text()
    while due.count():
        due.first.locator("button").tap()
    assert page.locator("[data-run-due] li").first.inner_text().startswith("In ")
    page.screenshot(path="/tmp/ex/30.png", full_page=True)

    works.run("records", "add", *map(str, records), at=EVENING)
    works.run("verify", at=EVENING)
    works.run("build", at=EVENING)
    page.goto(f"{setter.base}/{FIRST}/history.html")
    rows = page.locator("#set-ups + * tbody tr").all_inner_texts()
    print(rows)

    counted = draft(open_workspace(works.root), SECOND)
    print(
        [
            (one.start, other.start)
            for one, other in zip(planned.run.consumables, counted.run.consumables)
            if one.start != other.start
        ]
    )
    print([one for one in zip(planned.run.events, counted.run.events) if one[0] != one[1]][:3])
    print([one for one in zip(planned.run.rules, counted.run.rules) if one[0] != one[1]][:3])
    print([one for one in zip(planned.changeover.lines, counted.changeover.lines) if one[0] != one[1]][:3])
    print([one for one in zip(planned.changeover.steps, counted.changeover.steps) if one[0] != one[1]][:3])
