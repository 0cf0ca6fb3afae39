"""Digests of everything that an order's site depends on, taken without reading what the files say.

Nothing is imported here that takes time to import: a build in which nothing changed pays for hashing alone.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from functools import lru_cache
from hashlib import sha256
from importlib.metadata import distribution
from operator import attrgetter, itemgetter
from pathlib import Path

from weld_packets.files import plain_content
from weld_packets.sources.folders import INSTRUCTIONS, LOOKS_FILE, ORDER_FILE, OVERRIDES, TABLES

_GENERATOR = Path(__file__).resolve().parent.parent
_LIBRARIES = (
    "ezdxf", "jinja2", "matplotlib", "mkdocs", "mkdocs-material", "openpyxl", "orjson", "pint", "pydantic",
    "pyyaml", "segno",
)  # fmt: skip
_TABLE_FILES = (".yaml", ".csv", ".xlsx")
"""Tables, and the files in which their rows may be."""
_SHARED = (TABLES, OVERRIDES)
_REGISTER, _FIRST_PART = "register", "register.jsonl"
_PREVIOUS = re.compile(rb"^previous order:[ \t]+([a-z0-9-]{1,64})[ \t]*(?:#[^\n]*)?\r?$", re.MULTILINE)
_ABOUT_PREVIOUS = re.compile(rb"previous\s+order")
_LEFT_OUT = frozenset({"__pycache__", ".git", ".mypy_cache", ".ruff_cache"})


def shared_digest(root: Path) -> str:
    """Return one SHA-256 over what all orders of the workspace depend on: tables, configuration, generator."""
    folders = [_folder_digest(folder) for folder in (*(root / name for name in _SHARED), _GENERATOR)]
    files = [_file_digest(f"{root}/{name}") for name in (LOOKS_FILE, f"{INSTRUCTIONS}/{_FIRST_PART}")]
    return _joined([*folders, *files, *_versions()])


def file_digests(root: Path, name: str) -> dict[str, str]:
    """Return the SHA-256 of each source file of an order and of the tables, by path from ``root``, sorted.

    The released records are not among them: they are what these digests go into.
    """
    folders = {f"{INSTRUCTIONS}/{name}": ("",), TABLES: _TABLE_FILES}
    found = (
        (f"{folder}/{file}", entry)
        for folder, ending in folders.items()
        for file, entry in _files(root / folder)
        if "/" not in file and file.endswith(ending)
    )
    return {file: _entry_digest(entry) for file, entry in sorted(found, key=itemgetter(0))}


class OrderDigests:
    """The SHA-256 of all that an order's site depends on, each file read once.

    That is the order's folder with its released records, the names of its entries in the register, the folders of all
    orders before it, since it starts with what they left fitted, the tables, mkdocs.yml, site_overrides, the first part
    of the register, the generator itself and the versions of its libraries. ``register`` is one over the names of all
    entries, each of which has the digest of its content; ``register_look`` is over their sizes and times besides, which
    differ where somebody edited one; ``shared`` is that of what all orders depend on.
    """

    def __init__(self, root: Path) -> None:
        """Take the digest of what all orders depend on."""
        self._root = root
        self.shared = shared_digest(root)
        self._before: dict[str, list[str]] = {}
        self._own: dict[str, str] = {}
        self._whole: dict[str, str] = {}
        self._entries: dict[str, list[str]] = {}
        listed = list(_files(root / INSTRUCTIONS / _REGISTER))
        self.register = _joined(name for name, _ in listed)
        self.register_look = _joined(f"{name} {_look(entry)}" for name, entry in listed)
        for name, _ in listed:
            self._entries.setdefault(name.partition(".")[0], []).append(name)

    def of(self, name: str) -> str:
        """Return the digest of an order.

        Orders that follow each other in a ring, which is refused where they are loaded, are each taken once.
        """
        waiting, seen = [name], {name}
        while waiting:
            previous = [each for each in self._previous(waiting[-1]) if each not in self._whole and each not in seen]
            if previous:
                waiting += previous
                seen |= set(previous)
            else:
                self._join(waiting.pop())
        return _joined([self.shared, self._whole[name]])

    def _join(self, name: str) -> None:
        before = (self._whole.get(each) or self._folder(each) for each in self._previous(name))
        self._whole.setdefault(name, _joined([self._folder(name), *before]))

    def _folder(self, name: str) -> str:
        self._read(name)
        return self._own[name]

    def _previous(self, name: str) -> list[str]:
        """Return the name of the order before one, if there is any."""
        self._read(name)
        return self._before[name]

    def _read(self, name: str) -> None:
        """Take the digest of an order's folder and the order before it, from one reading of its source."""
        if name in self._own:
            return
        folder = f"{self._root}/{INSTRUCTIONS}/{name}"
        path = f"{folder}/{ORDER_FILE}"
        try:
            source = plain_content(path)
        except OSError:
            source = None
        self._before[name] = [] if source is None else _previous_in(source, path)
        files = _joined(
            f"{file}\0{_entry_digest(entry, source if file == ORDER_FILE else None)}" for file, entry in _files(folder)
        )
        self._own[name] = _joined([files, *self._entries.get(name, ())])


