"""Set-up and prove-out as they are read: how long they are, what stays in view, and how many sheets they take."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
TABLET = {"width": 820, "height": 1180}
SCREEN = 1004  # px between the head and the bar of a tablet
MOST_SCREENS = {"arc": 9, "spot": 9.4}
"""A spot operation may have one stage more, half a screen: caps that are due before the first part."""
GLOVE, APART = 130, 31  # px, 25 mm and 6 mm on a ten-inch tablet
PAGES = ("", "-set-up", "-prove-out")
HEIGHT = "document.querySelector('#page').getBoundingClientRect().height"
COVERED = """() => {
  const box = document.activeElement.getBoundingClientRect()
  const bars = [...document.querySelectorAll('.stage-bar')].map(bar => bar.getBoundingClientRect())
  return bars.some(bar => bar.top < box.bottom && box.top < bar.bottom)
}"""


@pytest.fixture(scope="module")
def sites(looks: SiteLooks, demo_packets: dict[str, Packet], tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Return the site of each order of the demo."""
    control = Control(revision="C", status="in force", digest="c1" * 32, packet_digest="1c" * 32)
    return [
        Emitter(looks, tmp_path_factory.mktemp("order")).emit(plan_draft_site(packet, control))
        for packet in demo_packets.values()
    ]


@pytest.fixture
def tablet(chromium: Any) -> Iterator[Any]:
    page = chromium.new_page(viewport=TABLET)
    yield page
    page.close()


def _operations(site: Path) -> Iterator[str]:
    number = 1
    while (site / f"operation-{number}.html").exists():
        yield f"operation-{number}"
        number += 1


def test_card_set_up_and_prove_out_of_every_operation_fit_a_few_screens(tablet: Any, sites: list[Path]) -> None:
    long = {}
    for site in sites:
        for operation in _operations(site):
            total = 0.0
            for name in PAGES:
                tablet.goto((site / f"{operation}{name}.html").as_uri())
                total += tablet.evaluate(HEIGHT)
            family = "arc" if "Arc voltage" in tablet.content() else "spot"
            if total > MOST_SCREENS[family] * SCREEN:
                long[f"{site.name} {operation}"] = total / SCREEN
    assert long == {}


TOUCHED = """() => [
  ...document.querySelectorAll('ol.tasks :is(.step, .step-leads), .stage :is(summary, .key), .keys .key')]
  .map(one => one.getBoundingClientRect()).filter(box => box.height)
  .map(box => [box.left, box.top, box.right, box.bottom])"""
Box = tuple[float, float, float, float]


def _apart(one: Box, other: Box) -> float:
    """Return how far two boxes are apart along the axis on which they are further from each other."""
    across = max(one[0], other[0]) - min(one[2], other[2])
    along = max(one[1], other[1]) - min(one[3], other[3])
    return max(across, along)


def test_what_is_touched_in_gloves_is_25_mm_and_6_mm_from_the_next(tablet: Any, sites: list[Path]) -> None:
    for site, name in ((sites[0], "operation-1-set-up"), (sites[0], "operation-1-prove-out"), (sites[1], "changeover")):
        tablet.goto((site / f"{name}.html").as_uri())
        boxes = [tuple(box) for box in tablet.evaluate(TOUCHED)]
        assert len(boxes) > 20
        small = [box for box in boxes if min(box[2] - box[0], box[3] - box[1]) < GLOVE - 0.5]
        near = [(one, other) for one, other in combinations(boxes, 2) if _apart(one, other) < APART - 0.5]
        assert (name, small, near) == (name, [], [])


def test_mode_lock_gate_and_key_stay_in_view_through_a_stage(tablet: Any, sites: list[Path]) -> None:
    tablet.goto((sites[0] / "operation-1-set-up.html").as_uri())
    last = tablet.locator("#set-up-2 li[data-step]").last
    last.evaluate("step => step.scrollIntoView({block: 'center'})")
    bar = tablet.locator("#set-up-2 .stage-bar")
    assert bar.bounding_box()["y"] == pytest.approx(0, abs=1)
    assert bar.inner_text().split() == [
        "Stage", "2", "of", "3", "Locked", "out", "Mode", "manual", "Lock", "on", "Gate", "open", "Key", "with", "you",
        "0", "of", "5", "done",
    ]  # fmt: skip


def test_what_has_the_focus_is_not_under_the_bar_of_its_stage(tablet: Any, sites: list[Path]) -> None:
    tablet.goto((sites[0] / "operation-1-prove-out.html").as_uri())
    tablet.locator("ol.tasks input").last.focus()
    for _ in range(12):
        tablet.keyboard.press("Shift+Tab")
        assert not tablet.evaluate(COVERED), tablet.evaluate("document.activeElement.outerHTML")


def test_the_steps_behind_a_task_open_by_a_tap(tablet: Any, sites: list[Path]) -> None:
    tablet.goto((sites[0] / "operation-1-set-up.html").as_uri())
    task = tablet.locator('li[data-step="lock-out"]')
    assert not task.locator(".single").is_visible()
    task.locator("summary").click()
    assert "zero energy verified" in task.locator(".single").inner_text()
    assert not task.locator("input").is_checked()


@pytest.mark.parametrize(("name", "step"), [("set-up", "adds a lock"), ("prove-out", "test the enabling device")])
def test_single_steps_print_when_they_are_shown_and_only_then(
    printed: Any, sites: list[Path], tmp_path: Path, name: str, step: str
) -> None:
    address = (sites[0] / f"operation-1-{name}.html").as_uri()
    known = " ".join(printed(address, tmp_path / "known.pdf")).casefold()
    whole = " ".join(printed(address, tmp_path / "whole.pdf", press="[data-open-all]")).casefold()
    assert step not in known
    assert step in whole
    assert "all steps" not in whole


def test_set_up_and_prove_out_print_on_few_sheets(printed: Any, sites: list[Path], tmp_path: Path) -> None:
    for number, site in enumerate(sites):
        for name in ("set-up", "prove-out"):
            sheets = printed((site / f"operation-1-{name}.html").as_uri(), tmp_path / f"{number}-{name}.pdf")
            assert len(sheets) <= 3, (site.name, name)
            assert "All steps" not in " ".join(sheets)
