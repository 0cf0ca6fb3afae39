"""Every kind of page in Firefox and in WebKit, opened from files: no error, storage, search, and the sheets printed.

Firefox is driven by WebDriver BiDi (W3C), WebKitGTK by WebDriver (W3C); each takes a few lines, and neither browser
has to be one that a library was built for.
"""

from __future__ import annotations

import base64
import importlib.util
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from datetime import date
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pytest
from weld_packets.commands.shared.drafts import draft
from weld_packets.commands.shared.orders import open_workspace
from weld_packets.packet.records import Control
from weld_packets.revisions.register.register import Register
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.lists import write_lists
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.site_card import read_cards
from weld_packets.site.pages.order_pages import plan_draft_site

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2]
SLUG = "lk-2041-service-module"
PAGES = [
    "index.html", "operation-1.html", "operation-1-set-up.html", "operation-1-read-back.html",
    "operation-1-prove-out.html", "operation-1-map.html", "operation-1-record.html",
    "operation-1-troubleshooting.html", "operation-1-calculations.html", "operation-1-procedure.html",
    "operation-3.html", "start.html", "going-in.html", "changeover.html", "safety.html", "inspection.html",
    "run-calculations.html", "sources.html", "packet.html", "../index.html", "../register.html", "../tables.html",
]  # fmt: skip
PATIENCE = 30  # seconds; a machine that is busy starts a browser slowly
SEARCH = """async (sought) => {
  document.querySelector('[data-press=search]').click()
  const field = document.querySelector('[data-md-component=search-query]')
  field.value = sought
  field.dispatchEvent(new Event('input', {bubbles: true}))
  const listed = () => document.querySelector('.md-search-result__item')?.textContent.replace(/\\s+/g, ' ').trim()
  for (let turn = 0; turn < 100 && !listed(); turn += 1) await new Promise((done) => setTimeout(done, 100))
  return listed() ?? ''
}"""
TICK = """async () => {
  const step = document.querySelector('li[data-step]')
  if (!step.querySelector('input').checked) step.querySelector('.step-do').click()
  for (let turn = 0; turn < 50 && !step.querySelector('input').checked; turn += 1) {
    await new Promise((done) => setTimeout(done, 50))
  }
  return step.querySelector('.step-said')?.textContent ?? ''
}"""
SHOWN = "() => [document.title, document.querySelector('main, #page')?.textContent.trim().length ?? 0]"
TICKED = "() => [...document.querySelectorAll('li[data-step] input')].map(box => box.checked).slice(0, 2)"
WIDER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


def missing(what: str) -> None:
    """Skip where a reader of the tests may lack a browser; never where the project's own check runs."""
    if os.environ.get("CI"):
        pytest.fail(what)
    pytest.skip(what)


def _ended(process: subprocess.Popen[Any]) -> None:
    """End a browser with all that it started."""
    with suppress(ProcessLookupError):
        os.killpg(process.pid, signal.SIGTERM)
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(10)


