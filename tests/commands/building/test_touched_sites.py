"""A site that somebody touched is built again, and a draft is compared with what its sources give."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.building import build as building
from weld_packets.commands.building.build import build
from weld_packets.site.build import as_built, site_card
from weld_packets.site.build.as_built import Holds, is_as_built, is_current, noted, remember

ROOT = Path(__file__).resolve().parents[3]
WORKSHOP = Path(__file__).parents[1] / "workshop"
Run = Callable[..., Any]
CARD = "operation-1.html"
PAGE, SIGN = "rev-a/card.html", "assets/signs/w001.svg"
AT = datetime(2026, 11, 30, 9, tzinfo=UTC)


def edited(path: Path, old: bytes, new: bytes) -> None:
    data = path.read_bytes()
    assert old in data
    path.write_bytes(data.replace(old, new))


@pytest.fixture(scope="module")
def built_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sites of the workspace, as it is at the start of each test."""
    root = tmp_path_factory.mktemp("built")
    shutil.copytree(WORKSHOP, root, dirs_exist_ok=True)
    shutil.copytree(ROOT / "tables", root / "tables")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", f"{int(AT.timestamp())}")
        assert build(root, [], everything=False).built == ("wo-1",)
    return root / "site"


@pytest.fixture
def site(workshop: Path, built_once: Path) -> Path:
    """The built site of the order, whose files are no links to those of all sites."""
    return Path(shutil.copytree(built_once, workshop / "site")) / "wo-1"


def test_a_page_that_was_edited_is_built_again(site: Path, run: Run) -> None:
    before = (site / CARD).read_bytes()
    edited(site / CARD, b"kA", b"KA") if b"kA" in before else edited(site / CARD, b"m/min", b"M/min")
    assert "built 1, unchanged 0" in run("build").out
    assert (site / CARD).read_bytes() == before
    assert "built 0, unchanged 1" in run("build").out


@pytest.mark.usefixtures("site")
@pytest.mark.parametrize(("edited_last", "first"), [("wo-2", "loaded"), ("wo-1", "looked")])
def test_the_tables_are_loaded_while_sites_are_looked_at_where_the_order_edited_last_is_stale(
    workshop: Path, monkeypatch: pytest.MonkeyPatch, edited_last: str, first: str
) -> None:
    shutil.copytree(workshop / "instructions" / "wo-1", workshop / "instructions" / "wo-2")
    edited(workshop / "instructions" / "wo-2" / "order.yaml", b"order: T-1", b"order: T-2")
    for at, order in enumerate(sorted(("wo-1", "wo-2"), key=edited_last.__eq__)):
        os.utime(workshop / "instructions" / order / "order.yaml", (at, at))
    did: list[str] = []

    @contextmanager
    def looked_at(jobs: Sequence[Any], work: Callable[[Any], Any], _processes: int) -> Iterator[Callable[[], Any]]:
        yield lambda: did.append("looked") or [work(job) for job in jobs]

    def loaded(load: Callable[[], Any]) -> Any:
        did.append("loaded")
        return load()

    monkeypatch.setattr(building, "meanwhile", looked_at)
    monkeypatch.setattr(building, "kept", loaded)
    assert build(workshop, [], everything=False).built == ("wo-2",)
    assert (did[0], set(did)) == (first, {"loaded", "looked"})


def test_a_shared_file_that_was_edited_through_a_site_is_put_right_in_all(site: Path, run: Run) -> None:
    assert "built 1, unchanged 0" in run("build", "--all").out  # which links the files
    script, sign = site / "assets" / "site.js", next((site / "assets" / "signs").iterdir())
    before = script.read_bytes(), sign.read_bytes()
    for path in (script, sign):
        with path.open("r+b") as file:  # the file itself, to which other sites link
            file.write(b"/* edited */")
        assert "built 1, unchanged 0" in run("build").out
        assert (script.read_bytes(), sign.read_bytes()) == before


