"""`serve` outlives every edit that spoils its order: it says what is wrong, and goes on once that is put right."""

from __future__ import annotations

import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import ezdxf
import pytest
from weld_packets.commands.building import serve
from weld_packets.commands.shared.sites.worker import Worker
from weld_packets.site.build.swap import UNFINISHED

ROOT = Path(__file__).resolve().parents[3]
WORKSHOP = Path(__file__).parents[1] / "workshop"
WAIT = 60.0
BANNER = 'class="live-wrong"'
STRIP = "{id: strip, name: Strip, material: S235JR, thickness: 2 mm}"


@dataclass
class Served:
    """A running `packets serve wo-1`, and the folder that it shows."""

    process: subprocess.Popen[str]
    address: str
    order: Path

    def page(self) -> str:
        with urllib.request.urlopen(self.address + "index.html", timeout=30) as answer:  # noqa: S310 - our own address
            return str(answer.read().decode())

    def wait_for(self, holds: Callable[[str], bool]) -> str:
        """Return the page as soon as it is as wanted; it is rebuilt some time after an edit."""
        end = time.monotonic() + WAIT
        while time.monotonic() < end:
            assert self.process.poll() is None, "the server has ended"
            page = self.page()
            if holds(page):
                return page
            time.sleep(0.2)
        raise AssertionError("the page did not come")

    def edit(self, old: str, new: str) -> None:
        text = self.order.read_text("utf-8")
        assert old in text
        self.order.write_text(text.replace(old, new), "utf-8")

    def name(self, title: str) -> None:
        """Give the order another title, so that it is built anew."""
        self.order.write_text(re.sub(r"(?m)^title: .*", f"title: {title}", self.order.read_text("utf-8")), "utf-8")


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server, which has to outlive all edits."""
    workshop = Path(shutil.copytree(WORKSHOP, tmp_path_factory.mktemp("served") / "workshop"))
    shutil.copytree(ROOT / "tables", workshop / "tables")
    words = [sys.executable, "-m", "weld_packets", "--root", str(workshop), "serve", "wo-1", "--port", str(free_port())]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as process:
        assert process.stdout
        line = process.stdout.readline()
        address = re.search(r"http://127\.0\.0\.1:[0-9]+/", line)
        assert address, line
        yield Served(process, address[0], workshop / "instructions" / "wo-1" / "order.yaml")
        process.kill()


def free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])


def drawing_with_an_unknown_element(path: Path) -> None:
    document = ezdxf.new()  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = 4
    document.modelspace().add_lwpolyline([(0, 0), (90, 0), (90, 60)], close=True)
    document.saveas(path)
    text = path.read_text("utf-8")
    path.write_text(text.replace("ENTITIES\n", "ENTITIES\n  0\nFOO\n  5\nFFF1\n", 1), "utf-8")


def working_folder(served: Served) -> Path:
    return served.order.parents[2] / "site" / ".preview" / UNFINISHED


def far_point(served: Served) -> None:
    served.edit("[400, 300]", "[-1e99, 300]")


def unknown_element(served: Served) -> None:
    drawing_with_an_unknown_element(served.order.with_name("skin.dxf"))
    served.edit(STRIP, STRIP.replace("thickness: 2 mm", "thickness: 2 mm, outlines: [{file: skin.dxf}]"))


def folder_taken(served: Served) -> None:
    """Put a file where the build puts its folders, and change something so that it builds."""
    working = working_folder(served)
    shutil.rmtree(working, ignore_errors=True)
    working.write_text("a file in the way", "utf-8")
    served.name("In the way")


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (far_point, "-1e99"),
        (unknown_element, "cannot take an outline from FOO"),
        (folder_taken, "a file is where a folder is needed"),
    ],
)
def test_a_broken_edit_does_not_end_the_server(served: Served, spoil: Callable[[Served], Any], said: str) -> None:
    title = f"Panel before {spoil.__name__}"
    assert BANNER not in served.page()  # it answers, so it sees edits too
    served.name(title)
    assert BANNER not in served.wait_for(lambda page: title in page)
    good = served.order.read_text("utf-8")
    spoil(served)
    assert said in re.findall(rf"<pre {BANNER}.*?</pre>", served.wait_for(lambda page: BANNER in page), re.DOTALL)[0]
    for left in (served.order.with_name("skin.dxf"), working_folder(served)):
        if left.is_file():
            left.unlink()
    again = title.replace("before", "after")
    served.order.write_text(good.replace(title, again), "utf-8")
    assert BANNER not in served.wait_for(lambda page: again in page)


def test_an_edit_since_the_first_build_is_known_once_the_sources_are_watched(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[bool] = []
    order = workshop / "instructions" / "wo-1" / "order.yaml"

    def live(*given: Any) -> Any:
        def watched() -> None:
            edited = given[-1]
            said.append(edited())
            order.write_text(order.read_text("utf-8") + "# edited\n", "utf-8")
            said.append(edited())

        return SimpleNamespace(run=watched)

    monkeypatch.setattr(serve, "LiveSite", live)
    assert run("serve", "wo-1").status == 0
    assert said == [False, True]


def test_an_error_of_the_program_is_said_as_such_and_does_not_end_the_server(
    workshop: Path, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []

    def live(_site: Path, rebuild: Callable[[], str], *_more: object) -> Any:
        def rebuilt() -> None:
            monkeypatch.setattr(Worker, "preview", broken)
            said.append(rebuild())

        return SimpleNamespace(run=rebuilt)

    def broken(*_words: object) -> None:
        raise RuntimeError("out of order")

    monkeypatch.setattr(serve, "LiveSite", live)
    assert run("serve", "wo-1").status == 0
    assert said == ["internal error, not a mistake in your files: RuntimeError: out of order"]
    assert (workshop / "site").is_dir()
