"""Firefox driven by WebDriver BiDi (W3C) and WebKitGTK by WebDriver (W3C).

Each takes a few lines, and neither browser has to be one that a library was built for.
"""

from __future__ import annotations

import base64
import json
import os
import re
import signal
import socket
import subprocess
import time
from collections.abc import Mapping
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

from websockets.sync.client import connect

PATIENCE = 60  # seconds; a machine that is busy starts a browser slowly


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
        self.command("session.new", capabilities={})
        self.command("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])
        self._tab = self.command("browsingContext.getTree")["contexts"][0]["context"]
        self.command("browsingContext.setViewport", context=self._tab, viewport={"width": 820, "height": 1180})

    @staticmethod
    def _address(log: Path) -> str:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            found = re.search(r"listening on (ws://\S+)", log.read_text("utf-8", "replace"))
            if found:
                return found[1]
            time.sleep(0.1)
        raise RuntimeError(f"Firefox gave no address: {log.read_text('utf-8', 'replace')[-500:]}")

    def command(self, method: str, **params: Any) -> Any:
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
                self.complaints.append(f"options for {address}")

    def open(self, address: str) -> None:
        self.command("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def run(self, function: str, *given: str) -> Any:
        """Call a function on the page; the result comes as JSON."""
        wrapped = f"async (...given) => JSON.stringify(await ({function})(...given))"
        found = self.command(
            "script.callFunction", functionDeclaration=wrapped, awaitPromise=True, target={"context": self._tab},
            arguments=[{"type": "string", "value": text} for text in given],
        )  # fmt: skip
        assert found["type"] == "success", found
        return json.loads(found["result"]["value"])

    def print(self, paper: tuple[float, float], margin: Mapping[str, float] | None = None) -> bytes:
        """Return the page as a PDF; width and height of the paper and its margins are in cm, 1 cm unless given."""
        page = dict(zip(("width", "height"), paper, strict=True))
        options = {"page": page, "shrinkToFit": False} | ({"margin": dict(margin)} if margin else {})
        return base64.b64decode(self.command("browsingContext.print", context=self._tab, **options)["data"])

    def close(self) -> None:
        self._ending.close()


class WebKit:
    """The small browser of WebKitGTK on a virtual screen, over WebDriver; it gives nothing of its console."""

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
                return str(self._request("POST", "/session", wanted)["sessionId"])
            except OSError:
                if time.monotonic() > end:
                    raise
                time.sleep(0.2)

    def _request(self, method: str, path: str, content: object = None) -> Any:
        data = None if content is None else json.dumps(content).encode()
        request = Request(f"{self._base}{path}", data, {"Content-Type": "application/json"}, method=method)  # noqa: S310 - our own driver
        with urlopen(request, timeout=PATIENCE * 2) as answer:  # noqa: S310
            return json.loads(answer.read())["value"]

    def open(self, address: str) -> None:
        self._request("POST", f"/session/{self._session}/url", {"url": address})

    def run(self, function: str, *given: str) -> Any:
        """Call a function on the page; the result comes as JSON."""
        body = (
            "const done = arguments[arguments.length - 1]; const given = [...arguments].slice(0, -1);"
            f"Promise.resolve(({function})(...given)).catch(String).then(it => done(JSON.stringify(it)))"
        )
        path = f"/session/{self._session}/execute/async"
        return json.loads(self._request("POST", path, {"script": body, "args": list(given)}))

    def close(self) -> None:
        with suppress(OSError):
            self._request("DELETE", f"/session/{self._session}")
        self._ending.close()
