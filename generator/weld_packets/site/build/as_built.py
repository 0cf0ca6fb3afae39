"""Whether a site is still as it was built, without reading it: sizes and times of its files, kept beside the sites.

This finds what somebody edited, replaced, added or took away, so that the next build puts it right. An edit whose time
was set back is not found here; `packets verify` compares every byte.
"""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path

from weld_packets.files import plain_content, write_whole

_KEPT = ".as-built"
_ASSETS = "assets"
"""Its files are links to those that all sites share, which `share_assets` compares; of it the names alone count."""


def remember(site: Path) -> None:
    """Keep what the files of ``site`` look like now that it is built."""
    kept = _kept(site)
    kept.parent.mkdir(exist_ok=True)
    write_whole(kept, _look(site).encode("ascii"))


def is_as_built(site: Path) -> bool:
    """Return whether the files of ``site`` look as they did when it was built."""
    try:
        return plain_content(f"{_kept(site)}").decode("ascii") == _look(site)
    except (OSError, ValueError):
        return False


def _kept(site: Path) -> Path:
    return site.parent / _KEPT / site.name


def _look(site: Path) -> str:
    return sha256("".join(sorted(_lines(f"{site}", "", counted=True))).encode("utf-8", "surrogateescape")).hexdigest()


def _lines(folder: str, inside: str, *, counted: bool) -> list[str]:
    """Return a line for each folder and file below ``folder``; files where they are ``counted``."""
    lines: list[str] = []
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                name, below = f"{inside}/{entry.name}", counted and entry.name != _ASSETS
                lines.append(f"{name} {'' if below else entry.stat(follow_symlinks=False).st_mtime_ns}\n")
                lines += _lines(entry.path, name, counted=below)
            elif counted:
                state = entry.stat(follow_symlinks=False)
                lines.append(f"{inside}/{entry.name} {state.st_mode} {state.st_size} {state.st_mtime_ns}\n")
    return lines