class Firefox:
    """A Firefox without a window, over WebDriver BiDi; ``complaints`` are the errors on its pages' consoles."""

    def __init__(self, executable: str, profile: Path) -> None:
        from websockets.sync.client import connect  # noqa: PLC0415 (an extra that may be missing)

        self.complaints: list[str] = []
        log = profile.with_suffix(".log")
        command = [executable, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
        with log.open("w") as said:
            process = subprocess.Popen(command, stderr=said, stdout=said, start_new_session=True)
        self._number = 0
        with ExitStack() as ending:
            ending.callback(_ended, process)
            self._socket = ending.enter_context(connect(f"{self._address(log)}/session", max_size=None))
            self._begin()
            self._ending = ending.pop_all()

    def _begin(self) -> None:
        self.ask("session.new", capabilities={})
        self.ask("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])
        self._tab = self.ask("browsingContext.getTree")["contexts"][0]["context"]
        self.ask("browsingContext.setViewport", context=self._tab, viewport={"width": 820, "height": 1180})

    @staticmethod
    def _address(log: Path) -> str:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            found = re.search(r"listening on (ws://\S+)", log.read_text("utf-8", "replace"))
            if found:
                return found[1]
            time.sleep(0.1)
        pytest.fail(f"Firefox gave no address: {log.read_text('utf-8', 'replace')[-500:]}")

    def ask(self, method: str, **params: Any) -> Any:
        """Send a command and return its result; events that come meanwhile are looked at."""
        self._number += 1
        self._socket.send(json.dumps({"id": self._number, "method": method, "params": params}))
        while True:
            message = json.loads(self._socket.recv(timeout=PATIENCE))
            if message.get("id") == self._number:
                assert message["type"] == "success", message
                return message["result"]
            self._look(message)

    def _look(self, event: Any) -> None:
        said = event.get("params", {})
        if event.get("method") == "log.entryAdded" and said["level"] == "error":
            self.complaints.append(said["text"])
        elif event.get("method") == "network.beforeRequestSent":
            address = said["request"]["url"]
            if not address.startswith(("file:", "data:", "blob:")):
                self.complaints.append(f"asked for {address}")

    def open(self, address: str) -> None:
        self.ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def run(self, function: str, *given: str) -> Any:
        """Call a function on the page; the result comes as JSON."""
        wrapped = f"async (...given) => JSON.stringify(await ({function})(...given))"
        found = self.ask(
            "script.callFunction", functionDeclaration=wrapped, awaitPromise=True, target={"context": self._tab},
            arguments=[{"type": "string", "value": text} for text in given],
        )  # fmt: skip
        assert found["type"] == "success", found
        return json.loads(found["result"]["value"])

    def print(self) -> bytes:
        page = {"width": 21.0, "height": 29.7}  # cm
        return base64.b64decode(
            self.ask("browsingContext.print", context=self._tab, page=page, shrinkToFit=False)["data"]
        )

    def close(self) -> None:
        self._ending.close()


class WebKit:
    """The small browser of WebKitGTK on a virtual screen, over WebDriver; it tells nothing of its console."""

    def __init__(self, driver: str) -> None:
        self.complaints: list[str] = []
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        command = ["xvfb-run", "-a", driver, f"--port={port}", "--host=127.0.0.1"]
        environment = os.environ | {"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1", "LIBGL_ALWAYS_SOFTWARE": "1"}
        self._process = subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment, start_new_session=True
        )
        self._base = f"http://127.0.0.1:{port}"
        with ExitStack() as ending:
            ending.callback(_ended, self._process)
            self._session = self._begin()
            self._ending = ending.pop_all()

    def _begin(self) -> str:
        wanted = {"capabilities": {"alwaysMatch": {"timeouts": {"script": PATIENCE * 1000}}}}
        end = time.monotonic() + PATIENCE
        while True:
            try:
                return str(self._ask("POST", "/session", wanted)["sessionId"])
            except OSError:
                if time.monotonic() > end:
                    raise
                time.sleep(0.2)

    def _ask(self, method: str, path: str, content: object = None) -> Any:
        data = None if content is None else json.dumps(content).encode()
        request = Request(f"{self._base}{path}", data, {"Content-Type": "application/json"}, method=method)  # noqa: S310 - our own driver
        with urlopen(request, timeout=PATIENCE * 2) as answer:  # noqa: S310
            return json.loads(answer.read())["value"]

    def open(self, address: str) -> None:
        self._ask("POST", f"/session/{self._session}/url", {"url": address})

    def run(self, function: str, *given: str) -> Any:
        """Call a function on the page; the result comes as JSON."""
        body = (
            "const done = arguments[arguments.length - 1]; const given = [...arguments].slice(0, -1);"
            f"Promise.resolve(({function})(...given)).catch(String).then(it => done(JSON.stringify(it)))"
        )
        path = f"/session/{self._session}/execute/async"
        return json.loads(self._ask("POST", path, {"script": body, "args": list(given)}))

    def close(self) -> None:
        with suppress(OSError):
            self._ask("DELETE", f"/session/{self._session}")
        self._ending.close()


@pytest.fixture(scope="module")
def sites(looks: SiteLooks, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("others")
    control = Control(revision="C", status="in force", digest="c1" * 32, packet_digest="1c" * 32)
    Emitter(looks, folder).emit(plan_draft_site(draft(open_workspace(ROOT), SLUG), control))
    write_lists(folder, read_cards(folder), Register(), date(2026, 11, 29))
    return folder


def _firefox(folder: Path) -> Firefox:
    executable = shutil.which("firefox-esr") or shutil.which("firefox")
    if executable is None:
        missing("no Firefox on this machine")
    if importlib.util.find_spec("websockets") is None:
        missing("websockets is not installed: pip install -e .[browser]")
    folder.mkdir()
    return Firefox(str(executable), folder)


def _webkit(_: Path) -> WebKit:
    driver = shutil.which("WebKitWebDriver")
    if driver is None or shutil.which("xvfb-run") is None:
        missing("no WebKitWebDriver or no xvfb-run on this machine")
    return WebKit(str(driver))


BROWSERS: dict[str, Callable[[Path], Any]] = {"firefox": _firefox, "webkit": _webkit}


@pytest.fixture(scope="module", params=BROWSERS)
def browser(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    found = BROWSERS[request.param](tmp_path_factory.mktemp(request.param) / "profile")
    yield found
    found.close()


def test_every_kind_of_page_opens_without_an_error_and_fits_a_tablet(browser: Any, sites: Path) -> None:
    for name in PAGES:
        browser.open(f"{sites.as_uri()}/{SLUG}/{name}")
        title, length = browser.run(SHOWN)
        assert title, name
        assert length > 100, name
        assert browser.run(WIDER) <= 0, name
    assert browser.complaints == []


def test_a_tick_is_kept_in_a_file_and_shown_on_the_order(browser: Any, sites: Path) -> None:
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1-set-up.html")
    assert browser.run(TICK).startswith("Done ")
    browser.open(f"{sites.as_uri()}/{SLUG}/index.html")
    states = browser.run("() => [...document.querySelectorAll('[data-operation-state]')].map(one => one.textContent)")
    assert states[0].startswith("being set, ")
    assert states[1:] == ["not begun"] * 3
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1-set-up.html")
    assert browser.run(TICKED) == [True, False]
    assert browser.complaints == []


@pytest.mark.parametrize(("sought", "found"), [("P420B", "Operation 2"), ("schedule 11", "Operation 1")])
def test_the_search_answers_from_a_file(browser: Any, sites: Path, sought: str, found: str) -> None:
    browser.open(f"{sites.as_uri()}/{SLUG}/operation-1.html")
    assert found in browser.run(SEARCH, sought)
    assert browser.complaints == []


def test_firefox_prints_who_a_sheet_is_for_on_the_card_s_one_sheet(sites: Path, tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        missing("no pdftotext on this machine")
    firefox = _firefox(tmp_path / "profile")
    try:
        firefox.open(f"{sites.as_uri()}/{SLUG}/operation-1.html")
        (tmp_path / "card.pdf").write_bytes(firefox.print())
    finally:
        firefox.close()
    read = subprocess.run(
        ["pdftotext", "-layout", str(tmp_path / "card.pdf"), "-"], capture_output=True, text=True, check=True
    )
    sheets = read.stdout.split("\f")[:-1]
    assert len(sheets) == 1
    for text in ("LK-2041", "P410A", "IN FORCE", "C1C1 C1C1 C1C1"):
        assert text in sheets[0].upper(), text