def _previous_in(data: bytes, path: str) -> list[str]:
    """Return the previous order that an order file names: plain on its own line, else by reading the whole file."""
    escaped = b"\\" in data  # a key may be written with an escape
    if b"previous" not in data and not escaped:  # sought first, since patterns take as long as the digest does
        return []
    plain = _PREVIOUS.findall(data)
    if not escaped and len(plain) == len(_ABOUT_PREVIOUS.findall(data)) <= 1:
        return [text.decode("ascii") for text in plain]
    from weld_packets.errors import PacketError  # noqa: PLC0415 (seldom needed, and slow to load)
    from weld_packets.sources.reading.strict_yaml import read_yaml  # noqa: PLC0415

    try:
        name = read_yaml(data.decode("utf-8"), path).tree.get("previous order")
    except (PacketError, UnicodeDecodeError):  # it is refused where it is loaded
        return []
    return [name] if isinstance(name, str) else []


def _folder_digest(folder: Path) -> str:
    return _joined(f"{name}\0{_entry_digest(entry)}" for name, entry in _files(folder))


def _files(folder: Path | str, prefix: str = "") -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Yield the files below ``folder`` with their path in it, sorted, without caches and hidden ones."""
    try:
        with os.scandir(folder) as scan:
            entries = sorted(scan, key=attrgetter("name"))
    except OSError:
        return
    for entry in entries:
        if entry.name in _LEFT_OUT or entry.name.startswith("."):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _files(entry.path, f"{prefix}{entry.name}/")
        else:
            yield prefix + entry.name, entry


def _look(entry: os.DirEntry[str]) -> str:
    """Return size and time of a file, without reading it."""
    state = entry.stat(follow_symlinks=False)
    return f"{state.st_mode} {state.st_size} {state.st_mtime_ns}"


def _entry_digest(entry: os.DirEntry[str], content: bytes | None = None) -> str:
    """Return the digest of a file, whose content may be known, or what is there in its place."""
    if entry.is_symlink():
        return f"link {os.fsencode(Path(entry.path).readlink()).hex()}"
    if content is not None:
        return sha256(content).hexdigest()
    return _file_digest(entry.path) if entry.is_file() else "neither file nor folder"


def _file_digest(path: str) -> str:
    """Return the SHA-256 of a file, or why it cannot be read, so that its cure counts as a change."""
    try:
        return sha256(plain_content(path)).hexdigest()
    except OSError as error:
        return f"unread {error.errno}"


@lru_cache(maxsize=1)
def _versions() -> tuple[str, ...]:
    """Return what runs here: a process goes on with the libraries that it has loaded."""
    return f"python {sys.version}", *(f"{name} {distribution(name).version}" for name in _LIBRARIES)


def _joined(parts: Iterable[str]) -> str:
    text = "".join(f"{part}\n" for part in parts)
    return sha256(text.encode("utf-8", "surrogateescape")).hexdigest()
