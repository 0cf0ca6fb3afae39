"""What `settings` and `diff` keep of an order's packet: it saves time, and never says what the files do not."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.plant import kept_packets
from weld_packets.plant.kept_packets import SETTINGS, WHOLE, KeptPackets
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.sources.folders import KEPT_PACKETS

Run = Callable[..., Any]
KINDS = (SETTINGS, WHOLE)
ASKED = (("settings", "wo-1"), ("settings", "wo-1", "--json"), ("diff", "wo-1", "A", "draft", "--full"))


@pytest.fixture
def computed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Each computing of a packet, as it is done."""
    done: list[str] = []
    for name in ("_drafted", "_assembled"):
        original = getattr(kept_packets, name)

        def counted(root: Path, slug: str, original: Any = original, name: str = name) -> Any:
            done.append(name)
            return original(root, slug)

        monkeypatch.setattr(kept_packets, name, counted)
    return done


@pytest.fixture
def released(run: Run, first_issue: tuple[str, ...]) -> None:
    """The order has a revision that its draft is compared with."""
    assert run("release", "wo-1", *first_issue).status == 0


def kept(workshop: Path) -> list[Path]:
    return sorted((workshop / KEPT_PACKETS).glob("*"))


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


@pytest.mark.usefixtures("released")
@pytest.mark.parametrize("words", ASKED, ids=" ".join)
def test_a_second_call_says_the_same_and_computes_nothing(
    run: Run, computed: list[str], words: tuple[str, ...]
) -> None:
    first, times = run(*words), len(computed)
    assert (first.status, times) == (0, 1)
    assert run(*words) == first
    assert len(computed) == times


def test_settings_take_the_packet_that_has_its_pictures_and_say_the_same(
    run: Run, computed: list[str], workshop: Path
) -> None:
    plain = run("settings", "wo-1").out
    shutil.rmtree(workshop / KEPT_PACKETS)
    run("settings", "wo-1", "--json")
    assert run("settings", "wo-1").out == plain
    assert computed == ["_assembled", "_drafted"]


def edited_order(workshop: Path) -> None:
    replaced(workshop / "instructions/wo-1/order.yaml", "title: Panel for tests", "title: Panel, another")


def edited_table(workshop: Path) -> None:
    table = next(path for path in (workshop / "tables").glob("*.yaml") if "table: spot-uncoated\n" in path.read_text())
    replaced(table, "source:", "source: Another,")


def more_in_the_folder(workshop: Path) -> None:
    (workshop / "instructions/wo-1/points.csv").write_text("x (mm)\n", "utf-8")


def altered_register(workshop: Path) -> None:
    entry = next((workshop / "instructions/register").glob("wo-1.*"))
    entry.write_text(entry.read_text("utf-8") + " ", "utf-8")


@pytest.mark.usefixtures("released")
@pytest.mark.parametrize("edit", [edited_order, edited_table, more_in_the_folder, altered_register])
def test_after_any_edit_it_is_computed_anew(
    run: Run, computed: list[str], workshop: Path, edit: Callable[[Path], None]
) -> None:
    run("settings", "wo-1")
    edit(workshop)
    answer = run("settings", "wo-1")
    shutil.rmtree(workshop / KEPT_PACKETS)
    assert run("settings", "wo-1") == answer
    assert computed == ["_assembled"] * 3


def test_what_an_approval_of_a_table_changes_is_computed_anew(run: Run, computed: list[str]) -> None:
    run("settings", "wo-1")
    assert (
        run(
            "approve", "spot-uncoated", "--author", "production engineer", "--by", "welding engineer", "--reason", "r"
        ).status
        == 0
    )
    run("settings", "wo-1")
    assert computed == ["_assembled"] * 2


def cut(text: bytes) -> bytes:
    return text[:-10]


def altered(text: bytes) -> bytes:
    found = re.sub(rb'"quantity":20', b'"quantity":21', text)
    assert found != text
    return found


def of_another_time(text: bytes) -> bytes:
    return bytes([text[0] ^ 1]) + text[1:]


