"""The local server shows the site, rebuilds it when a source changes, and says what is wrong."""

from __future__ import annotations

import json
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from weld_packets.site.build.serving import LiveSite


@dataclass
class Bench:
    live: LiveSite
    source: Path
    said: list[str] = field(default_factory=list)

    def get(self, path: str) -> str:
        with urllib.request.urlopen(self.live.address + path) as answer:  # noqa: S310 - our own address
            return str(answer.read().decode())

    def wait_for_round(self, number: int) -> dict[str, object]:
        for _ in range(200):
            state: dict[str, object] = json.loads(self.get(".live/state"))
            if state["round"] == number:
                return state
            time.sleep(0.02)
        raise AssertionError("no rebuild came")


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    site, source = tmp_path / "site", tmp_path / "order.yaml"
    site.mkdir()
    (site / "index.html").write_text("<html><body>one</body></html>")
    (site / "x.css").write_text("p{}")
    source.write_text("a")

    def rebuild() -> str:
        (site / "index.html").write_text(f"<html><body>{source.read_text()}</body></html>")
        return "line 3 is wrong" if source.read_text() == "wrong" else ""

    live = LiveSite(site, rebuild, lambda: [source], port=0)
    thread = threading.Thread(target=live.run, args=(0.02,), daemon=True)
    thread.start()
    yield Bench(live, source)
    live.stop()
    thread.join(5)


def test_pages_come_with_the_reload_script_and_other_files_as_they_are(bench: Bench) -> None:
    assert bench.get("") == '<html><body>one<script src="/.live/reload.js"></script></body></html>'
    assert bench.get("x.css") == "p{}"
    assert "location.reload" in bench.get(".live/reload.js")


def test_a_changed_source_is_rebuilt(bench: Bench) -> None:
    bench.source.write_text("two, longer")
    assert bench.wait_for_round(1)["wrong"] == ""
    assert "two, longer" in bench.get("index.html")


def test_a_fault_in_a_source_is_told_to_the_page(bench: Bench) -> None:
    bench.source.write_text("wrong")
    assert bench.wait_for_round(1)["wrong"] == "line 3 is wrong"


def test_what_is_not_there_is_not_found(bench: Bench) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        bench.get("no.html")


def test_nothing_outside_the_site_is_served(bench: Bench) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        bench.get("../order.yaml")
