"""A site is built beside the old one, swapped in whole, and the same input gives the same bytes."""

from __future__ import annotations

import errno
import gc
import json
import os
import signal
import subprocess
import sys
import textwrap
import weakref
import zipfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from weld_packets.packet.records.order import Control, Packet
from weld_packets.site.build.emit import Emitter
from weld_packets.site.build.export import export_zip
from weld_packets.site.build.mkdocs_build import SiteLooks
from weld_packets.site.build.swap import UNFINISHED, clear_abandoned, replacing
from weld_packets.site.build.verification import site_findings
from weld_packets.site.pages.order_pages import plan_draft_site
from weld_packets.site.pages.site_plan import PageFragment, SitePlan


def bytes_of(site: Path) -> dict[str, bytes]:
    return {p.relative_to(site).as_posix(): p.read_bytes() for p in site.rglob("*") if p.is_file()}


def with_page(plan: SitePlan, body: str) -> SitePlan:
    return replace(plan, pages=(*plan.pages, PageFragment("more.html", "More", "More", body)))


@pytest.fixture
def plan(packet: Packet, control: Control) -> SitePlan:
    return plan_draft_site(packet, control)


@pytest.fixture(scope="session")
def shared_root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sites")


@pytest.fixture(scope="session")
def emitter(looks: SiteLooks, shared_root: Path) -> Emitter:
    return Emitter(looks, shared_root)


def test_every_page_says_from_when_its_revision_holds_and_who_approved_it(emitter: Emitter, packet: Packet) -> None:
    control = Control(revision="B", status="superseded", effective_from="2026-11-20", approver="R & D", digest="0" * 64)
    site = emitter.emit(replace(plan_draft_site(packet, control), slug="stamped"))
    for name in ("index.html", "operation-1.html", "packet.html"):
        shown = (site / name).read_text("utf-8")
        assert "<span>from 2026-11-20</span>, <span>approved by R &amp; D</span> · record 0000" in shown
        assert "Do not work from this page. from 2026-11-20, approved by R &amp; D</p>" in shown


def test_a_site_that_is_written_goes_when_the_next_one_is(emitter: Emitter, packet: Packet, control: Control) -> None:
    """Nothing of it waits for the collector of cycles, which looks seldom."""
    written, next_one = (plan_draft_site(packet, control) for _ in range(2))
    known = [weakref.ref(page) for page in written.pages]
    gc.disable()
    try:
        emitter.emit(written)
        del written
        emitter.emit(next_one)
        assert [page() for page in known] == [None] * len(known)
    finally:
        gc.enable()


def test_every_page_of_the_packet_is_written(emitter: Emitter, plan: SitePlan) -> None:
    site = emitter.emit(plan)
    assert {page.path for page in plan.pages} == {path.name for path in site.glob("*.html")}
    assert {"index.html", "operation-1.html", "operation-2-calculations.html", "start.html", "packet.html"} <= {
        path.name for path in site.iterdir()
    }


def test_a_page_says_from_when_it_holds_and_who_approved_it_in_words(
    emitter: Emitter, packet: Packet, plan: SitePlan
) -> None:
    said = "<span>from 2026-11-20</span>, <span>approved by Welding &amp; coordinator</span> · record"
    stamp = replace(plan.stamp, detail=("from 2026-11-20", "approved by Welding & coordinator"))
    page = (emitter.emit(replace(plan, stamp=stamp, slug="said")) / "run.html").read_text()
    assert page.count(said) == len(("on screen", "on paper"))
    draft = plan_draft_site(packet, Control(revision="", status="draft", digest="9f8b1c2d3e4f5a6b"))
    assert "Run · packet 9f8b" in (emitter.emit(replace(draft, slug="unsaid")) / "run.html").read_text()


def test_two_folders_and_two_emitters_give_the_same_bytes(looks: SiteLooks, tmp_path: Path, plan: SitePlan) -> None:
    one = Emitter(looks, tmp_path / "one").emit(plan)
    other = Emitter(looks, tmp_path / "deeper" / "other")
    other.emit(replace(plan, slug="before", title="Another title"))
    assert bytes_of(one) == bytes_of(other.emit(plan))


def test_a_site_costs_little_beside_the_shared_assets(emitter: Emitter, plan: SitePlan) -> None:
    site = emitter.emit(plan)
    own = sum(path.stat().st_size for path in site.rglob("*") if path.is_file() and path.stat().st_nlink == 1)
    assert own <= 600_000, "a sixth of it is the packet for paper, which holds the whole order to work from a file"
    assert not list(site.rglob("*.map")), "source maps are trimmed"
    assert not list(site.rglob("lunr/*")), "other languages are trimmed"


