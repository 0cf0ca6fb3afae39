"""The local server shows the site, rebuilds it when a source changes, and says what is wrong."""

from __future__ import annotations

import base64
import hashlib
import re
import socket
import struct
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from weld_packets.site.build.policy import policy_for
from weld_packets.site.build.serving import LiveSite

PAGE = f"""<html><head><meta http-equiv="Content-Security-Policy" content="{policy_for("")}"></head>
<body dir="ltr">one</body></html>"""

LONGER_THAN_A_LOOK = 0.7


@dataclass
class Served:
    source: Path
    addresses: list[str] = field(default_factory=list)
    opened: threading.Event = field(default_factory=threading.Event)
    builds: int = 0

    def tell(self, address: str) -> None:
        self.addresses.append(address)
        self.opened.set()

    def get(self, path: str, host: str = "") -> str:
        headers = {"Host": host} if host else {}
        request = urllib.request.Request(self.addresses[0] + path, headers=headers)  # noqa: S310 - our own address
        with urllib.request.urlopen(request, timeout=10) as answer:  # noqa: S310
            return str(answer.read().decode())

    def wait_for(self, text: str) -> str:
        for _ in range(200):
            page = self.get("index.html")
            if text in page:
                return page
            time.sleep(0.05)
        raise AssertionError("no rebuild came")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    site, orders = tmp_path / "site", tmp_path / "orders"
    site.mkdir()
    orders.mkdir()
    (site / "index.html").write_text(PAGE)
    (site / "x.css").write_text("p{}")
    source = orders / "order.yaml"
    source.write_text("a")

    def rebuild() -> str:
        served.builds += 1
        said = source.read_text() if source.exists() else "no source"
        (site / "index.html").write_text(PAGE.replace("one", said))
        return "line <3> is wrong" if "wrong" in said else ""

    served = Served(source)
    live = LiveSite(site, rebuild, [orders], 0, served.tell)
    thread = threading.Thread(target=live.run, daemon=True)
    thread.start()
    assert served.opened.wait(10)
    served.get("")  # answers once changes are watched
    yield served
    live.stop()
    thread.join(10)
    assert not thread.is_alive()


def test_a_page_comes_with_a_reload_script_that_its_policy_allows_and_other_files_as_they_are(served: Served) -> None:
    page = served.get("")
    [script] = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    assert "location.reload" in script
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'self' 'sha256-{digest}'" in page
    assert served.get("x.css") == "p{}"


def test_a_changed_source_is_rebuilt(served: Served) -> None:
    served.source.write_text("two, longer")
    assert "live-wrong" not in served.wait_for("two, longer")


@pytest.mark.parametrize(("edited", "shown"), [(True, "two"), (False, "one")])
def test_what_was_edited_before_the_first_look_is_shown_from_the_first_answer(
    tmp_path: Path, edited: bool, shown: str
) -> None:
    site, source = tmp_path / "site", tmp_path / "order.yaml"
    site.mkdir()
    (site / "index.html").write_text(PAGE)
    source.write_text("two")

    def rebuild() -> str:
        (site / "index.html").write_text(PAGE.replace("one", source.read_text()))
        return ""

    served = Served(source)
    live = LiveSite(site, rebuild, [source], 0, served.tell, lambda: edited)
    thread = threading.Thread(target=live.run, daemon=True)
    thread.start()
    assert served.opened.wait(10)
    assert re.sub(r"<[^>]+>", "", served.get("index.html")).strip().startswith(shown)
    live.stop()
    thread.join(10)


def test_a_new_file_beside_a_source_is_a_change(served: Served) -> None:
    served.source.write_text("two")
    served.wait_for("two")
    (served.source.parent / "points.csv").write_text("x")
    served.source.write_text("three")
    served.wait_for("three")


def test_edits_are_seen_after_a_watched_folder_was_removed_and_put_back(served: Served) -> None:
    folder = served.source.parent
    folder.rename(aside := folder.with_name("aside"))
    served.wait_for("no source")
    aside.rename(folder)
    served.wait_for(">a<")
    served.source.write_text("edited after that")
    served.wait_for("edited after that")


def test_what_a_build_writes_beside_the_sources_starts_no_build(served: Served) -> None:
    served.source.write_text("two, longer")
    served.wait_for("two, longer")
    time.sleep(LONGER_THAN_A_LOOK)  # the file may have been seen half written
    built = served.builds
    time.sleep(2 * LONGER_THAN_A_LOOK)
    assert served.builds == built


def test_a_fault_in_a_source_is_stated_at_the_top_of_the_page_until_it_is_corrected(served: Served) -> None:
    served.source.write_text("wrong")
    page = served.wait_for("live-wrong")
    assert '<body dir="ltr"><pre class="live-wrong" role="alert">line &lt;3&gt; is wrong</pre>wrong' in page
    served.source.write_text("right again")
    assert "live-wrong" not in served.wait_for("right again")


def test_what_is_not_there_is_not_found(served: Served) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        served.get("no.html")


def test_an_address_that_no_file_can_have_is_answered_without_a_traceback(
    served: Served, caplog: pytest.LogCaptureFixture
) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        served.get("%00")
    assert caplog.records == []


def test_nothing_outside_the_site_is_served(served: Served) -> None:
    with pytest.raises(urllib.error.HTTPError, match="404"):
        served.get("../orders/order.yaml")


def test_a_link_that_leads_out_of_the_site_is_not_followed(served: Served) -> None:
    site = served.source.parent.parent / "site"
    (site / "out.html").symlink_to(served.source)
    (site / "folder").symlink_to(served.source.parent)
    (site / "in.css").symlink_to(site / "x.css")
    for path in ("out.html", "folder/order.yaml", "folder"):
        with pytest.raises(urllib.error.HTTPError, match="404"):
            served.get(path)
    assert served.get("in.css") == "p{}"


def test_more_connections_than_a_page_needs_at_once_are_all_answered(served: Served) -> None:
    port = int(served.addresses[0].rstrip("/").rpartition(":")[2])
    waiting = [socket.create_connection(("127.0.0.1", port), timeout=5) for _ in range(100)]
    assert served.get("x.css") == "p{}"
    for connection in waiting:
        connection.close()


def test_a_browser_that_goes_away_leaves_no_traceback(served: Served, capfd: pytest.CaptureFixture[str]) -> None:
    port = int(served.addresses[0].rstrip("/").rpartition(":")[2])
    for _ in range(5):
        with socket.create_connection(("127.0.0.1", port), timeout=5) as broken:
            broken.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            broken.sendall(b"GET /index.html HTTP/1.0\r\nHost: localhost\r\n\r\n")
    assert served.get("x.css") == "p{}"
    assert "Traceback" not in capfd.readouterr().err


@pytest.mark.parametrize("host", ["LOCALHOST", "127.0.0.1:8000"])
def test_the_own_names_of_this_computer_are_answered(served: Served, host: str) -> None:
    assert served.get("x.css", host) == "p{}"


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8000"])
def test_a_page_from_elsewhere_cannot_read_the_draft_under_its_own_name(served: Served, host: str) -> None:
    with pytest.raises(urllib.error.HTTPError, match="403"):
        served.get("", host)
    assert "one" in served.get("", "localhost:8000")


def test_it_listens_on_this_computer_alone(served: Served) -> None:
    assert served.addresses[0].startswith("http://127.0.0.1:")
