"""Debian's Firefox, driven over WebDriver BiDi (W3C): opens a page and prints it. Without a library: the protocol is
JSON in text frames of a WebSocket (RFC 6455) on this machine."""

from __future__ import annotations

import base64
import json
import os
import re
import select
import socket
import struct
import subprocess
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

_TEXT, _PING, _PONG = 1, 9, 10
_PATIENCE = 60


class Firefox:
    """A browser without a window, with a profile of its own that is left to its folder."""

    def __init__(self, executable: str, profile: Path) -> None:
        """Start the browser and open a session."""
        command = [executable, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port=0"]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        self._asked = 0
        self._socket = self._connected(self._port())
        self.ask("session.new", capabilities={})
        self._page = self.ask("browsingContext.create", type="tab")["context"]

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._socket.close()
        self._process.terminate()
        self._process.wait(_PATIENCE)
        if self._process.stderr:
            self._process.stderr.close()

    def open(self, address: str) -> None:
        """Open a page and wait until it is loaded."""
        self.ask("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def value_of(self, script: str) -> Any:
        """Return what a script's expression is on the page: a number or a text."""
        found = self.ask("script.evaluate", expression=script, target={"context": self._page}, awaitPromise=True)
        return found["result"]["value"]

    def print(self, width_cm: float, height_cm: float) -> bytes:
        """Return the page as a PDF on paper of a size, with the margins that the page itself asks for."""
        paper = {"width": width_cm, "height": height_cm}
        margin = {"top": 0.6, "bottom": 0.6, "left": 0.7, "right": 0.7}
        done = self.ask("browsingContext.print", context=self._page, page=paper, margin=margin, shrinkToFit=False)
        return base64.b64decode(done["data"])

    def ask(self, method: str, **params: Any) -> Any:
        """Send a command and return its result."""
        self._asked += 1
        self._send(_TEXT, json.dumps({"id": self._asked, "method": method, "params": params}).encode())
        while True:
            answer = json.loads(self._message())
            if answer.get("id") == self._asked:
                if answer["type"] == "error":
                    raise RuntimeError(f"{method}: {answer['message']}")
                return answer["result"]

    def _port(self) -> int:
        """Return the port on which the browser listens, which it says once it does."""
        said = self._process.stderr
        assert said is not None
        until = time.monotonic() + _PATIENCE
        text = ""
        while time.monotonic() < until:
            if select.select([said], [], [], 1)[0]:
                text += os.read(said.fileno(), 4096).decode(errors="replace")
            if found := re.search(r"ws://127\.0\.0\.1:(\d+)", text):
                return int(found[1])
        raise RuntimeError(f"no answer from Firefox: {text[-500:]}")

    def _connected(self, port: int) -> socket.socket:
        connection = socket.create_connection(("127.0.0.1", port), timeout=_PATIENCE)
        key = base64.b64encode(os.urandom(16)).decode()
        lines = (
            "GET /session HTTP/1.1", f"Host: 127.0.0.1:{port}", "Upgrade: websocket", "Connection: Upgrade",
            f"Sec-WebSocket-Key: {key}", "Sec-WebSocket-Version: 13", "", "",
        )  # fmt: skip
        connection.sendall("\r\n".join(lines).encode())
        head = b""
        while not head.endswith(b"\r\n\r\n"):
            head += connection.recv(1)
        if b" 101 " not in head:
            raise RuntimeError(head.decode(errors="replace"))
        return connection

    def _send(self, kind: int, data: bytes) -> None:
        """Send one frame: masked, as a client must."""
        length = len(data)
        size = (
            struct.pack("!B", 0x80 | length) if length < 126
            else struct.pack("!BH", 0x80 | 126, length) if length < 1 << 16
            else struct.pack("!BQ", 0x80 | 127, length)
        )  # fmt: skip
        mask = os.urandom(4)
        self._socket.sendall(bytes([0x80 | kind]) + size + mask + bytes(b ^ mask[at % 4] for at, b in enumerate(data)))

    def _message(self) -> bytes:
        """Return the next message of text, whole."""
        message = b""
        while True:
            first, second = self._read(2)
            length = second & 0x7F
            if length == 126:
                (length,) = struct.unpack("!H", self._read(2))
            elif length == 127:
                (length,) = struct.unpack("!Q", self._read(8))
            data = self._read(length)
            if first & 0x0F == _PING:
                self._send(_PONG, data)
                continue
            message += data
            if first & 0x80:
                return message

    def _read(self, length: int) -> bytes:
        parts = bytearray()
        while len(parts) < length:
            part = self._socket.recv(length - len(parts))
            if not part:
                raise RuntimeError("Firefox closed the connection")
            parts += part
        return bytes(parts)
