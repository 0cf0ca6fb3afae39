"""Where the workspace is, and where its websites go."""

from __future__ import annotations

from pathlib import Path

from weld_packets.errors import Problem, SourceError

SITES = "site"
PREVIEWS = f"{SITES}/.preview"
"""Drafts that `serve` shows, apart from what operators read."""
FITTED = f"{SITES}/.fitted"
"""What orders leave fitted, kept from one build to the next."""
INSTRUCTIONS = "instructions"


def find_root(given: Path | None) -> Path:
    """Return the workspace folder: the one given, or the nearest upward that holds instructions/ and tables/.

    Raises SourceError when there is none.
    """
    start = (given or Path.cwd()).resolve()
    for folder in [start] if given else [start, *start.parents]:
        if (folder / INSTRUCTIONS).is_dir() and (folder / "tables").is_dir():
            return folder
    remedy = "go to the folder that holds instructions/ and tables/, or name it with --root"
    raise SourceError([Problem(str(start), 0, "", "", "this is no workspace", remedy)])
