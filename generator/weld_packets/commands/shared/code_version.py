"""Which code this is: its version, and its commit as far as that can be known.

The build of a wheel runs this file by itself (`generator/bake_commit.py`): it imports the standard library alone.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

UNKNOWN = "unknown"
EDITED = "with edits"
BAKED = "commit.txt"
"""File of the package that names its commit; in wheels alone."""
_PACKAGE = Path(__file__).resolve().parents[2]


def commit_of(package: Path = _PACKAGE) -> str:
    """Return the commit of the code in ``package``: 40 hex digits, or ``unknown``.

    A wheel names the commit that it was built from; of a checkout git is asked, and ``with edits`` follows where files
    differ from the commit.
    """
    baked = package / BAKED
    if baked.is_file():
        return baked.read_text(encoding="ascii").strip()
    if _git(package, "ls-files", "--error-unmatch", "__init__.py") is None:
        return UNKNOWN  # no repository, or one of something else: a plant's, with the program installed inside it
    commit, edits = _git(package, "rev-parse", "HEAD"), _git(package, "status", "--porcelain", "--", ".")
    if not commit or edits is None:
        return UNKNOWN
    return f"{commit} {EDITED}" if edits else commit


def _git(folder: Path, *words: str) -> str | None:
    """Return what git prints, None where it cannot answer; a repository that the environment names is another one."""
    own = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    command = ["git", "-C", str(folder), *words]
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, env=own)  # noqa: S603 (our own words)
    except OSError:
        return None
    return done.stdout.strip() if done.returncode == 0 else None
