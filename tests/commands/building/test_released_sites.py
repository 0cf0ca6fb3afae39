"""From release to site by the commands themselves: what operators see, what a later day or edit changes, what shows."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

import pytest
from weld_packets.commands import main
from weld_packets.commands.building.build import build
from weld_packets.commands.shared.sites.worker import Worker
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.register.filed import filed, filed_bytes
from weld_packets.revisions.store.files import load_register
from weld_packets.site.build.manifest import manifest_bytes
from weld_packets.sources.folders import PREVIEWS

ROOT = Path(__file__).parents[3]
WORKSHOP = Path(__file__).parents[1] / "workshop"
ORDER = "wo-1"
WHO = ("--author", "welding engineer", "--approver", "quality lead")


@dataclass(frozen=True)
class Answer:
    """What a command gave back."""

    status: int
    out: str
    errors: str


def copy_workspace(target: Path) -> Path:
    """Return a workspace of one order without any release, with the tables of the demo."""
    shutil.copytree(WORKSHOP, target)
    shutil.copytree(ROOT / "tables", target / "tables")
    return target


def packets(root: Path, day: str, *words: str) -> Answer:
    """Run one command on a day."""
    moment = int(datetime.fromisoformat(f"{day}T09:00:00").replace(tzinfo=UTC).timestamp())
    out, errors = io.StringIO(), io.StringIO()
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(errors):
        patch.setenv("SOURCE_DATE_EPOCH", str(moment))
        status = main(["--root", str(root), *words])
    return Answer(status, out.getvalue(), errors.getvalue())


def done(root: Path, day: str, *words: str) -> str:
    result = packets(root, day, *words)
    assert result.status == 0, result.out + result.errors
    return result.out


def release(root: Path, day: str, start: str, reason: str) -> None:
    done(root, day, "release", ORDER, *WHO, "--reason", reason, "--effective", start)


def move_a_spot(root: Path) -> None:
    spots = root / "instructions" / ORDER / "points.csv"
    text = spots.read_text("utf-8")
    assert "A2,C5A,left,112,80," in text
    spots.write_text(text.replace("A2,C5A,left,112,80,", "A2,C5A,left,112,90,"), "utf-8")


def contents(site: Path) -> dict[str, bytes]:
    """Return every file of a site by its name, but for the list of the files that the build wrote last."""
    files = {path.relative_to(site).as_posix(): path for path in site.rglob("*") if path.is_file()}
    return {name: path.read_bytes() for name, path in files.items() if not name.startswith(".as-built/")}


def approve_all_earlier(root: Path) -> None:
    """Let every table be approved before the days on which these tests release."""
    for table in (root / "tables").glob("*.yaml"):
        text = table.read_text("utf-8")
        table.write_text(re.sub(r"(approved: .*date: )2026-\d\d-\d\d", r"\g<1>2026-01-05", text), "utf-8")


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a workspace with revision A in force from 6 October and B, with a moved spot, due on 20 October."""
    root = copy_workspace(tmp_path_factory.mktemp("plant") / "workspace")
    approve_all_earlier(root)
    release(root, "2026-10-05", "2026-10-06", "first issue")
    move_a_spot(root)
    release(root, "2026-10-12", "2026-10-20", "spot A2 moved clear of the clamp")
    return root


@pytest.fixture
def copied(plant: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(plant, tmp_path / "copied", ignore=shutil.ignore_patterns("site")))