@pytest.mark.parametrize("spoil", [cut, altered, of_another_time, lambda _: b"", lambda _: b"\xff\n{}"])
def test_a_kept_packet_that_is_not_whole_or_is_of_other_files_is_computed_anew(
    run: Run, computed: list[str], workshop: Path, spoil: Callable[[bytes], bytes]
) -> None:
    first = run("settings", "wo-1")
    (file,) = kept(workshop)
    file.write_bytes(spoil(file.read_bytes()))
    assert run("settings", "wo-1") == first
    assert computed == ["_assembled"] * 2


def test_a_packet_of_another_order_is_not_taken(run: Run, computed: list[str], workshop: Path) -> None:
    shutil.copytree(workshop / "instructions/wo-1", workshop / "instructions/wo-2")
    replaced(workshop / "instructions/wo-2/order.yaml", "order: T-1", "order: T-2")
    first = run("settings", "wo-2")
    (of_second,) = kept(workshop)
    of_second.rename(of_second.with_name(of_second.name.replace("wo-2", "wo-1")))
    assert "T-1" in run("settings", "wo-1").out
    assert "T-2" in first.out
    assert len(computed) == 2


def test_a_build_removes_what_is_kept_of_an_order_that_is_gone_and_nothing_else(run: Run, workshop: Path) -> None:
    shutil.copytree(workshop / "instructions/wo-1", workshop / "instructions/wo-1b")
    replaced(workshop / "instructions/wo-1b/order.yaml", "order: T-1", "order: T-2")
    for slug in ("wo-1", "wo-1b"):
        run("settings", slug)
        run("settings", slug, "--json")
    shutil.rmtree(workshop / "instructions/wo-1b")
    assert {path.name for path in kept(workshop)} == {f"wo-1{b}.{what}.json" for b in ("", "b") for what in KINDS}
    assert run("build", "wo-1").status == 0  # the others were not asked for
    assert len(kept(workshop)) == 4
    assert run("build").status == 0
    assert {path.name for path in kept(workshop)} == {f"wo-1.{what}.json" for what in KINDS}


def test_what_is_edited_while_it_is_computed_is_not_kept(
    run: Run, workshop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = workshop / "instructions/wo-1/order.yaml"
    before, original = order.read_text("utf-8"), kept_packets._assembled

    def edited_meanwhile(root: Path, slug: str) -> Any:
        edited_order(workshop)
        return original(root, slug)

    monkeypatch.setattr(kept_packets, "_assembled", edited_meanwhile)
    assert "Panel, another" in run("settings", "wo-1").out
    monkeypatch.setattr(kept_packets, "_assembled", original)
    assert kept(workshop) == []
    order.write_text(before, "utf-8")
    assert "Panel for tests" in run("settings", "wo-1").out


def test_where_nothing_can_be_kept_it_is_computed_each_time(run: Run, computed: list[str], workshop: Path) -> None:
    (workshop / "site").write_text("no folder", "utf-8")
    first = run("settings", "wo-1")
    assert first.status == 0
    assert run("settings", "wo-1") == first
    assert len(computed) == 2


def test_what_is_kept_is_the_packet_to_its_digest(run: Run, computed: list[str], workshop: Path) -> None:
    run("settings", "wo-1", "--json")
    digest = json.loads(run("check", "wo-1", "--json").out)["orders"][0]["digest"]
    assert packet_digest(kept_packets.drafted(workshop, "wo-1")) == digest
    assert computed == ["_drafted"]


def test_what_is_checked_built_or_released_is_computed_whatever_is_kept(
    run: Run, workshop: Path, monkeypatch: pytest.MonkeyPatch, first_issue: tuple[str, ...]
) -> None:
    run("settings", "wo-1", "--json")
    run("settings", "wo-1")
    monkeypatch.setattr(KeptPackets, "_read", lambda *_: pytest.fail("a kept packet was read"))
    assert kept(workshop)
    for words in (("check", "wo-1"), ("build", "wo-1"), ("release", "wo-1", *first_issue)):
        assert run(*words).status == 0
