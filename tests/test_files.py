"""A file is written whole or not at all; only a plain one is opened."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from weld_packets.files import NotPlainError, is_alive, open_own, plain_content, write_whole


def test_a_file_gets_its_new_content_and_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    write_whole(path, b"old\n")
    path.chmod(0o640)
    write_whole(path, b"new\n")
    assert path.read_bytes() == b"new\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [each.name for each in tmp_path.iterdir()] == ["table.yaml"]


def test_what_stops_a_write_leaves_the_old_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "table.yaml"
    path.write_text("old")

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(path, b"new", durable=True)
    assert {each.name: each.read_text() for each in tmp_path.iterdir()} == {"table.yaml": "old"}


def test_what_a_killed_writer_left_is_removed_by_the_next_one_and_nothing_else(tmp_path: Path) -> None:
    path, ended = tmp_path / "table.yaml", subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    (tmp_path / f".table.yaml.{ended.pid}").write_text("half")
    kept = {f".table.yaml.{os.getppid()}", ".table.yaml.old", f".other.yaml.{ended.pid}"}
    for name in kept:
        (tmp_path / name).write_text("of another")
    write_whole(path, b"new", durable=True)
    assert {each.name for each in tmp_path.iterdir()} == {"table.yaml", *kept}


def test_where_a_signal_would_stop_a_process_each_counts_as_working(monkeypatch: pytest.MonkeyPatch) -> None:
    signals: list[int] = []
    with monkeypatch.context() as windows:
        windows.setattr("os.kill", lambda process, _: signals.append(process))
        windows.setattr("os.name", "nt")
        assert is_alive("4242")
        assert signals == []
    assert is_alive(str(os.getpid()))
    assert not is_alive("no number")


def test_only_what_no_build_can_make_again_waits_for_the_medium(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    waited: list[int] = []
    monkeypatch.setattr("os.fsync", waited.append)
    write_whole(tmp_path / "index.html", b"page")
    assert not waited
    write_whole(tmp_path / "table.yaml", b"table", durable=True)
    assert len(waited) == 1


def test_a_link_is_replaced_and_what_it_leads_to_is_left_alone(tmp_path: Path) -> None:
    far, path = tmp_path / "far.txt", tmp_path / "page.html"
    far.write_text("far")
    far.chmod(0o600)
    path.symlink_to(far)
    write_whole(path, b"page")
    assert (path.is_symlink(), path.read_bytes(), far.read_text()) == (False, b"page", "far")
    assert path.stat().st_mode & 0o777 != 0o600


@pytest.mark.parametrize("put", ["link", "folder", "file"])
def test_what_somebody_put_where_the_new_file_is_made_is_not_written_to(tmp_path: Path, put: str) -> None:
    far, fresh = tmp_path / "far.txt", tmp_path / f".page.html.{os.getpid()}"
    far.write_text("far")
    if put == "link":
        fresh.symlink_to(far)
    elif put == "folder":
        (fresh / "below").mkdir(parents=True)
    else:
        fresh.write_text("left by a build that was killed")
    write_whole(tmp_path / "page.html", b"page")
    assert {each.name: each.read_text() for each in tmp_path.iterdir()} == {"far.txt": "far", "page.html": "page"}


def test_a_link_is_read_where_it_may_be_and_never_where_the_file_itself_is_asked_for(tmp_path: Path) -> None:
    far, link = tmp_path / "far.txt", tmp_path / "link.txt"
    far.write_text("far")
    link.symlink_to(far)
    assert plain_content(link) == b"far"
    with pytest.raises(OSError, match="symbolic links"):
        open_own(link, os.O_RDONLY)


@pytest.mark.parametrize("put", ["folder", "pipe"])
def test_what_is_no_plain_file_is_refused_without_waiting_for_it(tmp_path: Path, put: str) -> None:
    path = tmp_path / put
    if put == "folder":
        path.mkdir()
    else:
        os.mkfifo(path)
    with pytest.raises(NotPlainError):
        plain_content(path)