@pytest.fixture(scope="module")
def built_plant(plant: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the workspace as it was built on 25 October."""
    root = Path(shutil.copytree(plant, tmp_path_factory.mktemp("built") / "workspace"))
    done(root, "2026-10-25", "build")
    return root


@pytest.fixture
def built(built_plant: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(built_plant, tmp_path / "built"))


@pytest.fixture
def on_day(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    def fix(day: str) -> None:
        moment = datetime.fromisoformat(f"{day}T09:00:00").replace(tzinfo=UTC)
        monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(moment.timestamp())))

    return fix


def test_the_same_records_give_the_same_bytes_in_any_folder(copied: Path, tmp_path: Path) -> None:
    other = Path(shutil.copytree(copied, tmp_path / "much" / "deeper" / "elsewhere"))
    for root in (copied, other):
        done(root, "2026-10-15", "build")
    one, same = contents(copied / "site"), contents(other / "site")
    assert len(one) > 30
    assert one == same


def test_a_site_is_built_again_when_a_revision_takes_effect_and_not_before(
    copied: Path, on_day: Callable[[str], None]
) -> None:
    operations: list[tuple[int, str]] = []
    for day in ("2026-10-15", "2026-10-19", "2026-10-20", "2026-11-04", "2026-11-05"):
        on_day(day)
        report = build(copied, [], everything=False)
        card = json.loads((copied / "site" / ORDER / "card.json").read_bytes())
        operations.append((len(report.built), card["revision"]))
    assert operations == [
        (1, "A"),
        (0, "A"),
        (1, "B"),
        (0, "B"),
        (1, "B"),
    ]  # the last: after half the time that it is good


def test_a_clock_set_back_is_not_answered_from_a_later_day(copied: Path, on_day: Callable[[str], None]) -> None:
    on_day("2026-10-25")
    build(copied, [], everything=False)
    on_day("2026-10-15")
    assert build(copied, [], everything=False).built == (ORDER,)


def test_an_edited_table_changes_no_released_page_and_a_broken_one_stops_none(
    copied: Path, on_day: Callable[[str], None]
) -> None:
    on_day("2026-10-25")
    build(copied, [], everything=False)
    before = contents(copied / "site" / ORDER)
    (copied / "tables" / "spot_uncoated.yaml").write_text("table: [broken\n", "utf-8")
    report = build(copied, [], everything=False)
    after = contents(copied / "site" / ORDER)
    assert report.built == (ORDER,)
    assert report.problems == ()
    assert {name for name in before if before[name] != after[name]} == {"card.json", "manifest.json"}


def test_the_draft_of_a_released_order_is_shown_apart(copied: Path, on_day: Callable[[str], None]) -> None:
    on_day("2026-10-25")
    order = copied / "instructions" / ORDER / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("\nquantity: 20\n", "\nquantity: 21\n"), "utf-8")
    build(copied, [], everything=False)
    shown = (copied / "site" / ORDER / "index.html").read_text("utf-8")
    assert "<b>20 ×" in shown
    preview = Worker(copied).preview(ORDER)
    assert preview == copied / PREVIEWS / ORDER
    draft = (preview / "index.html").read_text("utf-8")
    assert "<b>21 ×" in draft
    assert 'class="watermark" data-status="draft"' in draft
    assert (copied / "site" / ORDER / "index.html").read_text("utf-8") == shown
    listed = (copied / "site" / "index.html").read_text("utf-8")
    assert listed.count('class="order"') == 1


def test_verify_names_an_edited_page_of_any_revision(built: Path) -> None:
    assert "nothing differs" in done(built, "2026-10-25", "verify")
    page = built / "site" / ORDER / "rev-a" / "operation-2.html"
    page.write_bytes(page.read_bytes().replace(b"kA", b"KA", 1))
    found = packets(built, "2026-10-25", "verify")
    assert found.status == 1
    assert f"{ORDER}/rev-a/operation-2.html: is altered" in found.out
    done(built, "2026-10-25", "build", "--all")
    assert "nothing differs" in done(built, "2026-10-25", "verify")


def test_verify_names_an_edited_page_over_all_orders(built: Path) -> None:
    register = built / "site" / "register.html"
    register.write_bytes(register.read_bytes().replace(b"quality lead", b"quality leak", 1))
    (built / "site" / "more.html").write_text("")
    (built / "site" / "tables.html").unlink()
    found = packets(built, "2026-10-25", "verify")
    assert found.status == 1
    lines = found.out.splitlines()
    assert "tables.html: is missing" in lines
    assert "more.html: does not belong to the site" in lines
    assert "register.html: is altered" in lines


def test_an_altered_record_is_not_shown_and_the_old_site_is(copied: Path) -> None:
    done(copied, "2026-10-15", "build")
    before = contents(copied / "site" / ORDER)
    record = copied / "instructions" / ORDER / "released" / "A.json"
    record.write_bytes(record.read_bytes().replace(b"quality lead", b"quality leak", 1))
    result = packets(copied, "2026-10-15", "build")
    assert result.status == 1
    assert "is altered since its release" in result.errors
    assert contents(copied / "site" / ORDER) == before


def test_a_withdrawal_takes_the_settings_off_the_main_pages(copied: Path) -> None:
    done(
        copied, "2026-10-25", "withdraw", ORDER, "B", *WHO, "--reason", "spot hits a clamp", "--effective", "2026-10-25"
    )
    done(copied, "2026-10-25", "build")
    site = copied / "site" / ORDER
    assert "Do not weld order T-1" in (site / "index.html").read_text("utf-8")
    assert not (site / "operation-1.html").exists()
    assert (site / "rev-b" / "operation-1.html").is_file()
    assert "no revision in force" in (copied / "site" / "index.html").read_text("utf-8")


def test_a_signed_release_is_built_verified_and_named_as_signed(copied: Path, tmp_path: Path) -> None:
    private = tmp_path / "plant.key"
    done(copied, "2026-10-25", "key", "plant-2026", "--private", str(private))
    order = copied / "instructions" / ORDER / "order.yaml"
    order.write_text(order.read_text("utf-8").replace("\nquantity: 20\n", "\nquantity: 21\n"), "utf-8")
    signed = ("--key", "plant-2026", "--private", str(private))
    done(copied, "2026-10-25", "release", ORDER, *WHO, "--reason", "one more", "--effective", "2026-10-25", *signed)
    done(copied, "2026-10-25", "build")
    assert "with key plant-2026" in (copied / "site" / ORDER / "history.html").read_text("utf-8")
    assert "signed: plant-2026" in (copied / "site" / "register.html").read_text("utf-8")
    assert "nothing differs" in done(copied, "2026-10-25", "verify")


def test_a_row_of_a_table_that_nothing_used_is_answered_with_the_rows_that_were(copied: Path) -> None:
    printed = done(copied, "2026-10-25", "where-used", "spot-uncoated", "7")
    assert printed.startswith("no released revision used row '7' of spot-uncoated; rows used are: over 0.8\N{NBSP}mm")
    nothing = done(copied, "2026-10-25", "where-used", "spot-uncoated", "--revision", "Z")
    assert nothing == "no released revision used spot-uncoated revision Z\n"


def test_an_order_cannot_take_the_place_of_the_keys(copied: Path) -> None:
    shutil.copytree(copied / "instructions" / ORDER, copied / "instructions" / "keys")
    result = packets(copied, "2026-10-25", "build")
    assert result.status == 1
    assert "the name of this folder cannot be that of an order" in result.errors


def test_the_export_of_a_released_order_holds_every_revision(copied: Path, tmp_path: Path) -> None:
    target = tmp_path / "out.zip"
    done(copied, "2026-10-25", "export", ORDER, "--to", str(target))
    unpacked = tmp_path / "unpacked"
    shutil.unpack_archive(target, unpacked)
    assert (unpacked / ORDER / "rev-a" / "operation-1.html").is_file()
    assert (unpacked / ORDER / "check.html").is_file()


def by_hand(page: Path, old: bytes, new: bytes) -> None:
    """Change a page, and its line in the manifest, as somebody would who knows of it."""
    data = page.read_bytes()
    assert old in data
    page.write_bytes(data.replace(old, new, 1))
    manifest = page.parent / "manifest.json"
    digests = json.loads(manifest.read_bytes())["sha256"]
    digests[page.name] = sha256(page.read_bytes()).hexdigest()
    manifest.write_bytes(manifest_bytes(digests))


def found(root: Path, day: str = "2026-10-25") -> list[str]:
    """Return what ``verify`` finds, without what it says of itself at the end."""
    lines = packets(root, day, "verify").out.splitlines()
    end = next(at for at, line in enumerate(lines) if line.startswith("not compared with any line noted earlier"))
    return lines[:end]


def test_verify_renders_sites_anew_and_names_what_the_records_do_not_give(built: Path) -> None:
    assert found(built) == []
    assert found(built, "2026-11-03") == []
    site = built / "site" / ORDER
    by_hand(site / "operation-2.html", b"kA", b"KA")
    (line,) = found(built)
    assert line.startswith(f"{ORDER}/manifest.json: is not what the records and this program give, and 1 more files")
    done(built, "2026-10-25", "build", "--all")
    (built / "elsewhere").mkdir()
    (site / "operation-2.html").rename(built / "elsewhere" / "page")
    (site / "operation-2.html").symlink_to(built / "elsewhere" / "page")
    assert found(built) == [f"{ORDER}/operation-2.html: is a link: what it shows is kept elsewhere"]


def test_verify_names_a_site_that_is_copied_missing_or_out_of_date(built: Path) -> None:
    sites = built / "site"
    shutil.copytree(sites / ORDER, sites / "another")
    assert any(line == "another: is the site of no order" for line in found(built))
    shutil.copytree(built / "instructions" / ORDER, built / "instructions" / "another",
                    ignore=shutil.ignore_patterns("released"))  # fmt: skip
    assert any(line.startswith("another: is not a draft, and no revision of this order") for line in found(built))
    shutil.rmtree(sites / ORDER)
    assert any(line.startswith(f"{ORDER}: has no site") for line in found(built))
    shutil.rmtree(sites / "another")
    assert any(line.startswith(f"{ORDER}: has no site") for line in found(built)), "the list of orders leads to it"
    shutil.rmtree(sites)
    assert found(built) == []


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes")
@pytest.mark.parametrize("name", [f"{ORDER}/card.json", f"{ORDER}/history.html", f".as-built/{ORDER}"])
def test_a_pipe_in_place_of_a_built_file_holds_neither_build_nor_verify_up(built: Path, name: str) -> None:
    (built / "site" / name).unlink()
    os.mkfifo(built / "site" / name)
    assert bool(found(built)) is not name.startswith(".")
    done(built, "2026-10-25", "build")
    assert found(built) == []


def test_verify_names_a_site_that_is_still_the_draft_of_what_has_been_released(tmp_path: Path) -> None:
    root = copy_workspace(tmp_path / "plant")
    done(root, "2026-12-01", "build")
    release(root, "2026-12-01", "2026-12-02", "first issue")
    said = "is a draft, and a revision of this order has been released since; build it anew: packets build --all"
    assert [line for line in found(root, "2026-12-01") if line.startswith(ORDER)] == [f"{ORDER}: {said}"]


def test_revisions_of_what_is_no_order_are_not_compared(built: Path) -> None:
    answer = packets(built, "2026-10-25", "diff", "wo1", "A", "B")
    assert (answer.status, "there is no order of this name" in answer.errors) == (1, True)


def test_verify_names_a_site_that_says_in_force_after_a_withdrawal(built: Path) -> None:
    late = ("--reason", "spot hits a clamp", "--effective", "2026-10-25")
    done(built, "2026-10-25", "withdraw", ORDER, "B", *WHO, *late)
    assert any("is not what the records and this program give" in line for line in found(built))
    done(built, "2026-10-25", "build")
    assert found(built) == []


def test_verify_says_of_a_site_whose_order_two_branches_released_what_is_to_be_done(built: Path) -> None:
    instructions = built / "instructions"
    entry = next(each for each in load_register(instructions).filed if isinstance(each.entry, RegisterEntry))
    twin = filed(entry.entry.model_copy(update={"record_digest": "f" * 64}), entry.after)
    (instructions / "register" / twin.name).write_bytes(filed_bytes(twin))
    of_site = [line for line in found(built) if line.startswith(f"{ORDER}: ")]
    said = "says what was in force before two branches made a record; set one of the two aside, then build it anew"
    assert of_site == [f"{ORDER}: {said}"]


@pytest.mark.parametrize(
    "manifest",
    [b'{"sha256":' + b"[" * 50_000, rb'{"sha256":{"\ud800":"x"}}', rb'{"sha256":{"x":"\udfff"}}', b"[]", b"", b"\xff"],
)
def test_verify_names_a_manifest_that_nobody_can_read(built: Path, manifest: bytes) -> None:
    (built / "site" / ORDER / "manifest.json").write_bytes(manifest)
    (built / "site" / "manifest.json").write_bytes(manifest)
    lines = found(built)
    assert f"{ORDER}/manifest.json: is altered and cannot be read" in lines
    assert "manifest.json: is altered and cannot be read" in lines


def test_an_export_ships_what_the_record_gives_and_overwrites_nothing_else(built: Path, tmp_path: Path) -> None:
    by_hand(built / "site" / ORDER / "operation-2.html", b"kA", b"k~A")
    target = tmp_path / "out.zip"
    (tmp_path / ".out.zip.99999").write_text("left by one that was killed")
    done(built, "2026-10-25", "export", ORDER, "--to", str(target))
    assert sorted(path.name for path in tmp_path.glob("*out.zip*")) == ["out.zip"]
    shutil.unpack_archive(target, tmp_path / "unpacked")
    assert b"k~A" not in (tmp_path / "unpacked" / ORDER / "operation-2.html").read_bytes()
    first = target.read_bytes()
    done(built, "2026-10-25", "export", ORDER, "--to", str(target))
    assert target.read_bytes() == first
    for other in (b"notes", b""):
        (tmp_path / "own.zip").write_bytes(other)
        refused = packets(built, "2026-10-25", "export", ORDER, "--to", str(tmp_path / "own.zip"))
        assert (refused.status, "is not an export that this program wrote" in refused.errors) == (1, True)
        assert (tmp_path / "own.zip").read_bytes() == other


def test_by_a_clock_before_the_last_record_nothing_says_what_is_in_force(built: Path) -> None:
    before = contents(built / "site")
    release_again = "the clock is before the last record of the register"
    for words in (
        ("build", "--all"),
        ("build",),
        ("export", ORDER, "--to", str(built.parent / "late.zip")),
        ("history", ORDER),
        ("where-used", "machines"),
        ("impact",),
    ):
        answer = packets(built, "2026-10-07", *words)
        assert (answer.status, answer.out) == (1, ""), words
        assert release_again in answer.errors
        assert "B.json of 2026-10-12T09:00:00Z" in answer.errors
        assert "set the clock" in answer.errors
    assert contents(built / "site") == before
    assert not (built.parent / "late.zip").exists()


def test_verify_reports_a_clock_before_the_last_record_and_blames_no_page(built: Path) -> None:
    answer = packets(built, "2026-10-07", "verify")
    assert answer.status == 1
    assert answer.out.startswith("clock: the clock is before the last record of the register")
    assert "1 differ" in answer.out


def test_verify_finds_pages_that_were_built_by_a_clock_before_their_records(
    copied: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:  # as programs did before this was refused
        for module in ("plant.archive", "revisions.status.record_rules"):
            patch.setattr(f"weld_packets.{module}.behind_problems", lambda _register, _now: [])
        done(copied, "2026-10-07", "build")
    answer = packets(copied, "2026-10-25", "verify")
    said = f"{ORDER}/history.html: was built on 2026-10-07, by a clock that was before the records of its register"
    assert said in answer.out
    assert answer.status == 1


def test_a_withdrawal_is_recorded_under_a_clock_before_the_last_record(copied: Path) -> None:
    words = (*WHO, "--reason", "a spot lies under the clamp", "--effective", "2026-10-07")
    done(copied, "2026-10-07", "withdraw", ORDER, "B", *words)
    assert "no revision" in done(copied, "2026-10-25", "as-of", ORDER, "2026-10-25")
    assert "the clock is before" in packets(copied, "2026-10-01", "build").errors
