"""The theme's few files that a packet needs, kept once and linked into every site."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

STORE = ".shared"
_THEME_FILES = (
    "assets/javascripts/bundle.*.min.js",
    "assets/javascripts/workers/search.*.min.js",
    "assets/stylesheets/main.*.min.css",
    "assets/stylesheets/palette.*.min.css",
)


@dataclass(frozen=True)
class SharedAssets:
    """Files of one theme version: ``files`` maps a path inside a site to its SHA-256."""

    folder: Path
    files: Mapping[str, str]


def share_assets(theme: Path, overrides: Path, site_root: Path) -> SharedAssets:
    """Copy the trimmed assets into the store below ``site_root`` unless they stand there already."""
    sources = dict(_sources(theme, overrides))
    files = {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in sources.items()}
    key = hashlib.sha256(repr(sorted(files.items())).encode()).hexdigest()[:16]
    folder = site_root / STORE / key
    if not folder.is_dir():
        _fill(folder, sources)
    return SharedAssets(folder, files)


def lay_assets(assets: SharedAssets, site: Path) -> None:
    """Hard-link the shared files into ``site``; copy them where links cannot be made."""
    for name in assets.files:
        target = site / name
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(assets.folder / name, target)
        except OSError:
            shutil.copyfile(assets.folder / name, target)


def _sources(theme: Path, overrides: Path) -> Iterator[tuple[str, Path]]:
    for pattern in _THEME_FILES:
        for path in sorted(theme.glob(pattern)):
            yield path.relative_to(theme).as_posix(), path
    for path in sorted((overrides / "assets").rglob("*")):
        if path.is_file():
            yield path.relative_to(overrides).as_posix(), path


def _fill(folder: Path, sources: Mapping[str, Path]) -> None:
    filling = folder.with_name(f"{folder.name}.{os.getpid()}")
    shutil.rmtree(filling, ignore_errors=True)
    for name, path in sources.items():
        (filling / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, filling / name)
    try:
        filling.rename(folder)
    except OSError:  # another process was first
        shutil.rmtree(filling)