def test_a_build_that_fails_leaves_the_old_site(emitter: Emitter, plan: SitePlan) -> None:
    site = emitter.emit(plan)
    before = bytes_of(site)
    with pytest.raises(FileExistsError):
        emitter.emit(replace(plan, files={"index.html/x": b""}))
    assert bytes_of(site) == before
    assert list((site.parent / UNFINISHED).iterdir()) == []


def test_no_page_of_a_packet_has_a_fault(emitter: Emitter, plan: SitePlan) -> None:
    assert site_findings(emitter.emit(plan)) == []


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ('<a href="nowhere.html">x</a>', "leads to nowhere.html, which is not in the site"),
        ('<a href="operation-1.html#no-such-place">x</a>', "no place of that name"),
        ('<img src="https://elsewhere.example/x.png" alt="">', "points outside the site"),
        ('<link rel="stylesheet" href="//elsewhere.example/x.css">', "points outside the site"),
        ('<a href="javascript:alert(1)">x</a>', "points outside the site"),
        ("<p onclick='x()'>x</p>", "no inline style or script"),
        ('<p style="color:red">x</p>', "no inline style or script"),
        ("<script>1</script>", "no inline style or script"),
        ("<script >1</script>", "no inline style or script"),
        ('<SCRIPT type="module">1</SCRIPT >', "no inline style or script"),
        ("<svg><script\n>1</script></svg>", "no inline style or script"),
        ("<svg/onload=x()>", "no inline style or script"),
        ('<iframe srcdoc="&lt;p&gt;"></iframe>', "bring another document into the page"),
        ('<Object data="https://elsewhere.example/x.swf"></Object>', "bring another document into the page"),
        ("<embed/>", "bring another document into the page"),
        ('<base target="_top">', "bring another document into the page"),
        ('<table background="https://elsewhere.example/x.png"></table>', "points outside the site"),
        ("<style>p{}</style>", "no inline style or script"),
        ("<details open\fontoggle=x()>", "no inline style or script"),
        ("<details open\rontoggle=x()>", "no inline style or script"),
        ('<p title=">" onclick=x()>', "holds < or > in a value"),
        ("<p lang='en' title='<b' onclick=x()>", "holds < or > in a value"),
        ('<a ping="https://elsewhere.example/">x</a>', "points outside the site"),
        ('<link imagesrcset="https://elsewhere.example/x.png 2x">', "points outside the site"),
        ('<svg><path filter="url( https://elsewhere.example/x#a)"/></svg>', "points outside the site"),
        ('<svg><animate attributeName="href" to="javascript:x()"/></svg>', "change attributes of the page"),
        ('<svg><SET attributeName="onclick" to="x()"/></svg>', "change attributes of the page"),
        ('<meta http-equiv="refresh" content="0">', "lead readers away"),
        ('<p id="page">x</p>', "is on the page twice"),
    ],
)
def test_a_page_that_a_browser_must_not_be_given_is_found(
    emitter: Emitter, plan: SitePlan, body: str, said: str
) -> None:
    (finding,) = site_findings(emitter.emit(with_page(plan, body)))
    assert finding.file == f"{plan.slug}/more.html"
    assert said in finding.message


@pytest.mark.parametrize(
    "body",
    [
        '<a href="https://www.example.org/standard">x</a>',
        '<svg><path fill="url(#a)"/></svg>',
        '<p title="&gt;" lang="en">x</p>',
        "<settle>x</settle>",
    ],
)
def test_what_a_browser_neither_fetches_nor_runs_is_allowed(emitter: Emitter, plan: SitePlan, body: str) -> None:
    assert site_findings(emitter.emit(with_page(plan, body))) == []


def test_a_build_killed_half_way_leaves_the_old_site(tmp_path: Path) -> None:
    old = tmp_path / "order"
    old.mkdir()
    (old / "index.html").write_text("old")
    script = textwrap.dedent("""
        import os, signal, sys
        from pathlib import Path
        from weld_packets.site.build.swap import replacing
        with replacing(Path(sys.argv[1])) as fresh:
            (fresh / "index.html").write_text("half")
            os.kill(os.getpid(), signal.SIGKILL)
    """)
    done = subprocess.run([sys.executable, "-c", script, str(old)], check=False)
    assert done.returncode == -signal.SIGKILL
    assert (old / "index.html").read_text() == "old"
    assert len(list((tmp_path / UNFINISHED).iterdir())) == 1
    clear_abandoned(tmp_path)
    assert list((tmp_path / UNFINISHED).iterdir()) == []


def test_a_site_put_aside_by_a_killed_build_comes_back(tmp_path: Path) -> None:
    aside = tmp_path / UNFINISHED / "order.aside"
    aside.mkdir(parents=True)
    (aside / "index.html").write_text("old")
    clear_abandoned(tmp_path)
    assert (tmp_path / "order" / "index.html").read_text() == "old"


