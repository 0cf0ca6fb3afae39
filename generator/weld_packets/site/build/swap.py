"""Put a finished folder in an old one's place so that a reader never meets half of it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from weld_packets.files import is_alive, remove, remove_left

UNFINISHED = ".building"


@contextmanager
def replacing(target: Path) -> Iterator[Path]:
    """Yield an empty folder beside ``target``; swap it in whole on success, drop it on any failure."""
    working = target.parent / UNFINISHED
    working.mkdir(parents=True, exist_ok=True)
    fresh = working / f"{target.name}.{os.getpid()}"
    shutil.rmtree(fresh, ignore_errors=True)
    fresh.mkdir()
    try:
        yield fresh
        _swap(fresh, target)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def clear_abandoned(site_root: Path) -> None:
    """Remove what killed builds left behind, and bring back a folder that one had put aside."""
    for folder in (site_root, *site_root.glob(".*/")):
        remove_left(folder)
    working = site_root / UNFINISHED
    for left in sorted(working.glob("*")):
        name, _, process = left.name.rpartition(".")
        if process == "aside" and not (site_root / name).exists() and not left.is_symlink():
            left.rename(site_root / name)
        elif process == "aside" or not is_alive(process):
            remove(left)


def _swap(fresh: Path, target: Path) -> None:
    """Put ``fresh`` in the place of ``target``, which for some microseconds is not there.

    A build that is killed in between leaves the old folder aside, from where `clear_abandoned` brings it back.
    """
    if target.is_symlink() or target.is_file():  # no site of ours: a link is never followed
        target.unlink()
    if not target.exists():
        fresh.rename(target)
        return
    aside = fresh.with_name(f"{target.name}.aside")
    remove(aside)
    target.rename(aside)
    fresh.rename(target)
    remove(aside)
