"""A file is written whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from weld_packets.sources.writing import write_whole


def test_a_file_gets_its_new_text_and_keeps_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    write_whole(path, "old\n")
    path.chmod(0o640)
    write_whole(path, "new °\n")
    assert path.read_bytes() == "new °\n".encode()
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
        write_whole(path, "new")
    assert {each.name: each.read_text() for each in tmp_path.iterdir()} == {"table.yaml": "old"}