def test_verify_compares_a_draft_with_its_sources(site: Path, workshop: Path, run: Run) -> None:
    assert "nothing differs" in run("verify").out
    edited(site / CARD, b"P1", b"P7")
    manifest = json.loads((site / "manifest.json").read_bytes())
    manifest["sha256"][CARD] = sha256((site / CARD).read_bytes()).hexdigest()
    text = json.dumps(manifest, indent=1, sort_keys=True, ensure_ascii=False) + "\n"
    (site / "manifest.json").write_text(text, "utf-8")
    answer = run("verify")
    assert answer.status == 1
    assert "wo-1/manifest.json: is not what its sources and this program give, and 1 more" in answer.out
    order = workshop / "instructions" / "wo-1" / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("quantity: 20", "quantity: 21"), "utf-8")
    answer = run("verify")
    assert "wo-1 is a draft of other sources or another program than are here now: not compared" in answer.out


def test_an_unchanged_site_costs_a_build_its_note_and_no_page(
    site: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []

    def counted(path: str) -> bytes:
        opened.append(path)
        return Path(path).read_bytes()

    monkeypatch.setattr(as_built, "plain_content", counted)
    monkeypatch.setattr(site_card, "plain_content", counted)
    assert "built 0, unchanged 1" in run("build").out
    assert set(opened) == {str(site.parent / ".as-built" / site.name)}


def made_site(site: Path) -> Path:
    """Return a folder as a build leaves it, and noted so."""
    for name in ("index.html", PAGE, "assets/x.js", SIGN):
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        (site / name).write_text(name)
    assert not is_as_built(site)
    remember(site, noted(site, Holds()))
    return site


def _set_back(path: Path, text: str, later: int = 0) -> None:
    """Write ``text`` to a file whose time is then ``later`` by so many nanoseconds."""
    kept = path.stat()
    path.write_text(text)
    os.utime(path, ns=(kept.st_atime_ns, kept.st_mtime_ns + later))


def _link_to(path: Path, target: Path) -> None:
    """Put a link in the place of a file or folder, which is then the ``target``."""
    path.rename(target)
    path.symlink_to(target)


TOUCHED: dict[str, Callable[[Path], object]] = {
    "edited": lambda site: (site / PAGE).write_text("edited"),
    "edited to the same size": lambda site: _set_back(site / PAGE, PAGE.upper(), later=1),
    "longer, with its time set back": lambda site: _set_back(site / PAGE, "longer than it was"),
    "taken away": lambda site: (site / PAGE).unlink(),
    "added": lambda site: (site / "rev-a" / "more.html").write_text(""),
    "renamed": lambda site: (site / PAGE).rename(site / "rev-a" / "kept.html"),
    "a link": lambda site: _link_to(site / PAGE, site.parent / "kept.html"),
    "locked": lambda site: (site / PAGE).chmod(0o600),
    "a folder added": lambda site: (site / "rev-b").mkdir(),
    "a shared file taken away": lambda site: (site / "assets" / "x.js").unlink(),
    "a sign taken away": lambda site: (site / SIGN).unlink(),
    "a sign added": lambda site: (site / SIGN).with_name("w002.svg").write_text(""),
    "a folder of shared files renamed": lambda site: (site / SIGN).parent.rename(site / "assets" / "pictures"),
    "a link to shared files": lambda site: _link_to(site / "assets", site.parent / "assets"),
}


@pytest.mark.parametrize("by_descriptor", [True, False])
@pytest.mark.parametrize("touched", TOUCHED)
def test_whatever_is_done_to_a_site_shows(
    tmp_path: Path, touched: str, monkeypatch: pytest.MonkeyPatch, *, by_descriptor: bool
) -> None:
    monkeypatch.setattr(as_built, "_BY_DESCRIPTOR", by_descriptor)
    site = made_site(tmp_path / "site")
    assert is_as_built(site)
    TOUCHED[touched](site)
    assert not is_as_built(site)


def test_folders_of_files_that_sites_share_are_not_listed_to_see_that_they_are_unchanged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = made_site(tmp_path / "site")
    listed: list[object] = []
    scandir = os.scandir

    def counted(folder: str) -> Any:
        listed.append(folder)
        return scandir(folder)

    monkeypatch.setattr(as_built, "_BY_DESCRIPTOR", False)
    monkeypatch.setattr(os, "scandir", counted)
    assert is_as_built(site)
    assert sorted(listed) == [str(site), str(site / "rev-a")]


def test_a_site_that_another_build_put_in_its_place_is_not_taken_for_ones_own(tmp_path: Path) -> None:
    """Two builds at once: what the first notes last is of its own pages, whatever is in their place by then."""
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("of the first sources")
    note = noted(site, Holds("first"))
    (site / "index.html").write_text("of other sources")
    remember(site, note)
    assert is_current(site, "first", AT)
    assert not is_as_built(site)


@pytest.mark.parametrize(
    "wrong",
    [
        *(b"", b"[]", b"null", b"{}", b"[" * 100_000, b'"' + b"0" * 64 + b'"'),
        *(
            {"fingerprint": ["a"]},
            {"steady": ["2026-01-01"]},
            {"steady": [2026, 0]},
            {"renew": 2026},
            {"look": None},
            {"shared": ["no"]},
        ),
        {"steady": ["2026-01-01", ""], "zone": "Nowhere/None"},
    ],
)
def test_a_site_whose_note_is_damaged_is_built_again(tmp_path: Path, wrong: bytes | dict[str, Any]) -> None:
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("")
    note = noted(site, Holds("a"))
    remember(site, wrong if isinstance(wrong, bytes) else json.dumps({**json.loads(note), **wrong}).encode())
    assert not (is_current(site, "a", AT) and is_as_built(site))


@pytest.mark.parametrize("dangling", [False, True])
def test_a_link_in_place_of_a_site_is_replaced_and_not_followed(
    site: Path, tmp_path: Path, run: Run, *, dangling: bool
) -> None:
    elsewhere = tmp_path / "elsewhere"
    site.rename(tmp_path / "kept")
    if not dangling:
        elsewhere.mkdir()
        (elsewhere / "mine.txt").write_text("mine", "utf-8")
    site.symlink_to(elsewhere, target_is_directory=True)
    assert "built 1, unchanged 0" in run("build").out
    assert not site.is_symlink()
    assert run("build", "--all").status == 0
    assert run("build", "--all").status == 0
    assert elsewhere.exists() is not dangling
    assert dangling or (elsewhere / "mine.txt").read_text("utf-8") == "mine"


def test_a_link_among_what_a_killed_build_left_is_removed_and_not_followed(
    site: Path, workshop: Path, tmp_path: Path, run: Run
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "mine.txt").write_text("mine", "utf-8")
    working = workshop / "site" / ".building"
    working.mkdir(exist_ok=True)
    for name in ("wo-1.aside", "wo-1.0", "wo-9.aside"):
        (working / name).symlink_to(elsewhere, target_is_directory=True)
    assert run("build", "--all").status == 0
    assert (site / "index.html").is_file()
    assert not (workshop / "site" / "wo-9").exists()
    assert (elsewhere / "mine.txt").read_text("utf-8") == "mine"


@pytest.mark.parametrize("name", ["register.html", "index.html", ".lists", ".tables"])
def test_a_link_in_place_of_a_page_over_all_orders_is_replaced_and_not_followed(
    site: Path, workshop: Path, tmp_path: Path, run: Run, name: str
) -> None:
    assert site.is_dir()
    page = workshop / "site" / name
    mine = tmp_path / "mine.txt"
    mine.write_bytes(page.read_bytes())
    page.unlink()
    page.symlink_to(mine)
    before = mine.read_bytes()
    assert run("build", "--all").status == 0
    assert not page.is_symlink()
    assert mine.read_bytes() == before
