"""Unchanged inputs are recognised without being parsed; any change is seen."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from generator.packet.records import Control, Packet
from generator.site.digests import fingerprint, generator_fingerprint, is_current
from generator.site.emit import Emitter
from generator.site.pages import plan_site


@pytest.fixture
def sources(tmp_path: Path) -> Path:
    (tmp_path / "order.yaml").write_text("a: 1")
    (tmp_path / "points.csv").write_text("x,y")
    return tmp_path


def mark(folder: Path) -> str:
    return fingerprint(folder.iterdir(), folder)


def test_the_same_files_give_the_same_fingerprint_anywhere(
    sources: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    other = tmp_path_factory.mktemp("copy")
    for path in sources.iterdir():
        (other / path.name).write_bytes(path.read_bytes())
    assert mark(sources) == mark(other)


def test_a_changed_added_renamed_or_removed_file_changes_the_fingerprint(sources: Path) -> None:
    seen = {mark(sources)}
    (sources / "order.yaml").write_text("a: 2")
    seen.add(mark(sources))
    (sources / "outline.dxf").write_text("")
    seen.add(mark(sources))
    (sources / "outline.dxf").rename(sources / "shape.dxf")
    seen.add(mark(sources))
    (sources / "points.csv").unlink()
    seen.add(mark(sources))
    assert len(seen) == 5


def test_the_salt_changes_the_fingerprint(sources: Path) -> None:
    assert fingerprint([], sources, salt="a") != fingerprint([], sources, salt="b")


def test_a_change_of_the_look_changes_the_generator_fingerprint(tmp_path: Path) -> None:
    (tmp_path / "mkdocs.yml").write_text("site_name: x")
    (tmp_path / "site_overrides").mkdir()
    before = generator_fingerprint(tmp_path)
    assert generator_fingerprint(tmp_path) == before
    (tmp_path / "site_overrides" / "main.html").write_text("{}")
    assert generator_fingerprint(tmp_path) != before


def test_a_built_site_is_current_for_its_own_fingerprint_only(
    root: Path, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(root, tmp_path).emit(plan_site(packet, control), "abc")
    assert is_current(site, "abc")
    assert not is_current(site, "abd")
    assert not is_current(tmp_path / "never-built", "abc")


def test_a_site_that_lost_its_first_page_is_not_current(
    root: Path, tmp_path: Path, packet: Packet, control: Control
) -> None:
    site = Emitter(root, tmp_path).emit(replace(plan_site(packet, control), slug="lost"), "abc")
    (site / "index.html").unlink()
    assert not is_current(site, "abc")
