"""Show one order while an engineer edits it: a local server, a watcher, pages that reload themselves."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

_RELOADER = Path(__file__).parent / "live" / "reload.js"
_SCRIPT = "/.live/reload.js"
_STATE = "/.live/state"


class LiveSite:
    """Serves ``site`` on localhost and rebuilds it whenever a watched file changes.

    Args:
        site: folder of the built order.
        rebuild: builds it again; returns what is wrong with the sources, or an empty text.
        watched: returns the files to watch, asked anew each round.
        port: port on 127.0.0.1; 0 takes any free one.

    """

    def __init__(
        self, site: Path, rebuild: Callable[[], str], watched: Callable[[], Iterable[Path]], port: int = 8000
    ) -> None:
        self._rebuild = rebuild
        self._watched = watched
        self._stop = threading.Event()
        self._round = 0
        self._wrong = ""
        self._seen = self._look()
        handler = partial(_Handler, self, directory=str(site))
        self._server = ThreadingHTTPServer(("127.0.0.1", port), handler)
        self._server.daemon_threads = True

    @property
    def address(self) -> str:
        """Return the address to open."""
        return f"http://127.0.0.1:{self._server.server_address[1]}/"

    @property
    def state(self) -> str:
        """Return, as JSON, the number of rebuilds and what is wrong with the sources."""
        return json.dumps({"round": self._round, "wrong": self._wrong})

    def run(self, every_seconds: float = 0.5) -> None:
        """Serve and watch until `stop` or an interrupt."""
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        try:
            while not self._stop.wait(every_seconds):
                now = self._look()
                if now != self._seen:
                    self._seen = now
                    self._wrong = self._rebuild()
                    self._round += 1
        finally:
            self._server.shutdown()
            self._server.server_close()

    def stop(self) -> None:
        """End `run` within one round."""
        self._stop.set()

    def _look(self) -> dict[Path, tuple[int, int]]:
        return {path: _mark(path) for path in self._watched()}


def _mark(path: Path) -> tuple[int, int]:
    try:
        found = path.stat()
    except OSError:
        return (0, 0)
    return (found.st_mtime_ns, found.st_size)


class _Handler(SimpleHTTPRequestHandler):
    """Files of the site, with the reload script added to pages on their way out."""

    def __init__(self, live: LiveSite, *args: object, directory: str) -> None:
        self._live = live
        super().__init__(*args, directory=directory)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        path = self.path.partition("?")[0]
        if path == _STATE:
            self._answer("application/json", self._live.state.encode())
        elif path == _SCRIPT:
            self._answer("text/javascript", _RELOADER.read_bytes())
        elif path.endswith((".html", "/")):
            self._answer_page(path)
        else:
            super().do_GET()

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the base class's signature
        """Say nothing: the terminal belongs to the build's messages."""

    def _answer_page(self, path: str) -> None:
        page = Path(self.translate_path(path + "index.html" if path.endswith("/") else path))
        if not page.is_file():
            self.send_error(404)
            return
        tag = f'<script src="{_SCRIPT}"></script></body>'
        self._answer("text/html; charset=utf-8", page.read_bytes().replace(b"</body>", tag.encode(), 1))

    def _answer(self, kind: str, content: bytes) -> None:
        self.send_response(200)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)
