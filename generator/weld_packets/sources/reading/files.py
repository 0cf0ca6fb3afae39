"""Reading bytes and text: only plain files of bounded size from inside their folder, only UTF-8."""

from __future__ import annotations

import re
from itertools import islice
from pathlib import Path

from weld_packets.errors import Problem, SourceError, unplaced
from weld_packets.files import open_own, reserved
from weld_packets.letters import UNWANTED

TEXT_LIMIT = 2_000_000
"""Bytes that a YAML or CSV source may have."""

_PLAIN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*(\.[A-Za-z0-9_-]+)*", re.ASCII)
_NAME_LIMIT = 100
_WIDE_MARKS = (b"\xff\xfe", b"\xfe\xff", b"\x00\x00\xfe\xff")
_UNWANTED_SHOWN = 20


def neighbour(folder: Path, name: str) -> Path:
    """Return the path of the file ``name`` that a source in ``folder`` refers to.

    Raises SourceError without a place when ``name`` is anything but a plain file name.
    """
    if len(name) > _NAME_LIMIT or _PLAIN_NAME.fullmatch(name) is None or reserved(name):
        message = "only the plain name of a file beside this one is accepted (letters, digits, '.', '_', '-')"
        raise SourceError([unplaced("", name, message, "put the file into the same folder and write its name")])
    return folder / name


def read_bytes(path: Path, shown: str, limit: int) -> bytes:
    """Return the content of the plain file at ``path``; ``shown`` is its name in messages.

    Raises SourceError for a missing, unreadable, linked, empty or oversized file and for a folder.
    """
    if path.is_symlink():
        raise refused(shown, "is a symbolic link, which may lead out of the folder", "put the file itself here")
    try:
        data = _read_plain(path, limit + 1)
    except FileNotFoundError:
        raise refused(shown, "there is no such file", "check the name, or add the file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not a plain file"
        raise refused(shown, f"cannot be read: {reason}", "make it a plain file that you may read") from None
    if len(data) > limit:
        raise refused(shown, f"has more than {limit:,} bytes", "split it, or leave out what is not needed")
    if not data.strip():
        raise refused(shown, "the file is empty", "write its content, or delete it")
    return data


def read_head(path: Path, count: int) -> bytes:
    """Return the first ``count`` bytes of a plain file; raise OSError for a link, a pipe, a device, a folder."""
    return _read_plain(path, count)


def read_text(path: Path, shown: str) -> str:
    """Return the text of the file with line ends as ``\\n``; see ``read_bytes`` and ``decode`` for refusals."""  # noqa: D301
    return decode(read_bytes(path, shown, TEXT_LIMIT), shown)


def decode(data: bytes, shown: str) -> str:
    """Return UTF-8 ``data`` as text, without byte order mark and with plain line ends.

    Raises SourceError for another encoding and for control and invisible characters.
    """
    if data.startswith(_WIDE_MARKS) or _has_wide_letters(data[:4]):
        raise refused(shown, "is written in UTF-16 or UTF-32", "save it as UTF-8 in the editor")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"byte 0x{data[error.start]:02X} is not UTF-8 (perhaps saved as Windows-1252)"
        raise refused(shown, message, "save the file as UTF-8 in the editor", line) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    _refuse_unwanted(text, shown)
    return text


def _has_wide_letters(start: bytes) -> bool:
    """Say whether every second byte is zero, and not every one: ASCII letters of two or four bytes each."""
    evens, odds = set(start[0::2]), set(start[1::2])
    return (evens == {0}) != (odds == {0})


def unwanted(text: str) -> str:
    """Return the first control or invisible character of ``text`` as ``U+XXXX``, or nothing."""
    found = UNWANTED.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""


def refused(shown: str, message: str, remedy: str, line: int = 0, value: str = "") -> SourceError:
    """Return the refusal of a whole file, or of one of its lines."""
    return SourceError([Problem(shown, line, "", value, message, remedy)])


def _read_plain(path: Path, count: int) -> bytes:
    if path.is_dir():
        raise IsADirectoryError(0, "it is a folder")
    with open(path, "rb", opener=open_own) as file:
        return file.read(count)


def _refuse_unwanted(text: str, shown: str) -> None:
    problems = [
        Problem(
            shown,
            text.count("\n", 0, found.start()) + 1,
            "",
            f"U+{ord(found[0]):04X}",
            "there is a control or invisible character here",
            "delete it",
        )
        for found in islice(UNWANTED.finditer(text), _UNWANTED_SHOWN)
    ]
    if problems:
        raise SourceError(problems)