def test_what_killed_writers_left_is_removed_wherever_a_build_writes(tmp_path: Path) -> None:
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    folders = (tmp_path, tmp_path / ".shared", tmp_path / ".as-built", tmp_path / ".packets")
    for folder in folders:
        (folder / f".unfinished.{ended.pid}").mkdir(parents=True)
        for name in (f".order.{ended.pid}", f".order.{os.getppid()}", f"order.{ended.pid}", ".order"):
            (folder / name).write_text("")
    clear_abandoned(tmp_path)
    for folder in folders:
        left = {path.name for path in folder.iterdir() if path.is_file()}
        assert left == {f".order.{os.getppid()}", f"order.{ended.pid}", ".order"}
        assert not (folder / f".unfinished.{ended.pid}").exists()


def test_a_running_build_is_not_cleared_away(tmp_path: Path) -> None:
    with replacing(tmp_path / "order") as fresh:
        clear_abandoned(tmp_path)
        assert fresh.is_dir()


def test_a_reader_always_meets_a_whole_site(tmp_path: Path) -> None:
    target = tmp_path / "order"
    for number in range(30):
        with replacing(target) as fresh:
            assert not target.exists() or (target / "index.html").read_text() == str(number - 1)
            (fresh / "index.html").write_text(str(number))
        assert (target / "index.html").read_text() == str(number)


def test_the_manifest_names_what_was_altered_added_and_removed(emitter: Emitter, plan: SitePlan) -> None:
    site = emitter.emit(replace(plan, slug="altered"))
    assert site_findings(site) == []
    page = site / "operation-1.html"
    page.write_bytes(page.read_bytes().replace(b"8.4", b"9.4", 1))
    (site / "note.txt").write_text("by hand")
    (site / "card.json").unlink()
    assert [str(finding) for finding in site_findings(site)] == [
        "altered/card.json: is missing",
        "altered/note.txt: does not belong to the site",
        "altered/operation-1.html: is altered",
    ]


def test_an_export_holds_the_whole_site_and_is_the_same_each_time(
    emitter: Emitter, plan: SitePlan, tmp_path: Path
) -> None:
    site = emitter.emit(plan)
    first = export_zip(site, tmp_path / "a.zip").read_bytes()
    assert export_zip(site, tmp_path / "b.zip").read_bytes() == first
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        archive.extractall(tmp_path / "stick")
    assert bytes_of(tmp_path / "stick" / plan.slug) == bytes_of(site)


def test_an_export_that_cannot_be_finished_leaves_nothing_behind(
    emitter: Emitter, plan: SitePlan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = emitter.emit(plan)
    monkeypatch.setattr(zipfile.ZipFile, "writestr", full_disk)
    with pytest.raises(OSError, match="No space"):
        export_zip(site, tmp_path / "a.zip")
    assert list(tmp_path.iterdir()) == []


def test_an_export_removes_what_a_killed_one_left_and_nothing_else(
    emitter: Emitter, plan: SitePlan, tmp_path: Path
) -> None:
    site = emitter.emit(plan)
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    left = [tmp_path / f".a.zip.{name}" for name in (str(ended.pid), "9" * 30)]
    kept = [tmp_path / f".a.zip.{name}" for name in ("bak", str(os.getppid()))]
    for path in (*left, *kept):
        path.write_bytes(b"half")
    export_zip(site, tmp_path / "a.zip")
    assert sorted(tmp_path.iterdir()) == sorted([*kept, tmp_path / "a.zip"])


def full_disk(*_: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def test_the_search_index_holds_the_settings_and_not_the_printed_whole(
    emitter: Emitter, plan: SitePlan, places_of: Any
) -> None:
    site = emitter.emit(plan)
    docs = places_of((site / "search" / "search_index.js").read_bytes())
    assert "Operation 1: Welding current 8.4 kA" in [doc["title"] for doc in docs]
    assert not [doc for doc in docs if doc["location"].startswith("packet.html")]
    served = json.loads((site / "search" / "search_index.json").read_text())
    assert served["docs"] == [], "the search takes them from the other file"
    assert served["config"]["lang"] == ["en"]


def test_every_page_leads_to_the_list_of_all_orders(emitter: Emitter, plan: SitePlan) -> None:
    site = emitter.emit(plan)
    for page in site.glob("*.html"):
        assert '<a class="bar-key" href="../index.html">All orders</a>' in page.read_text("utf-8"), page.name


def test_an_export_holds_a_list_of_its_own_order(emitter: Emitter, plan: SitePlan, tmp_path: Path) -> None:
    export_zip(emitter.emit(plan), tmp_path / "a.zip")
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        listed = archive.read("index.html").decode()
        assert {"orders.css", "orders.js"} <= set(archive.namelist())
    assert f'href="{plan.slug}/index.html"' in listed
    assert "register.html" not in listed
