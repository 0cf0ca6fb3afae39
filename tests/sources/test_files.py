"""Which files are opened, and which bytes count as text."""

import os
from pathlib import Path

import pytest
from weld_packets.errors import SourceError
from weld_packets.sources.reading.files import decode, neighbour, read_bytes, read_text


def refusal(path: Path, limit: int = 100) -> str:
    with pytest.raises(SourceError) as caught:
        read_bytes(path, "order.yaml", limit)
    return str(caught.value)


def test_line_ends_and_byte_order_mark_are_made_plain(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"\xef\xbb\xbfone\r\ntwo\rthree\n")
    assert read_text(tmp_path / "a", "a") == "one\ntwo\nthree\n"


def test_a_missing_file_is_reported(tmp_path: Path) -> None:
    assert "there is no such file" in refusal(tmp_path / "none")


def test_a_folder_in_place_of_a_file_is_reported(tmp_path: Path) -> None:
    assert "it is a folder" in refusal(tmp_path)


def test_an_empty_file_is_reported(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b" \n")
    assert "the file is empty" in refusal(tmp_path / "a")


def test_a_huge_file_is_reported(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"x" * 101)
    assert "has more than 100 bytes" in refusal(tmp_path / "a")


def test_a_symbolic_link_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("secret")
    (tmp_path / "a").symlink_to(tmp_path / "secret")
    assert "symbolic link" in refusal(tmp_path / "a")


def test_a_pipe_is_refused_without_waiting(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a")
    assert "not a plain file" in refusal(tmp_path / "a")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_an_unreadable_file_is_reported(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("x")
    (tmp_path / "a").chmod(0)
    assert "cannot be read" in refusal(tmp_path / "a")


def test_a_read_that_fails_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    (tmp_path / "a").write_text("x")
    monkeypatch.setattr(os, "open", denied)
    assert "cannot be read: Permission denied" in refusal(tmp_path / "a")


@pytest.mark.parametrize("name", ["points.csv", "Side_panel-2.DXF", "a"])
def test_a_plain_name_is_a_neighbour(name: str, tmp_path: Path) -> None:
    assert neighbour(tmp_path, name) == tmp_path / name


@pytest.mark.parametrize(
    "name",
    ["../a.csv", "/etc/passwd", "a/b.csv", "a\\b.csv", "..", ".", "", ".hidden", "C:a.csv", "a\x00b", "nul", "CON.csv",
     "com1.dxf", "a.csv.", "a csv", "x" * 101, "é.csv", "~a", "a.csv\n"],
)  # fmt: skip
def test_a_name_that_could_lead_elsewhere_is_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(SourceError, match="only the plain name of a file beside this one"):
        neighbour(tmp_path, name)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_wide_encodings_are_named(encoding: str) -> None:
    with pytest.raises(SourceError, match="UTF-16 or UTF-32") as caught:
        decode("title: Side panel\n".encode(encoding), "order.yaml")
    assert "save it as UTF-8" in str(caught.value)


def test_a_byte_of_another_encoding_is_reported_with_its_line() -> None:
    with pytest.raises(SourceError, match=r"order\.yaml:2:(.|\n)*0xE9 is not UTF-8"):
        decode("a: b\nc: caf\xe9\n".encode("cp1252"), "order.yaml")


@pytest.mark.parametrize("sign", list("\x00\x07\x1b\x7f\x85\u202e\u2066\u2028\u200b\ufeff"))
def test_control_and_invisible_characters_are_reported_with_their_line(sign: str) -> None:
    with pytest.raises(SourceError, match=f"order\\.yaml:2: 'U\\+{ord(sign):04X}'"):
        decode(f"a: b\nc: long enough {sign}\n".encode(), "order.yaml")
