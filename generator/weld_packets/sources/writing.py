"""Files of a plant written whole or not at all: whoever reads, or is stopped in between, meets the old or the new."""

from __future__ import annotations

import os
import shutil
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Put ``text`` in the place of the file at ``path`` in one step; where that fails, the old file stays."""
    fresh = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with fresh.open("w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            shutil.copymode(path, fresh)
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)
