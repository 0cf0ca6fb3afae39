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
from pathlib import Path

_GENERATOR = Path(__file__).resolve().parent.parent
_LIBRARIES = ("ezdxf", "jinja2", "matplotlib", "mkdocs", "mkdocs-material", "pint", "pydantic", "pyyaml", "segno")
_SHARED = ("tables", "site_overrides")
_SHARED_FILES = ("mkdocs.yml",)
_ORDERS = "instructions"
_PREVIOUS = re.compile(rb"previous order[\"']?\s*:\s*[\"']?([a-z0-9-]{1,64})")
_LEFT_OUT = frozenset({"__pycache__", ".git", ".mypy_cache", ".ruff_cache"})


def order_digests(root: Path, names: Iterable[str]) -> dict[str, str]:
    """Return, for each order of ``names``, one SHA-256 over all that its site depends on.

    That is the order's folder with its released records, the folder of the order that it names as the previous one,
    the tables, mkdocs.yml, site_overrides, the generator itself and the versions of its libraries.
    """
    base = shared_digest(root)
    own = {name: _folder_digest(root / _ORDERS / name) for name in names}
    return {name: _joined([base, *_with_previous(root, name, own)]) for name in own}


def shared_digest(root: Path) -> str:
    """Return one SHA-256 over what all orders of the workspace depend on: tables, configuration, generator."""
    folders = [_folder_digest(folder) for folder in (*(root / name for name in _SHARED), _GENERATOR)]
    files = [_file_digest(root / name) for name in _SHARED_FILES]
    return _joined([*folders, *files, *_versions()])


def file_digests(root: Path, name: str) -> dict[str, str]:
    """Return the SHA-256 of each source file of an order and of the tables, by path from ``root``, sorted.

    The released records are not among them: they are what these digests go into.
    """
    folder = root / _ORDERS / name
    orders = (path for path in _files(folder) if path.parent == folder)
    tables = (path for path in _files(root / "tables") if path.parent == root / "tables" and path.suffix == ".yaml")
    return {path.relative_to(root).as_posix(): _file_digest(path) for path in sorted([*orders, *tables])}


def _with_previous(root: Path, name: str, own: dict[str, str]) -> list[str]:
    """Return the digest of an order's folder and that of the order before it."""
    try:
        found = _PREVIOUS.findall((root / _ORDERS / name / "order.yaml").read_bytes())
    except OSError:
        found = []
    previous = [text.decode("ascii") for text in found]
    return [own[name], *(own.get(order) or _folder_digest(root / _ORDERS / order) for order in previous)]


def _folder_digest(folder: Path) -> str:
    start = len(str(folder)) + 1
    return _joined(f"{str(path)[start:]}\0{_file_digest(path)}" for path in _files(folder))


def _files(folder: Path) -> Iterator[Path]:
    """Yield the files below ``folder`` in the order of their names, without caches and hidden ones."""
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError:
        return
    for entry in entries:
        if entry.name in _LEFT_OUT or entry.name.startswith("."):
            continue
        if entry.is_dir(follow_symlinks=False):
            yield from _files(Path(entry.path))
        else:
            yield Path(entry.path)


def _file_digest(path: Path) -> str:
    """Return the SHA-256 of a file; of the reason, where it cannot be read, so that a cure changes it."""
    try:
        if path.is_symlink():
            return sha256(b"link " + os.fsencode(path.readlink())).hexdigest()
        return sha256(path.read_bytes()).hexdigest()
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
