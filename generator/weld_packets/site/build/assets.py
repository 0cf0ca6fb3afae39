"""The theme's few files that a packet needs, kept once and linked into every site."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path

from weld_packets.files import unfinished, write_whole

STORE = ".shared"
FILES = "shared"
"""The folder of the store with small files by their SHA-256; every other one is a theme version by its key."""
_KEY_DIGITS = 16
THEME_STYLES = ("assets/stylesheets/main.*.min.css", "assets/stylesheets/palette.*.min.css")
THEME_SCRIPT = "assets/javascripts/bundle.*.min.js"
_SEAMS = {".css": b"\n", ".js": b"\n;\n"}  # a script may end without a semicolon


@dataclass(frozen=True)
class SharedAssets:
    """Files of one theme version: ``files`` maps a path inside a site to its SHA-256."""

    folder: Path
    files: Mapping[str, str]


def share_assets(
    theme: Path, own: Path, overrides: Path, site_root: Path, joined: Mapping[str, Sequence[str]]
) -> SharedAssets:
    """Put the trimmed assets into the store below ``site_root`` unless they are there already.

    The program's ``own``, in folders by subject, are beside each other in a site. Before a file of theirs or of the
    theme counts that of the same path in ``overrides``, the plant's folder, which need not be there. ``joined`` are
    files made of others, by path, with the paths or patterns of their parts: every page names each file that it needs,
    so few files are fewer bytes.
    """
    contents = _joined(dict(_sources(theme, own, overrides)), joined)
    files = {name: hashlib.sha256(content).hexdigest() for name, content in contents.items()}
    folder = site_root / STORE / _key(files)
    if folder.is_dir() and _digests(folder) != files:
        shutil.rmtree(folder)
    if not folder.is_dir():
        _fill(folder, contents)
    return SharedAssets(folder, files)


def store_is_whole(site_root: Path) -> bool:
    """Return whether the shared files are as they were kept; sites that link to an edited one show it too."""
    for folder in (site_root / STORE).glob("[!.]*/"):
        digests = _digests(folder)
        if folder.name == FILES:
            if any(name != digest for name, digest in digests.items() if "." not in name):
                return False
        elif len(folder.name) == _KEY_DIGITS and folder.name != _key(digests):
            return False
    return True


def _digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in _files(folder)
    }


def _key(files: Mapping[str, str]) -> str:
    return hashlib.sha256(repr(sorted(files.items())).encode()).hexdigest()[:_KEY_DIGITS]


def link_assets(assets: SharedAssets, site: Path) -> None:
    """Hard-link the shared files into ``site``; copy them where links cannot be made."""
    for folder in {(site / name).parent for name in assets.files}:
        folder.mkdir(parents=True, exist_ok=True)
    for name in assets.files:
        _link(assets.folder / name, site / name)


def _link(kept: Path, target: Path) -> None:
    try:
        os.link(kept, target)
    except OSError:
        shutil.copyfile(kept, target)


class SharedFiles:
    """Small files of equal content, such as signs, kept once in ``store`` under their SHA-256.

    To make a file costs far more than to link one, and a plant's orders show the same few signs.
    """

    def __init__(self, store: Path) -> None:
        """Keep the files in ``store``, a folder that is made when the first is kept."""
        self._store = store
        self._digests: dict[bytes, str] = {}

    def link_into(self, files: Mapping[str, bytes], site: Path) -> dict[str, str]:
        """Put ``files`` (by path) into ``site`` and return their SHA-256 by path."""
        for folder in {(site / name).parent for name in files}:
            folder.mkdir(parents=True, exist_ok=True)
        nominal = {name: self._kept(content) for name, content in files.items()}
        for name, digest in nominal.items():
            _link(self._store / digest, site / name)
        return nominal

    def _kept(self, content: bytes) -> str:
        digest = self._digests.get(content)
        if digest is None:
            digest = self._digests[content] = hashlib.sha256(content).hexdigest()
            if not self._has(digest, content):
                self._keep(digest, content)
        return digest

    def _has(self, digest: str, content: bytes) -> bool:
        try:
            return (self._store / digest).read_bytes() == content
        except OSError:
            return False

    def _keep(self, digest: str, content: bytes) -> None:
        self._store.mkdir(parents=True, exist_ok=True)
        write_whole(self._store / digest, content)


def _joined(sources: Mapping[str, Path], joined: Mapping[str, Sequence[str]]) -> dict[str, bytes]:
    """Return the content of every asset by path: the ``joined`` ones in place of their parts."""
    parts = {
        name: [part for pattern in patterns for part in sources if fnmatchcase(part, pattern)]
        for name, patterns in joined.items()
    }
    used = {part for names in parts.values() for part in names}
    return {
        **{name: path.read_bytes() for name, path in sources.items() if name not in used},
        **{
            name: _SEAMS[Path(name).suffix].join(sources[part].read_bytes() for part in names)
            for name, names in parts.items()
        },
    }


def _sources(theme: Path, own: Path, overrides: Path) -> Iterator[tuple[str, Path]]:
    for pattern in (*THEME_STYLES, THEME_SCRIPT):
        for path in sorted(theme.glob(pattern)):
            yield path.relative_to(theme).as_posix(), path
    for path in _files(own):
        yield f"assets/{path.name}", path
    for path in _files(overrides / "assets"):
        yield path.relative_to(overrides).as_posix(), path


def _files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def _fill(folder: Path, contents: Mapping[str, bytes]) -> None:
    filling = unfinished(folder)
    shutil.rmtree(filling, ignore_errors=True)
    for name, content in contents.items():
        (filling / name).parent.mkdir(parents=True, exist_ok=True)
        (filling / name).write_bytes(content)
    try:
        filling.rename(folder)
    except OSError:  # another process was first
        shutil.rmtree(filling)
