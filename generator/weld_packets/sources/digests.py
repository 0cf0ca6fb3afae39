"""Digests of everything that an order's site depends on, taken without reading what the files say.

Nothing is imported here that takes time to import: a build in which nothing changed pays for hashing alone.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from hashlib import sha256
from importlib.metadata import distribution
from io import FileIO
from operator import attrgetter, itemgetter
from pathlib import Path

_GENERATOR = Path(__file__).resolve().parent.parent
_LIBRARIES = (
    "ezdxf", "jinja2", "matplotlib", "mkdocs", "mkdocs-material", "orjson", "pint", "pydantic", "pyyaml", "segno",
)  # fmt: skip
_SHARED = ("tables", "site_overrides")
_SHARED_FILES = ("mkdocs.yml",)
_ORDERS = "instructions"
_PREVIOUS = re.compile(rb"previous order[\"']?\s*:\s*[\"']?([a-z0-9-]{1,64})")
_LEFT_OUT = frozenset({"__pycache__", ".git", ".mypy_cache", ".ruff_cache"})


def shared_digest(root: Path) -> str:
    """Return one SHA-256 over what all orders of the workspace depend on: tables, configuration, generator."""
    folders = [_folder_digest(folder) for folder in (*(root / name for name in _SHARED), _GENERATOR)]
    files = [_file_digest(f"{root}/{name}") for name in _SHARED_FILES]
    return _joined([*folders, *files, *_versions()])


def file_digests(root: Path, name: str) -> dict[str, str]:
    """Return the SHA-256 of each source file of an order and of the tables, by path from ``root``, sorted.

    The released records are not among them: they are what these digests go into.
    """
    folders = {f"{_ORDERS}/{name}": "", "tables": ".yaml"}
    found = (
        (f"{folder}/{file}", entry)
        for folder, ending in folders.items()
        for file, entry in _files(root / folder)
        if "/" not in file and file.endswith(ending)
    )
    return {file: _entry_digest(entry) for file, entry in sorted(found, key=itemgetter(0))}


class OrderDigests:
    """The SHA-256 of all that an order's site depends on, each file read once.

    That is the order's folder with its released records, the folders of all orders before it, since it starts with what
    they left fitted, the tables, mkdocs.yml, site_overrides, the generator itself and the versions of its libraries.
    """

    def __init__(self, root: Path) -> None:
        """Take the digest of what all orders depend on."""
        self._root = root
        self._base = shared_digest(root)
        self._before: dict[str, list[str]] = {}
        self._own: dict[str, str] = {}
        self._whole: dict[str, str] = {}

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
        return _joined([self._base, self._whole[name]])

    def _join(self, name: str) -> None:
        before = (self._whole.get(each) or self._folder(each) for each in self._previous(name))
        self._whole.setdefault(name, _joined([self._folder(name), *before]))

    def _folder(self, name: str) -> str:
        if name not in self._own:
            self._own[name] = _folder_digest(self._root / _ORDERS / name)
        return self._own[name]

    def _previous(self, name: str) -> list[str]:
        """Return what may be the name of the order before one; a comment may name one more."""
        if name not in self._before:
            try:
                with FileIO(f"{self._root}/{_ORDERS}/{name}/order.yaml") as file:
                    found = _PREVIOUS.findall(file.read())
            except OSError:
                found = []
            self._before[name] = [text.decode("ascii") for text in found]
        return self._before[name]


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


def _entry_digest(entry: os.DirEntry[str]) -> str:
    """Return the digest of a file, or what is there in its place."""
    if entry.is_symlink():
        return f"link {os.fsencode(Path(entry.path).readlink()).hex()}"
    return _file_digest(entry.path) if entry.is_file() else "neither file nor folder"


def _file_digest(path: str) -> str:
    """Return the SHA-256 of a file, or why it cannot be read, so that its cure counts as a change."""
    try:
        with FileIO(path) as file:
            return sha256(file.read()).hexdigest()
    except OSError as error:
        return f"unread {error.errno}"


def _versions() -> Iterator[str]:
    yield f"python {sys.version}"
    for name in _LIBRARIES:
        yield f"{name} {distribution(name).version}"


def _joined(parts: Iterable[str]) -> str:
    digest = sha256()
    for part in parts:
        digest.update(part.encode("utf-8", "surrogateescape"))
        digest.update(b"\n")
    return digest.hexdigest()
