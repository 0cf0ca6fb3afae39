"""In a browser, with its own fonts, the words of a map still do not cover each other."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.diagrams.seams.map import seam_pictures
from weld_packets.diagrams.spots.map import spot_pictures
from weld_packets.drawing.boxes import Box

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
MEASURE = """() => Array.from(document.querySelectorAll('text')).map(node => {
    const svg = node.ownerSVGElement;
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    const box = node.getBoundingClientRect();
    const [across, along] = node.hasAttribute('transform') ? [3, 1] : [1, 3];  // lettered upwards, or as it is read
    return [box.left / scale + across, box.top / scale + along, box.right / scale - across, box.bottom / scale - along];
})"""

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def page() -> Iterator[Any]:
    api = pytest.importorskip("playwright.sync_api")
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    with api.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=FLAGS)
        yield browser.new_page(viewport={"width": 800, "height": 1200})
        browser.close()


@pytest.mark.parametrize("face", ["sans-serif", "DejaVu Sans"])
@pytest.mark.parametrize("name", ["door", "close", "strip", "tray", "base_frame", "twenty"])
def test_drawn_words_do_not_overlap(
    overlapping: Any, page: Any, operations: SimpleNamespace, name: str, face: str
) -> None:
    operation = getattr(operations, name)
    draw = seam_pictures if name in ("base_frame", "twenty") else spot_pictures
    svg = draw(*operation)[0].svg.replace('font-family="sans-serif"', f'font-family="{face}"')
    page.set_content(f"<!doctype html><body>{svg}</body>")
    boxes = [Box(*edges) for edges in page.evaluate(MEASURE)]
    assert len(boxes) > len(operation[1])
    assert overlapping(boxes) == []
