"""Show one order while an engineer edits it: MkDocs' live-reload server, and what our pages need beside it."""

from __future__ import annotations

import logging
import os
import re
from collections.abc import Callable, Iterable, Iterator
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mkdocs.livereload import LiveReloadServer
from watchdog.observers.polling import PollingObserverVFS

from weld_packets.site.build.policy import with_last_script_allowed

if TYPE_CHECKING:
    from wsgiref.types import StartResponse, WSGIEnvironment

_BODY = re.compile(r"<body[^>]*>")
_HOST = "127.0.0.1"
_OWN_NAMES = (_HOST, "localhost")
_LOOKS_EVERY = 0.5
"""Seconds between two looks at the sources."""


class LiveSite:
    """Serves the folder ``site`` on this computer alone; builds it anew, and reloads the browser, at every change.

    Args:
        site: folder of the built order.
        rebuild: builds it again; returns what is wrong with the sources, or an empty text. It must not raise, since
            requests wait for the end of a build.
        watched: files and folders whose change starts a build; one that is not there is watched for.
        port: port on 127.0.0.1; 0 takes any free one.
        opened: is called with the address as soon as it can be opened.
        edited: says, once every change starts a build, whether there was one since ``site`` was built.

    """

    def __init__(  # noqa: PLR0917
        self,
        site: Path,
        rebuild: Callable[[], str],
        watched: Iterable[Path],
        port: int,
        opened: Callable[[str], None],
        edited: Callable[[], bool] = lambda: False,
    ) -> None:
        # The terminal is for the messages of the build; a bad address from a browser would print a traceback.
        logging.getLogger("mkdocs.livereload").setLevel(logging.CRITICAL)
        self._rebuild = rebuild
        self._wrong = ""
        self._edited = edited
        self._server = _Server(opened, self._build, site, port)
        paths = {path.absolute() for path in watched}
        self._server.observer = _Watcher(paths, self._catch_up)  # type: ignore[assignment]
        self._server.set_app(self._answer)
        for folder in {path.parent for path in paths}:
            self._server.watch(str(folder))

    def run(self) -> None:
        """Serve and watch until `stop` or an interrupt; raise OSError where the port cannot be had."""
        try:
            self._server.serve()  # type: ignore[no-untyped-call]
        finally:
            self.stop()

    def stop(self) -> None:
        """End `run`."""
        self._server.shutdown()

    def _catch_up(self) -> None:
        """Build again before the first request where the sources were edited meanwhile: no event says so."""
        if self._edited():
            self._build()

    def _build(self) -> None:
        self._wrong = self._rebuild()

    def _answer(self, request: WSGIEnvironment, start: StartResponse) -> Iterable[bytes]:
        """Answer with a file of the site; a page may run the script that reloads it, and shows what is wrong."""
        if request.get("HTTP_HOST", "").partition(":")[0].lower() not in _OWN_NAMES:
            start("403 Forbidden", [("Content-Type", "text/plain")])  # else a page from elsewhere could read the draft
            return [b"this server answers to 127.0.0.1 and localhost alone\n"]
        if not self._server.has(request["PATH_INFO"]):
            start("404 Not Found", [("Content-Type", "text/plain")])
            return [b"there is no such page in this site\n"]
        begun: list[Any] = []
        content = self._server.serve_request(request, lambda *answer: begun.extend(answer))
        status, headers = begun[0], dict(begun[1])
        if headers["Content-Type"] == "text/html" and status.startswith("200"):
            page = with_last_script_allowed(b"".join(content).decode())
            content = [_with_banner(page, self._wrong).encode()]
            headers["Content-Length"] = str(len(content[0]))
        start(status, [*headers.items(), ("Cache-Control", "no-store")])
        return content


class _Watcher(PollingObserverVFS):
    """Watches ``paths``, and says so once every change from now on is seen.

    A watch of the library ends with what it watches, also where it comes back a moment later, as at a change of the
    branch. So the folders around the paths are watched, and looked at for nothing else.
    """

    def __init__(self, paths: set[Path], watching: Callable[[], None]) -> None:
        super().__init__(os.stat, self._entries, polling_interval=_LOOKS_EVERY)
        self._paths = {str(path) for path in paths}
        self._around = {str(path.parent) for path in paths}
        self._watching = watching

    def _entries(self, folder: str | None) -> Iterator[os.DirEntry[str]]:
        with os.scandir(folder) as entries:
            yield from (one for one in entries if folder not in self._around or one.path in self._paths)

    def start(self) -> None:
        super().start()
        self._watching()


class _Server(LiveReloadServer):
    request_queue_size = 128
    """Connections that wait to be taken: a page with its assets asks for more at once than the five of the library."""

    def __init__(self, opened: Callable[[str], None], build: Callable[[], None], site: Path, port: int) -> None:
        super().__init__(build, _HOST, port, str(site))
        self._opened = opened

    def server_activate(self) -> None:
        super().server_activate()
        self._opened(f"http://{_HOST}:{self.server_port}/")

    def has(self, requested: str) -> bool:
        """Say whether an address can be of this site: no name that no file has, and no link that leads out of it."""
        path = requested.encode("latin-1").decode("utf-8", "ignore")
        if "\0" in path:
            return False
        root = os.path.realpath(self.root)
        return os.path.commonpath([root, os.path.realpath(f"{root}/{path}")]) == root

    def handle_error(self, _request: object, _client_address: object) -> None:
        """Say nothing of a browser that went away: the terminal is for the messages of the build."""


def _with_banner(page: str, wrong: str) -> str:
    """Return ``page`` with what is wrong with the sources at its top."""
    if not wrong:
        return page
    banner = f'<pre class="live-wrong" role="alert">{escape(wrong)}</pre>'
    return _BODY.sub(lambda found: found.group() + banner, page, count=1)
