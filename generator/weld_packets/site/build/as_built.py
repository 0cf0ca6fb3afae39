"""Whether a site is still as it was built and holds today, without reading it: a short note beside the sites says so.

The note has what the site was built from, the days on which it holds, and one digest over sizes and times of its files.
That finds what somebody edited, replaced, added or took away, so that the next build puts it right. An edit whose time
was set back is not found here; `packets verify` compares every byte.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any

import orjson

from weld_packets.errors import PacketError
from weld_packets.files import plain_content, write_whole

_KEPT = ".as-built"
_A_DAY = timedelta(days=1)
"""A plant's day may be ahead of that of UTC."""
_ASSETS = "assets"
"""Its files are links to those that all sites share, which `share_assets` compares; of it the names alone count.

Its time changes with each name in it, so that it need not be listed to see whether any differs.
"""
_BY_DESCRIPTOR = os.scandir in os.supports_fd
_FOLDER = os.O_RDONLY | getattr(os, "O_DIRECTORY", 0) | getattr(os, "O_NOFOLLOW", 0)


@dataclass(frozen=True)
class Holds:
    """What a site was built from, and when it holds.

    Attributes:
        fingerprint: digest of all that it was built from.
        steady: first and last day on which its statuses are as it says, each empty where no day is known.
        built: day of the clock by which it was built, empty where its pages do not say so.
        renew: last day before a build makes it anew though nothing changed, empty where it need not.
        zone: the time zone that ``steady`` is in.

    """

    fingerprint: str = ""
    steady: tuple[str, str] = ("", "")
    built: str = ""
    renew: str = ""
    zone: str = "UTC"


def noted(fresh: Path, holds: Holds) -> bytes:
    """Return the note of a site that is about to be put in its place, before another build can put its own there."""
    shared = _shared_in(fresh)
    return orjson.dumps({**asdict(holds), "shared": shared, "look": _look(f"{fresh}", shared)})


def remember(site: Path, note: bytes) -> None:
    """Keep the ``note`` of a site that was put in its place."""
    kept = Path(_kept(f"{site}"))
    kept.parent.mkdir(exist_ok=True)
    write_whole(kept, note)


def is_current(site: Path | str, expected: str, at: datetime) -> bool:
    """Return whether ``site`` is there, was built from inputs of the fingerprint ``expected``, and holds ``at`` then.

    A revision may take effect on a date without any input changing, and pages say up to when they know the records.
    """
    try:
        note = _note(f"{site}")
        is_own = bool(note["fingerprint"] == expected)
        return is_own and os.path.isfile(f"{site}/index.html") and _holds(note, at)  # noqa: PTH113 - ten thousand times
    except (OSError, ValueError, KeyError, TypeError, PacketError):  # whoever wrote it, the site is built anew
        return False


def _holds(note: Mapping[str, Any], at: datetime) -> bool:
    renew, (first, last) = note["renew"], note["steady"]
    if renew and str(at.date()) > renew:  # a day sooner or later is no matter
        return False
    if note["built"] > str(at.date() + _A_DAY):  # by a clock that was ahead: its pages would hold too long
        return False
    if not first and not last:
        return True
    from weld_packets.units.zones import day_at  # noqa: PLC0415 - most sites hold on any day, and units are slow to load

    day = str(day_at(at, note["zone"]))
    return (not first or first <= day) and (not last or day <= last)


def is_as_built(site: Path | str) -> bool:
    """Return whether the files of ``site`` look as they did when it was built."""
    try:
        note = _note(f"{site}")
        return bool(note["look"] == _look(f"{site}", note["shared"]))
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _note(site: str) -> Any:
    return orjson.loads(plain_content(_kept(site)))


def _kept(site: str) -> str:
    above, name = os.path.split(site)
    return f"{above}/{_KEPT}/{name}"


def _look(site: str, shared: Sequence[str]) -> str:
    """Return one digest over the files of ``site`` and its ``shared`` folders, without reading any of them."""
    rows = _rows(site, "")
    for folder in shared:
        state = os.lstat(f"{site}/{folder}")
        rows.append((folder, state.st_mode, 0, state.st_mtime_ns))
    return sha256(orjson.dumps(sorted(rows))).hexdigest()


def _rows(folder: str, inside: str) -> list[tuple[str, int, int, int]]:
    """Return path, mode, size and time of each file below ``folder``, and the path of each folder.

    Files are looked up beside the descriptor of their folder where the system can: ten thousand sites have half a
    million files, of which then no path is put together or followed.
    """
    rows: list[tuple[str, int, int, int]] = []
    descriptor = os.open(folder, _FOLDER) if _BY_DESCRIPTOR else None
    try:
        with os.scandir(folder if descriptor is None else descriptor) as entries:
            for entry in entries:
                name = f"{inside}{entry.name}"
                if entry.is_dir(follow_symlinks=False):
                    rows.append((name, 0, 0, 0))
                    if entry.name != _ASSETS:
                        rows += _rows(f"{folder}/{entry.name}", f"{name}/")
                else:
                    state = entry.stat(follow_symlinks=False)
                    rows.append((name, state.st_mode, state.st_size, state.st_mtime_ns))
    finally:
        if descriptor is not None:
            os.close(descriptor)
    return rows


def _shared_in(site: Path) -> list[str]:
    """Return the folders of ``site`` whose files are links to those of all sites, by path in it."""
    folders = (Path(folder).relative_to(site) for folder, _, _ in os.walk(site))
    return sorted(folder.as_posix() for folder in folders if _ASSETS in folder.parts)
